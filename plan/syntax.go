package plan

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"regexp"
	"strings"
	"unicode/utf8"

	"go.yaml.in/yaml/v4"
)

// document parses a plan file into YAML's tree of nodes. It reports a file that
// is no text, holds no or several documents, or is not well formed, and then
// returns nil.
func (r *reader) document(data []byte) *yaml.Node {
	if !r.text(data) {
		return nil
	}
	var doc, more yaml.Node
	loader, err := yaml.NewLoader(bytes.NewReader(data))
	if err == nil {
		err = loader.Load(&doc)
	}
	switch {
	case errors.Is(err, io.EOF) || err == nil && (len(doc.Content) == 0 || isNull(doc.Content[0])):
		r.fault(Pos{r.file, 1, 1}, "write a plan with the keys ornaments, make and fabrics", "the file is empty")
		return nil
	case err != nil:
		r.malformed(data, err)
		return nil
	}
	if err := loader.Load(&more); err == nil {
		r.fault(r.pos(&more), "write one plan a file, without ---", "a second document starts here")
		return nil
	} else if !errors.Is(err, io.EOF) {
		r.malformed(data, err)
		return nil
	}
	root := doc.Content[0]
	if !r.plainNodes(root, map[string]bool{}) {
		return nil
	}
	return root
}

// text tells whether data is text that YAML can hold, and where it is not.
func (r *reader) text(data []byte) bool {
	if bytes.HasPrefix(data, []byte("\xff\xfe")) || bytes.HasPrefix(data, []byte("\xfe\xff")) {
		r.fault(Pos{r.file, 1, 1}, "save it as UTF-8", "the file is UTF-16 text")
		return false
	}
	line, col := 1, 1
	for i := 0; i < len(data); {
		c, size := utf8.DecodeRune(data[i:])
		switch {
		case c == utf8.RuneError && size == 1:
			r.fault(Pos{r.file, line, col}, "save it as UTF-8 text", "byte %#x is no text", data[i])
			return false
		case c < ' ' && c != '\t' && c != '\n' && c != '\r', c == 0x7f, c >= 0x80 && c < 0xa0 && c != 0x85, c == 0xfffe, c == 0xffff:
			r.fault(Pos{r.file, line, col}, "write it as plain text", "character %U is no text", c)
			return false
		}
		if c == '\n' || c == '\r' && !bytes.HasPrefix(data[i+1:], []byte("\n")) {
			line, col = line+1, 1
		} else if i > 0 || c != '\ufeff' {
			col++
		}
		i += size
	}
	return true
}

// plainNodes refuses anchors and aliases: a few lines of them can stand for
// billions of values, and a plan needs none. Each alias is told once. It refuses tags
// as well, which say that a value is not what it looks like.
func (r *reader) plainNodes(n *yaml.Node, told map[string]bool) bool {
	ok := true
	if n.Kind == yaml.AliasNode {
		if told[n.Value] {
			return false
		}
		told[n.Value] = true
		r.fault(r.pos(n), "write the value out, or put quotes around a text that starts with *", "*%s stands for another value, which plans do not know", n.Value)
		return false
	}
	if n.Anchor != "" {
		r.fault(r.pos(n), "leave it out, or put quotes around a text that starts with &", "&%s names a value, which plans do not know", n.Anchor)
		ok = false
	}
	if n.Style&yaml.TaggedStyle != 0 {
		r.fault(r.pos(n), "leave it out, or put quotes around a text that starts with !", "%s is a tag, which plans do not know", quoted(n.Tag))
		ok = false
	}
	for _, c := range n.Content {
		ok = r.plainNodes(c, told) && ok
	}
	return ok
}

