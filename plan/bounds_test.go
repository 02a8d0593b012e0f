package plan

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"pinfold/units"
)

// edited is base with texts replaced, in pairs of old and new.
func edited(t *testing.T, edits ...string) string {
	t.Helper()
	text := base
	for i := 0; i < len(edits); i += 2 {
		require.Contains(t, text, edits[i])
		text = strings.Replace(text, edits[i], edits[i+1], 1)
	}
	return text
}

// What is of the wrong kind is told once, where it stands, and what is left of the plan
// is still held against it.
func TestValuesOfTheWrongKind(t *testing.T) {
	const piece = "{name: centre, size: 2 x 2, count: 10, role: ground}"
	for _, c := range []struct {
		name  string
		edits []string
		want  []string
	}{
		{"a list for each value", []string{piece, "{name: [a], size: [2], count: {a: 1}, role: [ground], side: [front], from: [1]}"}, []string{
			`plan.yaml:5:16: piece cannot be a list: write one value`,
			`plan.yaml:5:27: size cannot be a list: write one value`,
			`plan.yaml:5:39: count cannot be keys with values: write one value`,
			`plan.yaml:5:53: role cannot be a list: write one value`,
			`plan.yaml:5:69: side cannot be a list: write one value`,
			`plan.yaml:5:84: from cannot be a list: write one value`,
		}},
		{"a text for what has keys", []string{piece, "centre", "{width: 2, role: ground}", "wide", "{width: 44, usable: 42}", "44"}, []string{
			`plan.yaml:5:9: a piece cannot be the text "centre": write keys with values, like name: ..., size: ..., count: ..., role: ..., around: ..., side: ..., from: ...`,
			`plan.yaml:6:11: the band cannot be the text "wide": write keys with values, like width: ..., overlap: ..., shows: ..., role: ...`,
			`plan.yaml:11:11: the bolt cannot be the text "44": write keys with values, like width: ..., usable: ...`,
		}},
		{"a list for names", []string{"fabrics:\n  navy dot:\n    bolt: {width: 44, usable: 42}\n    buy:\n      - {fat quarter: 3.25}", "fabrics: [navy dot]\ncutting: [1]"}, []string{
			`plan.yaml:9:10: fabrics cannot be a list: write each name with a colon, and what belongs to it indented below`,
			`plan.yaml:10:10: cutting cannot be a list: write keys with values, like squaring: ..., keep: ..., spare: ..., ruler: ..., layers: ..., prefer: ..., kerf: ..., stages: ..., keep sizes: ..., seconds a pass: ..., bin first: ...`,
		}},
		{"no fabrics, no ornaments", []string{"ornaments:", "ornament:", "fabrics:", "fabric:"}, []string{
			`plan.yaml:1:1: unknown key "ornament" in the plan: did you mean "ornaments"?`,
			`plan.yaml:9:1: unknown key "fabric" in the plan: did you mean "fabrics"?`,
		}},
		{"a text for ornaments", []string{base[:strings.Index(base, "make:")], "ornaments: star\n"}, []string{
			`plan.yaml:1:12: ornaments cannot be the text "star": write each name with a colon, and what belongs to it indented below`,
		}},
		{"ornaments and fabrics of no name", []string{base[:strings.Index(base, "make:")], "ornaments: {}\n", base[strings.Index(base, "fabrics:"):], "fabrics: {}\n"}, []string{
			`plan.yaml:3:16: ornament "star" is not defined`,
			`plan.yaml:3:52: fabric "navy dot" of role "ground" is not defined`,
		}},
		{"nothing in a list", []string{"- {ornament: star, count: 2, colourway: {ground: navy dot}}", "-"}, []string{
			`plan.yaml:8:4: an entry of make has no ornament: write ornament: one of the names under ornaments`,
			`plan.yaml:8:4: an entry of make has no count: write count: how many to make`,
		}},
		{"text in a list of orders", []string{"- {ornament: star, count: 2, colourway: {ground: navy dot}}", "- star"}, []string{
			`plan.yaml:8:5: an entry of make cannot be the text "star": write keys with values, like ornament: ..., count: ..., colourway: ...`,
		}},
		{"a role of nothing", []string{"{ground: navy dot}", "{ground: }"}, []string{
			`plan.yaml:8:52: the fabric of role "ground" has no value: write one, or leave the key out`,
		}},
		{"places that are no names", []string{"count: 10, role: ground", "around: [ground, [a], ground]"}, []string{
			`plan.yaml:5:54: role cannot be a list: write one value`,
		}},
		{"same fabric of no role", []string{"    band:", "    same fabric: [[ground], gold, ground, ground]\n    band:"}, []string{
			`plan.yaml:6:19: role cannot be a list: write one value`,
			`plan.yaml:6:29: ornament "star" has no role "gold": its roles are ground`,
			`plan.yaml:6:43: role "ground" stands twice in same fabric: leave one of them out`,
		}},
		{"supplies", []string{"    band:", "    supplies: [pins]\n    band:"}, []string{
			`plan.yaml:6:16: a supply cannot be the text "pins": write keys with values, like name: ..., count: ..., length: ..., price: ..., per: ...`,
		}},
		{"offers", []string{"      - {fat quarter: 3.25}", "      - {}\n      - [yard]\n      - ell\n      - {yard: 8, step: 0.1 mm}\n      - {yard: [8]}"}, []string{
			`plan.yaml:13:9: an offer does not say what is sold: write fat quarter, fat eighth, yard, metre or cut with its price`,
			`plan.yaml:14:9: an offer cannot be a list: write keys with values, like fat quarter: ..., fat eighth: ..., yard: ..., metre: ..., cut: ...`,
			`plan.yaml:15:9: unknown way to buy "ell": write one of fat quarter, fat eighth, yard, metre`,
			`plan.yaml:16:25: step of 0.01 cm is too little: write the counter's step, like 1/8 yd or 25 cm`,
			`plan.yaml:17:16: price cannot be a list: write one value`,
		}},
		{"shrinkage", []string{"    buy:", "    shrinks: {length: [3%]}\n    buy:"}, []string{
			`plan.yaml:12:23: length cannot be a list: write one value`,
		}},
		{"stash", []string{"ornaments:", "stash: {a: b}\nornaments:"}, []string{
			`plan.yaml:1:8: stash cannot be keys with values: write one value`,
		}},
		{"tags", []string{"ball: 3 in", "ball: !!str 3 in", "width: 44", "width: !inch 44"}, []string{
			`plan.yaml:3:11: "!!str" is a tag, which plans do not know: leave it out, or put quotes around a text that starts with !`,
			`plan.yaml:11:19: "!inch" is a tag, which plans do not know: leave it out, or put quotes around a text that starts with !`,
		}},
		{"a second document that is none", []string{"make:", "---\ntitle: \"a\nmake:"}, []string{
			`plan.yaml:8:8: this quoted text has no end or goes on after its end: end it with the same quote, and inside quotes write 18 in, not 18"`,
		}},
	} {
		t.Run(c.name, func(t *testing.T) {
			p, err := Parse("plan.yaml", []byte(edited(t, c.edits...)), nil)
			assert.Nil(t, p)
			require.Error(t, err)
			assert.Equal(t, strings.Join(c.want, "\n"), err.Error())
		})
	}
}

