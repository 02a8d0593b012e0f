package ruin

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"pinfold/pack/internal/model"
	"pinfold/pack/internal/random"
)

// problems draws small problems of every shape: several stocks, limited copies,
// turning or not, stages or not.
var problems = rapid.Custom(func(t *rapid.T) *model.Problem {
	pr := &model.Problem{Stages: rapid.SampledFrom([]int{0, 0, 1, 2, 3}).Draw(t, "stages")}
	side := rapid.IntRange(1, 12)
	for range rapid.IntRange(1, 8).Draw(t, "items") {
		it := model.Item{W: side.Draw(t, "w"), H: side.Draw(t, "h"), Demand: rapid.IntRange(1, 4).Draw(t, "demand")}
		it.Turn = it.W != it.H && rapid.Bool().Draw(t, "turn")
		pr.Items = append(pr.Items, it)
	}
	for range rapid.IntRange(1, 3).Draw(t, "stocks") {
		pr.Stocks = append(pr.Stocks, model.Stock{
			W: rapid.IntRange(8, 20).Draw(t, "W"), H: rapid.IntRange(8, 20).Draw(t, "H"),
			Cost:   int64(rapid.IntRange(0, 5).Draw(t, "cost")),
			Copies: rapid.SampledFrom([]int{model.Unlimited, model.Unlimited, 1, 3}).Draw(t, "copies"),
		})
	}
	return pr
})

// TestSheetStaysWhole inserts and removes at random and compares everything the
// sheet keeps with what follows from its pieces' places alone.
func TestSheetStaysWhole(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		pr := problems.Draw(t, "problem")
		var s state
		s.init(pr)
		s.limit = 1 << 40
		for i, it := range pr.Items {
			s.drop(int32(i), int32(it.Demand))
		}
		s.mark()
		for range rapid.IntRange(1, 40).Draw(t, "edits") {
			edit(t, &s)
			whole(t, pr, &s)
		}
	})
}

// TestBackIsExact undoes random runs of edits.
func TestBackIsExact(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		pr := problems.Draw(t, "problem")
		var s state
		s.init(pr)
		s.limit = 1 << 40
		for i, it := range pr.Items {
			s.drop(int32(i), int32(it.Demand))
		}
		for range rapid.IntRange(1, 8).Draw(t, "rounds") {
			s.mark()
			was := record(&s)
			for range rapid.IntRange(1, 12).Draw(t, "edits") {
				edit(t, &s)
			}
			if rapid.Bool().Draw(t, "back") {
				s.back()
				require.Equal(t, was, record(&s))
			}
			whole(t, pr, &s)
		}
	})
}

// edit takes a random subtree out, or puts a random piece where it fits, opening
// a sheet if there is no place.
func edit(t *rapid.T, s *state) {
	rnd := random.Stream(rapid.Uint64().Draw(t, "edit"))
	if rnd.Below(3) == 0 && s.open > 0 {
		p := rnd.Below(s.open)
		i := s.slots[p]
		s.takeOut(i, rnd.Below(len(s.sheets[i].nodes)))
		if len(s.sheets[i].nodes) == 0 {
			s.closeSheet(p)
		} else {
			s.refresh(i)
		}
		return
	}
	if len(s.list) == 0 {
		return
	}
	it := s.list[rnd.Below(len(s.list))]
	b, ok := s.best(&s.items[it], &rnd, 64)
	if !ok {
		b, ok = s.fresh(&s.items[it], &rnd)
	}
	if ok {
		s.putIn(it, b.sheet, int(b.spot), b.turned)
		s.trim()
	}
}

