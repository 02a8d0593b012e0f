package plan

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"golang.org/x/text/unicode/norm"
	"pgregory.net/rapid"
)

// namedPlan names one fabric in the colourway, under fabrics and in the stash.
func namedPlan(ordered, defined, stashed string) (string, StashFile) {
	text := fmt.Sprintf(`ornaments:
  star: {ball: 3 in, pieces: [{name: centre, size: 2 x 2, count: 4, role: ground}]}
make: [{ornament: star, count: 1, colourway: {ground: %q}}]
fabrics:
  %q: {direction: one-way}
stash: stash.csv
`, ordered, defined)
	return text, func(string) ([]byte, string, error) {
		return fmt.Appendf(nil, "fabric,size\n\"%s\",9 x 14\n", strings.ReplaceAll(stashed, `"`, `""`)), "stash.csv", nil
	}
}

// Names that look the same are the same, wherever they stand.
func TestNamesThatLookTheSame(t *testing.T) {
	for _, names := range [][3]string{
		{"navy dot", "navy dot", "navy dot"},
		{" navy dot", "navy dot  ", "\tnavy dot "},
		{"navy dot\n", "\u00a0navy dot", "navy dot\u00a0"},
		{"navy\u00a0dot", "navy dot", "navy\u202fdot"},
		{"caf\u00e9", "cafe\u0301", "caf\u00e9"},
		{"cafe\u0301", "caf\u00e9", "cafe\u0301"},
		{"e\u0301te\u0301", "\u00e9t\u00e9", "e\u0301t\u00e9"},
		{"\u1112\u1161\u11ab", "\ud55c", "\u1112\u1161\u11ab"},
	} {
		text, stash := namedPlan(names[0], names[1], names[2])
		p, err := Parse("plan.yaml", []byte(text), stash)
		require.NoError(t, err, "%q", names)
		assert.Empty(t, p.Warnings, "%q", names)
		require.Len(t, p.Fabrics, 1)
		assert.Equal(t, p.Fabrics[0].Name, p.Stash[0].Fabric, "%q", names)
		assert.Equal(t, p.Fabrics[0].Name, p.Make[0].Colourway[0].Fabric, "%q", names)
		_, _, err = p.With(WhatIf{Usable: []string{names[2] + "=41 in"}})
		assert.ErrorContains(t, err, `fabric "`+p.Fabrics[0].Name+`" is not bought`, "%q is known", names[2])
	}
}

// Names that differ are told apart, with the one that was most likely meant.
func TestNamesThatDiffer(t *testing.T) {
	for stashed, told := range map[string]string{
		"Café":       `is of fabric "Café", which the plan does not have and which is left out: did you mean "café"?`,
		"cafe":       `is of fabric "cafe", which the plan does not have and which is left out: did you mean "café"?`,
		"caf\u200bé": `is of fabric "caf\u200bé", which the plan does not have and which is left out: did you mean "café"?`,
		"c a f é":    `did you mean "café"?`,
		"ｃａｆé":       `did you mean "café"?`,
		"sand":       "",
	} {
		text, stash := namedPlan("café", "café", stashed)
		text = strings.Replace(text, "{direction: one-way}", "{bolt: {width: 44, usable: 42}, buy: [{fat quarter: 3}]}", 1)
		p, err := Parse("plan.yaml", []byte(text), stash)
		require.NoError(t, err, stashed)
		if told == "" {
			assert.Empty(t, p.Warnings, stashed)
			continue
		}
		require.Len(t, p.Warnings, 1, stashed)
		assert.Contains(t, p.Warnings[0], told)
	}
	// One name twice in two spellings is one name twice.
	text, stash := namedPlan("café", "café", "café")
	text = strings.Replace(text, "stash:", "  \"cafe\u0301 \": {}\nstash:", 1)
	_, err := Parse("plan.yaml", []byte(text), stash)
	assert.ErrorContains(t, err, `fabric "café" stands twice, first on line 5`)
}

// A name is a name of itself, and says what it looks like.
func TestName(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := rapid.String().Draw(t, "name")
		name := Name(s)
		require.Equal(t, name, Name(name))
		require.Equal(t, name, Name(" "+s+"\u00a0"))
		require.Equal(t, name, Name(norm.NFD.String(s)))
	})
}
