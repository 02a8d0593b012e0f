package ledger

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"pinfold/units"
)

func size(along, across units.Length) units.Size { return units.Size{Along: along, Across: across} }

// fair is a session of the stash below.
func fair() Session {
	return Session{
		Result: "abc", Title: "Lantern fair", Keep: size(2*in, 3*in),
		Sheets: []Sheet{
			{Number: 1, Fabric: "navy dot", Piece: "N1", Size: size(9*in, 14*in), Copies: 3, Offcuts: []units.Size{size(5*in, 4*in), size(5*in, 4*in)}},
			{Number: 2, Fabric: "navy dot", Cloth: "fat quarter", Size: size(18*in, 21*in), Copies: 2, Offcuts: []units.Size{size(3*in, 17*in+1)}},
			{Number: 3, Fabric: "sail white", Piece: "S1", Size: size(10*in, 12*in), Copies: 1},
			{Number: 4, Fabric: "navy dot", Piece: "N1", Size: size(9*in, 14*in), Copies: 1, Offcuts: []units.Size{size(7*in, 2*in)}},
		},
	}
}

const fairStash = "id,fabric,size,count,squared,note\nN1,navy dot,9 x 14,5,,\nS1,sail white,10 x 12,1,,\n"

func TestDoneTakesOutAndPutsIn(t *testing.T) {
	b := book(t, fairStash)
	e, err := b.Done(t.Context(), fair(), Progress{})
	require.NoError(t, err)
	const cut = "id,fabric,size,count,squared,note\nN1,navy dot,9 x 14,1,,\n" +
		"N2,navy dot,5 x 4 in,6,yes,\"offcut of N1, sheet 1 of Lantern fair\"\n" +
		"N3,navy dot,3 x 17 in,2,yes,\"offcut of bought fat quarter, sheet 2 of Lantern fair\"\n" +
		"N4,navy dot,7 x 2 in,1,yes,\"offcut of N1, sheet 4 of Lantern fair\"\n"
	assert.Equal(t, cut, content(t, b))
	assert.Equal(t, []Moved{{ID: "N1", Fabric: "navy dot", Size: "9 x 14 in", Count: 4, Left: 1}, {ID: "S1", Fabric: "sail white", Size: "10 x 12 in", Count: 1}}, e.Took)

	e, err = b.Done(t.Context(), fair(), Progress{})
	require.NoError(t, err)
	assert.Nil(t, e, "twice changes nothing")
	assert.Equal(t, cut, content(t, b))

	_, _, err = b.Undo(t.Context())
	require.NoError(t, err)
	assert.Equal(t, fairStash, content(t, b))
	e, err = b.Done(t.Context(), fair(), Progress{})
	require.NoError(t, err)
	assert.NotNil(t, e, "what was undone can be done again")
	entries, err := b.History()
	require.NoError(t, err)
	assert.Len(t, entries, 3)
}

func TestDoneInParts(t *testing.T) {
	b := book(t, fairStash)
	steps := []struct {
		p    Progress
		want []Booked
	}{
		{Progress{Cut: map[int]int{1: 2}}, []Booked{{Sheet: 1, Copies: 2}}},
		{Progress{Cut: map[int]int{1: 2}}, nil},
		{Progress{Cut: map[int]int{1: 1}}, nil},
		{Progress{Cut: map[int]int{1: 3, 3: 1}}, []Booked{{Sheet: 1, Copies: 1}, {Sheet: 3, Copies: 1}}},
		{Progress{Cut: map[int]int{2: 1}, Over: true}, []Booked{{Sheet: 2, Copies: 1}, {Sheet: 2, Copies: 1, Uncut: true}}},
		{Progress{Over: true}, []Booked{{Sheet: 4, Copies: 1}}},
		{Progress{}, nil},
	}
	for i, s := range steps {
		e, err := b.Done(t.Context(), fair(), s.p)
		require.NoError(t, err, i)
		if s.want == nil {
			assert.Nil(t, e, i)
			continue
		}
		require.NotNil(t, e, i)
		assert.Equal(t, s.want, e.Cut, i)
	}
	text := content(t, b)
	assert.Contains(t, text, `navy dot,18 x 21 in,1,no,"not cut: bought fat quarter, sheet 2 of Lantern fair"`)
	assert.Contains(t, text, "N1,navy dot,9 x 14,1,,\n")
	assert.NotContains(t, text, "S1")

	e, err := b.Done(t.Context(), fair(), Progress{Cut: map[int]int{2: 1}, Again: true})
	require.NoError(t, err)
	assert.Equal(t, []Booked{{Sheet: 2, Copies: 1}}, e.Cut)
	booked, err := b.Booked("abc")
	require.NoError(t, err)
	assert.Equal(t, map[int]int{2: 1}, booked)
	for range 5 {
		_, _, err = b.Undo(t.Context())
		require.NoError(t, err)
	}
	assert.Equal(t, fairStash, content(t, b))
}

