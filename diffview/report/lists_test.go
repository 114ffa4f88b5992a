package report_test

import (
	"bytes"
	"encoding/csv"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"seamkeep/diffview/report"
	"seamkeep/pattern"
	"seamkeep/pattern/check"
	"seamkeep/pattern/curve"
	"seamkeep/pattern/material"
)

// listed are garments whose lists together fill every field.
func listed(t *testing.T) []*pattern.Garment {
	var out []*pattern.Garment
	for _, name := range sampleNames {
		out = append(out, sample(t, name))
	}
	full := sample(t, "waistcoat--06-seam-move")
	full.Rough = true
	full.Options = []pattern.PieceOption{{Piece: "gusset", Stretch: pattern.Some(15), Of: pattern.Some(60), Tested: "2026-04-30"}}
	full.Allowances = []pattern.Allowance{{Value: 12}, {Target: pattern.Target{Name: "hem"}, Value: 0}, {Target: pattern.Target{Name: "front"}, Value: 15},
		{Target: pattern.Target{Name: "back", Edge: "back"}, Value: 6}}
	full.Clearances = []pattern.Clearance{{Kind: "bone", Value: 9}, {Kind: "cord", Value: 2}}
	full.Eyelets = []pattern.Fastening{{Closure: "front", Count: pattern.Some(15), Margin: pattern.Some(10)}}
	full.Buttons = []pattern.Fastening{{Closure: "back", Up: pattern.Some(1), Down: pattern.Some(10), Diameter: pattern.Some(18)}}
	full.Closures = append(full.Closures, pattern.Closure{Name: "side", Kind: pattern.HookClosure, Edges: []pattern.Ref{{Piece: "gusset", Edge: "front"}}},
		pattern.Closure{Name: "pocket", Kind: pattern.Slide, Edges: []pattern.Ref{{Piece: "gusset", Edge: "back"}}, Length: pattern.Some(200)})
	full.Hooks = []pattern.Fastening{{Closure: "side", Count: pattern.Some(9)}}
	p := full.Piece("front")
	p.Title = "=Left front"
	bottom := p.Outline().Bounds().Min
	p.Grain = &pattern.Grain{From: bottom, To: bottom.Add(curve.Pt(10, 200))}
	line := func(kind pattern.MarkKind, long float64) pattern.Mark {
		return pattern.Mark{Kind: kind, Name: "m", Width: pattern.Some(7), At: bottom, Segs: []pattern.Seg{{To: bottom.Add(curve.Pt(0, long))}}}
	}
	p.Marks = []pattern.Mark{line(pattern.Bone, 300), line(pattern.Cord, 80)}
	p.Marks[0].Length = pattern.Some(270)
	back := full.Piece("back")
	back.Cloths = []pattern.Cloth{{Name: "canvas", Count: 1, Cut: pattern.OnFold, Fold: pattern.Mention{Name: "back"}}}
	loose := full.Piece("button-stand")
	loose.Cloths = nil
	wanting := pattern.Clone(full)
	wanting.Body = ""
	wanting.Wanted = []pattern.Wanted{{Closure: "front", Level: "bust", Min: 28, Max: 36}}
	nothing := pattern.Clone(full)
	nothing.Wanted = nil
	faulty := pattern.Clone(full) // something outside, and two seams off, one of them on purpose
	faulty.Rough = false
	back = faulty.Piece("side-back")
	back.Marks = append(back.Marks, pattern.Mark{Kind: pattern.Drill, Name: "far", At: curve.Pt(5000, 0)})
	back.Corners[0].At.Y += 9
	for _, x := range check.Run(check.Input{Garment: faulty}) {
		if x.ID == "seam.differs" {
			faulty.Accepted = []pattern.Accepted{{ID: x.ID, Subject: x.Subject, Amount: x.Amount, Reason: "a trial"}}
		}
	}
	return append(out, full, wanting, nothing, faulty)
}

