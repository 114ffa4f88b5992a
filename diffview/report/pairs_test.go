package report_test

import (
	"os"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"seamkeep/pattern"
	"seamkeep/pattern/compare"
	"seamkeep/pattern/curve"
	"seamkeep/pattern/diag"
	"seamkeep/pattern/text"
)

// pair is two versions of a garment to be compared.
type pair struct {
	name          string
	before, after *pattern.Garment
	body          *pattern.Body
}

func (p pair) change() *compare.Change {
	return compare.Garments(p.before, p.after, compare.Options{Body: p.body})
}

var sampleNames = []string{"waistcoat--01-base", "waistcoat--03-gusset", "waistcoat--03a-gusset-untrued", "waistcoat--04-half-move", "waistcoat--06-seam-move", "waistcoat--06a-seam-move-untrued", "apron--1"}

// samplePairs is every shared garment against every other, and against none.
func samplePairs(t testing.TB) []pair {
	var out []pair
	for _, a := range sampleNames {
		ga := sample(t, a)
		for _, b := range sampleNames {
			gb := sample(t, b)
			p := pair{a + " to " + b, ga, gb, nil}
			if len(gb.Levels) == 5 {
				p.body = body(gb)
			}
			out = append(out, p)
		}
		out = append(out, pair{"none to " + a, nil, ga, nil}, pair{a + " to none", ga, nil, nil})
	}
	return out
}

// filled is a garment in which every field of the model holds something.
func filled(t testing.TB) *pattern.Garment {
	g := sample(t, "waistcoat--04-half-move")
	g.Cords = []pattern.LevelNum{{Level: "waist", Value: 4}}
	g.Calibrate = []pattern.LevelNum{{Level: "waist", Value: -1}}
	g.Tolerances = []pattern.Tolerance{{Kind: "seam", Value: 2, Warn: pattern.Some(1)}}
	g.Give, g.Rough, g.RequireClaims = pattern.Some(2), true, true
	g.Options = []pattern.PieceOption{{Piece: "gusset", Stretch: pattern.Some(15), Of: pattern.Some(60), Tested: "2026-05-01", Whole: true, Apart: true, Number: 3}}
	g.Seams[0].Eases = []pattern.Ease{{Amount: 3, From: "bust", To: "waist"}}
	g.Seams[1].Second[0].From, g.Seams[1].Second[0].To = "bust", "waist"
	g.Seams[2].Mirrored, g.Seams[3].SameWay = true, true
	all := pattern.Some(5)
	g.Hooks = []pattern.Fastening{{Closure: "side", From: "waist", Pitch: all, Up: all, Down: all}}
	g.Closures = append(g.Closures, pattern.Closure{Name: "side", Kind: pattern.HookClosure}, pattern.Closure{Name: "slit", Kind: pattern.Slide, Length: all})
	g.Eyelets = []pattern.Fastening{{Closure: "front", From: "bust", Pitch: all, Diameter: all, Thickness: all, Up: all, Down: all, Count: all, Margin: all}}
	g.Buttons = []pattern.Fastening{{Closure: "back", From: "bust", Pitch: pattern.Some(25)}}
	g.Wanted = []pattern.Wanted{{Closure: "front", Level: "bust", Min: 28, Max: 36}}
	g.Allowances = []pattern.Allowance{{Value: 12}, {Target: pattern.Target{Name: "back", Edge: "hem"}, Value: 20}}
	g.Joins = []pattern.Join{{Target: pattern.Target{Name: "hem"}, Kind: "fold"}}
	g.Clearances = []pattern.Clearance{{Kind: "bone", Value: 9}}
	g.Seams[0].Within, g.Seams[0].Warn = pattern.Some(2.5), pattern.Some(2)
	g.Accepted = []pattern.Accepted{{ID: "seam.near", Subject: "back-stand", Amount: 1.3, Reason: "pressed flat"},
		{ID: "bone.long", Subject: "front", Parts: []diag.Part{{At: "front.b1", Amount: 2}}, Reason: "cut at the bench"}}
	p := g.Pieces[0]
	p.Title, p.Was, p.Grain, p.NoLevels = "Spine", "spine", &pattern.Grain{To: curve.Pt(0, 100)}, true
	p.Corners[0].Was, p.Edges[0].Was, p.Edges[0].Length = "c", "e", pattern.Some(9)
	p.Cloths = []pattern.Cloth{{Name: "canvas", Count: 1, Cut: pattern.OnFold, Fold: pattern.Mention{Name: "back"}}}
	p.Levels = []pattern.Level{{Name: "bust", Y: 150}}
	p.Notches = []pattern.Notch{
		{Name: "waist", Edge: pattern.Mention{Name: "front"}, On: pattern.Spot{Kind: pattern.FromLevel, Level: "waist", Nearest: "a", Distance: 4, Above: true}},
		{Name: "n", Edge: pattern.Mention{Name: "front"}, On: pattern.Spot{Kind: pattern.FromCorner, Corner: "top-front", Distance: 40}},
	}
	p.Marks = []pattern.Mark{{Kind: pattern.Bone, Name: "b1", Width: all, Length: all, Diameter: all, Angle: all, Only: "left",
		Segs: []pattern.Seg{{To: curve.Pt(0, 90)}, {Curve: true, H1: curve.Pt(1, 1), H2: curve.Pt(2, 2), ToCorner: true}}}}
	return g
}

