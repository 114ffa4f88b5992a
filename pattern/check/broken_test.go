package check_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"seamkeep/pattern"
	"seamkeep/pattern/check"
	"seamkeep/pattern/curve"
)

// A file with faults gives a part of a model; the checks say what they can and
// never panic on it.
func TestChecksBearPartsOfAModel(t *testing.T) {
	whole := func() *pattern.Garment {
		g := &pattern.Garment{Half: pattern.LeftHalf, Levels: []pattern.Level{{Name: "waist"}}, Around: []pattern.Mention{{Name: "a"}, {Name: "none"}},
			Closures: []pattern.Closure{{Name: "c", Kind: pattern.Lacing}, {Name: "d", Kind: pattern.ButtonClosure, Edges: []pattern.Ref{{Piece: "a", Edge: "y"}, {Piece: "b", Edge: "y"}}, Overlap: pattern.Some(30)},
				{Name: "e", Kind: pattern.Lacing, Edges: []pattern.Ref{{Piece: "a", Edge: "z"}}}, {Name: "f", Kind: pattern.Slide, Edges: []pattern.Ref{{Piece: "b", Edge: "x"}}, Length: pattern.Some(9)}},
			Eyelets: []pattern.Fastening{{Closure: "e", Count: pattern.Some(3)}}, Hooks: []pattern.Fastening{{Closure: "f", From: "waist", Pitch: pattern.Some(2)}}, Wanted: []pattern.Wanted{{Closure: "c", Level: "waist", Max: 1}}}
		for _, name := range []string{"a", "b"} {
			g.Pieces = append(g.Pieces, &pattern.Piece{Name: name,
				Corners: []pattern.Corner{{Name: "p", At: curve.Pt(0, 9)}, {Name: "q", At: curve.Pt(0, -9)}, {Name: "r", At: curve.Pt(9, 0)}},
				Edges:   []pattern.Edge{{Name: "x", Length: pattern.Some(18)}, {Name: "y"}, {Name: "z"}},
				Notches: []pattern.Notch{{Name: "n", Edge: pattern.Mention{Name: "x"}, On: pattern.Spot{Level: "waist"}}},
				Marks:   []pattern.Mark{{Kind: pattern.Drill, Name: "d", At: curve.Pt(1, 0)}}})
		}
		g.Seams = []pattern.Seam{{Name: "s", First: []pattern.Ref{{Piece: "a", Edge: "x"}}, Second: []pattern.Ref{{Piece: "b", Edge: "x"}}}}
		return g
	}
	body := &pattern.Body{Girths: []pattern.LevelNum{{Level: "waist", Value: 30}}}
	for name, damage := range map[string]func(g *pattern.Garment){
		"nothing":    func(*pattern.Garment) {},
		"no corners": func(g *pattern.Garment) { g.Pieces[0].Corners = nil },
		"no edges":   func(g *pattern.Garment) { g.Pieces[0].Edges = nil },
		"no outline": func(g *pattern.Garment) { g.Pieces[0].Corners, g.Pieces[0].Edges = nil, nil },
		"one corner": func(g *pattern.Garment) {
			g.Pieces[0].Corners, g.Pieces[0].Edges = g.Pieces[0].Corners[:1], g.Pieces[0].Edges[:1]
		},
		"odd corner":   func(g *pattern.Garment) { g.Pieces[1].Corners = g.Pieces[1].Corners[:2] },
		"no pieces":    func(g *pattern.Garment) { g.Pieces = nil },
		"no sides":     func(g *pattern.Garment) { g.Seams[0].Mirrored, g.Seams[0].Second = true, nil },
		"no levels":    func(g *pattern.Garment) { g.Levels = nil },
		"no closures":  func(g *pattern.Garment) { g.Closures = nil },
		"edge unknown": func(g *pattern.Garment) { g.Seams[0].Second[0].Edge = "nosuch" },
	} {
		t.Run(name, func(t *testing.T) {
			g := whole()
			damage(g)
			assert.NotPanics(t, func() { check.Run(check.Input{Garment: g, Body: body}) })
		})
	}
}
