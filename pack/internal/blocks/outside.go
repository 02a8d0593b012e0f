package blocks

// outside bounds what a sheet can hold beside a block of each size, by the
// reverse of the recursion of [relax] (Wang, Baldacci, Liu & Wei 2025): a block
// grows by the best unlimited filling of a strip beside or above it.
type outside struct {
	r     *relax
	most  []int64 // by cell
	y     int     // next row, downwards
	steps int64
}

func newOutside(r *relax) *outside {
	return &outside{r: r, most: make([]int64, r.s.cells())}
}

// start makes the table empty; the relaxation is complete.
func (o *outside) start() { o.y, o.steps = len(o.r.s.ay.pos)-1, 0 }

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
	width, height := ax.pos[nx-1], ay.pos[ny-1]
	for x := nx - 1; x > 0; x-- {
		var u int64
		if x+1 < nx {
			u = cur[x+1]
		}
		if y+1 < ny {
			u = max(u, o.most[(y+1)*nx+x])
		}
		room := width - ax.pos[x]
		for _, p := range prims {
			if ax.pos[p] > room {
				break
			}
			u = max(u, cur[ax.at[ax.pos[x]+ax.pos[p]]]+fill[p])
			o.steps++
		}
		room = height - ay.pos[y]
		for _, p := range r.cols[x] {
			if ay.pos[p] > room {
				break
			}
			u = max(u, o.most[int(ay.at[ay.pos[y]+ay.pos[p]])*nx+x]+r.best[int(p)*nx+x])
			o.steps++
		}
		cur[x] = u
	}
	o.steps += int64(nx) * 4
}
