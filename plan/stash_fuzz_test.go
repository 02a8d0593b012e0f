package plan

import (
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/require"

	"pinfold/units"
)

// Whatever the bytes, a stash file is read with every place in it where it says, or
// refused with faults that lie in it.
func FuzzReadStash(f *testing.F) {
	for _, text := range []string{
		"id,fabric,size,count,bad areas,squared,where,note\n1,navy dot,9 x 14,2,\"2 x 3 at 0, 4; 1 x 1 at top left\",yes,tin,\n",
		"\ufefffabric;size;shape\r\nnavy dot;;\"0, 0; 0, 9; 12, 8\"\r\n", "fabric\tsize\nnavy dot\t9 x 14\n\n# a comment\n", "# a\nfabric,size\n\"navy\ndot\",\"9 x\r\n14\"",
		"fabric,shape,bad areas\nsand,\"bottom 9, top 8, left height 12, right height 11\",hole 1 x 1 at 3 up 4 right\n", "fabric,size\n\"# no comment\",2 x 3\n# \"\nx,2 x 3",
	} {
		f.Add([]byte(text), true)
		f.Add([]byte(text), false)
	}
	f.Fuzz(func(t *testing.T, data []byte, metric bool) {
		u := units.Inches
		if metric {
			u = units.Centimetres
		}
		table, err := ReadStash("stash.csv", data, u)
		if err != nil {
			require.Nil(t, table)
			lines := strings.Count(lineEnds.Replace(string(data)), "\n") + 1
			for _, fault := range err.(Errors) {
				require.LessOrEqual(t, fault.Line, lines)
				require.True(t, utf8.ValidString(fault.String()))
				require.NotContains(t, fault.String(), "\n")
			}
			return
		}
		require.Len(t, table.Rows, len(table.Pieces))
		end := table.Header.To
		for i, row := range table.Rows {
			require.LessOrEqual(t, end, row.From, "rows follow one another")
			require.LessOrEqual(t, row.To, len(data))
			end = row.To
			from := row.From
			for _, c := range row.Cells {
				require.LessOrEqual(t, from, c.From)
				require.LessOrEqual(t, c.From, c.To)
				from = c.To
			}
			require.LessOrEqual(t, from, row.To)
			p := table.Pieces[i]
			require.Positive(t, p.Count)
			require.Positive(t, p.Size.Area())
			require.NotEmpty(t, p.ID)
			// What is written of bad areas is read back as the same.
			if text := p.BadAreas(u); p.Shape == nil && !strings.Contains(text, "about") {
				r := reader{plan: &Plan{Unit: u}, broken: map[string]bool{}}
				got := r.badAreas(cell{text: text}, p.Size, p.Origin)
				require.Empty(t, r.faults, text)
				require.Len(t, got, len(p.Bad), text)
			}
		}
	})
}
