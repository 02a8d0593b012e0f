package pack_test

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"pinfold/pack"
	"pinfold/units"
)

// sawn tries everything on one sheet, tick by tick, where every cut destroys the
// kerf and only so many stages are allowed: what [pack.Check] would let pass. Sets
// of contents are bits, contents numbers in the mixed base demand+1.
type sawn struct {
	p     pack.Problem
	base  []int
	sizes int
	sums  [][]int
	bad   []pack.Rect
	memo  map[sawnRegion]uint64
}

// sawnRegion may be cut along axis, then in as many stages less one across it;
// stages is -1 for no limit.
type sawnRegion struct {
	pack.Rect
	stages int
	axis   pack.Axis
}

func newSawn(p pack.Problem) *sawn {
	s := &sawn{p: p, sizes: 1}
	for _, q := range p.Pieces {
		s.base = append(s.base, s.sizes)
		s.sizes *= q.Demand + 1
	}
	for a := range s.sizes {
		s.sums = append(s.sums, make([]int, s.sizes))
		for b := range s.sizes {
			s.sums[a][b] = a + b
			for i, q := range p.Pieces {
				if s.digit(a, i)+s.digit(b, i) > q.Demand {
					s.sums[a][b] = -1
				}
			}
		}
	}
	return s
}

func (s *sawn) digit(v, i int) int { return v / s.base[i] % (s.p.Pieces[i].Demand + 1) }

// holds is the set of contents of a w x h sheet.
func (s *sawn) holds(w, h units.Length, bad []pack.Rect) uint64 {
	s.bad, s.memo = bad, map[sawnRegion]uint64{}
	r := sawnRegion{pack.Rect{W: w, H: h}, -1, pack.X}
	if s.p.Rules.Stages == 0 {
		return s.of(r)
	}
	r.stages = s.p.Rules.Stages
	out := s.of(r)
	r.axis = pack.Y
	return out | s.of(r)
}

func (s *sawn) of(r sawnRegion) uint64 {
	if r.W <= 0 || r.H <= 0 {
		return 1
	}
	if r.stages < 0 {
		r.axis = pack.X
	}
	if got, ok := s.memo[r]; ok {
		return got
	}
	out := uint64(1)
	for i, q := range s.p.Pieces {
		if q.Demand > 0 && (s.fits(r.Rect, q.W, q.H) || q.Turn && s.fits(r.Rect, q.H, q.W)) {
			out |= 1 << s.base[i]
		}
	}
	inner := r.stages
	if r.stages > 0 {
		inner--
		out |= s.of(sawnRegion{r.Rect, inner, 1 - r.axis})
	}
	k := s.p.Rules.Kerf
	for at := units.Length(0); at < r.W && r.stages != 0 && (r.stages < 0 || r.axis == pack.X); at++ {
		first, rest := r.Rect, r.Rect
		first.W, rest.X, rest.W = at, r.X+at+k, r.W-at-k
		if at+k > 0 {
			out |= s.join(s.of(sawnRegion{first, inner, 1 - r.axis}), s.of(sawnRegion{rest, r.stages, r.axis}))
		}
	}
	for at := units.Length(0); at < r.H && r.stages != 0 && (r.stages < 0 || r.axis == pack.Y); at++ {
		first, rest := r.Rect, r.Rect
		first.H, rest.Y, rest.H = at, r.Y+at+k, r.H-at-k
		if at+k > 0 {
			out |= s.join(s.of(sawnRegion{first, inner, 1 - r.axis}), s.of(sawnRegion{rest, r.stages, r.axis}))
		}
	}
	s.memo[r] = out
	return out
}

// fits tells whether a piece can be trimmed out of a region: a cut before it takes
// a kerf, one behind it may hang over the edge.
func (s *sawn) fits(r pack.Rect, w, h units.Length) bool {
	k := s.p.Rules.Kerf
	for x := units.Length(0); x+w <= r.W; x++ {
		for y := units.Length(0); y+h <= r.H; y++ {
			q := pack.Rect{X: r.X + x, Y: r.Y + y, W: w, H: h}
			if (x == 0 || x >= k) && (y == 0 || y >= k) && !slices.ContainsFunc(s.bad, q.Meets) {
				return true
			}
		}
	}
	return false
}

