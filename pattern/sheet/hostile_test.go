package sheet

import (
	"bytes"
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"

	"seamkeep/pattern"
	"seamkeep/pattern/curve"
)

// strange is a piece as no maker would draw it, within what a piece file may hold:
// crossing itself, folded to nothing, marks far outside, levels along edges.
func strange(t *rapid.T, i int) *pattern.Piece {
	number := rapid.OneOf(rapid.Float64Range(-150, 150), rapid.SampledFrom([]float64{0, 0, 100, -1e-3, 700}))
	point := func(what string) curve.Point { return curve.Pt(number.Draw(t, what+" x"), number.Draw(t, what+" y")) }
	words := rapid.OneOf(rapid.String(), rapid.SampledFrom([]string{"", "Rücken", "סינר", "\U0001F514", "a very long name that goes on and on and on, far past the width of any piece that was ever cut"}))
	p := &pattern.Piece{Name: fmt.Sprintf("p%d", i), Title: words.Draw(t, "title")}
	for k := range rapid.IntRange(2, 6).Draw(t, "corners") {
		p.Corners = append(p.Corners, pattern.Corner{Name: fmt.Sprintf("c%d", k), At: point("corner")})
		e := pattern.Edge{Name: fmt.Sprintf("e%d", k)}
		if rapid.Bool().Draw(t, "curved") {
			e.Segs = []pattern.Seg{{Curve: true, H1: point("handle"), H2: point("handle"), ToCorner: true}}
		}
		p.Edges = append(p.Edges, e)
		p.Notches = append(p.Notches, pattern.Notch{Name: "n", Edge: pattern.Mention{Name: e.Name},
			On: pattern.Spot{Kind: pattern.FromCorner, Corner: fmt.Sprintf("c%d", k), Distance: rapid.Float64Range(0, 400).Draw(t, "distance")}})
	}
	kinds := []pattern.MarkKind{pattern.Bone, pattern.Cord, pattern.Stitch, pattern.Placement, pattern.Cutout, pattern.Eyelet, pattern.Button, pattern.Buttonhole, pattern.Drill}
	for range rapid.IntRange(0, 4).Draw(t, "marks") {
		m := pattern.Mark{Kind: rapid.SampledFrom(kinds).Draw(t, "kind"), Name: words.Draw(t, "mark"), At: point("mark")}
		if m.Kind.IsLine() {
			m.Segs = []pattern.Seg{{Curve: rapid.Bool().Draw(t, "curve"), H1: point("h"), H2: point("h"), To: point("to")}}
		}
		m.Width, m.Length, m.Diameter = pattern.Some(rapid.Float64Range(0, 60).Draw(t, "width")), pattern.Some(20), pattern.Some(rapid.Float64Range(0, 90).Draw(t, "diameter"))
		p.Marks = append(p.Marks, m)
	}
	if rapid.Bool().Draw(t, "grain") {
		p.Grain = &pattern.Grain{From: point("grain"), To: point("grain")}
	}
	p.Cloths = []pattern.Cloth{{Name: words.Draw(t, "cloth"), Count: 1, Cut: rapid.SampledFrom([]pattern.Cut{pattern.Pair, pattern.Alike, pattern.OnFold}).Draw(t, "cut"), Fold: pattern.Mention{Name: "e0"}}}
	return p
}

// Whatever the files may hold gives sheets or an error: no panic, and no number that
// a picture cannot hold.
func TestStrangePiecesGiveSheetsOrAnError(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g := &pattern.Garment{Name: "g", Half: pattern.LeftHalf, Levels: []pattern.Level{{Name: "waist"}, {Name: "bust", Y: 100}}}
		for i := range rapid.IntRange(1, 3).Draw(t, "pieces") {
			g.Pieces = append(g.Pieces, strange(t, i))
			g.Options = append(g.Options, pattern.PieceOption{Piece: fmt.Sprintf("p%d", i), Stretch: pattern.Some(15)})
		}
		s, err := New(g, Options{Paper: rapid.SampledFrom(everyPaper()).Draw(t, "paper"), Both: rapid.Bool().Draw(t, "both")})
		if err != nil {
			return
		}
		var pdf, svg bytes.Buffer
		assert.NoError(t, s.Book.WritePDF(&pdf))
		assert.NoError(t, s.Book.WriteSVG(&svg), "the pen refuses what is no number")
	})
}
