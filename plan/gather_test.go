package plan

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"pinfold/pack"
	"pinfold/units"
)

// drawPlan draws a sound plan of a few ornaments, fabrics and orders.
func drawPlan(t *rapid.T) *Plan {
	p := &Plan{Unit: rapid.SampledFrom([]units.Unit{units.Inches, units.Centimetres}).Draw(t, "unit")}
	p.Cutting.Spare = rapid.IntRange(0, 2500).Draw(t, "spare")
	side := rapid.Custom(func(t *rapid.T) units.Length {
		return units.Length(rapid.IntRange(2, 6).Draw(t, "side")) * p.Unit.Length()
	})
	roles := []string{"ground", "accent", "trim"}
	for i := range rapid.IntRange(1, 3).Draw(t, "fabrics") {
		p.Fabrics = append(p.Fabrics, Fabric{
			Name:      fmt.Sprint("fabric ", i),
			Direction: Direction(rapid.IntRange(0, 2).Draw(t, "direction")),
		})
	}
	for i := range rapid.IntRange(1, 3).Draw(t, "ornaments") {
		o := Ornament{Name: fmt.Sprint("ornament ", i), Ball: side.Draw(t, "ball")}
		for j := range rapid.IntRange(0, 4).Draw(t, "rounds") {
			r := Round{Name: fmt.Sprint("round ", j), Size: units.Size{Along: side.Draw(t, "along"), Across: side.Draw(t, "across")}}
			if rapid.Bool().Draw(t, "around?") {
				r.Side = Side(rapid.IntRange(0, 2).Draw(t, "side"))
				r.Around = rapid.SliceOfN(rapid.SampledFrom(roles), 1, 8).Draw(t, "around")
				for _, role := range r.Around {
					r.add(role, map[Side]int{Both: 2, Front: 1, Back: 1}[r.Side])
				}
			} else {
				r.Roles = []RoleCount{{rapid.SampledFrom(roles).Draw(t, "role"), rapid.IntRange(1, 20).Draw(t, "count")}}
			}
			o.Pieces = append(o.Pieces, r)
		}
		if rapid.Bool().Draw(t, "band?") {
			o.Band = &Band{Width: side.Draw(t, "width"), Overlap: side.Draw(t, "overlap"), Role: rapid.SampledFrom(roles).Draw(t, "band role")}
		}
		o.Supplies = []Supply{{Name: "pins", Count: rapid.IntRange(1, 300).Draw(t, "pins")}, {Name: "cord", Length: side.Draw(t, "cord")}}
		p.Ornaments = append(p.Ornaments, o)
	}
	for range rapid.IntRange(1, 5).Draw(t, "orders") {
		o := Order{
			Ornament: rapid.SampledFrom(p.Ornaments).Draw(t, "of").Name,
			Count:    rapid.IntRange(1, 40).Draw(t, "make"),
		}
		for _, role := range roles {
			o.Colourway = append(o.Colourway, Filling{Role: role, Fabric: rapid.SampledFrom(p.Fabrics).Draw(t, "fills").Name})
		}
		p.Make = append(p.Make, o)
	}
	return p
}

// piece is one rectangle of one fabric, as a cutter would pick it up.
type piece struct {
	fabric        string
	along, across units.Length
}

// layOut lays every single piece of every single ornament on the table.
func layOut(p *Plan) []piece {
	var table []piece
	for _, order := range p.Make {
		fabric := map[string]string{}
		for _, f := range order.Colourway {
			fabric[f.Role] = f.Fabric
		}
		o := p.Ornament(order.Ornament)
		for range order.Count {
			for _, r := range o.Pieces {
				for _, rc := range r.Roles {
					for range rc.Count {
						table = append(table, piece{fabric[rc.Role], r.Size.Along, r.Size.Across})
					}
				}
			}
			if o.Band != nil {
				table = append(table, piece{fabric[o.Band.Role], o.Band.Width, BandLength(o.Ball, o.Band.Overlap, p.Unit)})
			}
		}
	}
	return table
}

