package curve

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// anyPoint draws coordinates as the text keeps them: thousandths of a mm.
func anyPoint(t *rapid.T, name string) Point {
	n := rapid.IntRange(-500000, 500000)
	return Pt(float64(n.Draw(t, name+" x"))/1000, float64(n.Draw(t, name+" y"))/1000)
}

// anySegment draws lines, cubics, and cubics with points that coincide.
func anySegment(t *rapid.T) Segment {
	a, b := anyPoint(t, "a"), anyPoint(t, "b")
	switch rapid.IntRange(0, 5).Draw(t, "kind") {
	case 0:
		return Line(a, b)
	case 1:
		return Cubic(a, a, b, b)
	case 2:
		return Cubic(a, b, a, b)
	}
	return Cubic(a, anyPoint(t, "h"), anyPoint(t, "k"), b)
}

func anyPath(t *rapid.T) Path {
	var p Path
	at := anyPoint(t, "start")
	for range rapid.IntRange(1, 5).Draw(t, "segments") {
		s := anySegment(t)
		s.P0 = at
		if s.Straight {
			s = Line(at, s.P3)
		}
		p, at = append(p, s), s.P3
	}
	return p
}

func anyRing(t *rapid.T) Path {
	p := anyPath(t)
	return append(p, Line(p.End(), p.Start()))
}

func anyMotion(t *rapid.T) Affine {
	turn := rapid.Float64Range(-4, 4).Draw(t, "turn")
	to := anyPoint(t, "to")
	return Rotate(turn).Then(Translate(to.X, to.Y))
}

func agree(t *rapid.T, want, got, within float64, what string) {
	t.Helper()
	if !(math.Abs(want-got) <= within) {
		t.Fatalf("%s: want %v, got %v, off by %g", what, want, got, got-want)
	}
}

func TestLengthIsUnchangedByReversingAndMoving(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p, m := anyPath(t), anyMotion(t)
		tol := rapid.SampledFrom(tolerances).Draw(t, "tol")
		l := p.Length(1e-10)
		agree(t, l, p.Reverse().Length(tol), tol+1e-9, "reversed")
		agree(t, l, p.Transform(m).Length(tol), tol+1e-9, "moved")
		agree(t, 2.5*l, p.Transform(Scale(2.5, -2.5)).Length(tol), tol+1e-9, "scaled and mirrored")
	})
}

func TestLengthsOfPartsAddUp(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s, u := anySegment(t), rapid.Float64Range(0, 1).Draw(t, "t")
		a, b := s.Split(u)
		whole := s.Length(1e-9)
		agree(t, whole, a.Length(1e-9)+b.Length(1e-9), 1e-8, "split")
		agree(t, a.Length(1e-9), s.LengthBetween(0, u, 1e-9), 1e-8, "before")
		dist := whole * u
		agree(t, dist, s.LengthBetween(0, s.ParamAt(dist, 1e-6), 1e-9), 1e-6+1e-8, "place at a length")
		chord, polygon := s.P0.Dist(s.P3), s.P0.Dist(s.P1)+s.P1.Dist(s.P2)+s.P2.Dist(s.P3)
		if whole < chord-1e-8 || whole > polygon+1e-8 {
			t.Fatalf("length %v outside chord %v and polygon %v", whole, chord, polygon)
		}
	})
}

func TestAreaChangesSignWhenReversed(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		ring, m := anyRing(t), anyMotion(t)
		a := ring.Area()
		agree(t, -a, ring.Reverse().Area(), 1e-6, "reversed")
		agree(t, a, ring.Transform(m).Area(), 1e-6, "moved")
		agree(t, 6*a, ring.Transform(Scale(2, 3)).Area(), 1e-5, "scaled")
	})
}

