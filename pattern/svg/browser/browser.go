// Package browser opens pictures and pages in Chromium. It is for tests alone: what
// a browser shows is what makers see.
package browser

import (
	"context"
	"net/http"
	"net/http/httptest"
	"os"
	"path"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/require"
)

const chromium = "/usr/bin/chromium"

// Strict is the content security policy under which hosts show files of strangers:
// no style sheet, no script, nothing fetched.
const Strict = "default-src 'none'; sandbox"

// Window is a window of a Chromium of its own.
type Window struct {
	Context context.Context // for chromedp.Run and chromedp.Do
	url     string

	mu    sync.Mutex // the browser asks for more than it is told to, at its own time
	body  []byte
	asked []string
}

// Open starts Chromium until the test ends; without it the test is skipped. What it
// shows comes under a content security policy; empty: none.
func Open(t testing.TB, policy string) *Window {
	t.Helper()
	if _, err := os.Stat(chromium); err != nil {
		t.Skip("Chromium is not installed")
	}
	w := &Window{}
	server := httptest.NewServer(http.HandlerFunc(func(out http.ResponseWriter, r *http.Request) {
		w.mu.Lock()
		defer w.mu.Unlock()
		w.asked = append(w.asked, r.URL.Path)
		if path.Ext(r.URL.Path) == ".svg" {
			out.Header().Set("Content-Type", "image/svg+xml")
		}
		if policy != "" {
			out.Header().Set("Content-Security-Policy", policy)
		}
		_, _ = out.Write(w.body)
	}))
	t.Cleanup(server.Close)
	alloc, stop := chromedp.NewExecAllocator(context.Background(), append(chromedp.DefaultExecAllocatorOptions[:], chromedp.ExecPath(chromium))...)
	t.Cleanup(stop)
	ctx, cancel := chromedp.NewContext(alloc)
	t.Cleanup(cancel)
	ctx, end := context.WithTimeout(ctx, 2*time.Minute)
	t.Cleanup(end)
	w.Context, w.url = ctx, server.URL
	return w
}

// Show opens a file in the window; its name ends in .svg or .html.
func (w *Window) Show(t testing.TB, name string, body []byte) {
	t.Helper()
	w.mu.Lock()
	w.body = body
	w.mu.Unlock()
	require.NoError(t, chromedp.Do(w.Context, chromedp.Navigate(w.url+"/"+name)))
}

// Asked lists the paths that the browser has asked for so far.
func (w *Window) Asked() []string {
	w.mu.Lock()
	defer w.mu.Unlock()
	return append([]string(nil), w.asked...)
}

// Ask runs a script in the window and gives its value.
func Ask[T any](t testing.TB, w *Window, script string) T {
	t.Helper()
	got, err := chromedp.Run(w.Context, chromedp.Evaluate[T](script))
	require.NoError(t, err, script)
	return got
}

// Picture opens Chromium with a picture.
func Picture(t testing.TB, picture []byte, policy string) context.Context {
	t.Helper()
	w := Open(t, policy)
	w.Show(t, "picture.svg", picture)
	return w.Context
}