// gore is a small skirt of one piece, as files.
func gore(t testing.TB, name string) *pattern.Garment {
	folder, problems := text.Load(os.DirFS("testdata"), name)
	require.Empty(t, problems)
	return folder.Garment
}

// special pairs have each status that a piece or an edge can come to, every
// kind of record, and faulty versions on either side.
func specialPairs(t testing.TB) []pair {
	full, bare := filled(t), sample(t, "waistcoat--03-gusset")
	empty := pattern.Clone(bare)
	empty.Pieces = nil
	changed := func(change func(*pattern.Garment)) *pattern.Garment {
		g := pattern.Clone(bare)
		change(g)
		g.SortPieces()
		return g
	}
	cutInTwo := changed(func(g *pattern.Garment) {
		p := g.Piece("gusset")
		left, right := pattern.Clone(p), pattern.Clone(p)
		left.Name, right.Name, left.Was, right.Was = "gusset-a", "gusset-b", "gusset", "gusset"
		box := p.Outline().Bounds()
		middle := box.Min.Lerp(box.Max, 0.5)
		for i := range p.Corners {
			if p.Corners[i].At.X > middle.X {
				left.Corners[i].At.X = middle.X
			} else {
				right.Corners[i].At.X = middle.X
			}
		}
		g.Pieces = append(g.Pieces, left, right)
		for i := range g.Pieces {
			if g.Pieces[i] == p {
				g.Pieces = append(g.Pieces[:i:i], g.Pieces[i+1:]...)
				break
			}
		}
	})
	onHem := changed(addCorner)
	moved := changed(func(g *pattern.Garment) { shift(g.Piece("back"), 40, 0) })
	free := changed(func(g *pattern.Garment) { g.Piece("back").NoLevels = true })
	turned := pattern.Clone(free)
	turn(turned.Piece("back"), curve.Rotate(0.1))
	renamed := changed(func(g *pattern.Garment) { g.Piece("gusset").Name, g.Piece("back").Edges[1].Name = "wedge", "foot" })
	equipped := changed(func(g *pattern.Garment) {
		p := g.Piece("back")
		p.Notches = append(p.Notches, pattern.Notch{Name: "n", Edge: pattern.Mention{Name: "hem"}, On: pattern.Spot{Kind: pattern.FromCorner, Corner: "hem-front", Distance: 20}})
		p.Marks = []pattern.Mark{{Kind: pattern.Eyelet, Name: "o1", At: curve.Pt(0, 20)}}
	})
	called := pattern.Clone(equipped)
	p := called.Piece("back")
	p.Edges[1].Name, p.Corners[1].Name, p.Marks[0].Name = "foot", "foot-front", "top"
	p.Notches[len(p.Notches)-1].Edge.Name, p.Notches[len(p.Notches)-1].On.Corner = "foot", "foot-front"
	lower := pattern.Clone(onHem)
	lower.Piece("back").Corners[2].At.Y -= 15
	crossed := changed(func(g *pattern.Garment) {
		p := g.Piece("back")
		p.Corners[1].At, p.Corners[2].At = p.Corners[2].At, p.Corners[1].At
	})
	huge := changed(func(g *pattern.Garment) { g.Piece("back").Corners[1].At.Y = -90000 })
	b := body(bare)
	return []pair{
		{"all to bare", full, bare, b}, {"bare to all", bare, full, b}, {"none to all", nil, full, b},
		{"cut in two", bare, cutInTwo, b}, {"put together", cutInTwo, bare, b},
		{"a corner on an edge", bare, onHem, b}, {"a corner less", onHem, bare, b},
		{"moved", bare, moved, b}, {"turned", free, turned, b}, {"renamed", bare, renamed, b},
		{"parts renamed", equipped, called, b}, {"a point drawn into an edge", bare, lower, b}, {"and taken out", lower, bare, b},
		{"crossed after", bare, crossed, b}, {"crossed before", crossed, bare, b}, {"huge", bare, huge, b},
		{"no pieces after", bare, empty, b}, {"no pieces before", empty, bare, b}, {"the same", bare, bare, b},
		{"gore", gore(t, "gore--1"), gore(t, "gore--2"), nil},
	}
}

