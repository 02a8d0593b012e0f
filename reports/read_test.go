package reports

import (
	"bytes"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"pinfold/units"
)

func TestResultReadBack(t *testing.T) {
	res := fair(t)
	rep := New(res)
	var b bytes.Buffer
	require.NoError(t, rep.WriteJSON(&b))
	rec, err := ReadResult("result.json", b.Bytes())
	require.NoError(t, err)
	assert.Equal(t, "Lantern fair", rec.Title)
	assert.Equal(t, units.Inches, rec.Unit)
	assert.Empty(t, rec.Widths)
	require.Len(t, rec.Sheets, len(rep.Sheets))
	stash := 0
	for i, s := range rec.Sheets {
		want := rep.Sheets[i]
		assert.Equal(t, want.Number, s.Number)
		assert.Equal(t, want.Fabric, s.Fabric)
		assert.Equal(t, want.Copies, s.Copies)
		assert.Equal(t, units.Size{Across: want.RawW, Along: want.RawH}, s.Cloth)
		assert.Equal(t, len(want.Pieces), s.Pieces)
		require.Len(t, s.Offcuts, len(want.Offcuts))
		for k, o := range want.Offcuts {
			assert.Equal(t, o.Size(), s.Offcuts[k])
		}
		if s.Stash != "" {
			stash++
			assert.Contains(t, want.Cloth, s.Stash)
		} else {
			assert.Contains(t, []string{"fat quarter", "yard"}, s.Bought)
		}
	}
	assert.Positive(t, stash, "the fair has a stash piece")
	plainHash := rec.Hash

	res.Plan.Cutting.KeepSizes = []units.Length{5 * in, 5 * in / 2}
	res.Plan.Cutting.Keep = units.Size{Along: 2 * in, Across: 3 * in}
	b.Reset()
	require.NoError(t, New(res).WriteJSON(&b))
	rec, err = ReadResult("result.json", b.Bytes())
	require.NoError(t, err)
	assert.Equal(t, []units.Length{5 * in, 5 * in / 2}, rec.Widths)
	assert.Equal(t, res.Plan.Cutting.Keep, rec.Keep)
	assert.NotEqual(t, plainHash, rec.Hash)
}

func TestResultsThatAreNone(t *testing.T) {
	var b bytes.Buffer
	require.NoError(t, New(fair(t)).WriteJSON(&b))
	good := b.String()
	for name, c := range map[string]struct{ text, want string }{
		"cut short":      {good[:len(good)/2], "this is no JSON"},
		"empty":          {"", "r.json:1:1: this is no result"},
		"a slip":         {strings.Replace(good, `"title": `, `"title": !`, 1), `r.json:4:12: this is no JSON`},
		"another schema": {strings.Replace(good, "result/1", "cost/1", 1), `schema "pinfold/cost/1" is not "pinfold/result/1": name the result.json of a cutting plan`},
		"a number moved": {strings.Replace(good, `"copies":`, `"copies":1`, 1), "the file was changed after it was written: have pinfold layout write it again"},
		"another title":  {strings.Replace(good, "Lantern", "lantern", 1), "was changed after it was written"},
		"no hash":        {`{"schema": "pinfold/result/1"}`, "was changed after it was written"},
		"a list":         {"[]", "r.json:1:"},
		"a text":         {`{"schema": 3}`, "schema cannot be a number"},
	} {
		t.Run(name, func(t *testing.T) {
			rec, err := ReadResult("r.json", []byte(c.text))
			assert.Nil(t, rec)
			require.ErrorContains(t, err, c.want)
			assert.True(t, strings.HasPrefix(err.Error(), "r.json:"), err.Error())
		})
	}
}
