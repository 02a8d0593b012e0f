package main

import (
	"bytes"
	"fmt"
	"io"
	"regexp"
	"strings"

	"github.com/urfave/cli/v2"

	"pinfold/plan"
	"pinfold/units"
)

func ballCommand() *cli.Command {
	return &cli.Command{
		Name:      "ball",
		Usage:     "the measures of a foam ball: its arcs, its band, how far a round reaches",
		ArgsUsage: "DIAMETER",
		Description: `All from the sphere: round the middle is pi x DIAMETER, pole to equator a quarter
of that, and a band is once round the middle and its overlap, rounded up to 1/8 in
or 1 mm. Measure the real ball: they come smaller than they are sold.

With --piece and --from it tells how far a round of folded pieces reaches: from
its start, half the piece's longer side, against pole to equator less half of
what the band shows.

` + example(`pinfold ball 3 --piece "2 x 3" --from "1 1/4"`, "a second round on a 3 in ball"),
		Flags: []cli.Flag{
			&cli.StringFlag{Name: "overlap", Usage: "the band's overlap is `LENGTH` (default: 1 in or 2.5 cm)"},
			&cli.StringFlag{Name: "piece", Usage: "the `SIZE` of a round's pieces"},
			&cli.StringFlag{Name: "from", Usage: "the round starts `LENGTH` from the pole"},
			&cli.StringFlag{Name: "shows", Value: "0", Usage: "the folded band shows `WIDTH`"},
			unitFlag("as DIAMETER is written"),
		},
		Action: ball,
	}
}

// metric tells whether a length is written in a metric unit.
var metric = regexp.MustCompile(`(?i)\d\s*([cm]?m|met(re|er)s?)\s*$`)

func ball(c *cli.Context) error {
	written := strings.Join(c.Args().Slice(), " ")
	if written == "" {
		return badInput("ball needs a diameter").with("like: pinfold ball 3, or pinfold ball \"7.5 cm\"")
	}
	u := units.Inches
	if metric.MatchString(written) {
		u = units.Centimetres
	}
	u, err := unitOr(c, u)
	if err != nil {
		return err
	}
	diameter, err := units.ParseRounded(written, u, units.Nearest)
	if err != nil {
		return badInput("%v", err)
	}
	if diameter == 0 || diameter > 3*units.Metre {
		return badInput("no ball measures %s", diameter.Format(u)).with("write the diameter, like 3 in or 7.5 cm")
	}
	overlap := units.Inch
	if u == units.Centimetres {
		overlap = 25 * units.Millimetre
	}
	if c.IsSet("overlap") {
		if overlap, err = units.Parse(c.String("overlap"), u); err != nil {
			return badInput("--overlap: %v", err)
		}
	}
	var b bytes.Buffer
	sphere := plan.Sphere{Ball: diameter}
	fmt.Fprintf(&b, "a ball of %s\n", diameter.Format(u))
	aligned(&b, func(t io.Writer) {
		fmt.Fprintf(t, "  pole to equator\t%s %s\n", plan.Decimals(sphere.PoleToEquator(), u, 2), u)
		fmt.Fprintf(t, "  round the middle\t%s %s\n", plan.Decimals(sphere.RoundTheMiddle(), u, 2), u)
		fmt.Fprintf(t, "  surface\t%.2f sq %s\n", sphere.Surface().In(u), u)
		fmt.Fprintf(t, "  band, %s of overlap\tcut %s\n", overlap.Format(u), plan.BandLength(diameter, overlap, u).Format(u))
	})
	if err := ballReach(c, &b, diameter, u); err != nil {
		return err
	}
	return show(c.App.Writer, b.Bytes())
}

// ballReach adds how far the round asked for reaches, if any is.
func ballReach(c *cli.Context, b *bytes.Buffer, diameter units.Length, u units.Unit) error {
	if !c.IsSet("piece") {
		if c.IsSet("from") {
			return badInput("--from needs --piece").with("like: pinfold ball 3 --piece \"2 x 3\" --from \"1 1/4\"")
		}
		return nil
	}
	piece, err := units.ParseSize(c.String("piece"), u)
	if err != nil {
		return badInput("--piece: %v", err)
	}
	from := units.Length(0)
	if c.IsSet("from") {
		if from, err = units.Parse(c.String("from"), u); err != nil {
			return badInput("--from: %v", err)
		}
	}
	shows, err := units.Parse(c.String("shows"), u)
	if err != nil {
		return badInput("--shows: %v", err)
	}
	one := plan.Ornament{
		Ball:   diameter,
		Pieces: []plan.Round{{Size: piece, From: &from}},
		Band:   &plan.Band{Shows: shows},
	}
	for _, r := range one.Reaches() {
		fmt.Fprintf(b, "a round of %s from %s %s\n", piece.Format(u), from.Format(u), reachWords(r, diameter, u))
	}
	return nil
}
