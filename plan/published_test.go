package plan

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"pinfold/units"
)

// Piece lists as printed by their makers; the source of each stands at the head
// of its plan in testdata/published. groups are the squares of each fabric for
// one ornament, total what the source gives or its groups add up to.
var published = map[string]struct {
	groups []int
	total  int
	pins   int
	ribbon units.Length
	square units.Length
}{
	"S1": {groups: []int{8, 8, 8}, total: 24, square: 5 * units.Inch / 2},
	"S2": {groups: []int{24, 32}, total: 56, pins: 300, square: 2 * units.Inch},
	"S3": {groups: []int{26, 16}, total: 42, ribbon: 6 * units.Inch, square: 5 * units.Inch / 2},
	"S4": {groups: []int{10, 16, 16}, total: 42, pins: 208, square: 5 * units.Inch / 2},
	"S5": {groups: []int{10, 16, 16, 16}, total: 58, square: 5 * units.Inch / 2},
	"S6": {groups: []int{10, 16, 16}, total: 42, pins: 300, ribbon: 9 * units.Inch, square: 5 * units.Inch / 2},
	"S7": {groups: []int{10, 16, 16}, total: 42, ribbon: 10 * units.Inch, square: 5 * units.Inch / 2},
	"S8": {groups: []int{8, 16, 16}, total: 40, pins: 200, square: 5 * units.Inch / 2},
	"S9": {groups: []int{26, 16}, total: 42, pins: 225, square: 5 * units.Inch / 2},
}

func TestPublishedPieceLists(t *testing.T) {
	const made = 4
	files, err := filepath.Glob("testdata/published/*.yaml")
	require.NoError(t, err)
	require.Len(t, files, len(published))
	for name, want := range published {
		t.Run(name, func(t *testing.T) {
			p, err := Read(filepath.Join("testdata/published", name+".yaml"))
			require.NoError(t, err)
			g, err := Gather(p)
			require.NoError(t, err)
			assert.Equal(t, made, g.Ornaments)
			assert.Equal(t, made*want.total, g.Pieces)
			require.Len(t, g.Fabrics, len(want.groups))
			for i, n := range want.groups {
				require.Len(t, g.Fabrics[i].Sizes, 1, "all squares of one fabric are one size")
				assert.Equal(t, made*n, g.Fabrics[i].Sizes[0].Count)
				assert.Equal(t, units.Size{Along: want.square, Across: want.square}, g.Fabrics[i].Sizes[0].Size)
				assert.Equal(t, "A", g.Fabrics[i].Sizes[0].ID)
			}
			pins, ribbon := 0, units.Length(0)
			for _, s := range g.Supplies {
				pins, ribbon = pins+s.Count, ribbon+s.Length
			}
			assert.Equal(t, made*want.pins, pins)
			assert.Equal(t, made*want.ribbon, ribbon)
			assert.True(t, Recount(p, g).Equal())
		})
	}
}

// The two sources that print how far apart their rounds lie end at 2 1/8 and
// 2 1/4 in of a way of 2.356 in, which leaves at most about 1/4 in to the band.
func TestPublishedReach(t *testing.T) {
	for name, reach := range map[string]units.Length{"S2": 17 * units.Inch / 8, "S4": 9 * units.Inch / 4} {
		p, err := Read(filepath.Join("testdata/published", name+".yaml"))
		require.NoError(t, err)
		got := p.Ornaments[0].Reaches()
		require.Len(t, got, 1)
		assert.Equal(t, reach, got[0].Length, name)
		assert.False(t, got[0].Past, name)
		assert.InDelta(t, 2.356-float64(reach)/float64(units.Inch), float64(got[0].Bare)/float64(units.Inch), 0.001, name)
		assert.Len(t, p.Warnings, 1, name)
	}
}

// The plan with every key there is reads whole, from disk and from a file
// system, and gives the totals worked out by hand.
func TestHarbourPlan(t *testing.T) {
	p, err := Read("testdata/harbour.yaml")
	require.NoError(t, err)
	q, err := ReadFS(os.DirFS("testdata"), "harbour.yaml")
	require.NoError(t, err)
	assert.Equal(t, len(p.Make), len(q.Make))

	g, err := Gather(p)
	require.NoError(t, err)
	// A star has 10 + 16 + 4 + 2 pieces and a band, a gull 2 x 3 pieces.
	assert.Equal(t, 15*33+7*6, g.Pieces)
	assert.Equal(t, 22, g.Ornaments)
	assert.Equal(t, "537 pieces counted twice, by fabric and by ornament: equal", Recount(p, g).String())
	assert.Equal(t, []Supply{
		{Name: "straight pins", Count: 15*210 + 7*30},
		{Name: "hanging cord", Length: 150 * units.Inch},
		{Name: "hanging cord", Count: 7},
	}, g.Supplies)
	assert.Equal(t, []string{"navy dot", "sail white", "buoy red"}, []string{g.Fabrics[0].Fabric, g.Fabrics[1].Fabric, g.Fabrics[2].Fabric})

	navy := map[string][2]int{}
	for _, n := range g.Fabrics[0].Sizes {
		navy[n.ID+" "+n.Size.Format(units.Inches)] = [2]int{n.Count, n.Spare}
	}
	// One-way: 2 1/4 x 3 and 3 x 2 1/4 stay apart. 5% of each, rounded up.
	assert.Equal(t, map[string][2]int{
		"A 1 3/4 x 10 1/2 in": {12, 1},
		"B 2 1/4 x 3 in":      {12*2 + 3*1, 2},
		"C 3 x 2 1/4 in":      {12*1 + 3*1, 1},
		"D 2 1/2 x 2 1/2 in":  {120, 6},
	}, navy)
	// Any way: they are one size.
	assert.Equal(t, Need{
		ID: "B", Size: units.Size{Along: 9 * units.Inch / 4, Across: 3 * units.Inch}, Turn: true,
		Count: 12*1 + 3*(2+1) + 3*1, Spare: 2,
		Uses: []Use{{"harbour star", "round 3", 12 + 9}, {"harbour star", "round 4", 3}},
	}, g.Fabrics[1].Sizes[1])
}
