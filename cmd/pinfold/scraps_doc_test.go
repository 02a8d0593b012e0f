package main

import (
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"pinfold/plan"
	"pinfold/units"
)

var fenced = regexp.MustCompile("(?s)```(\\w+)\n(.*?)```")

// The handbook of scraps: its stash is the one its pictures are of, everything it
// says can be written is read, and its messages are those that come.
func TestHandbookOfScraps(t *testing.T) {
	docs := filepath.Join("..", "..", "docs")
	read := func(name string) string {
		text, err := os.ReadFile(filepath.Join(docs, name))
		require.NoError(t, err)
		return string(text)
	}
	handbook := read("scraps.md")
	stashes, messages := 0, 0
	for _, block := range fenced.FindAllStringSubmatch(handbook, -1) {
		switch block[1] {
		case "csv":
			table, err := plan.ReadStash("stash.csv", []byte(block[2]), units.Inches)
			require.NoError(t, err)
			assert.NotEmpty(t, table.Pieces)
			if stashes == 0 {
				assert.Equal(t, read("scraps.csv"), block[2])
			}
			stashes++
		case "text":
			for line := range strings.Lines(block[2]) {
				m := regexp.MustCompile(`^"(.*?)": (.*)\n$`).FindStringSubmatch(line)
				require.NotNil(t, m, line)
				assert.Equal(t, "stash.csv:2:6: shape: "+m[2], messageOf(t, m[1]), line)
				messages++
			}
		}
	}
	assert.Equal(t, 2, stashes)
	assert.Greater(t, messages, 5)
	// The other way to write the corners gives the same shape.
	for _, places := range []string{"0, 0; 0, 12; 9, 10; 9, 2 1/2", "1, 1; 1, 13; 10, 11; 10, 3 1/2"} {
		require.Contains(t, handbook, places)
	}
	a, b := shapeOf(t, "0, 0; 0, 12; 9, 10; 9, 2 1/2"), shapeOf(t, "1, 1; 1, 13; 10, 11; 10, 3 1/2")
	assert.Equal(t, a.Shape, b.Shape)
	// Both ways to write a place say the same.
	one, err := plan.ParseScrap("9 x 14 less 1 x 1 stain at 2 up 5 right", units.Inches)
	require.NoError(t, err)
	table, err := plan.ReadStash("stash.csv", []byte(read("scraps.csv")), units.Inches)
	require.NoError(t, err)
	assert.Equal(t, table.Pieces[0].Bad[1], one.Bad[0])
}

func messageOf(t *testing.T, shape string) string {
	_, err := plan.ReadStash("stash.csv", []byte(fmt.Sprintf("fabric,shape\nnavy,%q\n", shape)), units.Inches)
	require.Error(t, err, shape)
	return err.Error()
}

func shapeOf(t *testing.T, shape string) plan.StashPiece {
	table, err := plan.ReadStash("stash.csv", []byte(fmt.Sprintf("fabric,shape\nnavy,%q\n", shape)), units.Inches)
	require.NoError(t, err)
	return table.Pieces[0]
}

// Each picture of a scrap shows the one that its caption names.
func TestPicturesOfTheHandbookOfScraps(t *testing.T) {
	docs := filepath.Join("..", "..", "docs")
	text := pageText(t, filepath.Join(docs, "scraps.md"))
	shown := names(t, filepath.Join(docs, "scraps"))
	require.NotEmpty(t, shown)
	for _, name := range shown {
		id := regexp.MustCompile(`!\[(\w+):[^\]]*\]\(scraps/` + name).FindStringSubmatch(text)
		require.NotNil(t, id, name)
		assert.Contains(t, pageText(t, filepath.Join(docs, "scraps", name)), "stash piece "+id[1]+",", name)
	}
}
