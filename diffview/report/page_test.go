package report_test

import (
	"bytes"
	"encoding/json"
	"encoding/xml"
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

func TestEveryReportTellsTheSameFigures(t *testing.T) {
	p := changedPage()
	var md, page, doc bytes.Buffer
	text := &report.Text{W: new(bytes.Buffer)}
	text.Change(p.Change, "a", "b")
	require.NoError(t, report.Markdown(&md, p))
	require.NoError(t, report.HTML(&page, p))
	require.NoError(t, report.WriteJSON(&doc, report.ChangeJSON(p.Change, "a", "b")))
	plain := text.W.(*bytes.Buffer).String()
	for _, figure := range []string{"440.0", "428.0", "120.0", "114.0"} {
		for name, report := range map[string]string{"text": plain, "markdown": md.String(), "html": page.String()} {
			assert.Contains(t, report, figure, name)
		}
	}
	var j struct {
		Pieces []struct {
			Status string
			Edges  []struct{ Status string }
		}
		Girths map[string][2]float64
	}
	require.NoError(t, json.Unmarshal(doc.Bytes(), &j))
	assert.Equal(t, [2]float64{440, 428}, j.Girths["waist"])
	// one piece changed, two of its edges grew shorter, one moved in
	edges := 0
	for _, piece := range j.Pieces {
		for _, e := range piece.Edges {
			if piece.Status == "changed" && e.Status == "changed" {
				edges++
			}
		}
	}
	assert.Equal(t, 3, edges)
	assert.Equal(t, edges+3, strings.Count(page.String(), `<tr class="moved">`), "beside the edges: girth, worn girth, width of side")
	assert.Equal(t, edges+3, strings.Count(md.String(), "\n| **"))
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
			assert.NotContains(t, []string{"src", "href"}, a.Name.Local, "nothing is fetched")
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
