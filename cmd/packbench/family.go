package main

import (
	"encoding/json"
	"fmt"
	"os"

	"pinfold/units"
)

// family is a file of instances.
type family struct {
	Name      string     `json:"family"`
	Sources   []string   `json:"sources"`
	Instances []instance `json:"instances"`
}

// instance is one problem. Items are width, height, demand and value; sizes are
// width, height, cost and copies; null is no limit, and as a value the area.
type instance struct {
	Name    string              `json:"name"`
	Problem string              `json:"problem"`
	Bin     []int64             `json:"bin"`
	Width   int64               `json:"width"`
	Sizes   [][4]*float64       `json:"bins"`
	Items   [][4]*int64         `json:"items"`
	Known   map[string]known    `json:"known"`
	Staged  map[string]*float64 `json:"staged"`
	Defects json.RawMessage     `json:"defects"`
}

// known is what is published about an instance: LB and UB bound the value of the
// best layouts.
type known struct {
	LB     *float64 `json:"lb"`
	UB     *float64 `json:"ub"`
	Proven bool     `json:"proven"`
}

func readFamily(file string) (family, error) {
	var f family
	b, err := os.ReadFile(file)
	if err != nil {
		return f, err
	}
	if err := json.Unmarshal(b, &f); err != nil {
		return f, fmt.Errorf("%s: %w", file, err)
	}
	for _, in := range f.Instances {
		if err := in.validate(); err != nil {
			return f, fmt.Errorf("%s: instance %q: %w", file, in.Name, err)
		}
	}
	if len(f.Instances) == 0 {
		return f, fmt.Errorf("%s: no instances", file)
	}
	return f, nil
}

// The problems.
const (
	binpack  = "binpack"
	cutstock = "cutstock"
	knapsack = "knapsack"
	strip    = "strip"
)

func (in instance) validate() error {
	if in.Defects != nil {
		return fmt.Errorf("defects are rules of another problem")
	}
	switch in.Problem {
	case strip:
		if !length(in.Width) {
			return fmt.Errorf("width %d", in.Width)
		}
	case binpack, cutstock, knapsack:
		if len(in.Bin) != 2 || !length(in.Bin[0]) || !length(in.Bin[1]) {
			return fmt.Errorf("bin %v, write [width, height]", in.Bin)
		}
	default:
		return fmt.Errorf("problem %q, write binpack, cutstock, knapsack or strip", in.Problem)
	}
	for i, s := range in.Sizes {
		if s[0] == nil || s[1] == nil || s[2] == nil {
			return fmt.Errorf("size %d lacks a measure or its cost", i)
		}
		for _, v := range s {
			if v != nil && *v != float64(int64(*v)) {
				return fmt.Errorf("size %d holds %v, which is not a whole number", i, *v)
			}
		}
	}
	for i, it := range in.Items {
		if it[0] == nil || it[1] == nil || !length(*it[0]) || !length(*it[1]) {
			return fmt.Errorf("item %d lacks a measure", i)
		}
		if it[2] == nil && in.Problem != knapsack {
			return fmt.Errorf("item %d has no demand", i)
		}
	}
	return nil
}

func length(n int64) bool { return n > 0 && units.Length(n) <= units.MaxLength }

// best returns the best published value of the instance in the variant asked
// for, or nil.
func (in instance) best(turn bool, stages int) *float64 {
	suffix := "_O"
	if turn {
		suffix = "_R"
	}
	if stages > 0 {
		return in.Staged[fmt.Sprintf("G%d%s", stages, suffix)]
	}
	k := in.Known["G"+suffix]
	if in.Problem == knapsack {
		return k.LB
	}
	return k.UB
}
