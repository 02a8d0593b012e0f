package main

import (
	"errors"
	"regexp"
	"strings"

	"pinfold/pack"
	"pinfold/units"
)

// cloth is a sheet as the command line names it.
type cloth struct {
	name string // "fat quarter", "1/2 yd off the bolt", or "" for a sheet of its own size
	size units.Size
	// raw has 1 for each side that is a cut edge rather than a selvage.
	raw pack.Margins
}

// boltWidth is how wide cloth off the bolt is taken to be unless said: the width
// most makers count on once the selvages of 44 in cloth are off (common
// practice).
const boltWidth = 40 * units.Inch

var (
	halfWidth = pack.Margins{Right: 1, Bottom: 1, Top: 1}
	offBolt   = pack.Margins{Bottom: 1, Top: 1}
	allRound  = pack.Margins{Left: 1, Right: 1, Bottom: 1, Top: 1}

	// shopLength is a length in a unit that only the counter uses.
	shopLength = regexp.MustCompile(`(?i)^(.*\d\s*|.*[½¼¾⅛⅜⅝⅞⅓⅔]\s*)(yd|yds|yards?|ft|feet|foot|m|met(?:re|er)s?)\s*$`)
)

// parseCloth reads a sheet: "fat quarter" or "fat eighth", with a size behind it
// if it is not the usual one; a length off the bolt, "1/2 yd", with its width
// behind an x unless that is 40 in; or a size, "10 x 12 in". Bare numbers are in
// u, but a bare width behind yards is in inches and behind metres in
// centimetres, as the counter has it.
func parseCloth(s string, u units.Unit) (cloth, error) {
	words := strings.Join(strings.Fields(strings.ToLower(s)), " ")
	for name, size := range map[string]units.Size{
		"fat quarter": {Along: 18 * units.Inch, Across: 22 * units.Inch},
		"fat eighth":  {Along: 9 * units.Inch, Across: 22 * units.Inch},
	} {
		rest, ok := strings.CutPrefix(words, name)
		if !ok {
			continue
		}
		c := cloth{name: name, size: size, raw: halfWidth}
		if rest == "" {
			return c, nil
		}
		var err error
		if c.size, err = units.ParseSize(strings.TrimPrefix(rest, ","), u); err != nil {
			return cloth{}, badInput("%v", err).with("like: --from %q", name+" 18 x 21 in")
		}
		return c, nil
	}
	length, width, crossed := strings.Cut(strings.ReplaceAll(words, "×", "x"), "x")
	if m := shopLength.FindStringSubmatch(strings.TrimSpace(length)); m != nil {
		return parseBolt(strings.TrimSpace(length), m[2], width, crossed)
	}
	size, err := units.ParseSize(s, u)
	if err != nil && !strings.ContainsAny(s, "0123456789½¼¾⅓⅔⅛⅜⅝⅞") {
		err = errors.New("it is no cut by name and no size")
	}
	if err != nil {
		return cloth{}, badInput("cannot read %.60q as a sheet: %v", s, err).
			with("write --from with \"fat quarter\", \"1/2 yd x 42\" or \"10 x 12 in\"")
	}
	return cloth{size: size, raw: allRound}, nil
}

func parseBolt(length, unit, width string, crossed bool) (cloth, error) {
	along, err := units.Parse(length, units.Inches)
	if err != nil {
		return cloth{}, badInput("%v", err)
	}
	across := boltWidth
	if crossed {
		bare := units.Inches
		if strings.HasPrefix(unit, "m") {
			bare = units.Centimetres
		}
		if across, err = units.Parse(width, bare); err != nil {
			return cloth{}, badInput("%v", err).with("like: --from \"1/2 yd x 42\"")
		}
	}
	if along == 0 || across == 0 {
		return cloth{}, badInput("a sheet needs two sides longer than 0")
	}
	return cloth{name: length + " off the bolt", size: units.Size{Along: along, Across: across}, raw: offBolt}, nil
}

// sheet is the cloth as something to cut, with squaring trimmed off every raw
// side.
func (c cloth) sheet(squaring units.Length) pack.Sheet {
	return pack.Sheet{
		ID: "sheet", W: c.size.Across, H: c.size.Along, Copies: 1, Free: true,
		Squared: pack.Margins{
			Left: c.raw.Left * squaring, Right: c.raw.Right * squaring,
			Bottom: c.raw.Bottom * squaring, Top: c.raw.Top * squaring,
		},
	}
}

// String says the cloth in words, with its size.
func (c cloth) format(u units.Unit) string {
	switch c.name {
	case "":
		return c.size.Format(u)
	case "fat quarter", "fat eighth":
		return "a " + c.name + " of " + c.size.Format(u)
	}
	return c.name + ", " + c.size.Format(u)
}
