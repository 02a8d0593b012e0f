package ledger

import (
	"os"
	"testing"

	"github.com/stretchr/testify/require"
)

// Whatever stands in the history, it is read, undone or refused, and what is refused
// leaves the stash as it was. An undo that is made leads to the hash it names.
func FuzzHistory(f *testing.F) {
	const stash = "fabric,size\nnavy dot,9 x 14\n"
	at := hash([]byte(stash))
	f.Add([]byte(`{"n":1,"what":"put","before":"`+hash(nil)+`","after":"`+at+`","edits":[{"at":0,"old":"","new":"fabric,size\nnavy dot,9 x 14\n"}]}`+"\n"), false)
	f.Add([]byte(`{"n":1,"what":"take","before":"x","after":"`+at+`","edits":[{"at":9223372036854775807,"old":"f","new":"xx"},{"at":-5,"old":"","new":"y"}]}`+"\n"), false)
	f.Add([]byte(`{"n":1,"what":"undo","undoes":-1,"before":"","after":"`+at+`","edits":null}`+"\n"+`{"n":2,"what":"done","cut":[{"sheet":1,"copies":-1}],"temp":"../x"}`+"\n"+`{"n":3`), true)
	f.Add([]byte("{}\n"), true)
	f.Add([]byte(`{"schema":"pinfold/history/1"}`+"\n"+`{"n":1,"what":"put","before":"`+hash(nil)+`","after":"`+at+`","edits":[{"at":0,"old":"","new":"fabric,size\nnavy dot,9 x 14\n"}]}`+"\n"), false)
	f.Add([]byte(`{"schema":"pinfold/history/1"}`+"\n"+`{"schema":"pinfold/history/1"}`+"\n"), true)
	f.Fuzz(func(t *testing.T, past []byte, put bool) {
		b := book(t, stash)
		require.NoError(t, os.WriteFile(b.historyPath(), past, 0o644))
		entries, err := b.History()
		if err != nil {
			require.NotEmpty(t, err.Error())
		}
		for i := range entries {
			require.Equal(t, i+1, entries[i].N)
			_ = entries[i].Words()
		}
		if put {
			_, err = b.Put(t.Context(), cloth(t, "sand: 3 x 4"), Tag{})
		} else {
			_, _, err = b.Undo(t.Context())
		}
		if err != nil {
			require.Equal(t, stash, content(t, b), "refused, but changed")
			return
		}
		after, err := b.History()
		require.NoError(t, err)
		require.Equal(t, hash([]byte(content(t, b))), after[len(after)-1].After)
	})
}
