package main

import (
	"bytes"
	"fmt"
	"io"
	"path/filepath"

	"github.com/urfave/cli/v2"

	"pinfold/plan"
	"pinfold/reports"
)

func faceCommand() *cli.Command {
	return &cli.Command{
		Name:      "face",
		Usage:     "draw each ornament as it will look, and its outlines to colour in",
		ArgsUsage: "[PLAN]",
		Description: `Draws front and back as they are seen from the pole: distances from the pole along
the ball are true to scale, every folded piece is the triangle it becomes, round
by round as they are pinned, and the band is a ring. Each fabric has its colour
and a pattern that tells it apart in black and white.

Writes face-001.svg and on, one for each ornament and colourway, and
outline-001.svg and on, one for each ornament. Nothing is cut for it: where a
colourway lists several fabrics, they are divided by area alone. Without PLAN it
is the demo. cutting-plan.pdf of pinfold layout has the same sheets to print.

` + example("pinfold face --out faces", "the ornaments of the demo, into the folder faces"),
		Flags: []cli.Flag{
			&cli.StringFlag{Name: "out", Value: "faces", Usage: "write into the folder `DIR`"},
		},
		Action: face,
	}
}

func face(c *cli.Context) error {
	dir := c.String("out")
	if dir == "" {
		return badInput("--out is empty").with("write the folder to put the pictures in")
	}
	p, err := readPlan(c)
	if err != nil {
		return err
	}
	g, err := plan.Gather(p)
	if err != nil {
		return badInput("%v", err)
	}
	faces := reports.NewFaces(p, g)
	if len(faces.Looks) == 0 {
		return badInput("no ornament of the plan can be drawn").with("make one, of at most 1000 pieces and on a ball of at least 1/4 in")
	}
	undo, err := probe(dir, "out")
	if err != nil {
		return err
	}
	if _, err := faces.Write(dir); err != nil {
		undo()
		return badInput("%v", err)
	}
	var b bytes.Buffer
	aligned(&b, func(t io.Writer) {
		for i, l := range faces.Looks {
			fmt.Fprintf(t, "%s\t%d x %s\t%s\n", filepath.Join(dir, reports.LookName(i)), l.Count, l.Ornament, l.Fabrics)
		}
		for i, l := range faces.Outlines {
			fmt.Fprintf(t, "%s\t%s\toutlines to colour in\n", filepath.Join(dir, reports.OutlineName(i)), l.Ornament)
		}
	})
	return show(c.App.Writer, b.Bytes())
}
