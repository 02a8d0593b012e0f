package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The scraps of the handbook go out into a workbook and come back the same.
func TestStashOutAndBack(t *testing.T) {
	scraps, err := os.ReadFile(filepath.Join("..", "..", "docs", "scraps.csv"))
	require.NoError(t, err)
	dir := t.TempDir()
	t.Chdir(dir)
	write(t, dir, "stash.csv", string(scraps))
	listed := invoke(t, "stash").out
	for _, file := range []string{"bin.xlsx", "bin.csv"} {
		s := invoke(t, "stash", "export", file)
		require.Equal(t, exitDone, s.code, s.errors)
		assert.Regexp(t, `^`+file+`: \d+ pieces in \d+ rows, from stash.csv\n$`, s.out)
		s = invoke(t, "stash", "import", file, "--replace")
		require.Equal(t, exitDone, s.code, s.errors)
		assert.Contains(t, s.out, "changes nothing")
		assert.Equal(t, string(scraps), stashOf(t, dir))
		refused(t, invoke(t, "stash", "import", "--stash", "other.csv", file, "--unit", "cm"), "the shape is written in inches, and the stash in centimetres")
		s = invoke(t, "stash", "import", file, "--stash", "other.csv")
		require.Equal(t, exitDone, s.code, s.errors)
		assert.Equal(t, listed, invoke(t, "stash", "--stash", "other.csv").out)
		s = invoke(t, "stash", "undo", "--stash", "other.csv")
		require.Equal(t, exitDone, s.code, s.errors)
		require.NoError(t, os.Remove("other.csv"))
		require.NoError(t, os.Remove("other.csv.history"))
	}
}

func TestStashImportTells(t *testing.T) {
	dir := t.TempDir()
	t.Chdir(dir)
	require.Equal(t, exitDone, invoke(t, "stash", "put", "navy dot: 5 x 7").code)
	before := stashOf(t, dir)
	write(t, dir, "bin.csv", "fabric;size;id;price\nnavy dott;2 x 2;N1;3\nnavy dot;3 x 3;;4\n")
	refused(t, invoke(t, "stash", "import", "bin.csv"), `bin.csv:2:1: id "N1" is taken`, "--renumber")
	s := invoke(t, "stash", "import", "bin.csv", "--renumber", "--dry-run")
	require.Equal(t, exitDone, s.code, s.errors)
	assert.Equal(t, "stash.csv: would have put in 2 pieces from bin.csv\n"+
		"  put  N2  navy dott  2 x 2 in  x1\n"+
		"  put  N3  navy dot   3 x 3 in  x1\n"+
		"  N1 becomes N2: the stash has its id\n", s.out)
	assert.Contains(t, s.errors, `pinfold: bin.csv: not taken over: "price"`)
	assert.Contains(t, s.errors, `"navy dott" is a new fabric in this stash, beside "navy dot"`)
	assert.Equal(t, before, stashOf(t, dir))
	s = invoke(t, "stash", "import", "bin.csv", "--replace")
	require.Equal(t, exitDone, s.code, s.errors)
	assert.Contains(t, s.out, "stash.csv: put in 2 pieces from bin.csv, took out 1 piece\n")
	assert.Contains(t, invoke(t, "stash", "history").out, "  import  ")
	require.Equal(t, exitDone, invoke(t, "stash", "undo").code)
	assert.Equal(t, before, stashOf(t, dir))
}

func TestStashSheetRefusals(t *testing.T) {
	for _, c := range []struct {
		args []string
		want string
	}{
		{[]string{"export"}, "stash export takes the name of one file"},
		{[]string{"export", "bin.ods"}, `"bin.ods" is neither .xlsx nor .csv`},
		{[]string{"export", "there.csv"}, `"there.csv" is there already`},
		{[]string{"export", "stash.csv"}, `"stash.csv" is the stash itself`},
		{[]string{"export", "stash.csv", "--overwrite"}, `"stash.csv" is the stash itself`},
		{[]string{"export", "none/bin.csv"}, `cannot write "none/bin.csv": no such file or directory`},
		{[]string{"export", "bin.csv", "--replace"}, "--replace is for a sheet that is taken over"},
		{[]string{"import", "stash.csv"}, `"stash.csv" is the stash itself`},
		{[]string{"import", "none.xlsx"}, "none.xlsx: no such file"},
		{[]string{"import", "folder.csv"}, "folder.csv: is no file"},
		{[]string{"import", "there.csv", "--overwrite"}, "--overwrite is for a file that is written"},
		{[]string{"import", "there.csv", "--replace", "--renumber"}, "--renumber is of no use with --replace"},
		{[]string{"import", "there.csv", "--sheet", "Bin"}, "there.csv: is CSV, which has no sheets"},
		{[]string{"import", "there.csv"}, `there.csv:1:1: the stash file has no column "fabric"`},
		{[]string{"import", "big.csv"}, "big.csv: is too large: the most is 4096 KiB"},
		{[]string{"imprt", "there.csv"}, "did you mean: pinfold stash import"},
	} {
		dir := t.TempDir()
		t.Chdir(dir)
		write(t, dir, "stash.csv", "id,fabric,size\nN1,navy dot,5 x 7\n")
		write(t, dir, "there.csv", "mine\n")
		write(t, dir, "big.csv", strings.Repeat("x", 5<<20))
		require.NoError(t, os.Mkdir("folder.csv", 0o755))
		refused(t, invoke(t, append([]string{"stash"}, c.args...)...), c.want)
		assert.Equal(t, []string{"big.csv", "folder.csv", "stash.csv", "there.csv"}, names(t, dir), "%q", c.args)
	}
	dir := t.TempDir()
	t.Chdir(dir)
	write(t, dir, "stash.csv", "id,fabric,size\nN1,navy dot,5 x 7\n")
	write(t, dir, "there.csv", "mine\n")
	s := invoke(t, "stash", "export", "there.csv", "--overwrite")
	require.Equal(t, exitDone, s.code, s.errors)
	text, err := os.ReadFile("there.csv")
	require.NoError(t, err)
	assert.Equal(t, "\ufeffid,fabric,size,count,shape,bad areas,squared,where,note,unit\nN1,navy dot,5 x 7 in,1,,,no,,,in\n", string(text))
}
