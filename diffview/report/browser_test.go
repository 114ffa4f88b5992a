package report_test

import (
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"seamkeep/diffview/report"
	"seamkeep/pattern"
	"seamkeep/pattern/svg/browser"
)

// fullPage is a page with all that a page can hold: notes, faults, tables, a
// picture wider than any screen, which asks for things from elsewhere.
func fullPage(t testing.TB) report.Page {
	a, b := sample(t, "waistcoat--03-gusset"), filled(t)
	b.Pieces[0].NoLevels = false
	back := b.Piece("back")
	back.Corners[1].At, back.Corners[2].At = back.Corners[2].At, back.Corners[1].At
	p := pageOf(pair{"full", a, b, body(a)})
	p.Note = []string{"Let the side-back out", "because: it pulled"}
	for i := range 14 {
		p.Notes = append(p.Notes, report.Note{Name: "step-" + strconv.Itoa(i), Subject: foreign, Because: foreign, Short: "abc" + strconv.Itoa(i)})
	}
	p.Picture = []byte(`<?xml version="1.0"?>
<svg width="800mm" height="900mm" viewBox="0 0 800 900" role="img" aria-labelledby="title desc" xmlns="http://www.w3.org/2000/svg">
<title id="title">overlay</title><desc id="desc">what it shows</desc>
<style><![CDATA[@media (prefers-color-scheme:dark){.paper{fill:#15181b;}}]]></style>
<rect class="paper" width="800" height="900" fill="#fff"/><text x="20" y="40" font-size="4">back</text></svg>`)
	return p
}

// The pages of every pair, and of hostile names, are valid: by html-validate,
// with the rules that it recommends (https://html-validate.org/rules/).
func TestPagesAreValidHTML(t *testing.T) {
	tool, err := exec.LookPath("html-validate")
	if err != nil {
		t.Skip("html-validate is not on PATH: npm install html-validate")
	}
	dir := t.TempDir()
	// long-title counts escapes as they are written; what a title shows is measured in Chromium
	config := `{"root": true, "extends": ["html-validate:recommended"], "rules": {"long-title": "off"}}`
	require.NoError(t, os.WriteFile(filepath.Join(dir, ".htmlvalidate.json"), []byte(config), 0o644))
	pages := []report.Page{fullPage(t), changedPage()}
	for _, p := range append(samplePairs(t), specialPairs(t)...) {
		pages = append(pages, pageOf(p))
	}
	a, b := renamed(sample(t, "waistcoat--03-gusset"), hostile), renamed(sample(t, "waistcoat--06a-seam-move-untrued"), hostile)
	pages = append(pages, pageOf(pair{"hostile", a, b, body(b)}))
	for i, p := range pages {
		var out bytes.Buffer
		require.NoError(t, report.HTML(&out, p))
		require.NoError(t, os.WriteFile(filepath.Join(dir, strconv.Itoa(i)+".html"), out.Bytes(), 0o644))
	}
	require.NoError(t, os.WriteFile(filepath.Join(dir, "bad.html"), []byte("<!DOCTYPE html><p><div></p>"), 0o644))
	run := func(pattern string) (string, error) {
		cmd := exec.Command(tool, pattern)
		cmd.Dir = dir
		out, err := cmd.CombinedOutput()
		return string(out), err
	}
	out, err := run("[0-9]*.html")
	assert.NoError(t, err, "%s", out)
	_, err = run("bad.html")
	assert.Error(t, err, "the tool finds faults")
}

func openPage(t *testing.T, p report.Page) *browser.Window {
	var out bytes.Buffer
	require.NoError(t, report.HTML(&out, p))
	w := browser.Open(t, "")
	w.Show(t, "page.html", out.Bytes())
	return w
}

func scheme(t *testing.T, b *browser.Window, scheme string) {
	_, err := chromedp.Call(b.Context, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{
		Features: []*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: scheme}},
	})
	require.NoError(t, err)
}

