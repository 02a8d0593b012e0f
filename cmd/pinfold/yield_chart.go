package main

import (
	"bytes"
	"context"
	"fmt"
	"runtime"
	"sync"

	"github.com/urfave/cli/v2"

	"pinfold/pack"
	"pinfold/reports"
	"pinfold/units"
)

// mostCells bounds a chart: some cells take seconds.
const mostCells = 1000

var chartOutput = output{
	noun: "a chart", file: "chart", formats: []reports.Format{reports.CSV, reports.PDF}, usual: "text",
	flag: "out", folder: "yield-chart", into: "write chart.csv and chart.pdf into the folder `DIR`",
}

// yieldChart answers every size from every sheet, on the screen and in files.
func yieldChart(c *cli.Context, q question) error {
	w, err := chartOutput.read(c)
	if err != nil {
		return err
	}
	if len(w.formats) > 0 {
		undo, err := probe(w.dir, chartOutput.flag)
		if err != nil {
			return err
		}
		defer undo()
	}
	chart, err := q.chart(c.Context)
	if err != nil {
		return err
	}
	if len(w.formats) > 0 {
		if _, err := chart.Write(w.dir, w.formats, w.paper); err != nil {
			return badInput("%v", err)
		}
	}
	var b bytes.Buffer
	if w.text {
		if err := chart.WriteText(&b); err != nil {
			return bugError(err)
		}
	}
	if len(w.formats) > 0 {
		fmt.Fprintf(&b, "%sThe chart is in the folder %s.\n", map[bool]string{true: "\n"}[w.text], w.dir)
	}
	if err := show(c.App.Writer, b.Bytes()); err != nil {
		return err
	}
	if chart.Stopped {
		return errInterrupted
	}
	return nil
}

// chart fills every cell, several at a time. Each is a problem of its own, so
// the chart is the same on any number of cores.
func (q question) chart(ctx context.Context) (*reports.Chart, error) {
	chart := &reports.Chart{Unit: q.unit, Squaring: q.squaring, Turning: q.turn}
	for i, from := range q.cloths {
		w, h := q.sheets[i].Usable()
		chart.Cloths = append(chart.Cloths, reports.ChartCloth{Name: from.name, Size: from.size, Usable: units.Size{Along: h, Across: w}})
	}
	for _, size := range q.sizes {
		chart.Rows = append(chart.Rows, reports.ChartRow{Size: size, Cells: make([]reports.ChartCell, len(q.cloths))})
	}
	var wait sync.WaitGroup
	var once sync.Once
	var failed error
	cells := make(chan [2]int)
	for range runtime.GOMAXPROCS(0) {
		wait.Go(func() {
			for at := range cells {
				cell, err := q.cell(ctx, q.sheets[at[1]], q.sizes[at[0]])
				if err != nil {
					once.Do(func() { failed = err })
				}
				chart.Rows[at[0]].Cells[at[1]] = cell
			}
		})
	}
	for i := range q.sizes {
		for j := range q.cloths {
			cells <- [2]int{i, j}
		}
	}
	close(cells)
	wait.Wait()
	chart.Stopped = ctx.Err() != nil
	return chart, failed
}

// cell answers one size from one sheet without turning, and with it if that is
// asked for. What can be cut without turning can be cut with it as well.
func (q question) cell(ctx context.Context, sheet pack.Sheet, size units.Size) (reports.ChartCell, error) {
	kept, err := fill(ctx, sheet, size, false)
	if err != nil {
		return reports.ChartCell{}, err
	}
	cell := reports.ChartCell{Kept: figure(kept.result)}
	switch {
	case !q.turn:
	case size.Along == size.Across:
		cell.Turned = cell.Kept
	default:
		turned, err := fill(ctx, sheet, size, true)
		if err != nil {
			return reports.ChartCell{}, err
		}
		cell.Turned = figure(turned.result)
		cell.Turned.Count = max(cell.Turned.Count, cell.Kept.Count)
	}
	return cell, nil
}

func figure(r pack.FillResult) reports.Figure {
	return reports.Figure{Count: r.Count, Most: r.Bound}
}