func TestGatherCountsEveryPieceOnce(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := drawPlan(t)
		g, err := Gather(p)
		require.NoError(t, err)
		table := layOut(p)
		assert.Equal(t, len(table), g.Pieces)

		spares := 0
		letter := map[units.Size]string{}
		size := map[string]units.Size{}
		for _, f := range g.Fabrics {
			turn := p.Fabric(f.Fabric).Direction == AnyWay
			last := units.Area(1 << 62)
			for _, n := range f.Sizes {
				// Take the pieces of this size off the table.
				var rest []piece
				taken := 0
				for _, q := range table {
					fits := q.along == n.Size.Along && q.across == n.Size.Across ||
						turn && q.along == n.Size.Across && q.across == n.Size.Along
					if q.fabric == f.Fabric && fits {
						taken++
					} else {
						rest = append(rest, q)
					}
				}
				table = rest
				assert.Equal(t, taken, n.Count)
				uses := 0
				for _, u := range n.Uses {
					uses += u.Count
				}
				assert.Equal(t, n.Count, uses)
				assert.Equal(t, turn, n.Turn)
				assert.LessOrEqual(t, n.Size.Area(), last, "largest first")
				last = n.Size.Area()

				// The fewest spares that are at least the wanted part.
				assert.GreaterOrEqual(t, n.Spare*10000, n.Count*p.Cutting.Spare)
				assert.Less(t, (n.Spare-1)*10000, n.Count*p.Cutting.Spare)
				spares += n.Spare

				if known, ok := letter[n.Size]; ok {
					assert.Equal(t, known, n.ID, "one size, one letter")
				}
				letter[n.Size] = n.ID
				if known, ok := size[n.ID]; ok {
					assert.Equal(t, known, n.Size, "one letter, one size")
				}
				size[n.ID] = n.Size
			}
		}
		assert.Empty(t, table, "nothing is left over")
		assert.Equal(t, spares, g.Spares)
		tally := Recount(p, g)
		assert.True(t, tally.Equal(), tally)

		pins, cord := 0, units.Length(0)
		for _, o := range p.Make {
			for range o.Count {
				pins += p.Ornament(o.Ornament).Supplies[0].Count
				cord += p.Ornament(o.Ornament).Supplies[1].Length
			}
		}
		assert.Equal(t, []Supply{{Name: "pins", Count: pins}, {Name: "cord", Length: cord}}, g.Supplies)
	})
}

// A gathering with one count changed, or a piece under the wrong fabric, is
// told by the recount.
func TestRecountFindsWhatIsWrong(t *testing.T) {
	p, err := Read("testdata/harbour.yaml")
	require.NoError(t, err)
	g, err := Gather(p)
	require.NoError(t, err)
	g.Fabrics[0].Sizes[0].Count++
	assert.Equal(t, "538 pieces counted by fabric, 537 by ornament: navy dot, 1 3/4 x 10 1/2 in: +1 by fabric", Recount(p, g).String())
	g.Fabrics[1].Sizes[0].Count--
	assert.False(t, Recount(p, g).Equal(), "equal totals with two wrong sizes are not equal")
	assert.Equal(t, 537, Recount(p, g).ByFabric)
}

func TestLetters(t *testing.T) {
	for i, want := range map[int]string{0: "A", 25: "Z", 26: "AA", 27: "AB", 51: "AZ", 52: "BA", 701: "ZZ", 702: "AAA"} {
		assert.Equal(t, want, letters(i))
	}
}

func TestGatherRefuses(t *testing.T) {
	square := units.Size{Along: units.Inch, Across: units.Inch}
	sound := func() *Plan {
		return &Plan{
			Fabrics:   []Fabric{{Name: "f"}},
			Ornaments: []Ornament{{Name: "o", Pieces: []Round{{Name: "r", Size: square, Roles: []RoleCount{{"g", 10}}}}}},
			Make:      []Order{{Ornament: "o", Count: 2, Colourway: []Filling{{Role: "g", Fabric: "f"}}}},
		}
	}
	_, err := Gather(sound())
	require.NoError(t, err)
	for _, c := range []struct {
		name   string
		spoil  func(p *Plan)
		errors string
	}{
		{"unknown ornament", func(p *Plan) { p.Make[0].Ornament = "x" }, `plan: ornament "x" is not defined`},
		{"role without fabric", func(p *Plan) { p.Make[0].Colourway = nil }, `plan: ornament "o", r: fabric "" is not defined`},
		{"too many", func(p *Plan) { p.Make[0].Count = pack.MaxDemand/10 + 1 }, `plan: fabric "f": more than 1000000 pieces of 1 x 1 in`},
		{"far too many", func(p *Plan) { p.Make[0].Count = 1 << 62 }, `plan: fabric "f": more than 1000000 pieces of 1 x 1 in`},
		{"too many with spares", func(p *Plan) { p.Make[0].Count = pack.MaxDemand / 10; p.Cutting.Spare = 1 }, `plan: fabric "f": more than 1000000 pieces of 1 x 1 in with the spares`},
		{"too much cord", func(p *Plan) { p.Ornaments[0].Supplies = []Supply{{Name: "cord", Length: 1 << 62}} }, `plan: supply "cord": 2 times `},
		{"too many in all", func(p *Plan) {
			p.Make[0].Count = pack.MaxDemand / 10
			for i := range 10 {
				p.Ornaments[0].Pieces = append(p.Ornaments[0].Pieces, Round{Name: fmt.Sprint(i), Size: units.Size{Along: units.Inch, Across: units.Length(i+2) * units.Inch}, Roles: []RoleCount{{"g", 10}}})
			}
		}, `plan: fabric "f": more than 10000000 pieces in all`},
	} {
		p := sound()
		c.spoil(p)
		g, err := Gather(p)
		assert.Nil(t, g, c.name)
		require.Error(t, err, c.name)
		assert.Contains(t, err.Error(), c.errors, c.name)
	}
}