// Every bound is told with what is allowed, and what lies on it is allowed.
func TestBoundsOfAPlan(t *testing.T) {
	many := func(n int, one string) string {
		var out []string
		for i := range n {
			out = append(out, fmt.Sprintf(one, i))
		}
		return strings.Join(out, ", ")
	}
	const overlap = "{width: 2, role: ground, overlap: %s}"
	for _, c := range []struct {
		name      string
		old       string
		fine, bad string
		want      string
	}{
		{"cloth", "2 x 2, count", "2 x 2, count", "2 x 100001 cm, count", `plan.yaml:5:30: size "2 x 100001 cm" is too large: write sides of at most 39370 in`},
		{"overlap", "{width: 2, role: ground}", fmt.Sprintf(overlap, "7"), fmt.Sprintf(overlap, "119"), `plan.yaml:6:45: overlap of 119 in is too much: write how far its ends lie over each other, like 1 in`},
		{"fabrics", "fabrics:", "fabrics:\n  " + strings.ReplaceAll(many(maxFabrics-1, "f%d: {buy: [yard]}"), ", f", "\n  f"),
			"fabrics:\n  " + strings.ReplaceAll(many(maxFabrics, "f%d: {buy: [yard]}"), ", f", "\n  f"), `plan.yaml:10:3: fabrics are 1001, too many: split the plan: the most is 1000`},
		{"kept sizes", "make:", "cutting: {keep sizes: [" + many(maxKeepSizes, "%d.5") + "]}\nmake:", "cutting: {keep sizes: [" + many(maxKeepSizes+1, "%d.5") + "]}\nmake:",
			`plan.yaml:7:23: keep sizes has 21 entries, too many: the most is 20`},
		{"pace", "make:", "cutting: {seconds a pass: 3600}\nmake:", "cutting: {seconds a pass: 3601}\nmake:", `plan.yaml:7:27: seconds a pass: 3601 is too many: write a whole number up to 3600`},
		{"pace of nothing", "make:", "cutting: {seconds a pass: 1}\nmake:", "cutting: {seconds a pass: 0}\nmake:", `plan.yaml:7:27: seconds a pass: 0 is too few: write a whole number from 1`},
		{"squaring", "make:", "cutting: {squaring: 0}\nmake:", "cutting: {squaring: 11}\nmake:", `plan.yaml:7:21: squaring of 11 in is too much: write what is trimmed off a raw edge, like 1/4 in`},
		{"kerf", "make:", "cutting: {kerf: 1/8}\nmake:", "cutting: {kerf: 1 1/64}\nmake:", `plan.yaml:7:17: kerf of 1 1/64 in is too much: write 0 for a rotary cutter`},
		{"bad areas", "make:", `stash: [{fabric: navy dot, size: 9 x 14, bad areas: "` + strings.Repeat("1 x 1 at middle;", maxBad-1) + `"}]` + "\nmake:",
			`stash: [{fabric: navy dot, size: 9 x 14, bad areas: "` + strings.Repeat("1 x 1 at middle;", maxBad) + `"}]` + "\nmake:", `plan.yaml:7:53: 101 bad areas are too many: the most is 100`},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, err := Parse("plan.yaml", []byte(edited(t, c.old, c.fine)), nil)
			assert.NoError(t, err)
			_, err = Parse("plan.yaml", []byte(edited(t, c.old, c.bad)), nil)
			assert.EqualError(t, err, c.want)
		})
	}
	p, err := Parse("plan.yaml", []byte(edited(t, "make:", "cutting: {seconds a pass: 45}\nmake:")), nil)
	require.NoError(t, err)
	assert.Equal(t, 45, p.Cutting.Pace)
}