// malformed reports what keeps data from being YAML in the words of a plan.
func (r *reader) malformed(data []byte, err error) {
	var one *yaml.LoadError
	var all *yaml.LoadErrors
	if errors.As(err, &all) && len(all.Errors) > 0 {
		one = all.Errors[0]
	} else if !errors.As(err, &one) {
		r.fault(Pos{r.file, 1, 1}, "", "cannot be read: %v", err)
		return
	}
	lines := strings.Split(lineEnds.Replace(strings.TrimPrefix(string(data), "\ufeff")), "\n")
	at := r.mark(one.Mark, lines)
	opened := at
	if one.ContextMark.Line > 0 {
		opened = r.mark(one.ContextMark, lines)
	}
	sign := signAt(lines, at)
	switch {
	case sign == '\t' || strings.Contains(one.Message, "tab character"):
		r.tabs(lines)
	case (strings.Contains(one.Message, "mapping values are not allowed") || strings.Contains(one.Message, "expected ':'")) && r.tightColon(lines, at):
	case strings.Contains(one.Message, "mapping values are not allowed"):
		r.fault(at, "put quotes around a text with a colon in it, or check the indentation", "a colon does not fit here")
	case strings.Contains(one.ContextMsg, "quoted scalar"):
		r.fault(opened, `end it with the same quote, and inside quotes write 18 in, not 18"`, "this quoted text has no end or goes on after its end")
	case strings.Contains(one.Message, "',' or"):
		r.fault(opened, "close it, and part its entries with commas", "this %q has no end", signAt(lines, opened))
	case strings.Contains(one.Message, "unknown anchor"):
		r.fault(at, "put quotes around a text that starts with *", "%q starts an alias, which plans do not know", sign)
	case strings.Contains(one.Message, "incompatible YAML document"):
		r.fault(at, "leave out the line that starts with %YAML", "a plan has no need of a version of YAML")
	case strings.Contains(one.Message, "cannot start any token"):
		r.fault(at, "put quotes around the text", "a text cannot start with %q", sign)
	case strings.Contains(one.Message, "expected '-' indicator"), strings.Contains(one.Message, "expected key"):
		r.fault(at, "check the indentation, and that every line is a key with a colon or starts with -", "this line does not go on with what stands above")
	default:
		r.fault(at, "check quotes, brackets and indentation near it", "this is not YAML: %s", one.Message)
	}
}

// lineEnds makes every line end that YAML knows one.
var lineEnds = strings.NewReplacer("\r\n", "\n", "\r", "\n", "\u0085", "\n", "\u2028", "\n", "\u2029", "\n")

// mark returns YAML's position as one within the file: YAML puts the end of a
// file on a line of its own.
func (r *reader) mark(m yaml.Mark, lines []string) Pos {
	if m.Line > len(lines) {
		return Pos{r.file, len(lines), utf8.RuneCountInString(lines[len(lines)-1]) + 1}
	}
	return Pos{r.file, max(m.Line, 1), max(m.Column, 1)}
}

// tabs reports every line that is indented with tabs.
func (r *reader) tabs(lines []string) {
	for i, l := range lines {
		indent := l[:len(l)-len(strings.TrimLeft(l, " \t"))]
		if at := strings.IndexByte(indent, '\t'); at >= 0 && strings.TrimSpace(l) != "" {
			r.fault(Pos{r.file, i + 1, at + 1}, "indent with spaces", "a tab indents this line")
		}
	}
	if len(r.faults) == 0 {
		r.fault(Pos{r.file, 1, 1}, "write spaces instead", "a tab stands where YAML allows none")
	}
}

// tightKey is a line whose key has no blank after its colon, which makes it a text.
var tightKey = regexp.MustCompile(`^\s*(?:- +)?([\pL][\pL\pN ]*):([^\s:/][^:]*)$`)

// tightColon reports a key without a blank after its colon on the line that cannot be
// read or the last one above it: YAML stumbles at the next colon.
func (r *reader) tightColon(lines []string, at Pos) bool {
	for i := min(at.Line, len(lines)) - 1; i >= 0; i-- {
		m := tightKey.FindStringSubmatchIndex(lines[i])
		switch {
		case m != nil:
			key, value := lines[i][m[2]:m[3]], lines[i][m[4]:m[5]]
			col := utf8.RuneCountInString(lines[i][:m[2]]) + 1
			r.fault(Pos{r.file, i + 1, col}, fmt.Sprintf("write %.60q", key+": "+value), "a colon needs a blank after it")
			return true
		case i < at.Line-1 && strings.TrimSpace(lines[i]) != "":
			return false
		}
	}
	return false
}

func signAt(lines []string, at Pos) rune {
	if at.Line > len(lines) {
		return 0
	}
	line := []rune(lines[at.Line-1])
	if at.Col > len(line) {
		return 0
	}
	return line[at.Col-1]
}

// quoted shortens a text for a message.
func quoted(s string) string { return fmt.Sprintf("%.60q", s) }
