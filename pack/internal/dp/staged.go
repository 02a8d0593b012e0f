package dp

import "pinfold/pack/internal/model"

// solveStaged builds both towers, starting with cuts along either axis, and
// takes the better top. The number of stages is the depth of the cutting.
func (t *Table) solveStaged() {
	t.work = 1
	t.single(t.towers[0][0])
	for a := range t.towers {
		axis := model.Axis(a)
		for s := 1; s <= t.stages; s++ {
			t.stage(axis, t.towers[a][s-1], t.towers[a][s])
			axis = 1 - axis
		}
	}
	one, two := t.towers[0][t.stages], t.towers[1][t.stages]
	for k := range t.best {
		t.best[k] = max(one[k], two[k])
	}
}

// single is the best single item of every rectangle.
func (t *Table) single(out []int64) {
	clear(out)
	ny := len(t.y)
	for _, s := range t.shapes {
		k := int(s.i)*ny + int(s.j)
		out[k] = max(out[k], t.value[s.item])
	}
	for i := 1; i < len(t.x); i++ {
		col, before := out[i*ny:i*ny+ny], out[(i-1)*ny:i*ny]
		for j := 1; j < ny; j++ {
			col[j] = max(col[j], col[j-1], before[j])
		}
	}
	t.work += int64(len(out)) / stepsPerUnit
}

// stage puts the rectangles of from side by side along axis, as many as fit.
func (t *Table) stage(axis model.Axis, from, out []int64) {
	nx, ny := len(t.x), len(t.y)
	if axis == model.AxisX {
		for j := 1; j < ny; j++ {
			t.line(t.x, t.flat, from[j:], out[j:], int(t.wide[j]), ny)
		}
		return
	}
	tall := ny
	for i := 1; i < nx; i++ {
		for int(t.wide[tall-1]) <= i {
			tall--
		}
		t.line(t.y, t.flat, from[i*ny:], out[i*ny:], tall, 1)
	}
}

// line is the knapsack along one row or column of n positions, step apart in
// the tables.
func (t *Table) line(at []int, flat, from, out []int64, n, step int) {
	list, half, left, steps := t.row[:0], 0, int64(0), 0
	flat[0] = 0
	for i := 1; i < n; i++ {
		x := at[i]
		for w := at[i-1] + 1; w < x; w++ {
			flat[w] = left
		}
		v := left
		for half < len(list) && 2*int(list[half].at) <= x {
			half++
		}
		for _, b := range list[:half] {
			v = max(v, b.value+flat[x-int(b.at)])
		}
		steps += half + 4
		if f := from[i*step]; f > v {
			v = f
			list = append(list, block{v, int32(x)})
		}
		out[i*step], flat[x], left = v, v, v
	}
	t.row = list
	t.work += int64(steps) / stepsPerUnit
}