// What is unusual and not wrong is warned of.
func TestWarningsOfCutting(t *testing.T) {
	p, err := Parse("plan.yaml", []byte(edited(t, "2 x 2", "3/4 x 2", "make:", "cutting: {layers: 9}\nmake:")), nil)
	require.NoError(t, err)
	assert.Contains(t, p.Warnings, `ornament "star": piece "centre" is cut narrower than 1 in, where the ruler tips easily`)
	assert.Contains(t, p.Warnings, "9 layers at once are more than a 45 mm blade cuts: 4 are usual")
	p, err = Parse("plan.yaml", []byte(edited(t, "2 x 2", "2.5 x 5", "ball: 3 in", "ball: 8", "make:", "unit: cm\ncutting: {layers: 8}\nmake:", "{width: 44, usable: 42}", "{width: 112}")), nil)
	require.NoError(t, err)
	for _, w := range p.Warnings {
		assert.NotContains(t, w, "narrower")
		assert.NotContains(t, w, "layers")
	}
}

// Each corner that a bad area can be said to lie in, and where that is.
func TestCornersOfBadAreas(t *testing.T) {
	in := units.Inch
	for place, want := range map[string]Bad{
		"bottom left":         {X: 0, Y: 0, W: 3 * in, H: 2 * in},
		"bottom right":        {X: 11 * in, Y: 0, W: 3 * in, H: 2 * in},
		"bottom right corner": {X: 11 * in, Y: 0, W: 3 * in, H: 2 * in},
		"top left":            {X: 0, Y: 7 * in, W: 3 * in, H: 2 * in},
		"Top  Right":          {X: 11 * in, Y: 7 * in, W: 3 * in, H: 2 * in},
		"middle":              {X: 11 * in / 2, Y: 7 * in / 2, W: 3 * in, H: 2 * in},
		"4 up 5 right":        {X: 5 * in, Y: 4 * in, W: 3 * in, H: 2 * in},
		"4, 5":                {X: 5 * in, Y: 4 * in, W: 3 * in, H: 2 * in},
	} {
		p, err := withStash("fabric,size,bad areas\nnavy dot,9 x 14,\"2 x 3 at " + place + "\"\n")
		require.NoError(t, err, place)
		assert.Equal(t, []Bad{want}, p.Stash[0].Bad, place)
	}
	for place, want := range map[string]string{
		"the door":      `cannot read the place "the door": write one like 2 x 3 at 0, 4 or 2 x 3 at top left`,
		"two, 4":        `cannot read "two" as a length`,
		"0, four":       `cannot read "four" as a length`,
		"0 up four":     `cannot read the place`,
		"0 up x right":  `cannot read "x" as a length`,
		"9, 0":          `lies outside a piece of 9 x 14 in: measure from the lower left corner, along the selvage first`,
		"0, 14 in":      `lies outside a piece of 9 x 14 in`,
		"0, 4 in, 5 in": `unknown unit "in, 5 in" in "4 in, 5 in"`,
	} {
		_, err := withStash("fabric,size,bad areas\nnavy dot,9 x 14,\"2 x 3 at " + place + "\"\n")
		assert.ErrorContains(t, err, `folder/stash.csv:2:17: bad area "2 x 3 at `+place+`"`, place)
		assert.ErrorContains(t, err, want, place)
	}
}

