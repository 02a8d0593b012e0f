package main

import (
	"context"
	"os"
	"os/exec"
	"path/filepath"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/log"
	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// browser starts a headless Chromium with a profile of its own; its tabs are
// opened by open.
func browser(t *testing.T) context.Context {
	t.Helper()
	program := ""
	for _, name := range []string{"chromium", "chromium-browser", "google-chrome"} {
		if found, err := exec.LookPath(name); err == nil {
			program = found
			break
		}
	}
	if program == "" {
		if os.Getenv("CI") == "true" {
			t.Fatal("the page is looked at in Chromium: install Debian's chromium")
		}
		t.Skip("no Chromium to open the page in; Debian's chromium brings it")
	}
	ctx, cancel := context.WithTimeout(t.Context(), time.Minute)
	t.Cleanup(cancel)
	options := append(chromedp.DefaultExecAllocatorOptions[:], chromedp.ExecPath(program), chromedp.NoSandbox, chromedp.UserDataDir(t.TempDir()))
	ctx, cancel = chromedp.NewExecAllocator(ctx, options...)
	t.Cleanup(cancel)
	ctx, cancel = chromedp.NewContext(ctx)
	t.Cleanup(cancel)
	require.NoError(t, chromedp.Do(ctx))
	return ctx
}

// tab is one tab of the browser, and what the page in it did that it should not.
type tab struct {
	t   *testing.T
	ctx context.Context

	mu        sync.Mutex
	complains []string
	asks      []string // addresses it asked for
}

// open opens a tab without movement, which nobody can wait for.
func open(t *testing.T, browser context.Context) *tab {
	t.Helper()
	ctx, cancel := chromedp.NewContext(browser)
	t.Cleanup(cancel)
	b := &tab{t: t, ctx: ctx}
	require.NoError(t, chromedp.Listen(ctx, b.hear))
	call(b, network.Enable, network.EnableParams{})
	b.media("", "prefers-reduced-motion", "reduce")
	return b
}

func (b *tab) hear(ev any) {
	b.mu.Lock()
	defer b.mu.Unlock()
	switch ev := ev.(type) {
	case *runtime.EventExceptionThrown:
		b.complains = append(b.complains, "exception: "+ev.ExceptionDetails.Text)
	case *runtime.EventConsoleAPICalled:
		b.complains = append(b.complains, "console: "+string(ev.Type))
	case *log.EventEntryAdded:
		b.complains = append(b.complains, ev.Entry.Text)
	case *network.EventRequestWillBeSent:
		b.asks = append(b.asks, ev.Request.URL)
	}
}

// call sends one command of the browser's protocol.
func call[P, R any](b *tab, c cdp.Command[P, R], p P) R {
	b.t.Helper()
	out, err := chromedp.Run(b.ctx, func(ctx context.Context, t *chromedp.Target) (R, error) { return cdp.Call(ctx, t, c, p) })
	require.NoError(b.t, err)
	return out
}

func (b *tab) do(actions ...chromedp.Action[chromedp.Void]) {
	b.t.Helper()
	require.NoError(b.t, chromedp.Do(b.ctx, actions...))
}

// see evaluates an expression in the page.
func see[T any](b *tab, expression string) T {
	b.t.Helper()
	out, err := chromedp.Run(b.ctx, chromedp.Evaluate[T](expression))
	require.NoError(b.t, err, expression)
	return out
}

// media sets the medium, "" for the screen, and one of its features.
func (b *tab) media(medium, feature, value string) {
	b.t.Helper()
	p := emulation.SetEmulatedMediaParams{Media: medium}
	for _, f := range [][2]string{{"prefers-reduced-motion", "reduce"}, {feature, value}} {
		p.Features = append(p.Features, &emulation.MediaFeature{Name: f[0], Value: f[1]})
	}
	call(b, emulation.SetEmulatedMedia, p)
}

// before runs a script before every page of the tab.
func (b *tab) before(script string) {
	b.t.Helper()
	call(b, page.AddScriptToEvaluateOnNewDocument, page.AddScriptToEvaluateOnNewDocumentParams{Source: script})
}

// goTo opens a file and waits for it.
func (b *tab) goTo(path string) {
	b.t.Helper()
	full, err := filepath.Abs(path)
	require.NoError(b.t, err)
	b.do(chromedp.Navigate("file://" + full))
}

// quiet holds that the page has not complained, and asked for nothing but itself.
func (b *tab) quiet(path string) {
	b.t.Helper()
	b.mu.Lock()
	defer b.mu.Unlock()
	assert.Empty(b.t, b.complains)
	for _, a := range b.asks {
		assert.Contains(b.t, []string{"file://" + path, "data:,"}, a)
	}
	assert.NotEmpty(b.t, b.asks)
}
