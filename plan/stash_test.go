package plan

import (
	"errors"
	"io/fs"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"pinfold/units"
)

// withStash parses base with a stash file of that content.
func withStash(csv string) (*Plan, error) {
	return Parse("plan.yaml", []byte("stash: stash.csv\n"+base), func(name string) ([]byte, string, error) {
		return []byte(csv), "folder/" + name, nil
	})
}

func TestStashFile(t *testing.T) {
	in := units.Inch
	want := []StashPiece{
		{ID: "S1", Fabric: "navy dot", Size: units.Size{Along: 9 * in, Across: 14 * in}, Count: 2, Squared: true, Where: "blue tin", Note: "from the sails, 2019"},
		{ID: "stash 2", Fabric: "navy dot", Size: units.Size{Along: 21 * in / 2, Across: 14 * in}, Count: 1, Bad: []Bad{
			{X: 4 * in, Y: 0, W: 3 * in, H: 2 * in},
			{X: 13 * in, Y: 19 * in / 2, W: in, H: in},
		}},
	}
	rows := "id,fabric,size,count,bad areas,squared,where,note\n" +
		"S1,navy dot,9 x 14,2,,yes,blue tin,\"from the sails, 2019\"\n" +
		",navy dot,10 1/2 x 14,,\"2 x 3 at 0, 4; 1 x 1 at top right corner\",No,,\n"
	for name, csv := range map[string]string{
		"as written":  rows,
		"CRLF":        strings.ReplaceAll(rows, "\n", "\r\n"),
		"BOM":         "\ufeff" + rows,
		"blank rows":  strings.ReplaceAll(rows, "\n", "\n\n,,,\n"),
		"no last end": strings.TrimSuffix(rows, "\n"),
		"semicolons": "id;fabric;size;count;bad areas;squared;where;note\n" +
			"S1;navy dot;9 x 14;2;;yes;blue tin;from the sails, 2019\n" +
			";navy dot;10,5 x 14;;\"2 x 3 at 0, 4; 1 x 1 at top right\";n;;\n",
		"other columns, other order": "Note,colour,SIZE, Bad  Areas ,fabric,squared,id,count,where\n" +
			"\"from the sails, 2019\",blue,9 x 14,,navy dot,YES,S1,2,blue tin\n" +
			",blue,10 1/2 x 14,\"2 x 3 at 0, 4;1 x 1 at top right;\",navy dot\n",
		"tabs": "id\tfabric\tsize\tcount\tbad areas\tsquared\twhere\tnote\n" +
			"S1\tnavy dot\t9 x 14\t2\t\tyes\tblue tin\tfrom the sails, 2019\n" +
			"\tnavy dot\t10½ x 14\t\t2 x 3 at 0, 4; 1 x 1 at top right\t\t\t\n",
	} {
		p, err := withStash(csv)
		require.NoError(t, err, name)
		require.Len(t, p.Stash, 2, name)
		for i := range p.Stash {
			assert.Equal(t, "folder/stash.csv", p.Stash[i].At.File)
			p.Stash[i].At = Pos{}
		}
		// A blank row counts as a row, so the made-up id may differ.
		if name == "blank rows" {
			assert.Equal(t, "stash 2", p.Stash[1].ID, "ids go by pieces, not by rows")
		}
		assert.Equal(t, want, p.Stash, name)
	}
}

