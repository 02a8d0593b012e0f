package spreadsheet

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"pinfold/plan"
	"pinfold/units"
)

// stash draws a stash as people write it, with names that a spreadsheet would take
// for something else.
func stash(t *rapid.T, u units.Unit) []plan.StashPiece {
	name := rapid.StringMatching(`[a-z=+@'#0-9＝-][a-z =+@';"#,0-9é½<&_x-]{0,8}[a-z]`)
	free := rapid.OneOf(rapid.Just(""), rapid.StringMatching(`[=+@'; \t\n"#,a-z0-9_x☂-]{0,14}`),
		rapid.SampledFrom([]string{"=1+1", "'=1+1", "''@x", "-1", "; =x", "\t+3", " =x", "_x0041_", "_x005F_x0041_", "# none", "1/2", "TRUE", "007", "1e5", "a\nb"}))
	length := rapid.Custom(func(t *rapid.T) string {
		switch rapid.IntRange(0, 4).Draw(t, "as") {
		case 0:
			return fmt.Sprintf("%d 1/3", rapid.IntRange(1, 40).Draw(t, "whole"))
		case 1:
			return fmt.Sprintf("%d.%03d", rapid.IntRange(1, 40).Draw(t, "whole"), rapid.IntRange(0, 999).Draw(t, "places"))
		case 2:
			return fmt.Sprintf("%d cm", rapid.IntRange(1, 90).Draw(t, "cm"))
		}
		return fmt.Sprintf("%d %d/16", rapid.IntRange(1, 40).Draw(t, "whole"), rapid.IntRange(1, 15).Draw(t, "part"))
	})
	var b bytes.Buffer
	out := csv.NewWriter(&b)
	require.NoError(t, out.Write([]string{"fabric", "id", "size", "shape", "count", "bad areas", "squared", "where", "note"}))
	ids := map[string]bool{}
	for range rapid.IntRange(0, 8).Draw(t, "rows") {
		id := rapid.OneOf(rapid.Just(""), name).Draw(t, "id")
		if id = strings.TrimSpace(id); id != "" && ids[id] {
			continue
		}
		ids[id] = true
		size, shape := length.Draw(t, "along")+" x "+length.Draw(t, "across"), ""
		if rapid.IntRange(0, 3).Draw(t, "crooked") == 0 {
			size = ""
			shape = rapid.SampledFrom([]string{"bottom 9, top 8, left height 12, right height 11", "0, 0; 0, 9; 12, 8 1/2; 11, 0", "bottom 9, right 12, top 8, left 11, diagonal 14"}).Draw(t, "shape")
		}
		var bad []string
		for range rapid.IntRange(0, 2).Draw(t, "bad") {
			bad = append(bad, rapid.SampledFrom([]string{"", "stain ", "hole ", "missing "}).Draw(t, "what")+rapid.SampledFrom([]string{"1 x 1/2", "1/3 x 0.7", "1.3 cm x 1 cm"}).Draw(t, "area")+
				" at "+rapid.SampledFrom([]string{"top right", "bottom left", "middle", "0, 1/3", "0.123, 0.4", "0, 0"}).Draw(t, "place"))
		}
		fabric := name.Draw(t, "fabric")
		if strings.HasPrefix(fabric, "# ") {
			fabric = "a" + fabric // else the line is a comment
		}
		require.NoError(t, out.Write([]string{fabric, id, size, shape, fmt.Sprint(rapid.IntRange(1, 10_000).Draw(t, "count")), strings.Join(bad, "; "),
			rapid.SampledFrom([]string{"", "yes", "no"}).Draw(t, "squared"), free.Draw(t, "where"), free.Draw(t, "note")}))
	}
	out.Flush()
	table, err := plan.ReadStash("stash.csv", b.Bytes(), u)
	require.NoError(t, err, "%s", b.String())
	return table.Pieces
}

// What is written reads back as the same stash, wherever it is read, and the same
// stash is always written in the same way.
func TestWrittenReadsBack(t *testing.T) {
	for _, file := range []string{"bin.xlsx", "BIN.CSV"} {
		t.Run(file, rapid.MakeCheck(func(t *rapid.T) {
			u := rapid.SampledFrom([]units.Unit{units.Inches, units.Centimetres}).Draw(t, "unit")
			pieces := stash(t, u)
			data, err := Write(file, pieces, u)
			require.NoError(t, err)
			again, err := Write(file, pieces, u)
			require.NoError(t, err)
			require.True(t, bytes.Equal(data, again), "deterministic")
			s, err := Read(file, data, "", u)
			require.NoError(t, err)
			require.Empty(t, s.Ignored)
			require.Len(t, s.Pieces, len(pieces))
			for i := range pieces {
				require.True(t, pieces[i].Same(s.Pieces[i]), "%+v\n%+v", pieces[i], s.Pieces[i])
				require.Equal(t, pieces[i].Shape, s.Pieces[i].Shape)
			}
		}))
	}
}

// No cell of a written CSV file starts as a formula does, however it is parted.
func TestNoFormulas(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		data, err := Write("bin.csv", stash(t, units.Inches), units.Inches)
		require.NoError(t, err)
		rows, err := csv.NewReader(bytes.NewReader(bytes.TrimPrefix(data, []byte("\ufeff")))).ReadAll()
		require.NoError(t, err)
		for _, row := range rows {
			for _, c := range row {
				for part := range strings.FieldsFuncSeq(c, func(r rune) bool { return r == ';' || r == '\t' }) {
					part = strings.TrimLeft(part, " ")
					require.False(t, part != "" && strings.ContainsAny(part[:1], "=+-@"), "%q of %q", part, c)
				}
			}
		}
	})
}

func FuzzGuard(f *testing.F) {
	for _, s := range []string{"=1", "'=1", "a; '=1", "\t\t=", "＝", "'", "''", ";';'=", " ' ="} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		if s = strings.ToValidUTF8(s, ""); plan.Unguard(plan.Guard(s, plan.Formulas), plan.Formulas) != s {
			t.Errorf("%q became %q, then %q", s, plan.Guard(s, plan.Formulas), plan.Unguard(plan.Guard(s, plan.Formulas), plan.Formulas))
		}
	})
}