func TestChromiumFetchesNothingAndRunsNothing(t *testing.T) {
	b := openPage(t, fullPage(t))
	assert.Equal(t, "Waistcoat: a to b", browser.Ask[string](t, b, `document.title`))
	assert.Zero(t, browser.Ask[int](t, b, `document.scripts.length`))
	assert.Zero(t, browser.Ask[int](t, b, `performance.getEntriesByType("resource").filter(e => !e.name.endsWith("/favicon.ico")).length`))
	assert.Empty(t, browser.Ask[[]string](t, b, `[...document.querySelectorAll("*")].flatMap(e => [...e.attributes]).filter(a => a.name.startsWith("on") || a.name == "src" || a.name == "href" && !a.value.startsWith("#")).map(a => a.name)`))
	for _, path := range b.Asked() {
		assert.Contains(t, []string{"/page.html", "/favicon.ico"}, path, "the browser itself asks for an icon")
	}
}

// What the page shows in Chromium is what the JSON says.
func TestChromiumShowsTheFiguresOfTheJSON(t *testing.T) {
	g := sample(t, "waistcoat--06a-seam-move-untrued")
	p := pair{"seam move", sample(t, "waistcoat--01-base"), g, body(g)}
	want := toldInJSON(t, p)
	b := openPage(t, pageOf(p))
	rows := browser.Ask[[][]string](t, b, `[...document.querySelectorAll("table tr")].map(r => [r.closest("table").parentElement.previousElementSibling.innerText, r.className, ...[...r.cells].map(c => c.innerText)])`)
	var tables []shown
	for _, r := range rows {
		if len(tables) == 0 || tables[len(tables)-1].title != r[0] {
			tables = append(tables, shown{title: r[0]})
			continue // its head
		}
		last := &tables[len(tables)-1]
		last.rows, last.moved = append(last.rows, r[2:]), append(last.moved, r[1] == "moved")
	}
	got := toldInTables(tables)
	got.sentences = browser.Ask[[]string](t, b, `[...document.querySelectorAll("#sentences li")].map(e => e.innerText)`)
	assert.Equal(t, want, got)
	assert.Equal(t, "front, side-front, button-stand", browser.Ask[string](t, b, `document.querySelector("#unchanged").innerText`))
}

// WCAG 2.2, success criteria 1.3.1, 2.1.1, 2.4.2 and 4.1.2: tables have names
// and heads, what scrolls can be reached by key, the picture has a name.
func TestChromiumFindsNames(t *testing.T) {
	b := openPage(t, fullPage(t))
	assert.Equal(t, "en", browser.Ask[string](t, b, `document.documentElement.lang`))
	unnamed := `[...document.querySelectorAll("table, section, svg")].filter(e => !(e.getAttribute("aria-labelledby") || "").split(" ").every(i => document.getElementById(i)?.textContent.trim())).length`
	assert.Zero(t, browser.Ask[int](t, b, unnamed))
	assert.Positive(t, browser.Ask[int](t, b, `document.querySelectorAll("table").length`))
	assert.Zero(t, browser.Ask[int](t, b, `[...document.querySelectorAll("table")].filter(e => !e.querySelector("thead th[scope=col]") || e.querySelectorAll("tbody tr").length != e.querySelectorAll("tbody th[scope=row]").length).length`))
	assert.Zero(t, browser.Ask[int](t, b, `[...document.querySelectorAll("*")].filter(e => ["auto", "scroll"].includes(getComputedStyle(e).overflowX) && e.tabIndex < 0).length`))
	assert.Equal(t, 1, browser.Ask[int](t, b, `document.querySelectorAll("h1").length`))
	ids := browser.Ask[[]string](t, b, `[...document.querySelectorAll("[id]")].map(e => e.id)`)
	seen := map[string]bool{}
	for _, id := range ids {
		assert.False(t, seen[id], "the id %s stands twice", id)
		seen[id] = true
	}
}

