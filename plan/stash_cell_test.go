package plan

import (
	"bytes"
	"encoding/csv"
	"math/rand/v2"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"pinfold/pack"
	"pinfold/units"
)

func TestStashCells(t *testing.T) {
	in := units.Inch
	s := StashPiece{ID: "S1", Fabric: "navy dot", Size: units.Size{Along: 19 * in / 2, Across: 14 * in}, Count: 3, Squared: true,
		Where: "tin", Note: "from the sails", Bad: []Bad{{X: 4 * in, W: 3 * in, H: 2 * in, What: "stain"}}}
	for column, want := range map[string]string{
		"id": "S1", "fabric": "navy dot", "size": "9 1/2 x 14 in", "count": "3", "squared": "yes", "where": "tin",
		"note": "from the sails", "bad areas": "stain 2 x 3 at 0, 4", "shape": "", "colour": "",
	} {
		assert.Equal(t, want, s.Cell(column, units.Inches), column)
	}
	assert.Equal(t, "no", StashPiece{}.Cell("squared", units.Inches))
	crooked := StashPiece{Size: s.Size, Measured: "bottom 9, top 8, left height 12, right height 11", Shape: pack.Outline{{}}}
	assert.Equal(t, crooked.Measured, crooked.Cell("shape", units.Inches))
	assert.Equal(t, "", crooked.Cell("size", units.Inches), "it follows from the shape")
}

// Sizes and bad areas of any number of ticks, which no printed fraction need hold, are
// read back to the tick; every other cell as it was.
func TestStashCellsReadBack(t *testing.T) {
	r := rand.New(rand.NewPCG(41, 42))
	columns := append(StashColumns(), "shape")
	var pieces []StashPiece
	for i := range 300 {
		length := func(most units.Length) units.Length {
			l := 1 + units.Length(r.Int64N(int64(most)))
			switch r.IntN(4) {
			case 0:
				return l.RoundUp(units.Inch / 8)
			case 1:
				return l.RoundUp(units.Millimetre)
			case 2:
				return l.RoundUp(units.Inch64)
			}
			return l
		}
		s := StashPiece{ID: strconv.Itoa(i), Fabric: "navy dot", Count: 1 + r.IntN(maxCopies), Squared: r.IntN(2) == 0, Where: "tin, blue", Note: `12" ruler`,
			Size: units.Size{Along: length(units.Yard), Across: length(2 * units.Yard)}}
		for range r.IntN(3) {
			b := Bad{W: length(s.Size.Across), H: length(s.Size.Along), What: []string{"", "hole", "stain", "missing"}[r.IntN(4)]}
			b.X, b.Y = length(s.Size.Across)-1, length(s.Size.Along)-1
			switch r.IntN(4) {
			case 0:
				b.X = max(0, s.Size.Across-b.W)
			case 1:
				b.X, b.Y = max(0, s.Size.Across-b.W), max(0, s.Size.Along-b.H)
			}
			if !b.outside(s.Size) {
				s.Bad = append(s.Bad, b)
			}
		}
		pieces = append(pieces, s)
	}
	for _, u := range []units.Unit{units.Inches, units.Centimetres} {
		var b bytes.Buffer
		out := csv.NewWriter(&b)
		require.NoError(t, out.Write(columns))
		for _, s := range pieces {
			var row []string
			for _, c := range columns {
				row = append(row, s.Cell(c, u))
			}
			require.NoError(t, out.Write(row))
		}
		out.Flush()
		table, err := ReadStash("stash.csv", b.Bytes(), u)
		require.NoError(t, err)
		require.Len(t, table.Pieces, len(pieces))
		for i, s := range pieces {
			require.True(t, s.Same(table.Pieces[i]), "in %s:\n%+v\n%+v", u, s, table.Pieces[i])
		}
		assert.Equal(t, 0, table.Column("id"))
		assert.Equal(t, -1, table.Column("colour"))
		assert.Contains(t, b.String(), " cm", "some are written to the tick")
	}
}

func TestSamePiece(t *testing.T) {
	s := StashPiece{At: Pos{"a", 1, 2}, ID: "S", Fabric: "navy dot", Size: units.Size{Along: 1, Across: 2}, Count: 3, Where: "tin", Note: "n", Bad: []Bad{{W: 1, H: 1}}}
	other := s
	other.At = Pos{"b", 3, 4}
	assert.True(t, s.Same(other), "wherever they are written")
	for what, change := range map[string]func(*StashPiece){
		"id":        func(p *StashPiece) { p.ID = "T" },
		"fabric":    func(p *StashPiece) { p.Fabric = "buoy red" },
		"size":      func(p *StashPiece) { p.Size.Across++ },
		"count":     func(p *StashPiece) { p.Count++ },
		"squared":   func(p *StashPiece) { p.Squared = true },
		"where":     func(p *StashPiece) { p.Where = "" },
		"note":      func(p *StashPiece) { p.Note = "" },
		"shape":     func(p *StashPiece) { p.Measured = "bottom 9" },
		"bad areas": func(p *StashPiece) { p.Bad = nil },
	} {
		other := s
		change(&other)
		assert.False(t, s.Same(other), what)
		assert.False(t, other.Same(s), what)
	}
}

// An apostrophe keeps a spreadsheet from taking a text for a formula, and a stash from
// taking it for a comment, and stands right before the sign; where there is one already,
// another one does.
func TestGuard(t *testing.T) {
	for _, c := range []struct{ text, formulas, comments string }{
		{"", "", ""},
		{"navy dot", "navy dot", "navy dot"},
		{"=1+1", "'=1+1", "=1+1"},
		{"-1", "'-1", "-1"},
		{"9 - 1", "9 - 1", "9 - 1"},
		{"＝1", "'＝1", "＝1"},
		{"# none", "'# none", "'# none"},
		{"'tis", "'tis", "'tis"},
		{"'=1", "''=1", "'=1"},
		{"''#", "'''#", "'''#"},
		{" =1", " '=1", " =1"},
		{"a; =1;+2", "a; '=1;'+2", "a; =1;+2"},
		{"a\t@b", "a\t'@b", "a\t@b"},
		{"a =1", "a =1", "a =1"},
	} {
		assert.Equal(t, c.formulas, Guard(c.text, Formulas), "%q", c.text)
		assert.Equal(t, c.comments, Guard(c.text, Comments), "%q", c.text)
		assert.Equal(t, c.text, Unguard(Guard(c.text, Formulas), Formulas))
		assert.Equal(t, c.text, Unguard(Guard(c.text, Comments), Comments))
	}
	assert.Equal(t, "it's", Unguard("it's", Formulas), "what nobody guarded stays")
	assert.Equal(t, "'", Unguard("'", Formulas))
}

// Texts drawn from the signs that matter come back, and no part of one that is
// guarded begins as a formula does.
func TestGuardGivesBack(t *testing.T) {
	r := rand.New(rand.NewPCG(43, 44))
	signs := []rune("''==+-@#; \ta1＝é")
	for range 20_000 {
		text := make([]rune, r.IntN(9))
		for i := range text {
			text[i] = signs[r.IntN(len(signs))]
		}
		s := string(text)
		for _, by := range []string{Formulas, Comments} {
			require.Equal(t, s, Unguard(Guard(s, by), by), "%q", s)
		}
		for part := range strings.FieldsFuncSeq(Guard(s, Formulas), func(c rune) bool { return c == ';' || c == '\t' }) {
			part = strings.TrimLeft(part, " ")
			require.False(t, part != "" && strings.ContainsAny(part[:1], "=+-@"), "%q in %q", part, s)
		}
	}
}
