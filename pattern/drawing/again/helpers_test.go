package again

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"seamkeep/pattern"
	"seamkeep/pattern/curve"
	"seamkeep/pattern/diag"
)

// sideBack is a panel with a straight front, a curved back of two segments and
// a curved top.
func sideBack() *pattern.Piece {
	p := &pattern.Piece{
		Name: "side-back", Title: "Side back",
		Cloths: []pattern.Cloth{{Name: "canvas", Count: 1, Cut: pattern.Pair}},
		Grain:  &pattern.Grain{From: curve.Pt(0, -100), To: curve.Pt(0, 150)},
		Corners: []pattern.Corner{
			{Name: "top-front", At: curve.Pt(-13, 168)}, {Name: "hem-front", At: curve.Pt(-13, -112)},
			{Name: "hem-back", At: curve.Pt(53.78, -111.12)}, {Name: "top-back", At: curve.Pt(51.24, 208.31)},
		},
		Edges: []pattern.Edge{
			{Name: "front"}, {Name: "hem", Was: "lower"},
			{Name: "back", Segs: []pattern.Seg{
				{Curve: true, H1: curve.Pt(49, -80.7), H2: curve.Pt(40, -30.4), To: curve.Pt(40, 0)},
				{Curve: true, H1: curve.Pt(40, 73.4), H2: curve.Pt(61.7, 138), ToCorner: true},
			}},
			{Name: "top", Segs: []pattern.Seg{{Curve: true, H1: curve.Pt(31.7, 204), H2: curve.Pt(12, 168), ToCorner: true}}},
		},
		Notches: []pattern.Notch{
			{Name: "waist", Edge: pattern.Mention{Name: "front"}, On: pattern.Spot{Kind: pattern.AtLevel, Level: "waist"}},
			{Name: "low", Edge: pattern.Mention{Name: "back"}, On: pattern.Spot{Kind: pattern.FromCorner, Corner: "hem-back", Distance: 40}},
		},
		Marks: []pattern.Mark{
			{Kind: pattern.Bone, Name: "b1", Width: pattern.Some(7), At: curve.Pt(10, -100), Segs: []pattern.Seg{{To: curve.Pt(10, 160)}}},
			{Kind: pattern.Eyelet, Name: "o1", Diameter: pattern.Some(5), At: curve.Pt(20, 50)},
		},
	}
	return measured(p)
}

// sleeve has a smooth corner in the middle of its cap, and a turn inside its
// lower edge that is no corner.
func sleeve() *pattern.Piece {
	return measured(&pattern.Piece{
		Name: "sleeve",
		Corners: []pattern.Corner{
			{Name: "front", At: curve.Pt(-150, 0)}, {Name: "wrist-front", At: curve.Pt(-90, -420)},
			{Name: "wrist-back", At: curve.Pt(95, -420)}, {Name: "back", At: curve.Pt(160, 0)},
			{Name: "crown", At: curve.Pt(5, 140)},
		},
		Edges: []pattern.Edge{
			{Name: "underarm-front"},
			{Name: "wrist", Segs: []pattern.Seg{{To: curve.Pt(0, -440)}, {ToCorner: true}}},
			{Name: "underarm-back"},
			{Name: "cap-back", Segs: []pattern.Seg{{Curve: true, H1: curve.Pt(90, 30), H2: curve.Pt(75, 140), ToCorner: true}}},
			{Name: "cap-front", Segs: []pattern.Seg{{Curve: true, H1: curve.Pt(-55, 140), H2: curve.Pt(-85, 20), ToCorner: true}}},
		},
	})
}

// rectangle is the outline that a half turn lays on itself.
func rectangle() *pattern.Piece {
	return measured(&pattern.Piece{
		Name: "band",
		Corners: []pattern.Corner{
			{Name: "a", At: curve.Pt(0, 0)}, {Name: "b", At: curve.Pt(10, 0)},
			{Name: "c", At: curve.Pt(10, 20)}, {Name: "d", At: curve.Pt(0, 20)},
		},
		Edges: []pattern.Edge{{Name: "low"}, {Name: "right"}, {Name: "high"}, {Name: "left"}},
	})
}

func measured(p *pattern.Piece) *pattern.Piece {
	for i := range p.Edges {
		p.Edges[i].Length = pattern.Some(pattern.RoundLength(p.EdgePath(i).Length(1e-6)))
	}
	return p
}

func shapes() []*pattern.Piece { return []*pattern.Piece{sideBack(), sleeve(), rectangle()} }

