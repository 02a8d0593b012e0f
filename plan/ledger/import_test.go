package ledger

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"pinfold/plan"
	"pinfold/units"
)

// listed are pieces of a list with that content.
func listed(t *testing.T, rows string) []plan.StashPiece {
	t.Helper()
	s, err := plan.ReadSheetCSV("bin.csv", []byte("id,fabric,size,count,shape,bad areas,squared,where,note\n"+rows), units.Inches)
	require.NoError(t, err)
	return s.Pieces
}

func TestImportAdds(t *testing.T) {
	b := book(t, written)
	in := Import{Pieces: listed(t, "A,navy dot,6 x 9,2,,2 x 2 at top right,yes,tin,\n,sail white,3 x 3,,,,,,\nS9,buoy red,,,\"bottom 9, top 8, left height 12, right height 11\",,,,crooked\n,sail white,4 x 4,,,,,,\n")}
	try, err := b.TryImport(in)
	require.NoError(t, err)
	assert.Equal(t, written, content(t, b), "trying changes nothing")
	files, err := os.ReadDir(filepath.Dir(b.path))
	require.NoError(t, err)
	assert.Len(t, files, 1)
	done, err := b.Import(t.Context(), in)
	require.NoError(t, err)
	assert.Equal(t, try.Entry.Put, done.Entry.Put)
	assert.Equal(t, try.Entry.Edits, done.Entry.Edits)
	assert.Equal(t, Over, done.Entry.What)
	added, ok := strings.CutPrefix(content(t, b), strings.Replace(written, "note,squared", "note,squared,bad areas,where,shape", 1))
	require.True(t, ok, content(t, b))
	assert.Equal(t, ",navy dot,6 x 9 in,A,2,,yes,2 x 2 at top right,tin,\r\n"+
		",sail white,3 x 3 in,S10,1,,no,,,\r\n"+
		",buoy red,,S9,1,crooked,no,,,\"bottom 9, top 8, left height 12, right height 11\"\r\n"+
		",sail white,4 x 4 in,S11,1,,no,,,\r\n", added, "ids that are made up keep clear of those that come")
	_, _, err = b.Undo(t.Context())
	require.NoError(t, err)
	assert.Equal(t, written, content(t, b))
}

func TestImportOfTakenIDs(t *testing.T) {
	b := book(t, written)
	in := Import{Pieces: listed(t, "S1,navy dot,9 x 14,,,,,,\nQ,navy dot,1 x 1,,,,,,\nS3,navy dot,2 x 2,,,,,,\n")}
	for _, do := range []func() error{
		func() error { _, err := b.TryImport(in); return err },
		func() error { _, err := b.Import(t.Context(), in); return err },
	} {
		err := do()
		assert.ErrorContains(t, err, `bin.csv:2:1: id "S1" is taken: the stash has a piece of that name: write another id or none`)
		assert.ErrorContains(t, err, `bin.csv:4:1: id "S3" is taken`)
		assert.Equal(t, written, content(t, b))
	}
	in.Renumber = true
	done, err := b.Import(t.Context(), in)
	require.NoError(t, err)
	assert.Equal(t, []Renumbered{{"S1", "N1"}, {"S3", "N2"}}, done.Renumbered)
	all, err := b.Stash()
	require.NoError(t, err)
	assert.Len(t, all, 6)
}

// What is the same stays as it was written, with columns of the user's own.
func TestImportReplaces(t *testing.T) {
	b := book(t, written)
	all, err := b.Stash()
	require.NoError(t, err)
	same, err := b.Import(t.Context(), Import{Pieces: all, Replace: true})
	require.NoError(t, err)
	assert.Nil(t, same.Entry)
	assert.Equal(t, 3, same.Stayed)
	assert.Equal(t, written, content(t, b))

	all[0].Count = 7
	all = append(all[:2], listed(t, ",rope,1 x 30,,,,,,\n")...)
	done, err := b.Import(t.Context(), Import{Pieces: all, Replace: true})
	require.NoError(t, err)
	assert.Equal(t, 1, done.Stayed)
	assert.Empty(t, done.Renumbered)
	require.Len(t, done.Entry.Took, 2)
	now := content(t, b)
	assert.Contains(t, now, ",sail white,10 1/2 x 14,\"S 2\",,,\r\n")
	assert.Contains(t, now, ",navy dot,9 x 14 in,S1,7,\"from the sails, 2019\",yes\r\n")
	assert.Contains(t, now, ",rope,1 x 30 in,R1,1,,no\r\n")
	assert.NotContains(t, now, "buoy red")
	assert.Contains(t, now, "# ready, \"pressed\r\n")
	_, _, err = b.Undo(t.Context())
	require.NoError(t, err)
	assert.Equal(t, written, content(t, b))

	empty, err := b.Import(t.Context(), Import{Replace: true})
	require.NoError(t, err)
	assert.Len(t, empty.Entry.Took, 3)
	_, _, err = b.Undo(t.Context())
	require.NoError(t, err)
	assert.Equal(t, written, content(t, b))
}

func TestImportBeginsAStash(t *testing.T) {
	b := book(t, "")
	try, err := b.TryImport(Import{Pieces: listed(t, ",navy dot,9 x 14,,,,,,\n")})
	require.NoError(t, err)
	assert.Len(t, try.Entry.Put, 1)
	assert.NoFileExists(t, b.path)
	_, err = b.Import(t.Context(), Import{Pieces: listed(t, ",navy dot,9 x 14,,,,,,\n")})
	require.NoError(t, err)
	assert.Equal(t, "id,fabric,size,count,bad areas,squared,where,note\nN1,navy dot,9 x 14 in,1,,no,,\n", content(t, b))
}
