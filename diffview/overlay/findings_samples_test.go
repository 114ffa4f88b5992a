package overlay

import (
	"bytes"
	"fmt"
	"strings"

	"github.com/stretchr/testify/require"

	"seamkeep/pattern"
	"seamkeep/pattern/check"
	"seamkeep/pattern/curve"
	"seamkeep/pattern/diag"
)

// wrong is a garment and what was found in it.
type wrong struct {
	garment *pattern.Garment
	list    diag.List
}

func (s wrong) picture(t require.TestingT) []byte {
	var b bytes.Buffer
	require.NoError(t, Findings(&b, s.garment, s.list, Options{To: "seam-move (81be0d4)"}))
	return b.Bytes()
}

// onPiece is a finding at a point of a piece.
func onPiece(s diag.Severity, piece string, x, y float64) diag.Problem {
	return diag.Problem{
		ID: "mark.outside", Severity: s, Subject: piece, Place: diag.Place{File: "pieces/" + piece + ".piece", Line: 12, Piece: piece}.Point(x, y),
		Found: fmt.Sprintf("eyelet e1 of %s lies 1.0 mm outside at %.1f %.1f", piece, x, y), Expected: "marks inside the sewing line", Hint: "move the mark, or shorten it\nor leave it",
	}
}

// kinked is a finding about a run: its kinks at the ends of the tops, or hems, of
// panels.
func kinked(g *pattern.Garment, run string, corners [2]string, panels ...string) diag.Problem {
	p := diag.Problem{ID: "run.kink", Severity: diag.Warning, Subject: run, Amount: 19.6, Place: diag.Place{File: "waistcoat.garment", Line: 40},
		Found: "run " + run + " kinks by 19.6 degrees at side-back-back, and at 2 further seams", Expected: "at most 4 degrees", Hint: "let both edges meet the seam squarely"}
	for i, name := range panels {
		piece := g.Piece(name)
		at := piece.Corners[piece.CornerIndex(corners[i%2])].At
		p.Related = append(p.Related, diag.Related{Place: diag.Place{Piece: name, Edge: "top"}.Point(at.X, at.Y), Text: "kinks by 5.0 degrees"})
	}
	return p
}

// wrongs are the pictures of findings that the tests look at.
func wrongs(t require.TestingT) map[string]wrong {
	w := readWaistcoat(t)
	g := func() *pattern.Garment { return withRuns(w.garment(t, "seam-move")) }
	out := map[string]wrong{"nothing": {g(), nil}}

	broken := marked(g(), false)
	p := broken.Piece("side-back")
	p.Corners[3].At.Y += 4
	p.Edges[0].Length = pattern.Some(279)
	p.Notches = append(p.Notches, pattern.Notch{Name: "far", Edge: pattern.Mention{Name: "front"}, On: pattern.Spot{Kind: pattern.FromCorner, Corner: "top-front", Distance: 300}})
	broken.Piece("front").Marks = append(broken.Piece("front").Marks, pattern.Mark{Kind: pattern.Eyelet, Name: "lost", At: curve.Pt(-9, 60)})
	out["broken"] = wrong{broken, check.Run(check.Input{Garment: broken, Body: w.body()})}

	var thirty, one diag.List
	for i := range 30 {
		s := diag.Severity(i % 3)
		thirty = append(thirty, onPiece(s, "gusset", float64(i%4)*13, -90+float64(i)*7.5))
		if i < 3 {
			one = append(one, onPiece(s, "back", 48, 85))
		}
	}
	out["thirty"], out["three-at-a-point"] = wrong{g(), thirty}, wrong{g(), one}
	out["buckle"] = wrong{buckle(0), diag.List{onPiece(diag.Error, "buckle", 9, 3), onPiece(diag.Warning, "buckle", 2, 0), {ID: "outline.clockwise", Severity: diag.Note, Place: diag.Place{Piece: "buckle"}, Found: "it runs clockwise"}}}

	crowd := many(g(), 0)
	large := square()
	large.Name, large.Corners[2].At.X = "zeppelin", 2e5
	crowd.Pieces = append(crowd.Pieces, large)
	var everywhere diag.List
	for i, p := range crowd.Pieces {
		everywhere = append(everywhere, onPiece(diag.Severity(i%3), p.Name, 20, 20))
	}
	out["many-pieces"] = wrong{crowd, everywhere}
	out["far-away"] = wrong{g(), diag.List{onPiece(diag.Error, "back", 4000, 20), onPiece(diag.Error, "back", -70, 3e9), onPiece(diag.Error, "back", 20, 20)}}

	runs := g()
	out["runs"] = wrong{runs, diag.List{
		kinked(runs, "neckline", [2]string{"top-back", "top-front"}, "side-front", "underarm", "gusset", "side-back", "back"),
		onPiece(diag.Error, "back", 20, 20),
		kinked(runs, "hem", [2]string{"hem-back", "hem-front"}, "side-front", "underarm"),
	}}

	named := longNames(g())
	for i := range named.Pieces {
		named.Pieces[i].Corners[0].At.Y += 3
	}
	nasty := `"><script>alert(1)</script>&` + "\x1b[31m\u202e"
	var strange diag.List
	for i, p := range named.Pieces {
		x := onPiece(diag.Severity(i%3), p.Name, 30, 40)
		x.Found, x.Expected, x.Hint, x.Place.File = nasty+strings.Repeat("w", 300), nasty, nasty+strings.Repeat(" word", 300), nasty
		strange = append(strange, x)
	}
	named.Title = nasty
	out["hostile"] = wrong{named, strange}

	files := diag.List{{ID: "text.word", Severity: diag.Error, Place: diag.Place{File: "waistcoat.garment", Line: 3, Column: 1}, Found: "found sem", Expected: "seam"}}
	out["unreadable"] = wrong{nil, files}
	return out
}