func TestFaultyStashFiles(t *testing.T) {
	for _, c := range []struct {
		name, csv string
		want      []string
	}{
		{"empty", "", []string{
			`folder/stash.csv:1:1: the stash file is empty: write a header row: id,fabric,size,count,bad areas,squared,where,note`,
		}},
		{"no header", "S1,navy dot,9 x 14\n", []string{
			`folder/stash.csv:1:1: the stash file has no column "fabric": write a header row: id,fabric,size,count,bad areas,squared,where,note`,
			`folder/stash.csv:1:1: the stash file has no column "size": write a header row: id,fabric,size,count,bad areas,squared,where,note`,
		}},
		{"misspelt header", "id,fabrik,size\n", []string{
			`folder/stash.csv:1:1: the stash file has no column "fabric": write "fabric" instead of "fabrik"`,
		}},
		{"column twice", "fabric,size,Size\n", []string{
			`folder/stash.csv:1:13: column "size" stands twice: leave one of them out`,
		}},
		{"rows", "id,fabric,size,count,bad areas,squared,where\n" +
			"é1,navy dot,9 by 14,0,,perhaps,\n" +
			",,,,,,tin\n" +
			"é1,navy dot,9 x 14,-2,3 x 3,,\n" +
			"é1,navy dot,9 x 14,1,,,tin,of the uncle\n" +
			"S2,navy dot,9\" x 14,1,,,\n" +
			"S3,navy dot,9 x 14,1,,,\n" +
			"S3,navy dot,9 x 0,1,,,\n", []string{
			`folder/stash.csv:2:13: size: cannot read "9 by 14" as a size: write two lengths with x between them, like 2 1/2 x 4`,
			`folder/stash.csv:2:21: count: 0 is too few: write a whole number from 1`,
			`folder/stash.csv:2:24: squared cannot be "perhaps": write yes when all four edges are straight and square, else no`,
			`folder/stash.csv:3:1: stash piece 2 has no fabric: write the fabric's name as the plan does`,
			`folder/stash.csv:3:1: stash piece 2 has no size: write along the selvage x across, like 9 x 14`,
			`folder/stash.csv:4:1: stash id "é1" stands twice, first on line 2: give each piece its own id; equal pieces are one line with a count`,
			`folder/stash.csv:4:20: count: "-2" is negative: write a whole number from 1 to 10000`,
			`folder/stash.csv:4:23: bad area "3 x 3": it does not say where: write one like 2 x 3 at 0, 4 or 2 x 3 at top left`,
			`folder/stash.csv:5:28: the row has more fields than the header has columns: put quotes around a field with a comma in it`,
			`folder/stash.csv:6:14: a quote stands where the row cannot have one: write inches as 18 in, or put the whole field in quotes and double the quotes in it`,
			`folder/stash.csv:8:1: stash id "S3" stands twice, first on line 7: give each piece its own id; equal pieces are one line with a count`,
			`folder/stash.csv:8:13: size: size "9 x 0" has a side of 0`,
		}},
		{"binary", "id,fabric\n\x00\x01", []string{
			`folder/stash.csv:2:1: character U+0000 is no text: write it as plain text`,
		}},
		{"another code page", "id,fabric,size\n1,caf\xe9,9 x 9\n", []string{
			`folder/stash.csv:2:6: byte 0xe9 is no text: save it as UTF-8 text`,
		}},
		{"UTF-16", "\xff\xfei\x00d\x00", []string{
			`folder/stash.csv:1:1: the file is UTF-16 text: save it as UTF-8`,
		}},
	} {
		t.Run(c.name, func(t *testing.T) {
			p, err := withStash(c.csv)
			assert.Nil(t, p)
			require.Error(t, err)
			assert.Equal(t, strings.Join(c.want, "\n"), err.Error())
		})
	}
}

// The plan's faults come first, whatever the files are called.
func TestFaultsOfBothFiles(t *testing.T) {
	text := "stash: stash.csv\n" + strings.Replace(base, "3 in", "3 inn", 1)
	_, err := Parse("z.yaml", []byte(text), func(string) ([]byte, string, error) {
		return []byte("fabric,size\nnavy dot,9\n"), "a.csv", nil
	})
	assert.EqualError(t, err, `z.yaml:4:11: ball: unknown unit "inn" in "3 inn": write in, cm, mm, m, yd or ft`+"\n"+
		`a.csv:2:10: size: cannot read "9" as a size: write two lengths with x between them, like 2 1/2 x 4`)
}

