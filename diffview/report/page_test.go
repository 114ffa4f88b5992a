package report_test

import (
	"bytes"
	"encoding/xml"
	"fmt"
	"io"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"seamkeep/diffview/report"
	"seamkeep/pattern"
	"seamkeep/pattern/compare"
	"seamkeep/pattern/curve"
)

const foreign = "<script>alert(1)</script> @everyone [x](javascript:1) | `a` \x1b[31m \u202e"

// changedPage is a page of two pieces, one of them changed, with a body that
// the garment presses.
func changedPage() report.Page {
	square := func(name string, width float64) *pattern.Piece {
		return &pattern.Piece{
			Name:    name,
			Corners: []pattern.Corner{{Name: "tf", At: curve.Pt(0, 100)}, {Name: "hf", At: curve.Pt(0, -100)}, {Name: "hb", At: curve.Pt(width, -100)}, {Name: "tb", At: curve.Pt(width, 100)}},
			Edges:   []pattern.Edge{{Name: "front"}, {Name: "hem"}, {Name: "back"}, {Name: "top"}},
		}
	}
	garment := func(width float64) *pattern.Garment {
		return &pattern.Garment{
			Name: "vest", Half: pattern.LeftHalf, Levels: []pattern.Level{{Name: "waist"}},
			Around: []pattern.Mention{{Name: "front"}, {Name: "side"}},
			Pieces: []*pattern.Piece{square("front", 100), square("side", width)},
			Seams: []pattern.Seam{{Name: "front-side", First: []pattern.Ref{{Piece: "front", Edge: "back"}},
				Second: []pattern.Ref{{Piece: "side", Edge: "front"}}}},
		}
	}
	body := &pattern.Body{Girths: []pattern.LevelNum{{Level: "waist", Value: 500}}}
	c := compare.Garments(garment(120), garment(114), compare.Options{Body: body})
	return report.Page{
		Title: foreign, From: "a", To: "b", Note: []string{foreign, "because: " + foreign}, Change: c,
		Picture: []byte("<?xml version=\"1.0\"?>\n<svg xmlns=\"http://www.w3.org/2000/svg\"><title>t</title></svg>\n"),
	}
}

func TestAPageIsWellFormedAndFreeOfScript(t *testing.T) {
	var page bytes.Buffer
	require.NoError(t, report.HTML(&page, changedPage()))
	dec := xml.NewDecoder(&page)
	dec.Strict, dec.AutoClose, dec.Entity = false, xml.HTMLAutoClose, xml.HTMLEntity
	for {
		token, err := dec.Token()
		if err == io.EOF {
			break
		}
		require.NoError(t, err)
		start, ok := token.(xml.StartElement)
		if !ok {
			continue
		}
		assert.NotEqual(t, "script", start.Name.Local)
		for _, a := range start.Attr {
			assert.False(t, strings.HasPrefix(a.Name.Local, "on"), a.Name.Local)
			assert.NotEqual(t, "src", a.Name.Local, "nothing is fetched")
			assert.True(t, a.Name.Local != "href" || strings.HasPrefix(a.Value, "#"), "a link leads to a place in the page: %s", a.Value)
		}
	}
}

func TestMarkdownTakesTheMeaningOutOfForeignText(t *testing.T) {
	var md bytes.Buffer
	require.NoError(t, report.Markdown(&md, changedPage()))
	out := md.String()
	assert.NotContains(t, out, "<script")
	assert.NotContains(t, out, "@everyone", "nobody is called")
	assert.NotRegexp(t, `[^\\]\]\(`, out, "no link")
	assert.NotContains(t, out, "\x1b")
	assert.NotContains(t, out, "\u202e")
	for line := range strings.Lines(out) {
		if strings.HasPrefix(line, "| ") {
			unescaped := strings.ReplaceAll(line, `\|`, "")
			assert.Contains(t, []int{3, 5, 6}, strings.Count(unescaped, "|"), "a cell breaks no table: %s", line)
		}
	}
	assert.Contains(t, out, "no medical advice")
}

