package ledger

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"pinfold/units"
)

const in = units.Inch

// written is a stash as somebody keeps it by hand: comments, a column of their own,
// another order, quotes where none are needed, Windows line ends, a mark before all.
const written = "\ufeff# the tin under the stairs, \"12 in\" ruler\r\n" +
	"colour,\"fabric\",size,id,count,note,squared\r\n" +
	"blue,navy dot,9 x 14,S1,\"3\",\"from the sails, 2019\",yes\r\n" +
	"\r\n" +
	"# ready, \"pressed\r\n" +
	",sail white,10 1/2 x 14,\"S 2\",,,\r\n" +
	"red,buoy red,\"5 x 5\",S3,2,\"two\r\nlines\",y\r\n"

// book is a stash with that content in a folder of its own.
func book(t *testing.T, content string) *Book {
	t.Helper()
	path := filepath.Join(t.TempDir(), "stash.csv")
	if content != "" {
		require.NoError(t, os.WriteFile(path, []byte(content), 0o644))
	}
	return opened(t, path)
}

func opened(t *testing.T, path string) *Book {
	t.Helper()
	b, err := Open(path, units.Inches)
	require.NoError(t, err)
	b.Shown = "stash.csv"
	b.Now = func() time.Time { return time.Date(2026, 11, 25, 9, 0, 0, 0, time.UTC) }
	return b
}

func content(t *testing.T, b *Book) string {
	t.Helper()
	text, err := os.ReadFile(b.path)
	require.NoError(t, err)
	return string(text)
}

func cloth(t *testing.T, s string) []Cloth {
	t.Helper()
	c, err := ParseCloth(s, units.Inches)
	require.NoError(t, err)
	return []Cloth{c}
}

func TestPutLeavesEverythingElseAsItWas(t *testing.T) {
	b := book(t, written)
	e, err := b.Put(t.Context(), cloth(t, `navy dot: 5x7, 6 1/2 x 9 x3`), Tag{Squared: true, Note: `a "good", one`})
	require.NoError(t, err)
	assert.Equal(t, written+
		",navy dot,5 x 7 in,N1,1,\"a \"\"good\"\", one\",yes\r\n"+
		",navy dot,6 1/2 x 9 in,N2,3,\"a \"\"good\"\", one\",yes\r\n", content(t, b))
	assert.Equal(t, []Moved{{ID: "N1", Fabric: "navy dot", Size: "5 x 7 in", Count: 1, Note: `a "good", one`}, {ID: "N2", Fabric: "navy dot", Size: "6 1/2 x 9 in", Count: 3, Note: `a "good", one`}}, e.Put)
	_, _, err = b.Undo(t.Context())
	require.NoError(t, err)
	assert.Equal(t, written, content(t, b))
}

func TestTakeLeavesEverythingElseAsItWas(t *testing.T) {
	b := book(t, written)
	e, err := b.Take(t.Context(), "S1", 1)
	require.NoError(t, err)
	assert.Equal(t, []Moved{{ID: "S1", Fabric: "navy dot", Size: "9 x 14 in", Count: 1, Left: 2}}, e.Took)
	fewer := strings.Replace(written, `"3"`, `"2"`, 1)
	assert.Equal(t, fewer, content(t, b))

	_, err = b.Take(t.Context(), "S3", All)
	require.NoError(t, err)
	without := strings.Replace(fewer, "red,buoy red,\"5 x 5\",S3,2,\"two\r\nlines\",y\r\n", "", 1)
	assert.Equal(t, without, content(t, b))
	_, err = b.Take(t.Context(), "S 2", 1)
	require.NoError(t, err)
	assert.Equal(t, strings.Replace(without, ",sail white,10 1/2 x 14,\"S 2\",,,\r\n", "", 1), content(t, b))

	for _, want := range []string{without, fewer, written} {
		_, undone, err := b.Undo(t.Context())
		require.NoError(t, err)
		assert.Equal(t, Take, undone.What)
		assert.Equal(t, want, content(t, b))
	}
	_, _, err = b.Undo(t.Context())
	assert.EqualError(t, err, "stash.csv: there is nothing to undo: only what pinfold changed can be undone")
}

