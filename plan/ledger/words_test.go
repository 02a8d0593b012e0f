package ledger

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"pinfold/units"
)

func TestWordsOfAChange(t *testing.T) {
	a := Moved{ID: "N1", Fabric: "navy dot", Size: "9 x 14 in", Count: 1}
	b := Moved{ID: "S1", Fabric: "sail white", Size: "10 x 12 in", Count: 3}
	for want, e := range map[string]Entry{
		"changed no piece":                        {},
		`took out "N1" (navy dot, 9 x 14 in)`:     {Took: []Moved{a}},
		`put in "S1" (sail white, 10 x 12 in) x3`: {Put: []Moved{b}},
		`took out "N1" (navy dot, 9 x 14 in), "S1" (sail white, 10 x 12 in) x3 and put in "S1" (sail white, 10 x 12 in) x3, "N1" (navy dot, 9 x 14 in)`: {Took: []Moved{a, b}, Put: []Moved{b, a}},
	} {
		assert.Equal(t, want, e.Words())
	}
}

// Offcuts are as large as a ruler of the plan's unit shows, never larger; one that is
// whole in the other unit stays.
func TestOffcutsAreRoundedDown(t *testing.T) {
	mm := units.Millimetre
	odd := size(70*mm+1, 65*mm-1)
	assert.Equal(t, []Kept{{size(70*mm, 64*mm), 1}}, Trim{}.Apply(odd, units.Centimetres))
	inches := Trim{}.Apply(odd, units.Inches)
	assert.Equal(t, []Kept{{size(44*in/16, 40*in/16), 1}}, inches, "2 12/16 and 2 8/16 in are 69.9 and 63.5 mm")
	assert.Equal(t, []Kept{{size(in/2, 65*mm), 1}}, Trim{}.Apply(size(in/2, 65*mm), units.Centimetres))
	assert.Equal(t, []Kept{{size(in/2, 65*mm), 1}}, Trim{}.Apply(size(in/2, 65*mm), units.Inches))
}

func TestDoneTellsHowOften(t *testing.T) {
	b := book(t, "id,fabric,size,count\nN1,navy dot,9 x 14,1\nS1,sail white,10 x 12,1\n")
	_, err := b.Done(t.Context(), fair(), Progress{})
	assert.EqualError(t, err, `stash.csv:2:1: piece "N1" is there once, the result cuts 4 times: some were taken out before`)
}

// A note that would read as the wish to keep the cloth whole is left away, whatever
// the title and the cloth are called.
func TestNotesAskForNothing(t *testing.T) {
	b := book(t, "")
	s := Session{Result: "x", Title: "keep whole", Keep: size(in, in), Sheets: []Sheet{
		{Number: 7, Fabric: "navy dot", Cloth: "keep whole", Size: size(9*in, 42*in), Copies: 1, Offcuts: []units.Size{size(5*in, 4*in)}},
	}}
	e, err := b.Done(t.Context(), s, Progress{})
	require.NoError(t, err)
	require.Len(t, e.Put, 1)
	assert.Equal(t, "from sheet 7", e.Put[0].Note)
}

// What a row of the stash cannot hold so that it reads back is refused, and nothing is
// written.
func TestChangeThatNoRowHolds(t *testing.T) {
	for _, c := range []struct{ stash, fabric string }{
		{fairStash, " navy dot"},
		{"fabric,size,id,count,squared,note\nnavy dot,9 x 14,N1,1,,\n", "# dots"},
	} {
		b := book(t, c.stash)
		s := fair()
		s.Sheets[0].Fabric, s.Sheets[0].Piece, s.Sheets[0].Cloth = c.fabric, "", "fat quarter"
		_, err := b.Done(t.Context(), s, Progress{Cut: map[int]int{1: 1}})
		assert.EqualError(t, err, "stash.csv: cannot hold this change in its rows: write plain names, without line ends and not starting with #", c.fabric)
		assert.Equal(t, c.stash, content(t, b))
	}
}