// drawing is the piece as it is, in its own frame.
func drawing(p *pattern.Piece) Drawn {
	return Drawn{Ring: p.Outline(), Marks: pattern.Clone(p).Marks, HasMarks: true, Grain: pattern.Clone(p.Grain)}
}

// onSheet moves a drawing.
func onSheet(d Drawn, r curve.Rigid) Drawn {
	out := Drawn{Ring: d.Ring.Transform(r.Affine()), HasMarks: d.HasMarks}
	for _, m := range d.Marks {
		out.Marks = append(out.Marks, movedMark(m, r))
	}
	if d.Grain != nil {
		out.Grain = &pattern.Grain{From: r.Affine().Apply(d.Grain.From), To: r.Affine().Apply(d.Grain.To)}
	}
	return out
}

// edited does to a drawing what an editor's save does, without changing the
// cloth: moved and turned, begun elsewhere, segments cut, lines as curves, and
// 1e-5 mm off.
func edited(t *rapid.T, d Drawn) Drawn {
	turn := rapid.Float64Range(-math.Pi, math.Pi).Draw(t, "turn")
	return handled(t, onSheet(d, curve.Rigid{Angle: turn, Shift: curve.Pt(
		rapid.Float64Range(-500, 500).Draw(t, "x"), rapid.Float64Range(-500, 500).Draw(t, "y"))}))
}

// handled does all of that but the moving.
func handled(t *rapid.T, d Drawn) Drawn {
	var ring curve.Path
	for _, s := range d.Ring {
		if s.Straight && rapid.Bool().Draw(t, "curve") {
			s.Straight = false
		}
		if rapid.IntRange(0, 2).Draw(t, "cut") == 0 {
			a, b := s.Split(rapid.Float64Range(0.1, 0.9).Draw(t, "at"))
			ring = append(ring, a, b)
		} else {
			ring = append(ring, s)
		}
	}
	first := rapid.IntRange(0, len(ring)-1).Draw(t, "first")
	d.Ring = shaken(t, append(ring[first:len(ring):len(ring)], ring[:first]...))
	return d
}

func shaken(t *rapid.T, ring curve.Path) curve.Path {
	r := rapid.Float64Range(-1e-5, 1e-5)
	off := func(p curve.Point) curve.Point { return p.Add(curve.Pt(r.Draw(t, "dx"), r.Draw(t, "dy"))) }
	out := make(curve.Path, len(ring))
	from := off(ring[0].P0)
	start := from
	for i, s := range ring {
		to := off(s.P3)
		if i == len(ring)-1 {
			to = start
		}
		if s.Straight {
			out[i] = curve.Line(from, to)
		} else {
			out[i] = curve.Cubic(from, off(s.P1), off(s.P2), to)
		}
		from = to
	}
	return out
}

// change alters one edge or corner of the piece; it gives the new version and
// the edges that it touched.
type change struct {
	name    string
	edges   []string
	corners []string
	do      func(p *pattern.Piece)
}

func changesOf(p *pattern.Piece) []change {
	corner := func(i int, dx, dy float64) change {
		before := p.Edges[(i+len(p.Edges)-1)%len(p.Edges)].Name
		return change{"corner " + p.Corners[i].Name, []string{before, p.Edges[i].Name}, []string{p.Corners[i].Name}, func(q *pattern.Piece) {
			q.Corners[i].At = q.Corners[i].At.Add(curve.Pt(dx, dy))
		}}
	}
	var out []change
	for i := range p.Corners {
		out = append(out, corner(i, 2.5, -1.25))
		for j, s := range p.Edges[i].Segs {
			if s.Curve {
				out = append(out, change{"handle of " + p.Edges[i].Name, []string{p.Edges[i].Name}, nil, func(q *pattern.Piece) {
					q.Edges[i].Segs[j].H1 = q.Edges[i].Segs[j].H1.Add(curve.Pt(1.5, 2))
				}})
			}
		}
	}
	return out
}

func changed(p *pattern.Piece, cs ...change) *pattern.Piece {
	q := pattern.Clone(p)
	for _, c := range cs {
		c.do(q)
	}
	for _, c := range cs {
		for _, e := range c.edges {
			i := q.EdgeIndex(e)
			q.Edges[i].Length = pattern.Some(pattern.RoundLength(q.EdgePath(i).Length(1e-6)))
		}
	}
	return q
}

func noErrors(t require.TestingT, l diag.List) {
	require.Empty(t, l.Only(diag.Error))
}

func onlyID(t *testing.T, l diag.List, s diag.Severity, id string) diag.Problem {
	t.Helper()
	found := l.Only(s)
	require.Len(t, found, 1, "%v", l)
	require.Equal(t, id, found[0].ID)
	return found[0]
}