func TestDoneRefusesWhatDoesNotFit(t *testing.T) {
	for name, c := range map[string]struct{ stash, want string }{
		"gone and fewer": {"id,fabric,size,count\nN1,navy dot,9 x 14,3\n",
			"stash.csv: piece \"S1\", from which sheet 3 is cut, is gone: the result is of another stash, or the piece was taken out before\n" +
				`stash.csv:2:1: piece "N1" is there 3 times, the result cuts 4 times: some were taken out before`},
		"another size": {"id,fabric,size,count\nN1,navy dot,14 x 9,5\nS1,sail white,10 x 12,1\n",
			`stash.csv:2:1: piece "N1" is 14 x 9 in, sheet 1 is cut from 9 x 14 in: the result is of another piece, or the row was changed since`},
		"another fabric": {"id,fabric,size,count\nN1,navy dot,9 x 14,5\nS1,sail grey,10 x 12,1\n",
			`stash.csv:3:1: piece "S1" is of fabric "sail grey", sheet 3 is cut from "sail white": the result is of another stash`},
		"no file": {"", "stash.csv: no such file: write the name of a stash file; pinfold stash put starts one"},
	} {
		t.Run(name, func(t *testing.T) {
			b := book(t, c.stash)
			e, err := b.Done(t.Context(), fair(), Progress{})
			assert.Nil(t, e)
			require.EqualError(t, err, c.want)
			if c.stash != "" {
				assert.Equal(t, c.stash, content(t, b))
			}
			entries, err := b.History()
			require.NoError(t, err)
			assert.Empty(t, entries)
		})
	}
}

// Sheets that nothing is cut from, and sessions that touch no stash piece.
func TestDoneWithUncutCloth(t *testing.T) {
	b := book(t, "")
	s := Session{Result: "x", Title: "keep whole things", Keep: size(in, in), Sheets: []Sheet{
		{Number: 1, Fabric: "navy dot", Cloth: "yard", Size: size(9*in, 42*in), Copies: 1, Whole: true},
		{Number: 2, Fabric: "navy dot", Cloth: "yard", Size: size(9*in, 42*in), Copies: 1},
	}}
	e, err := b.Done(t.Context(), s, Progress{})
	require.NoError(t, err)
	require.Len(t, e.Put, 1)
	assert.Equal(t, "not cut: bought yard", e.Put[0].Note, "a title must not ask for the cloth to be kept whole")
	assert.Contains(t, content(t, b), "N1,navy dot,9 x 42 in,1,,no,,not cut: bought yard\n")

	s.Sheets = s.Sheets[1:]
	s.Result = "y"
	e, err = b.Done(t.Context(), s, Progress{})
	require.NoError(t, err)
	assert.Empty(t, e.Edits, "nothing to put in, but it is booked")
	assert.Equal(t, e.Before, e.After)
	e, err = b.Done(t.Context(), s, Progress{Over: true})
	require.NoError(t, err)
	assert.Nil(t, e)
	_, undone, err := b.Undo(t.Context())
	require.NoError(t, err)
	assert.Equal(t, "y", undone.Result)
}

func TestTrim(t *testing.T) {
	half := in / 2
	sizes := []units.Length{5 * in, 3*in + half, 2*in + half}
	for name, c := range map[string]struct {
		trim   Trim
		offcut units.Size
		want   []Kept
	}{
		"as it is":    {Trim{}, size(7*in, 6*in), []Kept{{size(7*in, 6*in), 1}}},
		"odd":         {Trim{}, size(7*in+in/32, 6*units.Centimetre), []Kept{{size(7*in, 6*units.Centimetre), 1}}},
		"strips":      {Trim{Widths: sizes, Keep: size(2*in, 3*in)}, size(20*in, 13*in), []Kept{{size(20*in, 5*in), 2}, {size(20*in, 2*in+half), 1}}},
		"across":      {Trim{Widths: sizes, Keep: size(2*in, 3*in)}, size(8*in, 20*in), []Kept{{size(5*in, 20*in), 1}, {size(2*in+half, 20*in), 1}}},
		"a rest":      {Trim{Widths: sizes, Keep: size(2*in, 3*in)}, size(12*in, 7*in), []Kept{{size(12*in, 5*in), 1}, {size(12*in, 2*in), 1}}},
		"no rest":     {Trim{Widths: sizes, Keep: size(2*in, 13*in)}, size(12*in, 7*in), []Kept{{size(12*in, 5*in), 1}}},
		"too narrow":  {Trim{Widths: sizes, Keep: size(2*in, 3*in)}, size(9*in, 2*in), []Kept{{size(9*in, 2*in), 1}}},
		"a square":    {Trim{Widths: sizes, Keep: size(2*in, 3*in)}, size(5*in, 5*in), []Kept{{size(5*in, 5*in), 1}}},
		"with a kerf": {Trim{Widths: sizes, Keep: size(2*in, 3*in), Kerf: in / 8}, size(20*in, 10*in), []Kept{{size(20*in, 5*in), 1}, {size(20*in, 3*in+half), 1}}},
	} {
		assert.Equal(t, c.want, c.trim.Apply(c.offcut, units.Inches), name)
	}
}

// Trimming never makes cloth, and every strip but the rest has a width of the list.
func TestTrimMakesNoCloth(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		l := rapid.Int64Range(1, int64(40*in))
		length := func(name string) units.Length { return units.Length(l.Draw(r, name)) }
		trim := Trim{Keep: size(length("keep"), length("keep")), Kerf: units.Length(rapid.Int64Range(0, 2000).Draw(r, "kerf"))}
		for w := length("width"); w > in/4; w = w * 2 / 3 {
			trim.Widths = append(trim.Widths, w)
		}
		offcut := size(length("along"), length("across"))
		kept := trim.Apply(offcut, units.Inches)
		var area units.Area
		for _, k := range kept {
			area += units.Area(k.Count) * k.Size.Area()
			if max(k.Size.Along, k.Size.Across) > max(offcut.Along, offcut.Across) {
				r.Fatalf("%v is longer than %v", k, offcut)
			}
		}
		if area > offcut.Area() {
			r.Fatalf("%v of %v", kept, offcut)
		}
	})
}
