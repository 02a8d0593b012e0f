package plan

import (
	"fmt"
	"slices"
	"strings"

	"go.yaml.in/yaml/v4"
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
	// noFabrics and noOrnaments are set where none could be read, so that names of
	// them are held against nothing.
	noFabrics, noOrnaments bool
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
			if key, rest, tight := strings.Cut(k.text, ":"); tight && isNull(value) && slices.Contains(known, key) {
				hint = fmt.Sprintf("a colon needs a blank after it: write %.60q", key+": "+rest)
				m.meant[key] = true
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
