package plan

import (
	"fmt"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"go.yaml.in/yaml/v4"

	"pinfold/units"
)

// reader turns one plan file into a Plan and collects every fault on the way.
// Values that cannot be read are left zero; what depends on them is skipped, so
// that one mistake is told once.
type reader struct {
	file   string
	plan   *Plan
	faults Errors
	more   int // faults beyond maxFaults

	// Names with faults of their own: nothing is concluded from what they hold.
	broken map[string]bool
	// torn is set once the stash or the cutting rules could not be read whole.
	torn bool
	// rows is set where a position is a row and a column of cells.
	rows bool
}

// cell is a text with the place where it was written, from YAML or CSV.
type cell struct {
	text string
	at   Pos
}

func (r *reader) fault(at Pos, hint, format string, args ...any) {
	if r.full() {
		r.more++
		return
	}
	r.faults = append(r.faults, Fault{at, fmt.Sprintf(format, args...), hint})
}

func (r *reader) full() bool { return len(r.faults) >= maxFaults }

// meant is the hint for an unknown word, as long as hints are wanted.
func (r *reader) meant(word, what string, known []string) string {
	if r.full() {
		return ""
	}
	return meant(word, what, known)
}

// wrong reports an error whose text may end in ": write ..." as a fault.
func (r *reader) wrong(at Pos, what string, err error) {
	msg, hint, ok := strings.Cut(err.Error(), ": write ")
	switch {
	case ok:
		hint = "write " + hint
	case strings.HasSuffix(msg, "is negative"):
		hint = "write it without the minus"
	}
	r.fault(at, hint, "%s: %s", what, msg)
}

func (r *reader) pos(n *yaml.Node) Pos { return Pos{r.file, n.Line, n.Column} }

func isNull(n *yaml.Node) bool { return n.Kind == yaml.ScalarNode && n.ShortTag() == "!!null" }

// mapping is a YAML mapping whose keys are known words.
type mapping struct {
	r    *reader
	what string // "a piece", for messages
	at   Pos
	node map[string]*yaml.Node
	// meant holds keys that a misspelt one was most likely meant to be.
	meant map[string]bool
}

// mapping reads n as a mapping with no other keys than known, each at most
// once. at is where missing keys are reported.
func (r *reader) mapping(n *yaml.Node, at Pos, what string, known ...string) (mapping, bool) {
	m := mapping{r, what, at, map[string]*yaml.Node{}, map[string]bool{}}
	if isNull(n) {
		return m, true
	}
	if n.Kind != yaml.MappingNode {
		r.fault(r.pos(n), "write keys with values, like "+strings.Join(known, ": ..., ")+": ...", "%s cannot be %s", what, kindOf(n))
		return m, false
	}
	for i := 0; i+1 < len(n.Content); i += 2 {
		key, value := n.Content[i], n.Content[i+1]
		k, ok := r.key(key, what)
		if !ok {
			continue
		}
		switch {
		case !slices.Contains(known, k.text):
			hint := r.meant(k.text, "write one of", known)
			if k.text != "" && digits(k.text[:1]) && isNull(value) {
				hint = `a decimal comma inside { } or [ ] needs quotes or a point: write "2,5" or 2.5`
			}
			if !r.full() {
				key, _ := near(k.text, known)
				m.meant[key] = true
			}
			r.fault(k.at, hint, "unknown key %s in %s", quoted(k.text), what)
		case m.node[k.text] != nil:
			r.fault(k.at, "leave one of them out", "key %q stands twice in %s", k.text, what)
		default:
			m.node[k.text] = value
		}
	}
	return m, true
}

// get returns the value of key, or nil when it is missing or empty.
func (m mapping) get(key string) *yaml.Node {
	if n := m.node[key]; n != nil && !isNull(n) {
		return n
	}
	return nil
}

// require is get for a key that must be there; example says what to write.
func (m mapping) require(key, example string) *yaml.Node {
	n := m.get(key)
	if n == nil && !m.meant[key] {
		at := m.at
		if empty := m.node[key]; empty != nil {
			at = m.r.pos(empty)
		}
		m.r.fault(at, "write "+key+": "+example, "%s has no %s", m.what, key)
	}
	return n
}

// entry is one name with its value, in a mapping whose keys are names.
type entry struct {
	name  string
	at    Pos
	value *yaml.Node
}

// entries reads n as a mapping from names of the user's own, each once.
func (r *reader) entries(n *yaml.Node, what, each string, most int) []entry {
	if n.Kind != yaml.MappingNode {
		r.fault(r.pos(n), "write each name with a colon, and what belongs to it indented below", "%s cannot be %s", what, kindOf(n))
		return nil
	}
	if len(n.Content)/2 > most {
		r.fault(r.pos(n), fmt.Sprintf("split the plan: the most is %d", most), "%s are %d, too many", what, len(n.Content)/2)
		return nil
	}
	var out []entry
	seen := map[string]Pos{}
	for i := 0; i+1 < len(n.Content); i += 2 {
		k, ok := r.key(n.Content[i], what)
		if !ok {
			continue
		}
		if k.text, ok = r.named(k, each); !ok {
			continue
		}
		if first, twice := seen[k.text]; twice {
			r.fault(k.at, "keep one of them, or give each its own name", "%s %q stands twice, first on line %d", each, k.text, first.Line)
			continue
		}
		seen[k.text] = k.at
		out = append(out, entry{k.text, k.at, n.Content[i+1]})
	}
	return out
}

func (r *reader) key(n *yaml.Node, what string) (cell, bool) {
	switch {
	case n.Kind != yaml.ScalarNode:
		r.fault(r.pos(n), "write a plain word", "a key in %s cannot be %s", what, kindOf(n))
		return cell{}, false
	case n.ShortTag() == "!!merge":
		r.fault(r.pos(n), "write the keys out", "%s uses <<, which plans do not know", what)
		return cell{}, false
	}
	return cell{n.Value, r.pos(n)}, true
}

// items reads n as a list of at most most items.
func (r *reader) items(n *yaml.Node, what, example string, most int) []*yaml.Node {
	switch {
	case n.Kind != yaml.SequenceNode:
		r.fault(r.pos(n), "write a list, like "+example, "%s cannot be %s", what, kindOf(n))
		return nil
	case len(n.Content) > most:
		r.fault(r.pos(n), fmt.Sprintf("the most is %d", most), "%s has %d entries, too many", what, len(n.Content))
		return nil
	}
	return n.Content
}

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

// kindOf names what a node is, for "... cannot be ...".
func kindOf(n *yaml.Node) string {
	switch n.Kind {
	case yaml.MappingNode:
		return "keys with values"
	case yaml.SequenceNode:
		return "a list"
	case yaml.AliasNode:
		return "an alias"
	}
	if isNull(n) {
		return "empty"
	}
	return fmt.Sprintf("the text %.40q", n.Value)
}
