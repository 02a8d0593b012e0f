package pinfold_test

import (
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

var (
	quoted   = regexp.MustCompile("`([^`\n]+)`")
	pathLike = regexp.MustCompile(`^[\w.*-]*(/[\w.*-]+)+$|^[\w*-]+\.(go|md|yaml|mod)$`)
	testLike = regexp.MustCompile(`^(Test|Fuzz|Benchmark|Example)[A-Z]\w*$`)
	nameLike = regexp.MustCompile(`^(units|pack|plan|reports|model)\.([A-Z]\w*)$`)
	makeLike = regexp.MustCompile(`^make ([a-z-]+(?: [a-z-]+)*)`)
)

// What the guide puts in backticks is there: files by their path or by their name
// alone, tests, exported names and make's targets.
func TestTheGuideNamesWhatIsThere(t *testing.T) {
	guide, err := os.ReadFile("DEVELOPERS.md")
	require.NoError(t, err)
	makefile, err := os.ReadFile("Makefile")
	require.NoError(t, err)
	names, tests := inTheTree(t)
	declared := map[string]string{}
	for name, dir := range map[string]string{"units": "units", "pack": "pack", "plan": "plan", "reports": "reports", "model": "pack/internal/model"} {
		declared[name] = sources(t, dir)
	}
	checked := 0
	for _, m := range quoted.FindAllStringSubmatch(string(guide), -1) {
		checked++
		switch word := m[1]; {
		case testLike.MatchString(word):
			assert.True(t, strings.Contains(tests, "func "+word+"("), "%s is named and not there", word)
		case nameLike.MatchString(word):
			parts := nameLike.FindStringSubmatch(word)
			declares := regexp.MustCompile(`(?m)^(func|type|const|var|func \(\w+ \*?\w+\)|\t)\s?` + parts[2] + `\b`)
			assert.True(t, declares.MatchString(declared[parts[1]]), "%s is named and not there", word)
		case makeLike.MatchString(word):
			for _, target := range strings.Fields(makeLike.FindStringSubmatch(word)[1]) {
				assert.True(t, regexp.MustCompile(`(?m)^`+target+`\s*:`).Match(makefile), "make %s is named and not there", target)
			}
		case pathLike.MatchString(word):
			found, err := filepath.Glob(word)
			require.NoError(t, err)
			alone := func(name string) bool { ok, _ := filepath.Match(word, name); return ok }
			assert.True(t, len(found) > 0 || slices.ContainsFunc(names, alone), "%s is named and not there", word)
		default:
			checked--
		}
	}
	assert.Greater(t, checked, 50)
	for _, rooms := range []map[string][]string{arrows, engines} {
		for room := range rooms {
			assert.True(t, strings.Contains(string(guide), room), "the guide leaves out %s", room)
		}
	}
}

// inTheTree returns the names of all files, and the text of all tests.
func inTheTree(t *testing.T) (names []string, tests string) {
	var all strings.Builder
	require.NoError(t, filepath.WalkDir(".", func(name string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		names = append(names, d.Name())
		if strings.HasSuffix(name, "_test.go") {
			text, err := os.ReadFile(name)
			all.Write(text)
			return err
		}
		return nil
	}))
	return names, all.String()
}

// sources is the text of a package's files.
func sources(t *testing.T, dir string) string {
	files, err := filepath.Glob(filepath.Join(dir, "*.go"))
	require.NoError(t, err)
	var all strings.Builder
	for _, name := range files {
		text, err := os.ReadFile(name)
		require.NoError(t, err)
		all.Write(text)
	}
	return all.String()
}