func whole(t require.TestingT, pr *model.Problem, s *state) {
	outs := make([]int, len(pr.Items))
	for i, it := range pr.Items {
		outs[i] = it.Demand
	}
	used := make([]int, len(pr.Stocks))
	var cost, value int64
	for _, i := range s.slots[:s.open] {
		sh := &s.sheets[i]
		p := s.pattern(sh)
		st := pr.Stocks[p.Stock]
		used[p.Stock]++
		cost += st.Cost
		value += sh.value
		for _, q := range p.Placed {
			outs[q.Item]--
		}
		require.Equal(t, p.Area(pr), sh.area)
		_, err := model.Build(pr, st.W, st.H, pr.Stages, p.Placed)
		require.NoError(t, err)
		wellFormed(t, s, sh)
		again := sheet{}
		again.copyFrom(sh)
		again.refresh(s.values, s.stages)
		require.Equal(t, again.spots, sh.spots)
		require.Equal(t, again.value, sh.value)
		spotsHold(t, s, sh)
		for _, r := range sh.spots {
			require.True(t, r.w <= s.gates[i].w && r.h <= s.gates[i].h || r.w <= 0 || r.h <= 0)
		}
	}
	require.Equal(t, cost, s.cost)
	require.Equal(t, value, s.value)
	var worth int64
	for i, n := range outs {
		require.Equal(t, int32(n), s.outs[i], "item %d", i)
		worth += int64(n) * s.items[i].worth
		require.Equal(t, n > 0, slices.Contains(s.list, int32(i)))
	}
	require.Equal(t, worth, s.worth)
	for k, d := range s.kinds {
		if c := pr.Stocks[k].Copies; c != model.Unlimited {
			require.Equal(t, c-used[d.stock], d.copies)
		}
	}
}

// spotsHold fills every spot in turn, and fails to with one unit more.
func spotsHold(t require.TestingT, s *state, sh *sheet) {
	with := func(k int, w, h int32) sheet {
		var c sheet
		c.copyFrom(sh)
		c.insert(k, 0, w, h)
		c.refresh(s.values, 0)
		return c
	}
	fits := func(c sheet) bool { return c.nodes[0].w <= c.w && c.nodes[0].h <= c.h }
	for k, r := range sh.spots {
		if r.w <= 0 || r.h <= 0 {
			continue
		}
		c := with(k, r.w, r.h)
		require.True(t, fits(c))
		wellFormed(t, s, &c)
		require.False(t, fits(with(k, r.w+1, 1)))
		require.False(t, fits(with(k, 1, r.h+1)))
	}
}

// wellFormed checks the shape of the tree: groups of two parts or more, axes
// that alternate, sizes that add up, every piece within its region.
func wellFormed(t require.TestingT, s *state, sh *sheet) {
	var walk func(i int, level int32, group int32) int
	walk = func(i int, level, group int32) int {
		v := sh.nodes[i]
		require.Equal(t, level, v.level)
		require.True(t, v.w <= v.aw && v.h <= v.ah)
		if v.item >= 0 {
			require.Equal(t, int32(1), v.size)
			return i + 1
		}
		require.NotEqual(t, group, v.item)
		require.True(t, s.stages == 0 || level < s.stages)
		parts, j := 0, i+1
		for j < i+int(v.size) {
			j = walk(j, level+1, v.item)
			parts++
		}
		require.Equal(t, i+int(v.size), j)
		require.GreaterOrEqual(t, parts, 2)
		return j
	}
	if len(sh.nodes) > 0 {
		require.Equal(t, len(sh.nodes), walk(0, 0, 0))
	}
}

// snapshot is everything a state is, in comparable form.
type snapshot struct {
	sheets             []sheet
	slots              []int32
	copies             []int
	outs, list         []int32
	cost, value, worth int64
}

func record(s *state) snapshot {
	r := snapshot{cost: s.cost, value: s.value, worth: s.worth}
	for _, i := range s.slots[:s.open] {
		var c sheet
		c.copyFrom(&s.sheets[i])
		c.stamp = 0
		r.sheets = append(r.sheets, c)
	}
	r.slots = append([]int32{}, s.slots[:s.open]...)
	for _, k := range s.kinds {
		r.copies = append(r.copies, k.copies)
	}
	r.outs, r.list = slices.Clone(s.outs), append([]int32{}, s.list...)
	return r
}
