package pattern

import (
	"fmt"

	"seamkeep/pattern/curve"
	"seamkeep/pattern/diag"
)

// Notch is a mark on the sewing line of an edge. Equal names on the two sides
// of a seam are a pair.
type Notch struct {
	Place diag.Place
	Name  string
	Edge  Mention
	On    Spot
}

// SpotKind is how a spot on an edge is given.
type SpotKind int

// The ways to give a spot.
const (
	AtLevel    SpotKind = iota // where the edge crosses a level
	FromLevel                  // at a distance along the edge from that crossing
	FromCorner                 // at a distance along the edge from one of its corners
)

// Spot is a place on an edge, measured along it.
type Spot struct {
	Kind     SpotKind
	Level    string
	Nearest  string  // a corner that picks one of several crossings
	Distance float64 // mm, along the edge
	Above    bool    // FromLevel: towards the edge's higher end
	Corner   string
}

// SpotError says why a spot has no place on its edge.
type SpotError struct {
	Found, Expected, Hint string
	Near                  Opt // the end of the edge beyond which it would lie, mm from the start
}

// Error gives found and expected in one line.
func (e *SpotError) Error() string { return e.Found + "; " + e.Expected }

// SpotAt gives the distance of a spot from the start of edge i, in mm, to
// within tol.
func (g *Garment) SpotAt(p *Piece, i int, s Spot, tol float64) (float64, *SpotError) {
	path := p.EdgePath(i)
	length := path.Length(tol)
	var at float64
	switch s.Kind {
	case FromCorner:
		if p.Corners[i].Name == s.Corner {
			at = s.Distance
		} else if p.Corners[p.After(i)].Name == s.Corner {
			at = length - s.Distance
		} else {
			return 0, &SpotError{
				Found:    fmt.Sprintf("corner %s is not an end of edge %s", s.Corner, p.Edges[i].Name),
				Expected: fmt.Sprintf("%s or %s", p.Corners[i].Name, p.Corners[p.After(i)].Name),
			}
		}
	default:
		cross, err := g.levelCrossing(p, i, path, s, tol)
		if err != nil {
			return 0, err
		}
		at = cross
		if s.Kind == FromLevel {
			if s.Above == risesFrom(path, cross, length, tol) {
				at += s.Distance
			} else {
				at -= s.Distance
			}
		}
	}
	// a file rounds to 0.001 mm, so a spot at the very end may lie a hair outside
	const hair = 0.002
	if at < -hair || at > length+hair {
		return 0, &SpotError{
			Found:    fmt.Sprintf("the place is %.1f mm from the start of edge %s, which is %.1f mm long", at, p.Edges[i].Name, length),
			Expected: "a place on the edge",
			Near:     Some(min(max(at, 0), length)),
		}
	}
	return min(max(at, 0), length), nil
}

func (g *Garment) levelCrossing(p *Piece, i int, path curve.Path, s Spot, tol float64) (float64, *SpotError) {
	y, ok := g.LevelOn(p, s.Level)
	if !ok {
		return 0, &SpotError{
			Found:    fmt.Sprintf("piece %s has no level %s", p.Name, s.Level),
			Expected: "a level of the garment or of the piece",
		}
	}
	hits := path.CrossingsY(y)
	name := p.Edges[i].Name
	switch {
	case len(hits) == 0:
		return 0, &SpotError{
			Found:    fmt.Sprintf("edge %s does not reach level %s (y = %g)", name, s.Level, y),
			Expected: "an edge that crosses the level",
		}
	case len(hits) > 1 && s.Nearest == "":
		return 0, &SpotError{
			Found:    fmt.Sprintf("edge %s crosses level %s %d times", name, s.Level, len(hits)),
			Expected: "one crossing, or \"nearest CORNER\" to pick one",
		}
	case len(hits) == 1:
		return path.LengthTo(hits[0].Seg, hits[0].T, tol), nil
	}
	c := p.CornerIndex(s.Nearest)
	if c < 0 {
		return 0, &SpotError{
			Found:    fmt.Sprintf("piece %s has no corner %s", p.Name, s.Nearest),
			Expected: "a corner of the piece",
		}
	}
	best := hits[0]
	for _, h := range hits[1:] {
		if h.Point.Dist(p.Corners[c].At) < best.Point.Dist(p.Corners[c].At) {
			best = h
		}
	}
	return path.LengthTo(best.Seg, best.T, tol), nil
}

// risesFrom tells whether walking on from the crossing leads upwards. Which
// end of the edge is higher decides it, so that a small wave at the level does
// not.
func risesFrom(path curve.Path, at, length, tol float64) bool {
	start, end := path.Start().Y, path.End().Y
	if start != end {
		return end > start
	}
	t, ok := path.TangentAt(min(at+length*0.01, length), tol)
	return ok && t.Y > 0
}
