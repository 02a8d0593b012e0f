package main

import (
	"context"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"runtime"
	"strings"
)

// writeScores runs every family both ways and writes the table of totals.
func writeScores(ctx context.Context, c config, w io.Writer) error {
	if err := os.MkdirAll(c.keep, 0o777); err != nil {
		return err
	}
	var rows strings.Builder
	for i, file := range c.families {
		f, err := readFamily(file)
		if err != nil {
			return err
		}
		for _, turn := range []bool{false, true} {
			if i > 0 || turn {
				fmt.Fprintln(w)
			}
			one := c
			one.turn, one.resume = turn, true
			one.out = filepath.Join(c.keep, keepName(f.Name, one))
			r, err := runFamily(ctx, one, f, w)
			if err != nil {
				return err
			}
			rows.WriteString(scoreRow(r, f))
		}
	}
	text := fmt.Sprintf(scoresForm, c.effort, c.seed, machine(), c.effort, c.seed, rows.String())
	return replace(c.scores, []byte(text))
}

func keepName(family string, c config) string {
	way := "fixed"
	if c.turn {
		way = "turning"
	}
	return fmt.Sprintf("%s-%s-%s-stages%d-seed%d.json", family, way, c.effort, c.stages, c.seed)
}

const scoresForm = `# Scores on open benchmark instances

Totals over whole families at effort %v, seed %d, on %s.
Every layout behind them passed the package's own check. Less is better but for the one-sheet families (knapsack), where
the value of the pieces cut is summed. "Published" counts only the instances with a published value; "better, equal, worse"
compares instance by instance. Bounds are proved here.

Made by

    go run ./cmd/packbench -scores pack/SCORES.md -keep DIR -effort %v -seed %d -family FILE...

| family | problem | turning | instances | result | bound | proved | published: total | here, the same instances | better, equal, worse | seconds | source of the published values |
|---|---|---|---|---|---|---|---|---|---|---|---|
%s`

func scoreRow(r runs, f family) string {
	t := r.totals()
	turning := "no"
	if r.Turn {
		turning = "yes"
	}
	best, same, wins, source := "-", "-", "-", "-"
	if t.known > 0 {
		best, same = number(t.best), fmt.Sprint(t.compared)
		if t.known < t.n {
			best += fmt.Sprintf(" (%d)", t.known)
		}
		wins = fmt.Sprintf("%d, %d, %d", t.better, t.met, t.less)
		source = elsewhere
	}
	if p, ok := bestPublished[f.Name][r.Turn]; ok {
		source = p.source
		if p.total > 0 && t.n == len(f.Instances) {
			best = number(p.total)
		}
	}
	result := fmt.Sprint(t.value)
	if t.short > 0 {
		result += fmt.Sprintf(" (%d short)", t.short)
	}
	return fmt.Sprintf("| %s | %s | %s | %d | %s | %d | %d | %s | %s | %s | %.1f | %s |\n",
		f.Name, f.Instances[0].Problem, turning, t.n, result, t.bound, t.proved, best, same, wins, float64(t.ms)/1000, source)
}

// machine describes what the program runs on.
func machine() string {
	name := runtime.GOARCH
	if b, err := os.ReadFile("/proc/cpuinfo"); err == nil {
		for line := range strings.Lines(string(b)) {
			if key, value, ok := strings.Cut(line, ":"); ok && strings.TrimSpace(key) == "model name" {
				name = strings.TrimSpace(value)
				break
			}
		}
	}
	return fmt.Sprintf("%d cores of %s, %s", runtime.GOMAXPROCS(0), name, runtime.Version())
}
