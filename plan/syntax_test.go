package plan

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Whole files that are no plan at all.
var faultyFiles = []struct {
	name string
	text string
	want []string
}{
	{"missing keys of the plan", "title: Empty", []string{
		`plan.yaml:1:1: the plan has no fabrics: write fabrics: a name for each fabric, with what it is indented below`,
		`plan.yaml:1:1: the plan has no ornaments: write ornaments: a name for each ornament, with what it is indented below`,
		`plan.yaml:1:1: the plan has no make: write make: a list like - {ornament: harbour star, count: 12, colourway: {ground: navy dot}}`,
	}},
	{"alias bomb", "a: &a [x, x, x, x, x, x, x, x, x]\nb: &b [*a, *a, *a, *a, *a, *a, *a, *a, *a]\nc: [*b, *b, *b, *b, *b, *b, *b, *b, *b]", []string{
		`plan.yaml:1:4: &a names a value, which plans do not know: leave it out, or put quotes around a text that starts with &`,
		`plan.yaml:2:4: &b names a value, which plans do not know: leave it out, or put quotes around a text that starts with &`,
		`plan.yaml:2:8: *a stands for another value, which plans do not know: write the value out, or put quotes around a text that starts with *`,
		`plan.yaml:3:5: *b stands for another value, which plans do not know: write the value out, or put quotes around a text that starts with *`,
	}},
	{"empty file", "", []string{
		`plan.yaml:1:1: the file is empty: write a plan with the keys ornaments, make and fabrics`,
	}},
	{"only a comment", "# nothing yet", []string{
		`plan.yaml:1:1: the file is empty: write a plan with the keys ornaments, make and fabrics`,
	}},
	{"text, no plan", "Dear shop, please send me", []string{
		`plan.yaml:1:1: the plan cannot be the text "Dear shop, please send me": write keys with values, like title: ..., unit: ..., money: ..., budget: ..., ornaments: ..., make: ..., fabrics: ..., stash: ..., cutting: ...`,
	}},
	{"a list, no plan", "- a\n- b", []string{
		`plan.yaml:1:1: the plan cannot be a list: write keys with values, like title: ..., unit: ..., money: ..., budget: ..., ornaments: ..., make: ..., fabrics: ..., stash: ..., cutting: ...`,
	}},
	{"tab", "ornaments:\n  star:\n\tball: 3 in\n\t\tpieces: []", []string{
		`plan.yaml:3:1: a tab indents this line: indent with spaces`,
		`plan.yaml:4:1: a tab indents this line: indent with spaces`,
	}},
	{"tab after a value", "title: x\n\tunit: in", []string{
		`plan.yaml:2:1: a tab indents this line: indent with spaces`,
	}},
	{"two documents", "title: a\n---\ntitle: b", []string{
		`plan.yaml:2:1: a second document starts here: write one plan a file, without ---`,
	}},
	{"unclosed bracket", "title: a\nmake: [{ornament: star\nfabrics: {}", []string{
		`plan.yaml:2:8: this '{' has no end: close it, and part its entries with commas`,
	}},
	{"unclosed quote", "title: \"Lantern fair\nunit: in", []string{
		`plan.yaml:1:8: this quoted text has no end or goes on after its end: end it with the same quote, and inside quotes write 18 in, not 18"`,
	}},
	{"quote after a quote", "title: a\nornaments: {a: {ball: \"18\"\"}}", []string{
		`plan.yaml:2:27: this quoted text has no end or goes on after its end: end it with the same quote, and inside quotes write 18 in, not 18"`,
	}},
	{"no blank after a colon, told at the next one", "ornaments:\n  star:\n    ball:3 in\n\n    pieces: []", []string{
		`plan.yaml:3:5: a colon needs a blank after it: write "ball: 3 in"`,
	}},
	{"no blank after a colon in a list", "make:\n  - ornament:star\n    count: 3", []string{
		`plan.yaml:2:5: a colon needs a blank after it: write "ornament: star"`,
	}},
	{"no blank after a colon at the left", "title: Fair\nunit:in\nmoney: x", []string{
		`plan.yaml:2:1: a colon needs a blank after it: write "unit: in"`,
	}},
	{"no blank after a colon in brackets", "cutting: {ruler:24}\nornaments: {a: {ball: 3, band: {width: 1, role: g}}}\nfabrics: {b: {buy: [yard]}}\nmake: [{ornament: a, count:2, colourway: {g: b}}]", []string{
		`plan.yaml:1:11: unknown key "ruler:24" in cutting: a colon needs a blank after it: write "ruler: 24"`,
		`plan.yaml:4:22: unknown key "count:2" in an entry of make: a colon needs a blank after it: write "count: 2"`,
	}},
	{"colon in a text", "title: Lantern fair: the second\nunit: in", []string{
		`plan.yaml:1:20: a colon does not fit here: put quotes around a text with a colon in it, or check the indentation`,
	}},
	{"at sign", "title: @home", []string{
		`plan.yaml:1:8: a text cannot start with '@': put quotes around the text`,
	}},
	{"bad indentation", "ornaments:\n  star:\n    ball: 3\n   pieces: []", []string{
		`plan.yaml:4:4: this line does not go on with what stands above: check the indentation, and that every line is a key with a colon or starts with -`,
	}},
	{"binary", "PK\x00\x00", []string{
		`plan.yaml:1:3: character U+0000 is no text: write it as plain text`,
	}},
	{"not UTF-8", "title: caf\xff", []string{
		`plan.yaml:1:11: byte 0xff is no text: save it as UTF-8 text`,
	}},
	{"control character", "title: é\x00", []string{
		`plan.yaml:1:9: character U+0000 is no text: write it as plain text`,
	}},
	{"version directive", "%YAML 7.0\n---\ntitle: a\n", []string{
		`plan.yaml:1:1: a plan has no need of a version of YAML: leave out the line that starts with %YAML`,
	}},
}

func TestFaultyFiles(t *testing.T) {
	for _, c := range faultyFiles {
		t.Run(c.name, func(t *testing.T) {
			p, err := Parse("plan.yaml", []byte(c.text), nil)
			assert.Nil(t, p)
			require.Error(t, err)
			assert.Equal(t, strings.Join(c.want, "\n"), err.Error())
		})
	}
}

// Past a thousand faults the rest is only counted.
func TestVeryManyFaults(t *testing.T) {
	_, err := Parse("plan.yaml", []byte(base+strings.Repeat("x: 1\n", maxFaults+20)), nil)
	faults := err.(Errors)
	require.Len(t, faults, maxFaults+1)
	assert.Equal(t, "plan.yaml: 20 more faults are not listed: mend these first", faults[maxFaults].String())
}
