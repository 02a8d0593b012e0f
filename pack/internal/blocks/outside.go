package blocks

// outside bounds what a sheet can hold beside a block of each size, by the
// reverse of the recursion of [relax] (Wang, Baldacci, Liu & Wei 2025): a block
// grows by the best unlimited filling of a strip beside or above it. Sizes that
// cannot be part of a layout worth a given amount are not pursued; what is
// stated for them may be less than the truth, but the unlimited filling of
// their inside and the truth together do not come to that amount.
type outside struct {
	r     *relax
	most  []int64 // by cell
	least int64
	y     int // next row, downwards
	steps int64
}

func newOutside(r *relax) *outside {
	return &outside{r: r, most: make([]int64, r.s.cells())}
}

// start makes the table empty, for layouts worth at least as much in the values
// of the relaxation, which is complete.
func (o *outside) start(least int64) {
	o.least = least
	o.y, o.steps = len(o.r.s.ay.pos)-1, int64(len(o.most))/4
	for i := range o.most {
		o.most[i] = nothing
	}
	o.most[len(o.most)-1] = 0
}

// nothing is less than any sum of values.
const nothing = -1 << 60

// run computes rows for about the given number of steps and tells whether the
// table is complete.
func (o *outside) run(steps int64) bool {
	for end := o.steps + steps; o.y > 0; o.y-- {
		if o.steps >= end {
			return false
		}
		o.row(o.y)
	}
	return true
}

func (o *outside) row(y int) {
	r, ax, ay := o.r, o.r.s.ax, o.r.s.ay
	nx, ny := len(ax.pos), len(ay.pos)
	cur, fill := o.most[y*nx:y*nx+nx], r.best[y*nx:y*nx+nx]
	prims := r.rows[y]
	for x := nx - 1; x > 0; x-- {
		u := cur[x]
		if x+1 < nx {
			u = max(u, cur[x+1])
		}
		if y+1 < ny {
			u = max(u, o.most[(y+1)*nx+x])
		}
		cur[x] = u
		if fill[x]+u < o.least {
			continue
		}
		for _, p := range prims {
			if int(p) >= x {
				break
			}
			t := ax.at[ax.pos[x]-ax.pos[p]]
			cur[t] = max(cur[t], u+fill[p])
			o.steps++
		}
		for _, p := range r.cols[x] {
			if int(p) >= y {
				break
			}
			t := &o.most[int(ay.at[ay.pos[y]-ay.pos[p]])*nx+x]
			*t = max(*t, u+r.best[int(p)*nx+x])
			o.steps++
		}
	}
	o.steps += int64(nx) * 3
}