func TestNotesBetweenTwoVersions(t *testing.T) {
	write := func(p report.Page) (page, md string) {
		var a, b bytes.Buffer
		require.NoError(t, report.HTML(&a, p))
		require.NoError(t, report.Markdown(&b, p))
		return a.String(), b.String()
	}
	p := changedPage()
	p.Notes = []report.Note{{Name: "first", Subject: "Open it", Because: "it pulled", Short: "aaaa111"}, {Subject: "Plain commit", Short: "bbbb222"}, {Name: "last", Subject: foreign, Because: foreign, Short: "cccc333"}}
	page, md := write(p)
	for name, out := range map[string]string{"html": page, "markdown": md} {
		assert.Contains(t, out, "first (aaaa111)", name)
		assert.Contains(t, out, "because: it pulled", name)
		assert.Contains(t, out, "bbbb222", name)
		assert.Less(t, strings.Index(out, "aaaa111"), strings.Index(out, "cccc333"), "%s: the newest last", name)
		assert.NotContains(t, out, "<script>", name)
		assert.NotContains(t, out, "\x1b", name)
		assert.NotContains(t, out, "more before these", name)
	}
	assert.NotContains(t, md, "@everyone")
	for i := len(p.Notes); i < 15; i++ {
		p.Notes = append(p.Notes, report.Note{Name: "more", Short: fmt.Sprintf("id-%d", i)})
	}
	page, md = write(p)
	for name, out := range map[string]string{"html": page, "markdown": md} {
		assert.Contains(t, out, "and 3 more before these", name)
		assert.NotContains(t, out, "aaaa111", name)
		assert.Equal(t, 12, strings.Count(out, "more (id-"), name)
	}
	p.Notes = p.Notes[14:]
	page, md = write(p)
	assert.NotContains(t, page+md, "Versions between", "one version's note stands at the head")
	p.Note = nil
	page, _ = write(p)
	assert.Contains(t, page, "Versions between")
}

// Each report says in a sentence what is wrong with which version.
func TestEveryReportTellsFaults(t *testing.T) {
	told := 0
	for _, p := range specialPairs(t) {
		for _, f := range p.change().Faults {
			told++
			var a, b, c bytes.Buffer
			require.NoError(t, report.HTML(&a, pageOf(p)))
			require.NoError(t, report.Markdown(&b, pageOf(p)))
			text := report.Text{W: &c, Width: 4000}
			text.Change(p.change(), "a", "b")
			doc, _ := document(t, report.ChangeJSON(p.change(), "a", "b"))
			assert.Equal(t, map[string]any{"piece": f.Piece, "version": f.Version(), "why": f.Why}, first(t, doc["faults"]), p.name)
			assert.Equal(t, f.Sentence(), doc["sentences"].([]any)[0], p.name)
			for _, out := range []string{a.String(), b.String(), c.String()} {
				assert.Contains(t, out, f.Sentence(), p.name)
			}
		}
	}
	assert.Equal(t, 4, told, "crossed before and after, huge, no pieces after")
}

// A row without any figure is left out; why there is no predicted gap is said.
func TestWithoutABodyThereIsNoEmptyRowOfGaps(t *testing.T) {
	p := changedPage()
	for name, tt := range map[string]struct {
		body *pattern.Body
		why  string
	}{
		"no body":                    {nil, "No predicted gap front: no body here."},
		"a body with no such girths": {&pattern.Body{Girths: []pattern.LevelNum{{Level: "neck", Value: 350}}}, "No predicted gap front: at no level are the girths of body and garment both known."},
		"a body":                     {&pattern.Body{Girths: []pattern.LevelNum{{Level: "waist", Value: 500}}}, ""},
	} {
		t.Run(name, func(t *testing.T) {
			before, after := pattern.Clone(p.Change.Before), pattern.Clone(p.Change.After)
			for _, g := range []*pattern.Garment{before, after} {
				g.Closures = []pattern.Closure{{Name: "front", Kind: pattern.Lacing, Edges: []pattern.Ref{{Piece: "front", Edge: "front"}}}}
			}
			p.Change = compare.Garments(before, after, compare.Options{Body: tt.body})
			require.Len(t, p.Change.Gaps, 1)
			var page, md bytes.Buffer
			require.NoError(t, report.HTML(&page, p))
			require.NoError(t, report.Markdown(&md, p))
			for kind, out := range map[string]string{"html": page.String(), "markdown": md.String()} {
				assert.Contains(t, out, "girth worn", kind)
				if tt.why == "" {
					assert.Regexp(t, `predicted gap front(</th><td>|(\*\*)? \| )`, out, kind)
					assert.NotContains(t, out, "No predicted gap", kind)
					continue
				}
				assert.NotRegexp(t, `predicted gap front(</th>|(\*\*)? \|)`, out, kind)
				assert.Contains(t, out, tt.why, kind)
			}
			assert.NotRegexp(t, `<tr[^>]*><th scope="row">[^<]*</th>(<td></td>)+</tr>`, page.String())
		})
	}
}

func TestAGirthThatIsUnknownEverywhereIsExplained(t *testing.T) {
	p := changedPage()
	turned := pattern.Clone(p.Change.After)
	turned.Piece("side").NoLevels = true
	p.Change = compare.Garments(turned, pattern.Clone(turned), compare.Options{})
	var page, md bytes.Buffer
	require.NoError(t, report.HTML(&page, p))
	require.NoError(t, report.Markdown(&md, p))
	for kind, out := range map[string]string{"html": page.String(), "markdown": md.String()} {
		assert.Contains(t, out, "No girth is known: piece side goes round but has no level waist.", kind)
	}
	p = changedPage()
	page.Reset()
	require.NoError(t, report.HTML(&page, p))
	assert.NotContains(t, page.String(), "No girth is known")
}