func TestStashThatCannotBeRead(t *testing.T) {
	for want, fetch := range map[string]StashFile{
		`plan.yaml:1:8: stash "stash.csv": no such file: write the name of a CSV file in the plan's folder, or list the pieces in place`: func(string) ([]byte, string, error) {
			return nil, "", fs.ErrNotExist
		},
		`plan.yaml:1:8: stash "stash.csv": cannot be read: input/output error: write the name of a CSV file in the plan's folder, or list the pieces in place`: func(string) ([]byte, string, error) {
			return nil, "", &fs.PathError{Op: "read", Path: "x", Err: errors.New("input/output error")}
		},
		`plan.yaml:1:8: there is no folder to read stash "stash.csv" from: list the pieces in place`: nil,
	} {
		_, err := Parse("plan.yaml", []byte("stash: stash.csv\n"+base), fetch)
		assert.EqualError(t, err, want)
	}
}

// A stash is larger than one plan: other fabrics are fine, but a slip of the
// finger is told, and fabrics told apart by a number are no slip.
func TestStashOfOtherFabrics(t *testing.T) {
	p, err := withStash("fabric,size\nsea green,9 x 9\nNavy Dott,9 x 9\nNavy Dott,8 x 8\nnavy dot 2,9 x 9\n")
	require.NoError(t, err)
	assert.Len(t, p.Stash, 4)
	assert.Equal(t, []string{
		`stash piece "stash 2" is of fabric "Navy Dott", which the plan does not have and which is left out: did you mean "navy dot"?`,
	}, p.Warnings)
}

// Ids that are made up keep clear of those the user wrote.
func TestMadeUpIDs(t *testing.T) {
	p, err := withStash("id,fabric,size\n,navy dot,9 x 9\nstash 1,navy dot,9 x 9\n")
	require.NoError(t, err)
	assert.Equal(t, "unnamed stash 1", p.Stash[0].ID)
	assert.Equal(t, "stash 1", p.Stash[1].ID)
}

// What stock has is rounded down and what is missing from it up, so that no
// rounding makes cloth.
func TestStashRounding(t *testing.T) {
	p, err := withStash("fabric,size,bad areas\nnavy dot,9.3 x 14.3,\"1.1 x 1.1 at 2.3, 3.3\"\n")
	require.NoError(t, err)
	s := p.Stash[0]
	in := func(n, den int64) units.Length { return units.Length(n * int64(units.Inch) / den) }
	assert.Equal(t, units.Size{Along: in(9*64+19, 64), Across: in(14*64+19, 64)}, s.Size) // 0.3 in is 19.2/64
	assert.Equal(t, []Bad{{
		X: in(3*64+19, 64), W: in(64+7+1, 64), // 3.3 + 1.1 = 4.4 in is within 3 20/64 + 1 7/64
		Y: in(2*64+19, 64), H: in(64+7+1, 64),
	}}, s.Bad)
}

// A stash piece cannot be wider than the bolt it came off: most likely it was
// measured across first. One of a fabric is named.
func TestStashWiderThanItsBolt(t *testing.T) {
	const text = `ornaments: {star: {ball: 3, pieces: [{name: a, size: 2 x 2, count: 1, role: g}]}}
make: [{ornament: star, count: 1, colourway: {g: tar}}]
fabrics: {tar: {bolt: {width: 44, usable: 42}}, oak: {}}
stash:
  - {id: T1, fabric: tar, size: 60 x 44}
  - {id: T2, fabric: tar, size: 9 x 60}
  - {id: T3, fabric: tar, size: 9 x 61}
  - {id: O1, fabric: oak, size: 9 x 90}
`
	p, err := Parse("plan.yaml", []byte(text), nil)
	require.NoError(t, err)
	assert.Equal(t, []string{`stash piece "T2" is 60 in across, but a bolt of tar is only 44 in wide: sizes are along the selvage x across`}, p.Warnings)
}
