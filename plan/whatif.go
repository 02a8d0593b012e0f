package plan

import (
	"fmt"
	"slices"
	"strings"

	"pinfold/units"
)

// WhatIf is what may turn out other than a plan has it. Each entry is a value,
// which holds for every fabric, or "fabric=value".
type WhatIf struct {
	Usable     []string // the width between the selvages, like "41 in"
	Shrinks    []string // both ways, like "4%"
	FatQuarter []string // the real size, like "17 1/2 x 20"
}

// With returns the plan with the assumptions put in, and each change in words.
// Only fabrics that are sold in a way the assumption speaks of are changed. The
// error tells which value cannot be read or changes nothing.
func (p *Plan) With(w WhatIf) (*Plan, []string, error) {
	c := changer{p: *p}
	c.p.Fabrics = slices.Clone(p.Fabrics)
	for i := range c.p.Fabrics {
		c.p.Fabrics[i].Buy = slices.Clone(p.Fabrics[i].Buy)
	}
	for _, step := range []struct {
		texts []string
		one   func(f *Fabric, value string) error
		none  string
	}{
		{w.Usable, c.usable, "is not bought"},
		{w.Shrinks, c.shrinks, "is not bought"},
		{w.FatQuarter, c.fatQuarter, "is not sold in fat quarters"},
	} {
		for _, t := range step.texts {
			if err := c.each(t, step.one, step.none); err != nil {
				return nil, nil, err
			}
		}
	}
	return &c.p, c.told, nil
}

type changer struct {
	p    Plan
	told []string
}

// each puts one assumption into the fabrics it names.
func (c *changer) each(text string, one func(*Fabric, string) error, none string) error {
	name, value := "", text
	if i := strings.LastIndexByte(text, '='); i >= 0 {
		name, value = Name(text[:i]), text[i+1:]
		if c.p.Fabric(name) == nil {
			return c.unknown(name)
		}
	}
	before := len(c.told)
	for i := range c.p.Fabrics {
		f := &c.p.Fabrics[i]
		if name != "" && f.Name != name || len(f.Buy) == 0 {
			continue
		}
		if err := one(f, strings.TrimSpace(value)); err != nil {
			return err
		}
	}
	switch {
	case len(c.told) > before:
		return nil
	case name != "":
		return fmt.Errorf("fabric %q %s", name, none)
	}
	return fmt.Errorf("no fabric of the plan %s", strings.Replace(none, "is not ", "is ", 1))
}

func (c *changer) unknown(name string) error {
	names := make([]string, len(c.p.Fabrics))
	for i, f := range c.p.Fabrics {
		names[i] = f.Name
	}
	if near, ok := Near(name, names); ok {
		return fmt.Errorf("there is no fabric %q: did you mean %q?", name, near)
	}
	return fmt.Errorf("there is no fabric %q: write one of %s", name, strings.Join(names, ", "))
}

func (c *changer) tell(format string, args ...any) {
	c.told = append(c.told, fmt.Sprintf(format, args...))
}

func (c *changer) usable(f *Fabric, value string) error {
	u := c.p.Unit
	l, err := units.ParseRounded(value, u, units.Down)
	switch {
	case err != nil:
		return fmt.Errorf("usable width: %w", err)
	case l <= 2*c.p.Cutting.Squaring || l > maxCloth || f.Bolt > 0 && l > f.Bolt:
		return fmt.Errorf("%q cannot be the usable width of %q: write the width between the selvages", value, f.Name)
	}
	c.tell("%s: %s usable instead of %s", f.Name, l.Format(u), f.Usable.Format(u))
	for i := range f.Buy {
		o := &f.Buy[i]
		// Half a width is half of the real width, unless the plan gives the size.
		if (o.Name == fatQuarter || o.Name == fatEighth) && o.Size == halfWidth(o.Name, f.Usable, u) {
			o.Size = halfWidth(o.Name, l, u)
		}
	}
	assumed := fmt.Sprintf("fabric %q: usable width not given", f.Name)
	c.p.Notes = slices.DeleteFunc(slices.Clone(c.p.Notes), func(n string) bool { return strings.HasPrefix(n, assumed) })
	f.Usable = l
	return nil
}

func (c *changer) shrinks(f *Fabric, value string) error {
	v, err := percent(value)
	switch {
	case err != nil:
		return fmt.Errorf("shrinking: %w", err)
	case v > maxShrink:
		return fmt.Errorf("%q is more than cloth shrinks: write at most %d%%", value, maxShrink/100)
	}
	was := inPercent(f.ShrinksLength) + " x " + inPercent(f.ShrinksWidth)
	if f.ShrinksLength == f.ShrinksWidth {
		was = inPercent(f.ShrinksLength)
	}
	c.tell("%s: shrinks %s instead of %s", f.Name, inPercent(v), was)
	f.ShrinksLength, f.ShrinksWidth = v, v
	return nil
}

// inPercent prints hundredths of a percent.
func inPercent(v int) string {
	s := strings.TrimRight(fmt.Sprintf("%d.%02d", v/100, v%100), "0")
	return strings.TrimSuffix(s, ".") + "%"
}

func (c *changer) fatQuarter(f *Fabric, value string) error {
	size, err := units.ParseSizeRounded(value, c.p.Unit, units.Down)
	switch {
	case err != nil:
		return fmt.Errorf("fat quarter: %w", err)
	case max(size.Along, size.Across) > maxCloth:
		return fmt.Errorf("%q is too large for a fat quarter", value)
	}
	for i := range f.Buy {
		if o := &f.Buy[i]; o.Name == fatQuarter && o.Kind == SoldCut {
			c.tell("%s: fat quarters of %s instead of %s", f.Name, size.Format(c.p.Unit), o.Size.Format(c.p.Unit))
			o.Size = size
		}
	}
	return nil
}

// ParsePrice reads an amount of money like "40" or "3.25" as the smallest coin. What is
// no such number, negative or above a million is refused with what to write instead.
func ParsePrice(s string) (int64, error) { return price(s) }