// The stash of a plan is looked for as the plan itself does it.
func TestStashOfAPlanIsWithinItsFolder(t *testing.T) {
	dir := t.TempDir()
	outside := write(t, dir, "outside.csv", "fabric,size\n")
	plan := write(t, dir, "fair/plan.yaml", "unit:\nstash: link.csv\n")
	require.NoError(t, os.Symlink(outside, filepath.Join(dir, "fair", "link.csv")))
	_, _, err := StashOf(plan)
	assert.EqualError(t, err, plan+`:2:8: stash "link.csv": cannot be read: path escapes from parent: write the name of a CSV file in the plan's folder`)
	require.NoError(t, os.Remove(filepath.Join(dir, "fair", "link.csv")))
	path, u, err := StashOf(plan)
	require.NoError(t, err, "one that is not there yet can be begun")
	assert.Equal(t, filepath.Join(dir, "fair", "link.csv"), path)
	assert.Equal(t, units.Inches, u, "without a unit it is inches")
	for name, want := range map[string]string{
		dir:                                  "is a folder: write the plan file in it",
		outside:                              "is a table, not a plan",
		filepath.Join(dir, "none.yaml"):      "no such file",
		filepath.Join(dir, "none", "a.yaml"): "no such file",
		write(t, dir, "huge.yaml", strings.Repeat("# sand\n", maxPlanBytes/7+1)): "is too large: the most is 1024 KiB",
	} {
		_, err = UnitOf(name)
		assert.ErrorContains(t, err, name+": "+want)
	}
}
