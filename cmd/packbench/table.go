package main

import (
	"context"
	"fmt"
	"io"
	"strconv"
	"time"
)

// saveEvery is how often a long run's results are written on the way.
const saveEvery = 10 * time.Second

// runFamily runs the instances asked for, prints their lines and the totals, and
// writes -out.
func runFamily(ctx context.Context, c config, f family, w io.Writer) (runs, error) {
	out := runs{Family: f.Name, Effort: c.effort.String(), Turn: c.turn, Stages: c.stages, Seed: c.seed, Runs: []record{}}
	done, err := c.earlier(out)
	if err != nil {
		return out, err
	}
	fmt.Fprintf(w, "%s, effort %s%s\n", f.Name, c.effort, variant(c.turn, c.stages))
	fmt.Fprintf(w, lineForm, "name", "result", "best", "bound", "proved", "ms")
	saved := time.Now()
	for _, in := range f.Instances {
		if !c.only.MatchString(in.Name) {
			continue
		}
		r, ok := done[in.Name]
		if err == nil && !ok {
			r, err = solve(ctx, c, in)
			ok = err == nil
		}
		if !ok {
			continue // after a failure only what there was is kept
		}
		out.Runs = append(out.Runs, r)
		r.line(w)
		if c.out != "" && time.Since(saved) > saveEvery {
			if failed := out.write(c.out); failed != nil {
				return out, failed
			}
			saved = time.Now()
		}
	}
	if c.out != "" {
		if failed := out.write(c.out); failed != nil {
			return out, failed
		}
	}
	if err == nil {
		out.totals().line(w)
	}
	return out, err
}

// earlier gathers the runs that are taken from files.
func (c config) earlier(now runs) (map[string]record, error) {
	done := map[string]record{}
	if c.unproved != "" {
		r, err := readRuns(c.unproved)
		if err != nil {
			return nil, err
		}
		if len(r.Runs) == 0 {
			return nil, fmt.Errorf("%s holds no results to go on from", c.unproved)
		}
		if r.Family != now.Family || r.Turn != now.Turn || r.Stages != now.Stages {
			return nil, fmt.Errorf("%s holds results of another problem: %s%s", c.unproved, r.Family, variant(r.Turn, r.Stages))
		}
		for name, q := range r.byName() {
			if q.Proved {
				done[name] = q
			}
		}
	}
	if c.resume {
		r, err := readRuns(c.out)
		if err != nil {
			return nil, err
		}
		if len(r.Runs) > 0 && (r.Family != now.Family || r.Turn != now.Turn || r.Stages != now.Stages || r.Effort != now.Effort || r.Seed != now.Seed) {
			return nil, fmt.Errorf("%s holds another run: %s, effort %s, seed %d%s", c.out, r.Family, r.Effort, r.Seed, variant(r.Turn, r.Stages))
		}
		for name, q := range r.byName() {
			done[name] = q
		}
	}
	return done, nil
}

func variant(turn bool, stages int) string {
	s := ", no turning"
	if turn {
		s = ", turning"
	}
	if stages > 0 {
		s += fmt.Sprintf(", %d stages", stages)
	}
	return s
}

const lineForm = "%-20s %12s %12s %12s %-7s %8s\n"

func (r record) line(w io.Writer) {
	best, proved := "-", "no"
	if r.Best != nil {
		best = number(*r.Best)
	}
	if r.Proved {
		proved = "yes"
	}
	result := fmt.Sprint(r.Value)
	if r.Missing > 0 {
		result = fmt.Sprintf("short %d", r.Missing)
	}
	fmt.Fprintf(w, lineForm, r.Name, result, best, fmt.Sprint(r.Bound), proved, fmt.Sprint(r.MS))
}

func number(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }

// totals sums a family's runs.
type totals struct {
	n, proved, short  int
	value, bound      int64
	best              float64 // over the instances with a published value
	compared          int64   // our values over those
	known             int
	better, met, less int // than the published value
	ms                int64
}

func (r runs) totals() totals {
	var t totals
	for _, q := range r.Runs {
		t.n++
		t.value += q.Value
		t.bound += q.Bound
		t.ms += q.MS
		if q.Proved {
			t.proved++
		}
		if q.Missing > 0 {
			t.short++
		}
		if q.Best == nil {
			continue
		}
		t.known++
		t.best += *q.Best
		t.compared += q.Value
		gain := *q.Best - float64(q.Value)
		if q.Problem == knapsack {
			gain = -gain
		}
		switch {
		case q.Missing > 0 || gain < 0:
			t.less++
		case gain > 0:
			t.better++
		default:
			t.met++
		}
	}
	return t
}

func (t totals) line(w io.Writer) {
	best := "-"
	if t.known == t.n && t.n > 0 {
		best = number(t.best)
	}
	fmt.Fprintf(w, lineForm, fmt.Sprintf("total of %d", t.n), fmt.Sprint(t.value), best, fmt.Sprint(t.bound), fmt.Sprint(t.proved), fmt.Sprint(t.ms))
	if t.known > 0 {
		fmt.Fprintf(w, "of %d with a published value (%s, here %d): %d better, %d equal, %d worse\n",
			t.known, number(t.best), t.compared, t.better, t.met, t.less)
	}
	if t.short > 0 {
		fmt.Fprintf(w, "%d instances are short of pieces\n", t.short)
	}
}
