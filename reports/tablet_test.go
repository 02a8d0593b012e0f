package reports

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"pinfold/pack"
	"pinfold/plan"
)

func page(t *testing.T, r *plan.Result) string {
	t.Helper()
	var b bytes.Buffer
	require.NoError(t, New(r).WriteHTML(&b))
	return b.String()
}

func TestTabletPage(t *testing.T) {
	r := fair(t)
	rep := New(r)
	html := page(t, r)
	assert.Equal(t, html, page(t, r), "the same bytes every time")
	require.NotEmpty(t, rep.Steps)
	assert.Equal(t, len(rep.Steps), strings.Count(html, `<li class="step"`))
	for _, st := range rep.Steps {
		assert.Contains(t, html, fmt.Sprintf(`id="step-%d"`, st.Number))
	}
	pictures := regexp.MustCompile(`(?s)<figure.*?</figure>`).FindAllString(html, -1)
	assert.Len(t, pictures, len(rep.Sheets))
	lit := regexp.MustCompile(`class="cut" data-step="(\d+)" d="([^"]*)"`)
	line := regexp.MustCompile(`M([\d.]+) ([\d.]+)([HV])([\d.]+)`)
	for i, picture := range pictures {
		number, err := strconv.Atoi(regexp.MustCompile(`data-sheet="(\d+)"`).FindStringSubmatch(picture)[1])
		require.NoError(t, err)
		s := &rep.Sheets[number-1]
		at := s.tile(screenW, max(screenH, s.RawH*screenW/screenFull)).scale
		want, got := map[string]float64{}, map[string]float64{}
		for _, l := range s.Lines {
			want[fmt.Sprint(l.Step)] += pt(at.paper(l.X2 - l.X1 + l.Y2 - l.Y1))
		}
		for _, m := range lit.FindAllStringSubmatch(picture, -1) {
			for _, l := range line.FindAllStringSubmatch(m[2], -1) {
				start := l[1]
				if l[3] == "V" {
					start = l[2]
				}
				got[m[1]] += math.Abs(number64(t, l[4]) - number64(t, start))
			}
		}
		assert.InDeltaMapValues(t, want, got, 2, "every cut of picture %d can be lit, to its whole length", i+1)
	}
	for _, c := range rep.Cautions {
		assert.Contains(t, html, c.Topic)
	}
	before, _, _ := strings.Cut(html, `id="bench-1"`)
	assert.Contains(t, before, "Close the guard after every cut", "the knife is warned of before it is used")
	for _, want := range []string{"3 fat quarters of night water", "⅜ yd of sailcloth", "sailcloth: S3", "blue box", "straight pins", "$14.06", `lang="en"`} {
		assert.Contains(t, html, want)
	}
}

// What the script reads is JSON, names the result by its hash, and knows which
// sheets each step touches.
func TestTabletData(t *testing.T) {
	r := fair(t)
	rep := New(r)
	block := regexp.MustCompile(`(?s)<script type="application/json" id="plan">(.*?)</script>`).FindStringSubmatch(page(t, r))
	require.Len(t, block, 2)
	var data struct {
		Key    string
		Sheets [][]int
	}
	require.NoError(t, json.Unmarshal([]byte(block[1]), &data))
	var result bytes.Buffer
	require.NoError(t, rep.WriteJSON(&result))
	var last struct{ Hash string }
	require.NoError(t, json.Unmarshal(result.Bytes(), &last))
	require.Len(t, last.Hash, 64)
	assert.Equal(t, "pinfold "+last.Hash, data.Key)
	require.Len(t, data.Sheets, len(rep.Steps))
	for i, st := range rep.Steps {
		for _, f := range st.From {
			assert.Contains(t, data.Sheets[i], f.Sheet, "step %d", st.Number)
		}
	}
}

// The cloth that is lit at a step is the cloth the step says it takes.
func TestTabletLightsWhatTheStepTakes(t *testing.T) {
	rep := New(fair(t))
	parts := 0
	for i := range rep.Sheets {
		s := &rep.Sheets[i]
		for _, p := range rep.taken(s) {
			parts++
			st := rep.Steps[p.Step-1]
			assert.Equal(t, st.Size.Across, p.W, "step %d", p.Step)
			assert.Equal(t, st.Size.Along, p.H, "step %d", p.Step)
			assert.True(t, p.X >= 0 && p.Y >= 0 && p.X+p.W <= s.W && p.Y+p.H <= s.H, "step %d within sheet %d", p.Step, s.Number)
			for _, l := range s.Lines {
				if l.Step == p.Step && st.Axis == pack.X && l.Y1 == p.Y {
					assert.Equal(t, p.H, l.Y2-l.Y1, "step %d", p.Step)
				}
			}
		}
	}
	assert.Greater(t, parts, 5)
}

func TestTabletEscapesNames(t *testing.T) {
	r := fair(t)
	const evil = `</script><img src=x onerror="alert(1)">'"&`
	r.Plan.Title = evil
	r.Plan.Stash[0].Where = evil
	for i, name := range []string{"night water", "sailcloth"} {
		bad := fmt.Sprintf("%s %d", evil, i)
		for f := range r.Fabrics {
			if r.Fabrics[f].Need.Fabric == name {
				r.Fabrics[f].Need.Fabric = bad
			}
		}
		r.Plan.Fabrics[i].Name = bad
		r.Shopping[i].Fabric = bad
	}
	html := page(t, r)
	assert.NotContains(t, html, "<img")
	assert.NotContains(t, html, "</script><")
	assert.Equal(t, 2, strings.Count(html, "</script>"))
	assert.Contains(t, html, "&lt;/script&gt;&lt;img src=x")
}

