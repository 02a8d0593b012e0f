package bounds

import "math"

// products enters every product of a function of x and a function of y. A piece
// that may be turned weighs the less of its two ways.
func (t *task) products(c *contest) {
	fx := t.scales(true)
	fy := fx
	if !t.square {
		fy = t.scales(false)
	}
	kinds := len(t.stocks)
	most := int(math.Sqrt(searchRoom / float64(len(t.pieces)+kinds*kinds)))
	fx, fy = thin(fx, most), thin(fy, most)
	var copies float64
	turned := false
	for _, p := range t.pieces {
		copies += float64(p.n)
		turned = turned || len(p.ways) == 2
	}
	column := make([]int64, len(t.x.lengths)) // weight of y, by the length along x
	for j := range fy {
		v := &fy[j]
		top := float64(largest(v.value))
		if !turned {
			clear(column)
			for _, p := range t.pieces {
				column[p.ways[0].x] += p.n * v.value[p.ways[0].y]
			}
		}
		for i := range fx {
			u := &fx[i]
			if t.square && i > j {
				break
			}
			if copies*top*float64(largest(u.value)) >= overflow {
				continue
			}
			var need int64
			if turned {
				need = t.weigh(u.value, v.value)
			} else {
				for k, w := range column {
					need += w * u.value[k]
				}
			}
			if need == 0 || len(t.stocks) == 1 && t.stocks[0].Cost*(need/(u.caps[0]*v.caps[0])+1) <= c.best {
				continue
			}
			caps := make([]int64, len(t.stocks))
			for k := range caps {
				caps[k] = u.caps[k] * v.caps[k]
			}
			c.enter(need, caps, join(u.name, v.name))
		}
	}
}

// weigh adds up the weights of all copies.
func (t *task) weigh(u, v []int64) int64 {
	var need int64
	for k := range t.pieces {
		p := &t.pieces[k]
		w := p.ways[0]
		weight := u[w.x] * v[w.y]
		if len(p.ways) == 2 {
			w = p.ways[1]
			weight = min(weight, u[w.x]*v[w.y])
		}
		need += p.n * weight
	}
	return need
}

// join names a product.
func join(a, b string) string {
	switch {
	case a == b:
		return a
	case a == areaName:
		return b
	case b == areaName:
		return a
	}
	return a + " and " + b
}

func largest(v []int64) int64 {
	var m int64
	for _, x := range v {
		m = max(m, x)
	}
	return m
}

// thin keeps at most n scales, evenly.
func thin(s []scale, n int) []scale {
	if len(s) <= n {
		return s
	}
	out := make([]scale, n)
	for i := range out {
		out[i] = s[i*len(s)/n]
	}
	return out
}
