package plan

import (
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"

	"go.yaml.in/yaml/v4"

	"pinfold/units"
)

// scalar reads n as one text; null counts as missing.
func (r *reader) scalar(n *yaml.Node, what string) (cell, bool) {
	switch {
	case n.Kind != yaml.ScalarNode:
		r.fault(r.pos(n), "write one value", "%s cannot be %s", what, kindOf(n))
		return cell{}, false
	case isNull(n):
		r.fault(r.pos(n), "write one, or leave the key out", "%s has no value", what)
		return cell{}, false
	}
	return cell{n.Value, r.pos(n)}, true
}

// The values below take a node that may be nil, for a key that is not there:
// then nothing is read and the result is not ok.

func (r *reader) name(n *yaml.Node, what string) (string, bool) {
	if n == nil {
		return "", false
	}
	c, ok := r.scalar(n, what)
	if !ok {
		return "", false
	}
	return r.named(c, what)
}

// named returns a text as a name, if it can be one: any script and sign, but not
// empty, endless or with characters that cannot be printed.
func (r *reader) named(c cell, what string) (string, bool) {
	c.text = Name(c.text)
	switch {
	case c.text == "":
		r.fault(c.at, "write a name", "%s has an empty name", what)
	case utf8.RuneCountInString(c.text) > maxName:
		r.fault(c.at, fmt.Sprintf("write at most %d characters", maxName), "%s has a name of %d characters", what, utf8.RuneCountInString(c.text))
	case strings.ContainsFunc(c.text, func(c rune) bool { return unicode.IsControl(c) && c != '\n' && c != '\t' }):
		r.fault(c.at, "leave it out", "%s %q holds a control character", what, c.text)
	default:
		return c.text, true
	}
	return "", false
}

func (r *reader) count(n *yaml.Node, what string, least, most int) (int, bool) {
	if n == nil {
		return 0, false
	}
	c, ok := r.scalar(n, what)
	if !ok {
		return 0, false
	}
	v, err := whole(c.text, least, most)
	if err != nil {
		r.wrong(c.at, what, err)
	}
	return v, err == nil
}

func (r *reader) length(n *yaml.Node, what string, way units.Rounding) (units.Length, bool) {
	if n == nil {
		return 0, false
	}
	c, ok := r.scalar(n, what)
	if !ok {
		return 0, false
	}
	l, err := units.ParseRounded(c.text, r.plan.Unit, way)
	if err != nil {
		r.wrong(c.at, what, err)
	}
	return l, err == nil
}

// positive is length for what cannot be 0 nor above most.
func (r *reader) positive(n *yaml.Node, what string, way units.Rounding, most units.Length) (units.Length, bool) {
	l, ok := r.length(n, what, way)
	switch {
	case !ok:
		return 0, false
	case l == 0:
		r.fault(r.pos(n), "write a length above 0", "%s is 0", what)
		return 0, false
	case l > most:
		r.fault(r.pos(n), "write at most "+most.RoundDown(r.plan.Unit.Length()).Format(r.plan.Unit), "%s of %s is too much", what, l.Format(r.plan.Unit))
		return 0, false
	}
	return l, true
}

func (r *reader) size(n *yaml.Node, what string, way units.Rounding) (units.Size, bool) {
	if n == nil {
		return units.Size{}, false
	}
	c, ok := r.scalar(n, what)
	if !ok {
		return units.Size{}, false
	}
	return r.sizeOf(c, what, way)
}

func (r *reader) sizeOf(c cell, what string, way units.Rounding) (units.Size, bool) {
	s, err := units.ParseSizeRounded(c.text, r.plan.Unit, way)
	switch {
	case err != nil:
		r.wrong(c.at, what, err)
		return units.Size{}, false
	case max(s.Along, s.Across) > maxCloth:
		r.fault(c.at, "write sides of at most "+maxCloth.RoundDown(r.plan.Unit.Length()).Format(r.plan.Unit), "%s %q is too large", what, c.text)
		return units.Size{}, false
	}
	return s, true
}

// price reads an amount of money; nil when it cannot be read.
func (r *reader) price(n *yaml.Node, what string) *int64 {
	c, ok := r.scalar(n, what)
	if !ok {
		return nil
	}
	v, err := price(c.text)
	if err != nil {
		r.wrong(c.at, what, err)
		return nil
	}
	return &v
}

func (r *reader) percent(n *yaml.Node, what string, most int) int {
	if n == nil {
		return 0
	}
	c, ok := r.scalar(n, what)
	if !ok {
		return 0
	}
	v, err := percent(c.text)
	switch {
	case err != nil:
		r.wrong(c.at, what, err)
	case v > most:
		r.fault(c.at, fmt.Sprintf("write at most %d%%", most/100), "%s of %s is too much", what, strings.TrimSpace(c.text))
	}
	return v
}

// word reads one of a few known words.
func (r *reader) word(n *yaml.Node, what string, known ...string) (int, bool) {
	if n == nil {
		return 0, false
	}
	c, ok := r.scalar(n, what)
	if !ok {
		return 0, false
	}
	for i, k := range known {
		if c.text == k {
			return i, true
		}
	}
	r.fault(c.at, r.meant(c.text, "write one of", known), "unknown %s %q", what, c.text)
	return 0, false
}