func (s *sawn) join(a, b uint64) (out uint64) {
	for i := range s.sizes {
		for j := range s.sizes {
			if a>>i&1 == 1 && b>>j&1 == 1 && s.sums[i][j] >= 0 {
				out |= 1 << s.sums[i][j]
			}
		}
	}
	return out
}

// offer is cloth that can be cut: what one sheet holds, how many there are, and
// what one counts by price, by area and as a sheet.
type offer struct {
	held   uint64
	copies int
	counts [3]int64
}

const (
	byPrice = iota
	byArea
	bySheets
)

// least is the least that a plan for everything comes to, counted in one of the
// ways, math.MaxInt64 if nothing holds everything.
func (s *sawn) least(sheets, lengths []offer, way int) int64 {
	best := make([]int64, s.sizes)
	for v := 1; v < s.sizes; v++ {
		best[v] = math.MaxInt64
	}
	cut := func(from []int64, o offer) []int64 {
		next := slices.Clone(from)
		for v, cost := range from {
			for c := range s.sizes {
				if u := s.sums[v][c]; cost < math.MaxInt64 && u >= 0 && o.held>>c&1 == 1 {
					next[u] = min(next[u], cost+o.counts[way])
				}
			}
		}
		return next
	}
	for _, o := range sheets {
		for range o.copies {
			best = cut(best, o)
		}
	}
	least := best[s.sizes-1]
	for _, o := range lengths {
		least = min(least, cut(best, o)[s.sizes-1])
	}
	return least
}

// offers lists the sheets and the lengths that are sold.
func (s *sawn) offers() (sheets, lengths []offer) {
	total := 0
	for _, q := range s.p.Pieces {
		total += q.Demand
	}
	for _, sh := range s.p.Sheets {
		w, h := sh.Usable()
		bad := slices.Clone(sh.Bad)
		for x := units.Length(0); x < w && sh.Outline != nil; x++ {
			for y := range h {
				if q := (pack.Rect{X: x, Y: y, W: 1, H: 1}); !insideSlowly(sh.Outline, q) {
					bad = append(bad, q)
				}
			}
		}
		o := offer{s.holds(w, h, bad), sh.Copies, [3]int64{sh.Price, int64(sh.Area()), 1}}
		if sh.Free {
			o.counts[byPrice], o.counts[byArea] = 0, 0
		}
		if sh.Copies == pack.Unlimited {
			o.copies = total
		}
		sheets = append(sheets, o)
	}
	if r := s.p.Roll; r != nil {
		for l := max(r.Step, r.Least.RoundUp(r.Step)); l <= r.Most; l += r.Step {
			w, h := r.Usable(l)
			lengths = append(lengths, offer{s.holds(w, h, nil), 1, [3]int64{r.Cost(l), int64(units.AreaOf(r.W, l)), 1}})
		}
	}
	return sheets, lengths
}

// sawnProblem draws a problem with every rule there is, small enough to try
// everything: turned pieces or not, a kerf, stages, squared edges, bad areas,
// outlines, sheets at hand and to buy at several prices, and a roll that shrinks.
func sawnProblem(r *rand.Rand) pack.Problem {
	p := pack.Problem{Goal: pack.Goal(r.IntN(4) / 3)}
	p.Rules.Kerf, p.Rules.Stages = units.Length([]int{0, 1, 1, 2}[r.IntN(4)]), []int{0, 0, 2, 3, 1}[r.IntN(5)]
	step, sizes := units.Length(1+r.IntN(2)), 1
	for i := range 1 + r.IntN(3) {
		q := pack.Piece{ID: fmt.Sprint(i), W: step * units.Length(1+r.IntN(4)), H: step * units.Length(1+r.IntN(4)), Demand: 1 + r.IntN(3), Turn: r.IntN(2) == 0}
		if sizes *= q.Demand + 1; sizes > 64 {
			break
		}
		p.Pieces = append(p.Pieces, q)
	}
	margin := func() units.Length { return units.Length(r.IntN(6) / 4) }
	for i := range r.IntN(4) {
		s := pack.Sheet{ID: fmt.Sprint(i), W: units.Length(3 + r.IntN(6)), H: units.Length(3 + r.IntN(6)), Copies: 1 + r.IntN(2), Price: int64(r.IntN(9))}
		switch r.IntN(3) {
		case 0:
			s.Copies, s.Price = pack.Unlimited, s.Price+1
		case 1:
			s.Free, s.Price = true, 0
		}
		s.Squared = pack.Margins{Left: margin(), Right: margin(), Bottom: margin(), Top: margin()}
		if r.IntN(3) == 0 {
			for range 1 + r.IntN(2) {
				s.Bad = append(s.Bad, pack.Rect{X: units.Length(r.IntN(int(s.W))), Y: units.Length(r.IntN(int(s.H))), W: units.Length(1 + r.IntN(2)), H: units.Length(1 + r.IntN(2))})
			}
		}
		if r.IntN(6) == 0 {
			s.Squared, s.Outline = pack.Margins{}, randomOutline(r, s.W, s.H)
		}
		p.Sheets = append(p.Sheets, s)
	}
	if len(p.Sheets) == 0 || r.IntN(2) == 0 {
		p.Roll = &pack.Roll{
			ID: "roll", W: units.Length(3 + r.IntN(6)), Step: units.Length(1 + r.IntN(2)), Least: units.Length(r.IntN(4)), Most: units.Length(4 + r.IntN(6)),
			Price: int64(1 + r.IntN(5)), Per: units.Length(1 + r.IntN(2)), Shrinks: r.IntN(2) * 1200, Squared: pack.Margins{Left: margin(), Top: margin()},
		}
	}
	return p
}

