package blocks

import (
	"bufio"
	"fmt"
	"os"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"pinfold/pack/internal/model"
)

// published is an instance of testdata/onesheet.txt, which names the sources.
type published struct {
	name           string
	pr             *model.Problem
	plain, turning int64 // optima, 0 if not published as proved
}

func readPublished(t testing.TB) (list []published) {
	f, err := os.Open("testdata/onesheet.txt")
	require.NoError(t, err)
	defer f.Close()
	for sc := bufio.NewScanner(f); sc.Scan(); {
		line := sc.Text()
		switch {
		case strings.HasPrefix(line, "#"):
		case strings.HasPrefix(line, "sheet"):
			p := published{pr: &model.Problem{Stocks: []model.Stock{{Copies: 1}}}}
			var turning string
			st := &p.pr.Stocks[0]
			_, err := fmt.Sscanf(line, "sheet %s %d %d %d %s", &p.name, &st.W, &st.H, &p.plain, &turning)
			require.NoError(t, err, line)
			if turning != "-" {
				p.turning, err = strconv.ParseInt(turning, 10, 64)
				require.NoError(t, err, line)
			}
			list = append(list, p)
		default:
			var it model.Item
			_, err := fmt.Sscanf(line, "%d %d %d %d", &it.W, &it.H, &it.Demand, &it.Value)
			require.NoError(t, err, line)
			pr := list[len(list)-1].pr
			pr.Items = append(pr.Items, it)
		}
	}
	return list
}

func turned(pr *model.Problem) *model.Problem {
	c := *pr
	c.Items = append([]model.Item(nil), pr.Items...)
	for i := range c.Items {
		c.Items[i].Turn = c.Items[i].W != c.Items[i].H
	}
	return &c
}

// Published optima are found and proved within a twentieth of a second's work.
func TestPublishedOptima(t *testing.T) {
	for _, p := range readPublished(t) {
		for _, turn := range []bool{false, true} {
			pr, want := p.pr, p.plain
			if turn {
				pr, want = turned(pr), p.turning
			}
			if want == 0 {
				continue
			}
			f := NewFill(pr, FillOptions{})
			f.Run(50_000)
			pat, v := f.Best()
			assert.Equal(t, want, v, "%s, turning %v", p.name, turn)
			assert.True(t, f.Proved(), "%s, turning %v: bound %d by %s", p.name, turn, f.Bound(), f.BoundBy())
			checkPattern(t, pr, pat, v, p.name)
		}
	}
}

// Value and bound do not depend on how the run is cut up, and equal runs give
// equal layouts.
func TestRunsDoNotDependOnQuanta(t *testing.T) {
	for _, p := range readPublished(t)[8:16] {
		type result struct {
			pat   model.Pattern
			value int64
			bound int64
		}
		var want result
		for k, quantum := range []int64{1_000_000, 7, 1_300} {
			f := NewFill(p.pr, FillOptions{})
			finish(f, quantum)
			var got result
			got.pat, got.value = f.Best()
			got.bound = f.Bound()
			if k == 0 {
				want = got
			}
			require.Equal(t, want.value, got.value, p.name)
			require.Equal(t, want.bound, got.bound, p.name)
			again := NewFill(p.pr, FillOptions{})
			finish(again, quantum)
			pat, _ := again.Best()
			require.Equal(t, got.pat, pat, "%s: two equal runs differ", p.name)
		}
	}
}

// Measures in a coarser unit give bounds that hold: the same optimum is found
// and proved on tables too small for every measure.
func TestCoarseMeasures(t *testing.T) {
	for _, p := range readPublished(t) {
		f := NewFill(p.pr, FillOptions{})
		s := newSheet(p.pr, 0, 300)
		if s.ax.unit == 1 && s.ay.unit == 1 {
			continue
		}
		f.s, f.relax = s, newRelax(s)
		f.prices = newPrices(f.relax, s.demand, f.value, f.counted, false, f.bound)
		for range 80 {
			if _, more := f.Run(1_000); !more {
				break
			}
		}
		_, v := f.Best()
		assert.GreaterOrEqual(t, f.Bound(), p.plain, p.name)
		assert.LessOrEqual(t, v, p.plain, p.name)
	}
}

func BenchmarkFill(b *testing.B) {
	list := readPublished(b)
	for _, p := range list {
		switch p.name {
		case "ngcut12", "cgcut2", "HH", "STS4s", "HADCHR11":
			b.Run(p.name, func(b *testing.B) {
				units := int64(0)
				for b.Loop() {
					f := NewFill(p.pr, FillOptions{})
					spent, _ := f.Run(1 << 40)
					units += spent
				}
				b.ReportMetric(float64(units)/float64(b.N), "units/op")
			})
		}
	}
}

// BenchmarkRelax is the inner loop of every bound.
func BenchmarkRelax(b *testing.B) {
	pr := &model.Problem{Stocks: []model.Stock{{W: 600, H: 500, Copies: 1}}}
	for i := range 40 {
		it := model.Item{W: 40 + i*37%150, H: 40 + i*53%130, Demand: 1000}
		it.Value = it.Area()
		pr.Items = append(pr.Items, it)
	}
	s := newSheet(pr, 0, mostCells)
	r := newRelax(s)
	value := make([]int64, len(pr.Items))
	for i, it := range pr.Items {
		value[i] = it.Value
	}
	for b.Loop() {
		r.start(value)
		r.run(1 << 60)
	}
	b.ReportMetric(float64(s.cells()), "cells")
	b.ReportMetric(float64(2*r.steps())/stepsPerUnit, "units")
}