// Ids that were made up go by place, and places change: they are written down.
func TestIdsAreWrittenDown(t *testing.T) {
	for name, c := range map[string]struct{ before, after string }{
		"an empty column": {"id,fabric,size,count\nA,navy dot,9 x 14,\n,navy dot,5 x 5,2\n,sail white,4 x 4,\n",
			"id,fabric,size,count\nstash 2,navy dot,5 x 5,2\nstash 3,sail white,4 x 4,\n"},
		"no column": {"fabric,size\nnavy dot,9 x 14\nnavy dot,5 x 5\nsail white,4 x 4",
			"fabric,size,id\nnavy dot,5 x 5,stash 2\nsail white,4 x 4,stash 3"},
		"short rows": {"fabric;size;where;id;note\nnavy dot;9 x 14\nnavy dot;5 x 5\nsail white;4 x 4;tin;\n",
			"fabric;size;where;id;note\nnavy dot;5 x 5;;stash 2\nsail white;4 x 4;tin;stash 3\n"},
		"long rows": {"fabric,size\nnavy dot,9 x 14,,\nnavy dot,5 x 5,,,\nsail white,4 x 4\n",
			"fabric,size,id\nnavy dot,5 x 5,stash 2,,\nsail white,4 x 4,stash 3\n"},
	} {
		t.Run(name, func(t *testing.T) {
			b := book(t, c.before)
			first := "stash 1"
			if strings.HasPrefix(c.before, "id") {
				first = "A"
			}
			e, err := b.Take(t.Context(), first, 1)
			require.NoError(t, err)
			assert.Equal(t, c.after, content(t, b))
			assert.Equal(t, []string{"stash 2", "stash 3"}, e.Named)
			_, _, err = b.Undo(t.Context())
			require.NoError(t, err)
			assert.Equal(t, c.before, content(t, b))
		})
	}
}

func TestPutAddsTheColumnsItNeeds(t *testing.T) {
	b := book(t, "fabric\tsize\nnavy dot\t9 x 14")
	_, err := b.Put(t.Context(), cloth(t, "buoy red: 5 x 7 x2"), Tag{Where: "tin"})
	require.NoError(t, err)
	assert.Equal(t, "fabric\tsize\tid\tcount\twhere\nnavy dot\t9 x 14\tstash 1\nbuoy red\t5 x 7 in\tB1\t2\ttin\n", content(t, b))
	pieces, err := b.Stash()
	require.NoError(t, err)
	require.Len(t, pieces, 2)
	assert.Equal(t, 2, pieces[1].Count)
}

// A file of shapes alone has no column of sizes.
func TestShapesStayAsTheyWereMeasured(t *testing.T) {
	const shapes = "id,fabric,shape\nA,navy dot,\"0, 0; 0, 9; 12, 8\"\n"
	b := book(t, shapes)
	_, err := b.Put(t.Context(), cloth(t, "navy dot: 5 x 7"), Tag{})
	require.NoError(t, err)
	assert.Equal(t, strings.Replace(shapes, "shape\n", "shape,size\n", 1)+"N1,navy dot,,5 x 7 in\n", content(t, b))
}

func TestAStashIsBegun(t *testing.T) {
	b := book(t, "")
	_, err := b.Take(t.Context(), "N1", 1)
	assert.EqualError(t, err, "stash.csv: no such file: write the name of a stash file; pinfold stash put starts one")
	_, err = b.Put(t.Context(), cloth(t, "navy dot: 5 x 7"), Tag{})
	require.NoError(t, err)
	assert.Equal(t, "id,fabric,size,count,bad areas,squared,where,note\nN1,navy dot,5 x 7 in,1,,no,,\n", content(t, b))
}

// An id that is free again is not given to another piece: results may still name it.
func TestNewIdsWereNeverUsed(t *testing.T) {
	b := book(t, "id,fabric,size\nN7,navy dot,9 x 14\nb2,buoy red,3 x 3\n")
	_, err := b.Take(t.Context(), "N7", 1)
	require.NoError(t, err)
	e, err := b.Put(t.Context(), cloth(t, "navy dot: 2 x 2"), Tag{})
	require.NoError(t, err)
	assert.Equal(t, "N8", e.Put[0].ID)
	e, err = b.Put(t.Context(), cloth(t, "Buoy: 2 x 2"), Tag{})
	require.NoError(t, err)
	assert.Equal(t, "B3", e.Put[0].ID)
	e, err = b.Put(t.Context(), cloth(t, "ébène: 2 x 2"), Tag{ID: "my own"})
	require.NoError(t, err)
	assert.Equal(t, "my own", e.Put[0].ID)
	e, err = b.Put(t.Context(), cloth(t, "ébène: 2 x 2"), Tag{})
	require.NoError(t, err)
	assert.Equal(t, "P1", e.Put[0].ID)
}