// Whatever the rules, no plan is cheaper than the cheapest there is, no bound is
// above it, what is proved best is, and what is proved too little is.
func TestEveryRuleAgainstAllThereIs(t *testing.T) {
	problems := 1200
	if testing.Short() {
		problems = 200
	}
	possible, best, proved, missed, decided := 0, 0, 0, 0, 0
	plain, bestPlain := 0, 0 // without bad areas or outlines along with a kerf: the engines' grid makes them larger
	for seed := range problems {
		p := sawnProblem(rand.New(rand.NewPCG(uint64(seed), 41)))
		said := fmt.Sprintf("%d: %+v %+v", seed, p, p.Roll)
		truth := newSawn(p)
		sheets, lengths := truth.offers()
		want := truth.least(sheets, lengths, int(p.Goal))
		o := pack.Options{Effort: pack.Quick, Share: 6, Workers: 1}
		got, err := pack.Solve(context.Background(), p, o)
		require.NoError(t, err, said)
		require.NoError(t, judge(p, got), said)
		if p.Roll == nil {
			held, err := pack.Holds(context.Background(), p, o)
			require.NoError(t, err, said)
			if held.Verdict != pack.Undecided {
				decided++
				require.Equal(t, want < math.MaxInt64, held.Verdict == pack.Enough, said)
			}
		}
		if want == math.MaxInt64 {
			require.Equal(t, pack.Short, got.Status, said)
			continue
		}
		possible++
		simple := p.Rules.Kerf == 0 || !slices.ContainsFunc(p.Sheets, func(s pack.Sheet) bool { return s.Bad != nil || s.Outline != nil })
		if simple {
			plain++
		}
		require.LessOrEqual(t, got.Bound, want, "%s by %s", said, got.ProvedBy)
		require.LessOrEqual(t, int64(got.AreaBound), truth.least(sheets, lengths, byArea), said)
		require.LessOrEqual(t, int64(got.SheetBound), truth.least(sheets, lengths, bySheets), said)
		if got.Status == pack.Short {
			missed++
			continue
		}
		require.GreaterOrEqual(t, got.Cost, want, said)
		if got.Cost == want {
			best++
			if simple {
				bestPlain++
			}
		}
		if got.Status == pack.Proved {
			require.Equal(t, want, got.Cost, "%s by %s", said, got.ProvedBy)
			proved++
		}
	}
	t.Logf("of %d problems %d can be cut: %d best (%d of %d that are plain), %d proved, %d missed; whether cloth is enough was decided %d times",
		problems, possible, best, bestPlain, plain, proved, missed, decided)
	assert.Greater(t, possible, problems/3)
	assert.Greater(t, 10*best, 7*possible)
	assert.Greater(t, 100*bestPlain, 97*plain)
	assert.Greater(t, 2*proved, possible)
	assert.Less(t, 5*missed, possible)
}