// addCorner puts a corner on the hem of back.
func addCorner(g *pattern.Garment) {
	p := g.Piece("back")
	if p == nil || len(p.Corners) < 3 || len(p.Corners) != len(p.Edges) || len(p.Edges[1].Segs) > 0 {
		return
	}
	at := p.Corners[1].At.Lerp(p.Corners[2].At, 0.5)
	p.Corners = append(p.Corners[:2:2], append([]pattern.Corner{{Name: "middle", At: at}}, p.Corners[2:]...)...)
	p.Edges = append(p.Edges[:2:2], append([]pattern.Edge{{Name: "hem-rest"}}, p.Edges[2:]...)...)
}

func shift(p *pattern.Piece, x, y float64) { turn(p, curve.Translate(x, y)) }

// turn lays an outline elsewhere, rounded as a file rounds.
func turn(p *pattern.Piece, by curve.Affine) {
	for i := range p.Corners {
		p.Corners[i].At = pattern.Round(by.Apply(p.Corners[i].At))
	}
	for _, e := range p.Edges {
		for i := range e.Segs {
			s := &e.Segs[i]
			s.H1, s.H2, s.To = pattern.Round(by.Apply(s.H1)), pattern.Round(by.Apply(s.H2)), pattern.Round(by.Apply(s.To))
		}
	}
}

// drawPair makes two versions that differ at random, sensibly or not.
func drawPair(t *rapid.T, garments []*pattern.Garment) pair {
	a := pattern.Clone(rapid.SampledFrom(garments).Draw(t, "before"))
	b := pattern.Clone(a)
	if rapid.IntRange(0, 4).Draw(t, "another") == 0 {
		b = pattern.Clone(rapid.SampledFrom(garments).Draw(t, "after"))
	}
	for range rapid.IntRange(1, 6).Draw(t, "changes") {
		g := rapid.SampledFrom([]*pattern.Garment{a, b, b}).Draw(t, "which")
		if len(g.Pieces) == 0 {
			continue
		}
		changeSomething(t, g, rapid.SampledFrom(g.Pieces).Draw(t, "piece"))
		g.SortPieces()
	}
	p := pair{"random", a, b, nil}
	if len(b.Levels) == 5 && rapid.Bool().Draw(t, "body") {
		p.body = body(b)
	}
	return p
}

func changeSomething(t *rapid.T, g *pattern.Garment, p *pattern.Piece) {
	mm := rapid.SampledFrom([]float64{0.0004, 0.3, 12, -80, 90000}).Draw(t, "mm")
	i := rapid.IntRange(0, 20).Draw(t, "at")
	switch rapid.IntRange(0, 11).Draw(t, "how") {
	case 0:
		shift(p, mm, -mm/2)
	case 1, 2, 3:
		if len(p.Corners) > 0 {
			p.Corners[i%len(p.Corners)].At.X += mm
		}
	case 4:
		if len(p.Corners) > 0 {
			p.Corners = p.Corners[:len(p.Corners)-1]
		}
	case 5:
		g.Pieces = append([]*pattern.Piece{}, g.Pieces[1:]...)
	case 6:
		twin := pattern.Clone(p)
		twin.Name, twin.Was = p.Name+"-twin", p.Name
		g.Pieces = append(g.Pieces, twin)
	case 7:
		p.Name += "-new"
	case 8:
		if len(p.Edges) > 0 {
			p.Edges[i%len(p.Edges)].Name += "-new"
		}
	case 9:
		addCorner(g)
	case 10:
		if len(g.Seams) > 0 {
			g.Seams = g.Seams[1:]
		}
	case 11:
		if len(p.Corners) > 1 {
			p.Corners[0].At, p.Corners[1].At = p.Corners[1].At, p.Corners[0].At
		}
	}
}
