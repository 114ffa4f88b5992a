package check

import (
	"fmt"
	"math"
	"strings"

	"seamkeep/pattern"
	"seamkeep/pattern/diag"
	"seamkeep/pattern/measure"
)

// twoAnchors tells a row that its record holds at two places, of which one has no button
// or eyelet: at a level and at the margins. Each may miss by as much as a notch.
func (x fastening) twoAnchors(r measure.Row) (diag.Problem, bool) {
	if !r.Anchor.Set || len(r.At) < 2 {
		return diag.Problem{}, false
	}
	limit := x.in.Garment.ToleranceOf("notch")
	if !x.f.Pitch.Set {
		return x.levelMissed(r, limit)
	}
	if !x.f.Margin.Set {
		return diag.Problem{}, false
	}
	upper, lower := r.Inside(x.f.Margin.Value)
	where, off, at := "upper", r.Miss(upper), upper
	if miss := r.Miss(lower); miss > off {
		where, off, at = "lower", miss, lower
	}
	if off <= limit+slack {
		return diag.Problem{}, false
	}
	y := x.anchorProblem(r, at, off, limit)
	y.Found = fmt.Sprintf("counted from %s on %s at pitch %g, the nearest of the %s of %s stands %.1f from the %s margin of %g", x.f.From, r.Name(), x.f.Pitch.Value, measure.WordOf(x.c), x.c.Name, off, where, x.f.Margin.Value)
	y.Hint = x.holdBoth(r, limit) + "take margin out"
	return y, true
}

// levelMissed tells a row that is divided between its margins though its record names a
// level, and has none there.
func (x fastening) levelMissed(r measure.Row, limit float64) (diag.Problem, bool) {
	off := r.Miss(r.Anchor.Value)
	if off <= limit+slack {
		return diag.Problem{}, false
	}
	y := x.anchorProblem(r, r.Anchor.Value, off, limit)
	y.Found = fmt.Sprintf("without a pitch the %d %s of %s are divided evenly between the margins of %s, and the nearest stands %.1f from %s", len(r.At), measure.WordOf(x.c), x.c.Name, r.Name(), off, x.f.From)
	y.Hint = x.holdBoth(r, limit) + fmt.Sprintf("take from %s out", x.f.From)
	return y, true
}

func (x fastening) anchorProblem(r measure.Row, at, off, limit float64) diag.Problem {
	y := x.problem("closure.two-anchors", off)
	spot := r.Piece.EdgePath(r.Edge).PointAt(at, x.in.Tol)
	y.Place = onPiece(y.Place, r.Piece, r.Piece.Edges[r.Edge].Name).Point(spot.X, spot.Y)
	y.Expected = fmt.Sprintf("one within %g of the level and of each margin", limit)
	return y
}

// holdBoth says at which pitches there is one at the level and at both margins, or, where
// there is no such pitch near the row's own, at the level and at one of them.
func (x fastening) holdBoth(r measure.Row, limit float64) string {
	const rounded = 0.1 // mm that the places of a row may be off by the digits of its pitch
	limit -= rounded
	upper, lower := r.Inside(x.f.Margin.Or(0))
	above, below := math.Abs(r.Anchor.Value-upper), math.Abs(r.Anchor.Value-lower)
	line := func(pitch float64) string {
		return fmt.Sprintf("pitch %g up %.0f down %.0f", pattern.RoundLength(pitch), math.Floor(above/pitch+0.5), math.Floor(below/pitch+limit/pitch))
	}
	if p, ok := commonPitch(above, below, r.Pitch, max(r.Pitch/2, x.f.Diameter.Or(0)), limit); ok {
		return fmt.Sprintf("write %s, and all of them hold; or ", line(p))
	}
	var ways []string
	for _, m := range []struct {
		name string
		far  float64
	}{{"upper", above}, {"lower", below}} {
		if list := BothPitches(x.f, m.far, r.Pitch); len(list) > 0 {
			ways = append(ways, fmt.Sprintf("pitch %s for %s and the %s margin", Pitches(list), x.f.From, m.name))
		}
	}
	if len(ways) == 0 {
		return ""
	}
	return "write " + strings.Join(ways, ", or ") + "; or "
}

// commonPitch gives the pitch nearest to one, at least so large and at most twice as
// large, that divides both of two distances into whole spaces, the second within limit
// mm.
func commonPitch(above, below, pitch, least, limit float64) (best float64, ok bool) {
	if !(above > limit && below > limit && pitch > 0) {
		return 0, false
	}
	for n := max(1, math.Ceil(above/(2*pitch))); n <= min(above/least, measure.MostInRow); n++ {
		p := above / n
		if math.Abs(below-p*math.Round(below/p)) <= limit && (!ok || math.Abs(p-pitch) < math.Abs(best-pitch)) {
			best, ok = p, true
		}
	}
	return best, ok
}