func TestUndoRefusesWhatWasChangedByHand(t *testing.T) {
	b := book(t, written)
	_, err := b.Put(t.Context(), cloth(t, "navy dot: 5 x 7"), Tag{})
	require.NoError(t, err)
	mine := strings.Replace(content(t, b), "blue", "deep blue", 1)
	require.NoError(t, os.WriteFile(b.path, []byte(mine), 0o644))
	_, _, err = b.Undo(t.Context())
	assert.EqualError(t, err, "stash.csv: is not as change 1 left it: it was changed by hand since, and undoing would lose that: "+
		"take the change back by hand, it put in \"N1\" (navy dot, 5 x 7 in)")
	assert.Equal(t, mine, content(t, b))

	// What comes after the hand's change can be undone up to it.
	_, err = b.Take(t.Context(), "S1", 2)
	require.NoError(t, err)
	_, _, err = b.Undo(t.Context())
	require.NoError(t, err)
	assert.Equal(t, mine, content(t, b))
	_, _, err = b.Undo(t.Context())
	assert.ErrorContains(t, err, "is not as change 1 left it")
}

func TestRefusals(t *testing.T) {
	b := book(t, written)
	_, err := b.Take(t.Context(), "S4", 1)
	assert.EqualError(t, err, `stash.csv: there is no piece "S4": pinfold stash lists what there is`)
	_, err = b.Take(t.Context(), "s1", 1)
	assert.EqualError(t, err, `stash.csv: there is no piece "s1": did you mean "S1"?`)
	_, err = b.Take(t.Context(), "S1", 4)
	assert.EqualError(t, err, `stash.csv:3:1: of "S1" there are 3, not 4: take fewer`)
	_, err = b.Put(t.Context(), cloth(t, "navy dot: 5 x 7"), Tag{ID: "S3"})
	assert.ErrorContains(t, err, `stash.csv:7:1: id "S3" is taken`)
	_, err = b.Put(t.Context(), cloth(t, "navy dot: 5 x 7"), Tag{Note: "two\nlines"})
	require.NoError(t, err, "a field may have lines")
	assert.Equal(t, 1, strings.Count(content(t, b), "\"two\nlines\""))

	faulty := book(t, "fabric,size\nnavy dot,9\n")
	_, err = faulty.Put(t.Context(), cloth(t, "navy dot: 5 x 7"), Tag{})
	assert.EqualError(t, err, `stash.csv:2:10: size: cannot read "9" as a size: write two lengths with x between them, like 2 1/2 x 4`)
	assert.Equal(t, "fabric,size\nnavy dot,9\n", content(t, faulty))
	_, err = os.Stat(faulty.historyPath())
	assert.ErrorIs(t, err, os.ErrNotExist, "nothing was changed")
}

func TestASymbolicLinkStaysOne(t *testing.T) {
	dir := t.TempDir()
	require.NoError(t, os.Mkdir(filepath.Join(dir, "cloud"), 0o755))
	real := filepath.Join(dir, "cloud", "cloth.csv")
	require.NoError(t, os.WriteFile(real, []byte(written), 0o600))
	link := filepath.Join(dir, "stash.csv")
	require.NoError(t, os.Symlink(filepath.Join("cloud", "cloth.csv"), link))
	_, err := opened(t, link).Put(t.Context(), cloth(t, "navy dot: 5 x 7"), Tag{})
	require.NoError(t, err)
	info, err := os.Lstat(link)
	require.NoError(t, err)
	assert.NotZero(t, info.Mode()&os.ModeSymlink)
	info, err = os.Stat(real)
	require.NoError(t, err)
	assert.Equal(t, os.FileMode(0o600), info.Mode().Perm(), "the permissions stay")
	_, _, err = opened(t, real).Undo(t.Context())
	require.NoError(t, err, "the real name has the same history")
	assert.Equal(t, written, content(t, opened(t, link)))

	require.NoError(t, os.Symlink("nowhere", filepath.Join(dir, "dangling.csv")))
	_, err = Open(filepath.Join(dir, "dangling.csv"), units.Inches)
	assert.ErrorContains(t, err, "is a link that leads nowhere")
	_, err = Open(dir, units.Inches)
	assert.ErrorContains(t, err, "is no file")
}