// A page that asks nobody for anything: no address in it but the name of a
// namespace or a place in the page itself.
func TestTabletAsksForNothingOutside(t *testing.T) {
	html := page(t, fair(t))
	for _, m := range regexp.MustCompile(`(?:src|href|action|data)="([^"]*)"|url\(([^)]*)\)|@import`).FindAllStringSubmatch(html, -1) {
		assert.True(t, strings.HasPrefix(m[1], "#") || m[1] == "data:,", "%q", m[0])
	}
	assert.NotContains(t, html, "http://")
	assert.NotContains(t, html, "https://")
	assert.Contains(t, html, "default-src 'none'")
}

func TestTabletOfNothingToCut(t *testing.T) {
	r := fair(t)
	r.Fabrics, r.Shopping, r.Gathered = nil, nil, &plan.Gathered{}
	r.Arrange()
	html := page(t, r)
	assert.NotContains(t, html, `id="bar"`)
	assert.Contains(t, html, "Nothing to cut.")
}

// Contrast as "Web Content Accessibility Guidelines (WCAG) 2.2" (W3C, 2023,
// w3.org/TR/WCAG22) defines it: relative luminance, and the ratio of two.
func luminance(t *testing.T, hex string) float64 {
	t.Helper()
	n, err := strconv.ParseUint(strings.TrimPrefix(hex, "#"), 16, 32)
	require.NoError(t, err)
	part := func(shift uint) float64 {
		c := float64(n>>shift&255) / 255
		if c <= 0.04045 {
			return c / 12.92
		}
		return math.Pow((c+0.055)/1.055, 2.4)
	}
	return 0.2126*part(16) + 0.7152*part(8) + 0.0722*part(0)
}

func contrast(t *testing.T, a, b string) float64 {
	l, m := luminance(t, a), luminance(t, b)
	return (max(l, m) + 0.05) / (min(l, m) + 0.05)
}

func TestContrastIsThatOfTheGuidelines(t *testing.T) {
	assert.InDelta(t, 21, contrast(t, "#000000", "#ffffff"), 1e-9)
	assert.InDelta(t, 1, contrast(t, "#14566a", "#14566a"), 1e-9)
	// From memory: #767676 is the lightest grey that passes 4.5 on white.
	assert.Greater(t, contrast(t, "#767676", "#ffffff"), 4.5)
	assert.Less(t, contrast(t, "#777777", "#ffffff"), 4.5)
}

// Words need 4.5 (success criterion 1.4.3), the outlines of controls and the marks
// in a diagram 3 (1.4.11), by day, by night and on paper.
func TestTabletContrast(t *testing.T) {
	colours := regexp.MustCompile(`--([a-z-]+): (#[0-9a-f]{3,6});`)
	schemes := regexp.MustCompile(`(?s):root \{(.*?)\}`).FindAllStringSubmatch(tabletStyle, -1)
	require.Len(t, schemes, 3, "light, dark and print")
	set := map[string]string{}
	for _, s := range schemes {
		for _, m := range colours.FindAllStringSubmatch(s[1], -1) {
			set[m[1]] = m[2]
			if len(m[2]) == 4 {
				set[m[1]] = "#" + strings.Repeat(m[2][1:2], 2) + strings.Repeat(m[2][2:3], 2) + strings.Repeat(m[2][3:4], 2)
			}
		}
		for _, words := range []string{"ink", "soft", "harbour"} {
			for _, ground := range []string{"page", "card", "mist", "lamp-card", "done-card"} {
				assert.GreaterOrEqual(t, contrast(t, set[words], set[ground]), 4.5, "%s on %s", words, ground)
			}
		}
		if s[0] != schemes[2][0] {
			assert.GreaterOrEqual(t, contrast(t, set["on-harbour"], set["harbour"]), 4.5)
		}
		for _, pair := range [][2]string{{"control", "card"}, {"control", "mist"}, {"control", "lamp-card"}, {"lamp", "card"}, {"lamp", "lamp-card"}, {"harbour", "card"}} {
			assert.GreaterOrEqual(t, contrast(t, set[pair[0]], set[pair[1]]), 3.0, pair)
		}
	}
	// The diagrams lie on white paper always.
	const lamp, ticked, lit = "#a3440b", "#14566a", "#ffe3ba" // lit: #ffc876 by half on white
	for _, mark := range []string{lamp, ticked} {
		assert.Contains(t, tabletStyle, "stroke: "+mark)
		for _, ground := range []string{"#ffffff", fmt.Sprintf("#%06x", uint32(cream)), fmt.Sprintf("#%06x", uint32(keep)), lit} {
			assert.GreaterOrEqual(t, contrast(t, mark, ground), 3.0, "%s on %s", mark, ground)
		}
	}
	for _, words := range []Colour{ink, soft, harbor} {
		assert.GreaterOrEqual(t, contrast(t, fmt.Sprintf("#%06x", uint32(words)), lit), 4.5)
	}
}

func number64(t *testing.T, s string) float64 {
	t.Helper()
	f, err := strconv.ParseFloat(s, 64)
	require.NoError(t, err)
	return f
}
