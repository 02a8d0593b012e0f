package ledger

import (
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"pinfold/plan"
	"pinfold/units"
)

// handwritten is a stash file as somebody may keep it: any comma, line ends and order
// of columns, columns of their own, comments, blank lines, ids or none.
func handwritten(r *rand.Rand) string {
	comma, end := []string{",", ";", "\t"}[r.IntN(3)], []string{"\n", "\r\n"}[r.IntN(2)]
	columns := []string{"fabric", "size", "count", "note", "bad areas", "squared"}
	named := r.IntN(3) > 0
	if named {
		columns = append(columns, "id")
	}
	if r.IntN(2) == 0 {
		columns = append(columns, "colour")
	}
	r.Shuffle(len(columns), func(i, j int) { columns[i], columns[j] = columns[j], columns[i] })
	var b strings.Builder
	b.WriteString([]string{"", "\ufeff"}[r.IntN(2)])
	b.WriteString([]string{"", "# mine" + end, end}[r.IntN(3)] + strings.Join(columns, comma) + end)
	rows := r.IntN(6)
	for i := range rows {
		var cells []string
		for _, c := range columns {
			text := map[string]string{
				"fabric": []string{"navy dot", "sand", `"buoy, red"`}[r.IntN(3)], "size": fmt.Sprintf("%d 1/2 x %d", 1+r.IntN(9), 2+r.IntN(9)), "count": []string{"", "1", "4"}[r.IntN(3)],
				"note": []string{"", `"two` + end + `lines"`, "tin", `"said ""yes"""`}[r.IntN(4)], "bad areas": []string{"", "1 x 1 at top left"}[r.IntN(2)],
				"squared": []string{"", "yes", "no"}[r.IntN(3)], "id": fmt.Sprint("S", i), "colour": "blue",
			}[c]
			cells = append(cells, text)
		}
		b.WriteString(strings.Join(cells, comma))
		if i+1 < rows || r.IntN(2) == 0 {
			b.WriteString(end)
		}
		if i+1 < rows && r.IntN(4) == 0 {
			b.WriteString([]string{"# ready" + end, end}[r.IntN(2)])
		}
	}
	return b.String()
}

// heap counts pieces by all that tells them apart, ids left out.
func heap(t *testing.T, b *Book) map[string]int {
	t.Helper()
	pieces, err := b.Stash()
	require.NoError(t, err, "%q", content(t, b))
	out := map[string]int{}
	for _, p := range pieces {
		out[kindOf(p)] += p.Count
	}
	return out
}

func kindOf(p plan.StashPiece) string {
	return fmt.Sprintf("%s %v %v %v %q", p.Fabric, p.Size, p.Bad, p.Squared, p.Note)
}

// Whatever is put in, taken out, taken over and undone, in whatever order: nothing
// else changes, what is refused changes nothing, every change is in the history, and
// undoing all of them gives the file of the beginning, byte for byte.
func TestChangesInAnyOrder(t *testing.T) {
	books := 24
	if testing.Short() {
		books = 6
	}
	made := map[string]int{}
	for seed := range uint64(books) {
		r := rand.New(rand.NewPCG(seed, 91))
		b := book(t, handwritten(r))
		states := []string{content(t, b)} // of the file, after each change that stands
		changes := 0
		for step := range 16 {
			before, pieces := content(t, b), heap(t, b)
			all, err := b.Stash()
			require.NoError(t, err)
			want := map[string]int{}
			for k, n := range pieces {
				want[k] = n
			}
			said := fmt.Sprintf("seed %d, step %d: %q", seed, step, before)
			what := []string{"put", "take", "take", "undo", "import", "nothing"}[r.IntN(6)]
			switch {
			case what == "put":
				c := cloth(t, fmt.Sprintf("%s: %d x %d x%d, 3 x 4", []string{"navy dot", "sail; white", `=1+1 "x"`}[r.IntN(3)], 1+r.IntN(9), 1+r.IntN(9), 1+r.IntN(3)))
				tag := Tag{Squared: r.IntN(2) == 0, Note: []string{"", "from, the \"sails\"", "; =1"}[r.IntN(3)]}
				_, err = b.Put(t.Context(), c, tag)
				for _, s := range c[0].Sizes {
					want[kindOf(plan.StashPiece{Fabric: c[0].Fabric, Size: s.Size, Squared: tag.Squared, Note: tag.Note})] += s.Count
				}
			case what == "take" && len(all) > 0:
				p := all[r.IntN(len(all))]
				n := 1 + r.IntN(p.Count)
				if r.IntN(3) == 0 {
					n = All
					want[kindOf(p)] -= p.Count
				} else {
					want[kindOf(p)] -= n
				}
				_, err = b.Take(t.Context(), p.ID, n)
			case what == "undo" && len(states) > 1:
				_, _, err = b.Undo(t.Context())
				want = nil
			case what == "import":
				in := Import{Renumber: true, Pieces: []plan.StashPiece{{ID: "S1", Fabric: "sand", Size: units.Size{Along: 2 * in, Across: 3 * in}, Count: 2}}}
				_, err = b.Import(t.Context(), in)
				want[kindOf(in.Pieces[0])] += 2
			default:
				what = "refused"
				switch {
				case len(all) > 0 && r.IntN(2) == 0:
					_, err = b.Take(t.Context(), all[0].ID, all[0].Count+1)
				case r.IntN(2) == 0:
					_, err = b.Import(t.Context(), Import{Pieces: []plan.StashPiece{{ID: "x", Fabric: "sand"}, {ID: "x", Fabric: "sand"}}})
				default:
					_, err = b.Take(t.Context(), "none", 1)
				}
				require.Error(t, err, said)
				require.Equal(t, before, content(t, b), said)
				made[what]++
				continue
			}
			require.NoError(t, err, "%s, %s", said, what)
			made[what]++
			changes++
			if what == "undo" {
				states = states[:len(states)-1]
				require.Equal(t, states[len(states)-1], content(t, b), said)
			} else {
				states = append(states, content(t, b))
				for k, n := range want {
					if n == 0 {
						delete(want, k)
					}
				}
				require.Equal(t, want, heap(t, b), "%s, %s", said, what)
			}
			past, err := b.History()
			require.NoError(t, err)
			require.Len(t, past, changes, said)
		}
		for range len(states) - 1 {
			_, _, err := b.Undo(t.Context())
			require.NoError(t, err, "seed %d", seed)
		}
		require.Equal(t, states[0], content(t, b), "seed %d", seed)
	}
	t.Log(made)
	assert.Len(t, made, 5)
}