func TestWidthMovesWithTheRing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		ring := anyRing(t)
		dx := float64(rapid.IntRange(-1000, 1000).Draw(t, "dx"))
		dy := float64(rapid.IntRange(-1000, 1000).Draw(t, "dy"))
		// Off the thousandths, so that no corner lies on the level; a level near a
		// turn is sensitive by nature, so it is compared with its neighbours.
		y := float64(rapid.IntRange(-500000, 500000).Draw(t, "y"))/1000 + 0.000517
		w := ring.WidthAt(y)
		slack := 1e-7 + math.Abs(ring.WidthAt(y+1e-9)-w) + math.Abs(ring.WidthAt(y-1e-9)-w)
		agree(t, w, ring.Transform(Translate(dx, dy)).WidthAt(y+dy), slack, "moved")
		agree(t, w, ring.Reverse().WidthAt(y), slack, "reversed")
	})
}

// The mean of the widths over the height is the area, for rings that do not
// cross themselves: Cavalieri.
func TestWidthsSumToTheArea(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b := anyPoint(t, "a"), anyPoint(t, "b")
		ring := polygon(a, b, anyPoint(t, "c"))
		box := ring.Bounds()
		const n = 400
		sum := 0.0
		for i := range n {
			sum += ring.WidthAt(box.Min.Y + box.Height()*(float64(i)+0.5)/n)
		}
		agree(t, math.Abs(ring.Area()), sum*box.Height()/n, 1e-3*(1+box.Width()*box.Height()), "area")
	})
}

func TestNearestIsNoFartherThanAnySample(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p, q := anyPath(t), anyPoint(t, "q")
		n := p.Nearest(q)
		for i, s := range p {
			for k := range 201 {
				if d := s.At(float64(k) / 200).Dist(q); d < n.Dist-1e-7 {
					t.Fatalf("segment %d at %d/200 is nearer: %v, found %v", i, k, d, n.Dist)
				}
			}
		}
		agree(t, n.Dist, p[n.Seg].At(n.T).Dist(q), 1e-9, "the place found")
		agree(t, n.Dist, p.Reverse().Nearest(q).Dist, 2e-7, "reversed")
	})
}

// foldsAtAJoint tells whether a segment leaves a joint the way the one before
// it came.
func foldsAtAJoint(p Path) bool {
	var before Point
	live := p.withLength()
	for k := range append(live, live...) {
		s := p[live[k%len(live)]]
		if out, ok := s.StartTangent(); ok && k > 0 && before.Dot(out) < -0.999 {
			return true
		}
		before, _ = s.EndTangent()
	}
	return false
}

// onGrid moves all points of a path onto a grid.
func onGrid(p Path, step float64) Path {
	snap := func(q Point) Point { return Pt(math.Round(q.X/step)*step, math.Round(q.Y/step)*step) }
	out := make(Path, len(p))
	for i, s := range p {
		out[i] = Cubic(snap(s.P0), snap(s.P1), snap(s.P2), snap(s.P3))
		if s.Straight {
			out[i] = Line(out[i].P0, out[i].P3)
		}
	}
	return out
}

func TestSelfCrossingsAreUnchangedByReversing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		// On a grid of 0.5 mm, the shortest edge that a pattern may have: on one of a
		// thousandth whole edges are as small as what counts as one place.
		ring := onGrid(anyRing(t), 0.5)
		if foldsAtAJoint(ring) {
			t.Skip("where a joint has no angle, what still counts as the joint may depend on the direction")
		}
		a, b := len(ring.SelfCrossings()), len(ring.Reverse().SelfCrossings())
		if (a == 0) != (b == 0) {
			t.Fatalf("%d crossings, reversed %d", a, b)
		}
		for _, c := range ring.SelfCrossings() {
			agree(t, 0, ring[c.SegA].At(c.TA).Dist(ring[c.SegB].At(c.TB)), 2e-6, "the two places")
		}
	})
}

func TestSidewaysIsBlindToACut(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := anyPath(t)
		d := p.Length(1e-9) * rapid.Float64Range(0, 1).Draw(t, "d")
		a, b := p.SplitAt(d, 1e-9)
		for _, s := range Sideways(p, append(a, b...), 0).Samples {
			agree(t, 0, s.Dist, 0, "cut")
		}
	})
}
