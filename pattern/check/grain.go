package check

import (
	"fmt"
	"math"

	"seamkeep/pattern"
	"seamkeep/pattern/curve"
	"seamkeep/pattern/diag"
)

const (
	// GrainUpright is how far from upright a grain line may lie, in degrees, before it
	// is said: common practice, no source.
	GrainUpright = 0.5
	// StretchLean is how far from upright the grain of a piece that stretches may lie, in
	// degrees. Pieces are drawn upright and elastic is to stretch round the body, across
	// the grain; of an elongation along one axis cos^2 of the angle is left in another
	// (the strain in a turned direction, any text on elasticity, from memory), 0.93 at 15
	// degrees. The 15 degrees: common practice, no source.
	StretchLean = 15.0
)

// grains looks at the grain line of each piece. A piece without one has its grain
// upright, as it is drawn.
func grains(in Input) diag.List {
	stretches := map[string]float64{}
	for _, o := range in.Garment.Options {
		stretches[o.Piece] = o.Stretch.Or(0)
	}
	var out diag.List
	for _, p := range in.Garment.Pieces {
		if p.Grain == nil || !closed(p) {
			continue
		}
		out = append(out, grainInside(p)...)
		lean, ok := GrainLean(p)
		switch {
		case !ok:
		case stretches[p.Name] > 0 && lean > StretchLean:
			x := grainProblem("grain.stretch", p)
			x.Severity, x.Amount = diag.Warning, lean
			x.Found = fmt.Sprintf("the grain of %s leans by %.1f degrees, so that its stretch of %g percent does not run round the body", p.Name, lean, stretches[p.Name])
			x.Expected = fmt.Sprintf("at most %g: the grain upright, the stretch across it", StretchLean)
			x.Hint = "turn the grain line upright, unless this cloth stretches another way"
			out = append(out, x)
		case lean > GrainUpright:
			x := grainProblem("grain.lean", p)
			x.Severity, x.Amount = diag.Note, lean
			x.Found = fmt.Sprintf("the grain of %s leans by %.1f degrees from upright", p.Name, lean)
			out = append(out, x)
		}
	}
	return out
}

// GrainLean gives the angle between a piece's grain line and upright, from 0 to 90
// degrees; false where it has none, or one without a direction.
func GrainLean(p *pattern.Piece) (float64, bool) {
	if p.Grain == nil || p.Grain.From == p.Grain.To {
		return 0, false
	}
	way := p.Grain.To.Sub(p.Grain.From)
	return math.Atan2(math.Abs(way.X), math.Abs(way.Y)) * 180 / math.Pi, true
}

func grainProblem(id string, p *pattern.Piece) diag.Problem {
	x := pieceProblem(id, p, p.Grain.Place, "")
	x.Place = x.Place.Point(p.Grain.From.X, p.Grain.From.Y)
	return x
}

// grainInside tells a grain line that leaves its piece: it would be drawn, and laid on
// the cloth, where no cloth is.
func grainInside(p *pattern.Piece) diag.List {
	ring := p.Outline()
	line := pattern.Mark{Kind: pattern.Placement, At: p.Grain.From, Segs: []pattern.Seg{{To: p.Grain.To}}}
	at, off := outside(ring, ring.Bounds(), line)
	if off == 0 {
		return nil
	}
	x := grainProblem("grain.outside", p)
	x.Severity, x.Amount, x.Place = diag.Warning, off, x.Place.Point(at.X, at.Y)
	x.Found = fmt.Sprintf("the grain line of %s lies %.1f mm outside at %.1f %.1f", p.Name, off, at.X, at.Y)
	x.Expected = "a grain line inside the sewing line"
	x.Hint = "shorten it, or move it beside itself: only its direction counts"
	return diag.List{x}
}

// Alike is how far an outline may lie from its mirror image, mm, and still be the same
// turned over: common practice, no source.
const Alike = 0.5

// symmetric tells whether a piece turned over, as it lies or with its top down, covers
// itself.
func symmetric(p *pattern.Piece) bool {
	ring := p.Outline()
	box := ring.Bounds()
	centre := box.Min.Add(box.Max)
	for _, over := range []curve.Affine{
		curve.Scale(-1, 1).Then(curve.Translate(centre.X, 0)),
		curve.Scale(1, -1).Then(curve.Translate(0, centre.Y)),
	} {
		if curve.Hausdorff(ring, ring.Transform(over), Alike/10).Dist <= Alike {
			return true
		}
	}
	return false
}
