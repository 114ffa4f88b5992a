package measure

import (
	"fmt"

	"seamkeep/pattern"
	"seamkeep/pattern/curve"
)

// Ends gives what the walk is off by at the seam's two ends: the difference of
// the outermost segments, in mm, positive where the first side is the longer.
// An end that is a station of both sides agrees, so it is off by 0. A seam of
// one segment is off by half at each end, or by all of it at the end that is no
// station.
func (w *Walk) Ends() (start, end float64) {
	start, end = w.Segments[0].Difference, w.Segments[len(w.Segments)-1].Difference
	if len(w.Segments) == 1 && !w.Agreed[0] && !w.Agreed[1] {
		start, end = start/2, end/2
	}
	if w.Agreed[0] {
		start = 0
	}
	if w.Agreed[1] {
		end = 0
	}
	return start, end
}

// FromWaist gives what the walk is off by at the seam's two ends, in mm, where both
// sides are laid together at the waist: the sum of the differences from there to each
// end, positive where the first side reaches further. Where the waist is no station it
// is as Ends gives it.
func (w *Walk) FromWaist() (start, end float64) {
	waist := -1 // how many segments lie before it
	for i, seg := range w.Segments {
		if seg.From == "waist" {
			waist = i
		}
		if seg.To == "waist" {
			waist = i + 1
		}
	}
	if waist < 0 {
		return w.Ends()
	}
	for i, seg := range w.Segments {
		if i < waist {
			start += seg.Difference
		} else {
			end += seg.Difference
		}
	}
	return start, end
}

// Remains gives what would still be off, whole or in a segment, in mm, were both
// ends put right: what lies between stations, which no corner mends.
func (w *Walk) Remains() float64 {
	whole, worst := 0.0, 0.0
	for i, seg := range w.Segments {
		if i == 0 && !w.Agreed[0] || i == len(w.Segments)-1 && !w.Agreed[1] {
			continue
		}
		whole += seg.Difference
		worst = max(worst, abs(seg.Difference))
	}
	return max(worst, abs(whole))
}

// Slide moves the corner at an end of a side along the side's own edge by an
// amount in mm: positive shortens the side, negative lengthens it. Beyond the
// edge's end the corner goes on along the tangent: a straight last segment
// grows, a curve gets a straight piece behind it. It gives the edge's new line
// in the edge's own direction, within tol. An error says why the corner cannot
// go there.
func (s Side) Slide(atEnd bool, amount, tol float64) (p *pattern.Piece, edge, corner int, path curve.Path, err error) {
	part := s.Parts[0]
	if atEnd {
		part = s.Parts[len(s.Parts)-1]
	}
	p, edge = part.Piece, part.Edge
	path = p.EdgePath(edge)
	last := atEnd != part.Backward // the corner is where the edge ends
	corner = edge
	if last {
		corner = p.After(edge)
	}
	if amount >= part.Length() {
		return p, edge, corner, nil, fmt.Errorf("%s.%s is %.1f mm long there, and %.1f would have to go", p.Name, p.Edges[edge].Name, part.Length(), amount)
	}
	if !last {
		path = path.Reverse()
	}
	if amount >= 0 {
		path = path.SubPath(0, path.Length(tol)-amount, tol)
	} else if path, err = extend(path, -amount); err != nil {
		return p, edge, corner, nil, fmt.Errorf("%s.%s: %w", p.Name, p.Edges[edge].Name, err)
	}
	if !last {
		path = path.Reverse()
	}
	return p, edge, corner, path, nil
}

func extend(path curve.Path, by float64) (curve.Path, error) {
	t, ok := path.EndTangent()
	if !ok {
		return nil, fmt.Errorf("the edge has no direction at its end")
	}
	grown := append(curve.Path{}, path...)
	end := path.End().Add(t.Mul(by))
	last := len(grown) - 1
	if grown[last].Straight {
		grown[last] = curve.Line(grown[last].P0, end)
		return grown, nil
	}
	return append(grown, curve.Line(path.End(), end)), nil
}
