package plan

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestNear(t *testing.T) {
	known := []string{"navy dot", "sail white", "buoy red", "trim", "x"}
	for word, want := range map[string]string{
		"Navy-Dot":  "navy dot",
		"navy_dot":  "navy dot",
		"nayv dot":  "navy dot",
		"sailwhit":  "sail white",
		"bouy red":  "buoy red",
		"tirm":      "trim",
		"y":         "",
		"sand":      "",
		"navy dot2": "",
		"":          "",
	} {
		got, ok := near(word, known)
		assert.Equal(t, want, got, word)
		assert.Equal(t, want != "", ok, word)
	}
}

func TestMeant(t *testing.T) {
	assert.Equal(t, `did you mean "navy dot"?`, meant("navy", "write one of", []string{"sail white", "navy dot"}))
	assert.Equal(t, `write one of a b, "a, b", "ü "`, meant("?", "write one of", []string{"a b", "a, b", "ü "}))
	assert.Equal(t, "write sea", meant("?", "write one of", []string{"sea"}))
	assert.Empty(t, meant("?", "write one of", nil))
	assert.Empty(t, meant("?", "write one of", make([]string, 17)))
}

func TestSlips(t *testing.T) {
	for _, c := range []struct {
		a, b string
		want int
	}{
		{"", "", 0}, {"a", "", 1}, {"", "ab", 2}, {"abc", "abc", 0}, {"abc", "abd", 1},
		{"abc", "acb", 1}, {"abcd", "acbd", 1}, {"kitten", "sitting", 3},
	} {
		assert.Equal(t, c.want, slips([]rune(c.a), []rune(c.b)), c.a+" "+c.b)
		assert.Equal(t, c.want, slips([]rune(c.b), []rune(c.a)), c.b+" "+c.a)
	}
}
