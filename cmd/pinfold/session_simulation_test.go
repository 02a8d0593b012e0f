package main

import (
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// tablePlan solves a random plan and returns result.json.
func tablePlan(t *testing.T, seed int) (result []byte, yaml string) {
	t.Helper()
	r := rand.New(rand.NewPCG(uint64(seed), 5))
	dir := t.TempDir()
	yaml, stash := randomPlan(r)
	yaml += fmt.Sprintf("  ruler: %d\n", []int{6, 12, 18, 24, 60}[r.IntN(5)])
	path := write(t, dir, "plan.yaml", yaml)
	write(t, dir, "stash.csv", stash)
	out := filepath.Join(dir, "out")
	s := invoke(t, "layout", path, "--effort", "quick", "--formats", "json", "--out", out)
	require.Contains(t, []int{exitDone, exitShort}, s.code, "seed %d: %s\n%s", seed, s.errors, yaml)
	result, err := os.ReadFile(filepath.Join(out, "result.json"))
	require.NoError(t, err)
	return result, yaml
}

func readTable(t *testing.T, doc []byte) tableResult {
	t.Helper()
	var r tableResult
	require.NoError(t, json.Unmarshal(doc, &r))
	return r
}

// What the steps say can be done with raw cloth, one after the other, and gives
// exactly the pieces wanted and the offcuts announced, in as many passes as told.
func TestStepsCutThePlan(t *testing.T) {
	plans := 100
	if testing.Short() {
		plans = 5
	}
	var jobs, stacked, folded, mixed int
	for seed := range plans {
		doc, yaml := tablePlan(t, seed)
		r := readTable(t, doc)
		require.NoError(t, cutAtTable(r), "seed %d\n%s", seed, yaml)
		rulesOf(t, yaml, r)
		for _, j := range r.Session.Jobs {
			jobs++
			if j.Count > 1 {
				stacked++
			}
			if j.Fold > 1 {
				folded++
			}
			sheets := map[string]bool{}
			for _, l := range j.Lots {
				sheets[l.Sheet] = true
			}
			if len(sheets) > 1 {
				mixed++
			}
		}
	}
	t.Logf("%d jobs, %d of stacks, %d folded, %d of several sheets", jobs, stacked, folded, mixed)
	assert.Positive(t, stacked)
	assert.Positive(t, folded)
	assert.Positive(t, mixed)
}

// rulesOf compares the session's rules with the text of the plan.
func rulesOf(t *testing.T, yaml string, r tableResult) {
	t.Helper()
	number := func(key string) int {
		m := regexp.MustCompile(`(?m)^  ` + key + `: (\d+)$`).FindStringSubmatch(yaml)
		n, err := strconv.Atoi(m[1])
		require.NoError(t, err)
		return n
	}
	if len(r.Fabrics) == 0 {
		return
	}
	assert.Equal(t, number("layers"), r.Session.Layers)
	unit := int64(8128)
	if strings.Contains(yaml, "unit: cm") {
		unit = 3200
	}
	assert.Equal(t, int64(number("ruler"))*unit, r.Session.Ruler)
	var flat []string
	for _, f := range r.Fabrics {
		if regexp.MustCompile(`(?m)^  ` + f.Fabric + `:\n    direction: one-way$`).MatchString(yaml) {
			flat = append(flat, f.Fabric)
		}
	}
	assert.ElementsMatch(t, flat, r.Session.Flat)
}

// Cloth that is a piece as it lies, or as soon as its edges are straight, needs
// no cut that parts it.
func TestClothThatIsAPiece(t *testing.T) {
	dir := t.TempDir()
	path := write(t, dir, "plan.yaml", `title: three pieces
unit: in
ornaments:
  pebble:
    ball: 2
    pieces:
      - {name: face, size: 2 x 2, count: 3, role: ground}
make:
  - {ornament: pebble, count: 1, colourway: {ground: linen}}
fabrics:
  linen: {bolt: {width: 44, usable: 42}}
stash: stash.csv
cutting: {squaring: 1/4, spare: 0%, keep: 4 x 4}
`)
	write(t, dir, "stash.csv", "id,fabric,size,count,bad areas,squared,where,note\na,linen,2 x 2,1,,yes,,\nb,linen,2 1/2 x 2 1/2,2,,no,,\n")
	s := invoke(t, "layout", path, "--formats", "json,pdf,svg", "--out", filepath.Join(dir, "out"))
	require.Equal(t, exitDone, s.code, s.errors)
	doc, err := os.ReadFile(filepath.Join(dir, "out", "result.json"))
	require.NoError(t, err)
	r := readTable(t, doc)
	require.NoError(t, cutAtTable(r))
	require.Len(t, r.Session.Jobs, 1)
	assert.Equal(t, 4, r.Passes)
	assert.Equal(t, 2, r.Session.Jobs[0].Count)
}

// slips are what goes wrong in a cutting plan; each returns false where the job
// has nothing to get wrong that way.
var slips = map[string]func(s *tableSession, i int) bool{
	"one unit more": func(s *tableSession, i int) bool {
		s.Jobs[i].Measure++
		return s.Jobs[i].Axis != ""
	},
	"the one-inch slip": func(s *tableSession, i int) bool {
		s.Jobs[i].Measure -= 8128
		return s.Jobs[i].Axis != ""
	},
	"a cut too many": func(s *tableSession, i int) bool {
		s.Jobs[i].Cuts++
		return s.Jobs[i].Axis != ""
	},
	"a check measure that is wrong": func(s *tableSession, i int) bool {
		s.Jobs[i].Left += 127
		return s.Jobs[i].Axis != ""
	},
	"one more in a stack": func(s *tableSession, i int) bool {
		if s.Jobs[i].Axis == "" {
			return false
		}
		s.Jobs[i].Stacks[0]++
		return true
	},
	"a stack too high": func(s *tableSession, i int) bool {
		j := &s.Jobs[i]
		if len(j.Stacks) < 2 {
			return false
		}
		j.Stacks = append([]int{j.Stacks[0] + j.Stacks[1]}, j.Stacks[2:]...)
		j.Passes = j.Cuts * j.Lays * len(j.Stacks)
		return true
	},
	"folded once more": func(s *tableSession, i int) bool {
		s.Jobs[i].Fold *= 2
		return s.Jobs[i].Axis != ""
	},
	"a pass forgotten": func(s *tableSession, i int) bool {
		s.Jobs[i].Passes--
		return true
	},
	"a region forgotten": func(s *tableSession, i int) bool {
		s.Jobs[i].Count--
		return true
	},
	"a lot forgotten": func(s *tableSession, i int) bool {
		s.Jobs[i].Lots = s.Jobs[i].Lots[1:]
		return len(s.Jobs[i].Lots) > 0
	},
	"a turn forgotten": func(s *tableSession, i int) bool {
		s.Jobs[i].Turn = !s.Jobs[i].Turn
		return s.Jobs[i].Axis != ""
	},
	"cut along instead of across": func(s *tableSession, i int) bool {
		j := &s.Jobs[i]
		if j.Axis == "" || j.W == j.H && len(j.Lots) == 1 {
			return false
		}
		j.Axis = map[string]string{"x": "y", "y": "x"}[j.Axis]
		return true
	},
	"the wrong part": func(s *tableSession, i int) bool {
		s.Jobs[i].Part += "a"
		return s.Jobs[i].Axis != ""
	},
	"a piece thrown away": func(s *tableSession, i int) bool {
		for k := range s.Jobs[i].Lots {
			l := &s.Jobs[i].Lots[k]
			if l.Rest != nil && l.Rest.Piece != "" {
				l.Rest = &tableOut{Waste: true}
				return true
			}
			if len(l.Off) > 0 && l.Off[0].Piece != "" {
				l.Off[0] = tableOut{Waste: true, Times: l.Off[0].Times}
				return true
			}
		}
		return false
	},
	"an offcut thrown away": func(s *tableSession, i int) bool {
		for k := range s.Jobs[i].Lots {
			if l := &s.Jobs[i].Lots[k]; l.Rest != nil && l.Rest.Offcut != "" {
				l.Rest = &tableOut{Waste: true}
				return true
			}
		}
		return false
	},
	"a step left out": func(s *tableSession, i int) bool {
		s.Jobs = append(s.Jobs[:i], s.Jobs[i+1:]...)
		for k := range s.Jobs {
			s.Jobs[k].Step = k + 1
		}
		return true
	},
	"a step before what it needs": func(s *tableSession, i int) bool {
		needed := false
		for _, l := range s.Jobs[i].Lots {
			for _, o := range append(l.Off, orNothing(l.Rest)...) {
				needed = needed || o.Step == i+2
			}
		}
		if !needed {
			return false // then either may come first
		}
		s.Jobs[i], s.Jobs[i+1] = s.Jobs[i+1], s.Jobs[i]
		s.Jobs[i].Step, s.Jobs[i+1].Step = i+1, i+2
		return true
	},
	"a sum that is wrong": func(s *tableSession, i int) bool {
		s.Passes++
		return i == 0
	},
	"more layers than told": func(s *tableSession, i int) bool {
		s.Layers = 1
		for _, n := range s.Jobs[i].Stacks {
			if n*s.Jobs[i].Fold > 1 {
				return true
			}
		}
		return false
	},
	"a piece turned": func(s *tableSession, i int) bool {
		for k := range s.Jobs[i].Lots {
			l := &s.Jobs[i].Lots[k]
			if l.Rest != nil && l.Rest.Piece != "" {
				l.Rest.Turned = !l.Rest.Turned
				return true
			}
		}
		return false
	},
	"cut from another sheet": func(s *tableSession, i int) bool {
		l := &s.Jobs[i].Lots[0]
		l.Sheet += "0"
		return true
	},
	"an edge squared by too much": func(s *tableSession, i int) bool {
		if len(s.Jobs[i].Trims) == 0 {
			return false
		}
		s.Jobs[i].Trims[0].Width += 127
		return true
	},
}

func orNothing(o *tableOut) []tableOut {
	if o == nil {
		return nil
	}
	return []tableOut{*o}
}

// Every slip, in whatever step of a plan, is found.
func TestSlipsInStepsAreFound(t *testing.T) {
	plans := 10
	if testing.Short() {
		plans = 2
	}
	made := map[string]int{}
	for seed := range plans {
		doc, yaml := tablePlan(t, seed)
		for i := range readTable(t, doc).Session.Jobs {
			for name, slip := range slips {
				r := readTable(t, doc)
				if !slip(&r.Session, i) {
					continue
				}
				made[name]++
				assert.Error(t, cutAtTable(r), "%s in step %d of seed %d\n%s", name, i+1, seed, yaml)
			}
		}
	}
	all := 0
	for name := range slips {
		assert.Positive(t, made[name], name)
		all += made[name]
	}
	t.Logf("%d slips of %d kinds, all found", all, len(slips))
}