func TestTheListsKeepToTheirSchemas(t *testing.T) {
	cutting, materials := readSchema(t, "cutting"), readSchema(t, "materials")
	v := material.Version{Label: "card-1 (1234567)", Commit: "1234567", Date: "2026-06-06", Tags: []string{"card-1"}, Kept: true}
	for _, g := range listed(t) {
		cutting.accepts(t, report.CuttingJSON(material.CuttingOf(g, v)), g.Name)
		var b *pattern.Body
		if g.Body != "" && len(g.Levels) == 5 {
			b = body(g)
		}
		o := material.Options{Body: b, Widths: map[string]float64{"elastic": 200}}
		materials.accepts(t, report.MaterialsJSON(material.ListOf(g, v, o)), g.Name)
		materials.accepts(t, report.MaterialsJSON(material.ListOf(g, material.Version{}, material.Options{Width: 300})), g.Name)
	}
	assert.Empty(t, cutting.unseen(), "in the schema, but never written")
	assert.Empty(t, materials.unseen(), "in the schema, but never written")
}

func TestTheListsPageIsTrue(t *testing.T) { pageIsTrue(t, "LISTS.md", "cutting", "materials") }

func TestTheListsFitTheScreen(t *testing.T) {
	for _, g := range listed(t) {
		var b strings.Builder
		out := report.Text{W: &b}
		out.Cutting(material.CuttingOf(g, material.Version{Label: "working tree"}))
		out.Materials(material.ListOf(g, material.Version{Label: "working tree"}, material.Options{}))
		require.NoError(t, out.Err)
		for _, line := range strings.Split(b.String(), "\n") {
			assert.LessOrEqual(t, utf8.RuneCountInString(line), 80, line)
		}
		assert.NotRegexp(t, `NaN|Inf\b|%!`, b.String())
		assert.Contains(t, b.String(), "NOT KEPT")
	}
}

// RFC 4180: every record has the same number of fields; a reader that is not ours gets
// back what was put in.
func TestTheListsAreTables(t *testing.T) {
	g := listed(t)[len(sampleNames)]
	v := material.Version{Label: `a "b", c`, Kept: true}
	var b bytes.Buffer
	require.NoError(t, report.CuttingCSV(&b, material.CuttingOf(g, v)))
	rows, err := csv.NewReader(&b).ReadAll()
	require.NoError(t, err)
	edges := 0
	for _, p := range g.Pieces {
		edges += len(p.Edges)
	}
	require.Len(t, rows, 1+edges)
	assert.Equal(t, v.Label, rows[1][11])
	for _, r := range rows[1:] {
		if r[1] == "front" {
			assert.Equal(t, "'=Left front", r[2], "no spreadsheet takes it for a formula")
		}
	}
	b.Reset()
	require.NoError(t, report.MaterialsCSV(&b, material.ListOf(g, v, material.Options{})))
	rows, err = csv.NewReader(&b).ReadAll()
	require.NoError(t, err)
	kinds := map[string]bool{}
	for _, r := range rows[1:] {
		kinds[r[0]] = true
	}
	for _, kind := range []string{"cloth", "elastic", "bone", "cord", "button", "eyelet", "lace", "binding"} {
		assert.True(t, kinds[kind], kind)
	}
}

func TestTheListsTakeTheMeaningOutOfMarkup(t *testing.T) {
	g := listed(t)[len(sampleNames)]
	g.Title = "<b>x</b> | @you"
	var b strings.Builder
	require.NoError(t, report.CuttingMarkdown(&b, material.CuttingOf(g, material.Version{Label: "`v`"})))
	require.NoError(t, report.MaterialsMarkdown(&b, material.ListOf(g, material.Version{Label: "`v`"}, material.Options{})))
	assert.NotContains(t, b.String(), "<b>")
	assert.Contains(t, b.String(), `&lt;b&gt;x&lt;/b&gt; \|`)
	assert.Contains(t, b.String(), "**NOT KEPT")
	assert.Contains(t, b.String(), "WALKED 3, as a rough mock-up")
}
