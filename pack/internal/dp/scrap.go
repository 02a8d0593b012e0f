package dp

import (
	"slices"
	"sync"

	"pinfold/pack/internal/model"
)

// Scrap is a sheet with bad areas made ready for filling. The regions between
// some cut positions are told apart by where they lie; each is known by the
// rectangles clear of bad areas in it. It does not change once made.
type Scrap struct {
	w, h int
	x, y []int
	// full tells that the positions are all that matter: what is computed bounds
	// every filling.
	full bool

	pairs [2][]span // of positions along x and y, parts before wholes
	pairX [][]int32 // by first and second position
	pairY [][]int32
	first []int32 // of each region, in rooms; one more at the end
	rooms []model.Rect
	clear []bool // regions that are one room

	work int64
}

// span is a pair of indexes of positions.
type span struct{ from, to int32 }

// How many regions are told apart: if that is all there are, and otherwise.
const (
	allRegions  = 12_000
	someRegions = 6_000
)

// newScrap prepares a sheet for the items.
func newScrap(items []model.Item, st model.Stock) *Scrap {
	s := &Scrap{w: st.W, h: st.H}
	var ws, hs []int
	low := make([]int, st.W+1) // the height of the lowest piece within each width
	for w := range low {
		low[w] = st.H + 1
	}
	for _, it := range items {
		for _, turned := range []bool{false, true} {
			w, h := it.Sides(turned)
			if turned && !it.Turn || w > st.W || h > st.H {
				continue
			}
			ws, hs = append(ws, w), append(hs, h)
			low[w] = min(low[w], h)
		}
	}
	for w := 1; w < len(low); w++ {
		low[w] = min(low[w], low[w-1])
	}
	var bx, by []span
	for _, b := range st.Bad {
		bx = append(bx, span{int32(b.X), int32(b.X + b.W)})
		by = append(by, span{int32(b.Y), int32(b.Y + b.H)})
	}
	s.positions(ws, hs, bx, by)
	s.number()
	s.fill(clearings(st.W, st.H, st.Bad), low)
	return s
}

// positions chooses where cuts may go: at all sums of sides from 0 and from the
// far edges of bad areas, if the regions between are few, or else at some.
func (s *Scrap) positions(ws, hs []int, bx, by []span) {
	s.x, s.y = sums(s.w, ws, bx), sums(s.h, hs, by)
	if s.full = pairsOf(len(s.x))*pairsOf(len(s.y)) <= allRegions; s.full {
		return
	}
	nx, ny := len(s.x), len(s.y)
	for pairsOf(nx)*pairsOf(ny) > someRegions {
		if nx > ny {
			nx--
		} else {
			ny--
		}
	}
	s.x, s.y = spread(s.x, bx, nx), spread(s.y, by, ny)
}

func pairsOf(n int) int { return n * (n - 1) / 2 }

// sums are the lengths up to length that sides make from 0 and from the far ends
// of bad stretches, and length itself.
func sums(length int, sides []int, bad []span) (out []int) {
	made := make([]bool, length+1)
	made[0] = true
	for _, b := range bad {
		made[min(int(b.to), length)] = true
	}
	for l := range made {
		for _, s := range sides {
			if l >= s && made[l-s] {
				made[l] = true
				break
			}
		}
	}
	made[length] = true
	for l, ok := range made {
		if ok {
			out = append(out, l)
		}
	}
	return out
}

// spread chooses n of the positions: the ends, those on both sides of the longest
// bad stretches, up to half of all, and then again and again the one farthest from
// those chosen.
func spread(at []int, bad []span, n int) []int {
	if len(at) <= n {
		return at
	}
	last := at[len(at)-1]
	chosen := []int{0, last}
	add := func(p int) {
		if !slices.Contains(chosen, p) {
			chosen = append(chosen, p)
		}
	}
	bad = slices.Clone(bad)
	slices.SortStableFunc(bad, func(a, b span) int { return int((b.to - b.from) - (a.to - a.from)) })
	for _, b := range bad {
		if len(chosen) >= n/2 {
			break
		}
		i, exact := slices.BinarySearch(at, int(b.from))
		if !exact {
			i--
		}
		add(at[i])
		add(min(int(b.to), last))
	}
	for len(chosen) < n {
		far, distance := 0, -1
		for _, p := range at {
			d := last
			for _, q := range chosen {
				d = min(d, max(p-q, q-p))
			}
			if d > distance {
				far, distance = p, d
			}
		}
		chosen = append(chosen, far)
	}
	slices.Sort(chosen)
	return chosen
}

// number lists the pairs of positions, near ones first: the parts of a region come
// before it.
func (s *Scrap) number() {
	list := func(n int) (pairs []span, at [][]int32) {
		at = make([][]int32, n)
		for i := range at {
			at[i] = make([]int32, n)
		}
		for d := 1; d < n; d++ {
			for i := 0; i+d < n; i++ {
				at[i][i+d] = int32(len(pairs))
				pairs = append(pairs, span{int32(i), int32(i + d)})
			}
		}
		return pairs, at
	}
	s.pairs[0], s.pairX = list(len(s.x))
	s.pairs[1], s.pairY = list(len(s.y))
}

// fill finds the rooms of every region.
func (s *Scrap) fill(all []model.Rect, low []int) {
	n := len(s.pairs[0]) * len(s.pairs[1])
	s.first, s.clear = make([]int32, 0, n+1), make([]bool, n)
	var between []model.Rect
	for _, px := range s.pairs[0] {
		x0, x1 := s.x[px.from], s.x[px.to]
		between = clipX(all, x0, x1, low, between)
		for _, py := range s.pairs[1] {
			y0, y1 := s.y[py.from], s.y[py.to]
			k := len(s.first)
			from := len(s.rooms)
			s.first = append(s.first, int32(from))
			s.rooms = clipY(between, y0, y1, low, s.rooms)
			rooms := s.rooms[from:]
			s.clear[k] = len(rooms) == 0 || len(rooms) == 1 && rooms[0] == model.Rect{X: x0, Y: y0, W: x1 - x0, H: y1 - y0}
			s.work += int64(len(between)) + int64(len(rooms)) + 2
		}
	}
	s.first = append(s.first, int32(len(s.rooms)))
	s.work = s.work/100 + 1
}

// Scraps are the sheets with bad areas of a problem, each made ready when it is
// first asked for. Several goroutines may share them.
type Scraps struct {
	pr   *model.Problem
	list []lazyScrap
	room []int64
}

type lazyScrap struct {
	once  sync.Once
	scrap *Scrap
}

// NewScraps returns the scraps of a problem, whose sizes and stocks stay the same
// in all that use them; copies may differ.
func NewScraps(pr *model.Problem) *Scraps {
	s := &Scraps{pr: pr, list: make([]lazyScrap, len(pr.Stocks))}
	for _, st := range pr.Stocks {
		s.room = append(s.room, st.Room())
	}
	return s
}

// Room is the area of a stock's sheet less its bad areas.
func (s *Scraps) Room(stock int) int64 { return s.room[stock] }

// mostSide bounds the sides of sheets whose regions are told apart.
const mostSide = 20_000

// Of returns a stock made ready, or nil if it has no bad areas, if there is a
// stage limit, of which scraps know nothing, or if it is vast.
func (s *Scraps) Of(stock int) *Scrap {
	st := s.pr.Stocks[stock]
	if len(st.Bad) == 0 || s.pr.Stages > 0 || max(st.W, st.H) > mostSide {
		return nil
	}
	l := &s.list[stock]
	l.once.Do(func() { l.scrap = newScrap(s.pr.Items, st) })
	return l.scrap
}
