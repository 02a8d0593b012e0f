package main

import (
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"testing"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// hostile is a plan whose names try to be markup; its sheets are of two fabrics,
// of the bolt and of the stash, and their strips are cut in several steps.
const hostile = `title: '<script>alert("title")</script> & "quay"'
ornaments:
  '<b>gull</b>':
    ball: 3 in
    pieces:
      - {name: '<i>wing</i>', size: 2 x 3, count: 40, role: ground}
      - {name: "tail's", size: 2 1/2 x 2 1/2, count: 10, role: trim}
make:
  - {ornament: '<b>gull</b>', count: 2, colourway: {ground: '<img src=x onerror=alert(1)>', trim: "o'hare \"red\""}}
fabrics:
  '<img src=x onerror=alert(1)>': {bolt: {width: 44, usable: 42}, buy: [{yard: 8, step: 1/8 yd}]}
  "o'hare \"red\"": {bolt: {width: 44, usable: 42}, buy: [{fat quarter: 3}]}
stash: [{fabric: "o'hare \"red\"", size: 12 x 15, where: '</li><u>tin</u>/thethirdtinfromtheleftontheshelfabovethewindowofthesailloft'}]
`

func tabletPage(t *testing.T, plan string) string {
	t.Helper()
	dir := t.TempDir()
	s := invoke(t, "layout", write(t, dir, "plan.yaml", plan), "--effort", "quick", "--formats", "html", "--out", filepath.Join(dir, "out"))
	require.Equal(t, exitDone, s.code, s.errors)
	return filepath.Join(dir, "out", "cutting-plan.html")
}

// Widths of a phone, a tablet and a desk in the page's own pixels; 320 is what
// "Web Content Accessibility Guidelines (WCAG) 2.2" (W3C, 2023), 1.4.10, asks for.
var screens = [][2]int64{{320, 640}, {390, 844}, {820, 1180}, {1440, 900}}

func TestTabletInABrowser(t *testing.T) {
	if testing.Short() {
		t.Skip("a browser is slow")
	}
	path := tabletPage(t, hostile)
	chrome := browser(t)

	t.Run("names are text", func(t *testing.T) {
		b := open(t, chrome)
		b.goTo(path)
		const title = `<script>alert("title")</script> & "quay"`
		assert.Equal(t, title, see[string](b, `document.title`))
		assert.Equal(t, title, see[string](b, `document.querySelector("h1").textContent`))
		assert.Zero(t, see[int](b, `document.querySelectorAll("img, u, main b b, main i:not(.pairs i)").length`))
		text := see[string](b, `document.body.innerText`)
		for _, name := range []string{`<img src=x onerror=alert(1)>`, `o'hare "red"`, `</li><u>tin</u>`, `<b>gull</b>`, `<i>wing</i>`} {
			assert.Contains(t, text, name)
		}
		assert.Equal(t, 3, see[int](b, `document.scripts.length + document.querySelectorAll("style").length`), "the data, the script and the style are the page's own")
		b.quiet(path)
	})

	t.Run("ticking", func(t *testing.T) {
		b := open(t, chrome)
		b.goTo(path)
		steps := see[int](b, `document.querySelectorAll(".step").length`)
		require.Greater(t, steps, 5)
		assert.Equal(t, fmt.Sprintf("Step 1 of %d", steps), see[string](b, `document.getElementById("place").textContent`))
		for _, n := range []int{2, steps} {
			b.do(chromedp.Click(chromedp.CSS(fmt.Sprintf("#step-%d .take", n))))
			assert.True(t, see[bool](b, fmt.Sprintf(`document.querySelector("#step-%d input").checked`, n)))
			assert.Equal(t, fmt.Sprint(n), see[string](b, `document.querySelector("[aria-current=step]").dataset.step`))
			// All cuts of this step are lit, and no others.
			lit := fmt.Sprintf(`[...document.querySelectorAll("figure .cut")].filter(e => (e.dataset.step === "%d") !== (getComputedStyle(e).stroke === "rgb(163, 68, 11)")).length`, n)
			assert.Zero(t, see[int](b, lit))
			assert.Positive(t, see[int](b, fmt.Sprintf(`document.querySelectorAll("figure.shown .cut[data-step='%d']").length`, n)), "the diagram that is shown has them")
		}
		done := `[...document.querySelectorAll(".step input")].filter(e => e.checked).map(e => e.dataset.key).join()`
		want := fmt.Sprintf("s2,s%d", steps)
		assert.Equal(t, want, see[string](b, done))
		b.do(chromedp.Click(chromedp.CSS("#stash label")))
		b.do(chromedp.Reload())
		assert.Equal(t, want, see[string](b, done), "kept when the page is opened again")
		assert.True(t, see[bool](b, `document.querySelector("#stash input").checked`))
		assert.False(t, see[bool](b, `document.querySelector("#buy input").checked`))
		assert.Equal(t, fmt.Sprint(steps), see[string](b, `document.querySelector(".step.now").dataset.step`))
		assert.Equal(t, "rgb(20, 86, 106)", see[string](b, `getComputedStyle(document.querySelector("figure .cut[data-step='2']")).stroke`), "done, no longer lit")
		assert.InDelta(t, 2, see[float64](b, `document.getElementById("progress").value`), 0)

		// Another plan has its own ticks.
		other := open(t, chrome)
		other.goTo(tabletPage(t, hostile+"cutting: {squaring: 1/2}\n"))
		assert.Empty(t, see[string](other, done))

		b.do(chromedp.Click(chromedp.CSS(".restart summary")), chromedp.Click(chromedp.CSS("#restart")))
		assert.Empty(t, see[string](b, done))
		b.do(chromedp.Reload())
		assert.Empty(t, see[string](b, done))
		b.quiet(path)
	})

	t.Run("keys and buttons", func(t *testing.T) {
		b := open(t, chrome)
		b.do(chromedp.EmulateViewport(390, 844, chromedp.EmulateMobile, chromedp.EmulateTouch))
		b.goTo(path)
		now := func() string { return see[string](b, `document.querySelector(".step.now").dataset.step`) }
		ticked := func(n int) bool {
			return see[bool](b, fmt.Sprintf(`document.querySelector("#step-%d input").checked`, n))
		}
		b.do(chromedp.KeyEvent(kb.ArrowRight), chromedp.KeyEvent(kb.ArrowRight))
		assert.Equal(t, "3", now())
		assert.Equal(t, "s3", see[string](b, `document.activeElement.dataset.key`))
		assert.Equal(t, "3px solid", see[string](b, `(s => s.outlineWidth + " " + s.outlineStyle)(getComputedStyle(document.activeElement))`), "the focus shows")
		assert.True(t, see[bool](b, `(r => document.elementFromPoint(r.x + r.width / 2, r.y + r.height / 2) === document.activeElement)(document.activeElement.getBoundingClientRect())`), "and nothing lies on it")
		b.do(chromedp.KeyEvent(" "))
		assert.True(t, ticked(3))
		b.do(chromedp.KeyEvent(kb.ArrowLeft))
		assert.Equal(t, "2", now())
		b.do(chromedp.KeyEvent(kb.Enter))
		assert.True(t, ticked(2))
		assert.Equal(t, "4", now(), "the next that is not done")
		b.do(chromedp.Click(chromedp.CSS("#tick")))
		assert.True(t, ticked(4))
		assert.Equal(t, "5", now())
		b.do(chromedp.Click(chromedp.CSS("#previous")), chromedp.Click(chromedp.CSS("#previous")), chromedp.Click(chromedp.CSS("#next")))
		assert.Equal(t, "4", now())
		b.quiet(path)
	})

	t.Run("screens", func(t *testing.T) {
		b := open(t, chrome)
		for _, s := range screens {
			b.do(chromedp.EmulateViewport(s[0], s[1]))
			b.goTo(path)
			for range 3 {
				assert.LessOrEqual(t, see[int64](b, `document.documentElement.scrollWidth`), s[0], "no scrolling sideways")
				outside := see[string](b, `[...document.querySelectorAll("button, input, label, a:not(.skip)")].filter(e => e.checkVisibility()).filter(e => (r => r.left < 0 || r.right > innerWidth)(e.getBoundingClientRect())).map(e => e.outerHTML.slice(0, 80)).join()`)
				assert.Empty(t, outside, "and nothing to press beside the screen")
				// Criterion 2.5.8 asks for 24 pixels.
				small := see[string](b, `[...document.querySelectorAll("button, input, nav a, label, summary")].filter(e => e.checkVisibility()).filter(e => (r => r.width < 24 || r.height < 24)(e.getBoundingClientRect())).map(e => e.outerHTML.slice(0, 80)).join()`)
				assert.Empty(t, small, "large enough for a finger")
				b.do(chromedp.KeyEvent(kb.Enter))
			}
		}
		b.quiet(path)
	})

	t.Run("contrast", func(t *testing.T) {
		b := open(t, chrome)
		for _, scheme := range []string{"light", "dark"} {
			b.media("", "prefers-color-scheme", scheme)
			b.goTo(path)
			b.do(chromedp.KeyEvent(kb.Enter))
			assert.Greater(t, see[int](b, faint+`.seen`), 100, scheme)
			assert.Empty(t, see[[]string](b, faint+`.faint`), scheme)
		}
	})

	t.Run("print", func(t *testing.T) {
		b := open(t, chrome)
		b.goTo(path)
		b.media("print", "prefers-color-scheme", "light")
		assert.Zero(t, see[int](b, `[...document.querySelectorAll(".step, figure")].filter(e => !e.checkVisibility()).length`), "all steps and diagrams are there")
		assert.Zero(t, see[int](b, `[...document.querySelectorAll("nav, button")].filter(e => e.checkVisibility()).length`), "nothing to press")
		b.media("", "prefers-color-scheme", "light")
		pdf, err := chromedp.Run(b.ctx, chromedp.PrintToPDF())
		require.NoError(t, err)
		require.True(t, bytes.HasPrefix(pdf, []byte("%PDF-")))
		if _, err := exec.LookPath("pdftotext"); err == nil {
			file := filepath.Join(t.TempDir(), "page.pdf")
			require.NoError(t, os.WriteFile(file, pdf, 0o600))
			text, err := exec.Command("pdftotext", "-layout", file, "-").Output()
			require.NoError(t, err)
			for _, want := range []string{"Before you cut", "Close the guard", "To keep", `o'hare "red"`} {
				assert.Contains(t, string(text), want)
			}
		}
		b.quiet(path)
	})

	t.Run("no store", func(t *testing.T) {
		b := open(t, chrome)
		b.before(`Object.defineProperty(window, "localStorage", { get() { throw new DOMException("denied", "SecurityError"); } })`)
		b.goTo(path)
		b.do(chromedp.KeyEvent(kb.Enter))
		assert.True(t, see[bool](b, `document.querySelector("#step-1 input").checked`), "it ticks all the same")
		assert.True(t, see[bool](b, `document.getElementById("forgets").checkVisibility()`), "and says that it will forget")
		b.quiet(path)
	})

	t.Run("no script", func(t *testing.T) {
		b := open(t, chrome)
		call(b, emulation.SetScriptExecutionDisabled, emulation.SetScriptExecutionDisabledParams{Value: true})
		b.goTo(path)
		assert.Zero(t, see[int](b, `[...document.querySelectorAll(".step, figure")].filter(e => !e.checkVisibility()).length`), "the plan can be read")
		assert.False(t, see[bool](b, `document.getElementById("bar").checkVisibility()`))
	})
}

// faint looks at every text that shows: its colour against what is painted behind
// it, as WCAG 2.2 reckons. Words need 4.5; large ones (24 px, or 18.66 px and bold)
// and the crossed-out would do with less, but get no less here.
const faint = `(() => {
  const paint = document.createElement("canvas").getContext("2d", { willReadFrequently: true });
  const rgba = c => { paint.clearRect(0, 0, 1, 1); paint.fillStyle = c; paint.fillRect(0, 0, 1, 1); return [...paint.getImageData(0, 0, 1, 1).data]; };
  const light = c => [0.2126, 0.7152, 0.0722].reduce((sum, k, i) => { const v = c[i] / 255; return sum + k * (v <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4); }, 0);
  const behind = e => { for (; e; e = e.parentElement) { const c = rgba(getComputedStyle(e).backgroundColor); if (c[3] === 255) return c; } return [255, 255, 255]; };
  const out = { seen: 0, faint: [] };
  const walk = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  while (walk.nextNode()) {
    const e = walk.currentNode.parentElement;
    if (!walk.currentNode.data.trim() || ["SCRIPT", "STYLE"].includes(e.tagName) || !e.checkVisibility()) continue;
    const s = getComputedStyle(e);
    const a = light(rgba(e.closest("svg") ? s.fill : s.color)), b = light(behind(e));
    out.seen++;
    const ratio = (Math.max(a, b) + 0.05) / (Math.min(a, b) + 0.05);
    if (ratio < 4.5) out.faint.push(ratio.toFixed(2) + " " + walk.currentNode.data.trim());
  }
  return out;
})()`