// At 360 px, the width of a small phone, only what has its own box scrolls
// sideways; the picture is large enough to read there, and can be had whole.
func TestChromiumOnAPhone(t *testing.T) {
	p := fullPage(t)
	long := strings.Repeat("x-y", 21)
	p.Change.Pieces[0].Name, p.Title = long, strings.Repeat("long", 30)
	b := openPage(t, p)
	assert.LessOrEqual(t, browser.Ask[int](t, b, `document.title.length`), 70)
	for _, width := range []int64{360, 390, 1100, 2000} {
		require.NoError(t, chromedp.Do(b.Context, chromedp.EmulateViewport(width, 800)))
		assert.LessOrEqual(t, browser.Ask[int64](t, b, `document.documentElement.scrollWidth`), width)
	}
	require.NoError(t, chromedp.Do(b.Context, chromedp.EmulateViewport(360, 800)))
	const picture = `document.querySelector(".picture svg").getBoundingClientRect().width`
	assert.Greater(t, browser.Ask[float64](t, b, picture), 1800.0)
	assert.LessOrEqual(t, browser.Ask[float64](t, b, `document.querySelector(".picture").getBoundingClientRect().width`), 360.0)
	browser.Ask[bool](t, b, `document.querySelector('a[href="#overlay"]').click(), true`)
	assert.LessOrEqual(t, browser.Ask[float64](t, b, picture), 360.0, "the whole of it")
	browser.Ask[bool](t, b, `document.querySelector('a[href="#picture"]').click(), true`)
	assert.InDelta(t, 800*96/25.4, browser.Ask[float64](t, b, picture), 1, "full size: 25.4 mm are 96 px (CSS Values and Units 3, section 6.2)")
}

// WCAG 2.2, success criterion 1.4.3: text has a contrast of at least 4.5 to 1.
const contrasts = `(() => {
	const light = c => { const [r, g, b] = c.match(/[\d.]+/g).map(v => (v /= 255) <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4); return 0.2126 * r + 0.7152 * g + 0.0722 * b; };
	const paper = e => { for (; e; e = e.parentElement) { const c = getComputedStyle(e).backgroundColor; if (c != "rgba(0, 0, 0, 0)") return c; } return "rgb(255, 255, 255)"; };
	return [...document.querySelectorAll("h1, h2, p, li, span, strong, th, td, a")].map(e => { const a = light(getComputedStyle(e).color), b = light(paper(e)); return (Math.max(a, b) + 0.05) / (Math.min(a, b) + 0.05); }).sort((a, b) => a - b);
})()`

func TestChromiumContrast(t *testing.T) {
	b := openPage(t, fullPage(t))
	for name, paper := range map[string]string{"light": "rgb(255, 255, 255)", "dark": "rgb(21, 24, 27)"} {
		scheme(t, b, name)
		assert.Equal(t, paper, browser.Ask[string](t, b, `getComputedStyle(document.body).backgroundColor`))
		all := browser.Ask[[]float64](t, b, contrasts)
		require.Greater(t, len(all), 50)
		assert.GreaterOrEqual(t, all[0], 4.5, name)
	}
}

// On A4 (ISO 216: 210 x 297 mm) nothing is cut off: within margins of 10 mm the
// page is 718 px wide, and the picture no higher than a sheet, also where the
// screen is dark.
func TestChromiumPrints(t *testing.T) {
	b := openPage(t, fullPage(t))
	_, err := chromedp.Call(b.Context, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{
		Media: "print", Features: []*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: "dark"}},
	})
	require.NoError(t, err)
	require.NoError(t, chromedp.Do(b.Context, chromedp.EmulateViewport(718, 1047)))
	assert.Equal(t, "rgb(255, 255, 255)", browser.Ask[string](t, b, `getComputedStyle(document.body).backgroundColor`))
	assert.LessOrEqual(t, browser.Ask[int](t, b, `document.documentElement.scrollWidth`), 718)
	assert.Zero(t, browser.Ask[int](t, b, `[...document.querySelectorAll("table, svg")].filter(e => e.getBoundingClientRect().right > 718.5).length`))
	assert.LessOrEqual(t, browser.Ask[float64](t, b, `document.querySelector("svg").getBoundingClientRect().height`), 22.5/2.54*96+1)
	assert.Equal(t, "none", browser.Ask[string](t, b, `getComputedStyle(document.querySelector(".screen")).display`))
	pdf, err := chromedp.Run(b.Context, chromedp.PrintToPDF())
	require.NoError(t, err)
	assert.True(t, bytes.HasPrefix(pdf, []byte("%PDF-")))
}

func TestAPageOfNoGarmentAtAll(t *testing.T) {
	var out bytes.Buffer
	require.NoError(t, report.HTML(&out, pageOf(pair{"none", nil, nil, nil})))
	assert.Contains(t, out.String(), "nothing changed")
	out.Reset()
	require.NoError(t, report.HTML(&out, pageOf(pair{"bare", &pattern.Garment{}, &pattern.Garment{}, nil})))
	assert.Contains(t, out.String(), "nothing else changed")
}