func TestAFileThatMayNotBeWritten(t *testing.T) {
	b := book(t, written)
	require.NoError(t, os.Chmod(b.path, 0o444))
	_, err := b.Take(t.Context(), "S1", 1)
	assert.ErrorContains(t, err, "stash.csv: is marked as not to be written")
	assert.Equal(t, written, content(t, b))
	_, err = opened(t, "/proc/stash.csv").Put(t.Context(), cloth(t, "navy dot: 5 x 7"), Tag{})
	assert.ErrorContains(t, err, "stash.csv: cannot write into its folder")
}

func TestParseCloth(t *testing.T) {
	c, err := ParseCloth(` navy   dot: 2nd :5x7, 6 1/2" × 9 X3, 2,5 cm x 30cm x 2; 1x1,`, units.Inches)
	require.NoError(t, err)
	assert.Equal(t, "navy dot: 2nd", c.Fabric)
	assert.Equal(t, []Sized{
		{units.Size{Along: 5 * in, Across: 7 * in}, 1, nil},
		{units.Size{Along: 13 * in / 2, Across: 9 * in}, 3, nil},
		{units.Size{Along: 25 * units.Millimetre, Across: 30 * units.Centimetre}, 2, nil},
		{units.Size{Along: in, Across: in}, 1, nil},
	}, c.Sizes)
	c, err = ParseCloth("navy: 12,5 cm x 31,5 cm x4", units.Inches)
	require.NoError(t, err)
	assert.Equal(t, []Sized{{units.Size{Along: 125 * units.Millimetre, Across: 315 * units.Millimetre}, 4, nil}}, c.Sizes)
	for s, want := range map[string]string{
		"5 x 7":                              `"5 x 7" has no colon after the fabric: write one like "navy dot: 5 x 7, 6 x 9 x3"`,
		": 5 x 7":                            "names no fabric",
		"navy:":                              `cannot read "" as a size`,
		"navy: 5":                            `cannot read "5" as a size: write two lengths with x between them`,
		"navy: 5 x 7 x 0":                    `how many in "5 x 7 x 0": 0 is too few: write a whole number from 1`,
		"navy: 5 x 7 x 1.5":                  `cannot read "5 x 7 x 1.5" as a size`,
		"navy: 5 x 7 x":                      `cannot read "5 x 7 x" as a size`,
		"navy: 5 x 7 x 99999999999999999999": "is too many: write a whole number up to 10000",
		"navy: 0 x 7":                        "has a side of 0",
		"navy: -2 x 7":                       "is negative",
		"navy: 5 x 7 x 2 x 3":                "as a size",
		"navy: 5 x 7,, 3 x 3":                "cannot read",
		"navy: 5x7,6x9":                      `"5x7,6x9" may be one size with a decimal comma or several sizes: write a blank behind a comma between sizes, and a point in a number`,
		"navy: 12 x 31,5 x4":                 "may be one size with a decimal comma or several sizes",
	} {
		_, err := ParseCloth(s, units.Inches)
		assert.ErrorContains(t, err, want, s)
	}
}

// Two programs are two books with locks of their own.
func TestManyAtOnceLoseNothing(t *testing.T) {
	b := book(t, written)
	const hands, each = 4, 8
	var wait sync.WaitGroup
	for h := range hands {
		wait.Go(func() {
			own := opened(t, b.path)
			for i := range each {
				_, err := own.Put(t.Context(), cloth(t, "navy dot: 5 x 7"), Tag{ID: fmt.Sprintf("%d-%d", h, i)})
				assert.NoError(t, err)
			}
		})
	}
	wait.Wait()
	pieces, err := b.Stash()
	require.NoError(t, err)
	assert.Len(t, pieces, 3+hands*each)
	numbered(t, b)
	for range hands * each {
		_, _, err := b.Undo(t.Context())
		require.NoError(t, err)
	}
	assert.Equal(t, written, content(t, b))
}

func TestAHeldStashIsWaitedFor(t *testing.T) {
	b := book(t, written)
	unlock, err := b.lock(t.Context())
	require.NoError(t, err)
	ctx, cancel := context.WithTimeout(t.Context(), 30*time.Millisecond)
	defer cancel()
	_, err = opened(t, b.path).Take(ctx, "S1", 1)
	assert.ErrorIs(t, err, context.DeadlineExceeded)
	unlock()
	_, err = opened(t, b.path).Take(t.Context(), "S1", 1)
	assert.NoError(t, err)
}
