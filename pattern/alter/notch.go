package alter

import (
	"fmt"
	"math"

	"seamkeep/pattern"
	"seamkeep/pattern/check"
	"seamkeep/pattern/measure"
)

// Placed is a notch that was written.
type Placed struct {
	Piece, Edge string
	Notch       pattern.Notch
	At          float64 // mm along the side of its seam, from where the walk begins
	Placeless   bool    // it has no place on its edge, so At is nothing
}

// Notched is a garment with a notch of a name on each side of a seam.
type Notched struct {
	Garment *pattern.Garment // the altered copy
	Placed  []Placed         // what was written: first side, second side; one where the seam is mirrored, none where both stood
	Stood   []Placed         // what stood there already
}

// AddNotches gives a copy of the garment with a pair of notches on a seam: on the first
// side where the spot says, on the second at the place that meets it when the seam is
// sewn, counted from the nearest notches that match, else from the waist, with ease in
// proportion (measure.Walk.Across). An empty name is made from the level. Distances are
// written to 0.001 mm and lengths are within tol. Where one of the two stands at the spot
// already the pair is completed, see CompleteNotches; where both do nothing is written.
//
// It refuses, with a *Refusal, a spot that the first side does not have or has twice, a
// place within check.NotchClear of a corner or of another notch on either side, and a
// name that stands elsewhere on the seam.
func AddNotches(g *pattern.Garment, seam string, on pattern.Spot, name string, tol float64) (*Notched, error) {
	if name == "" {
		name = nameOfSpot(on)
	}
	p, err := pairOn(g, seam, name, tol)
	if err != nil {
		return nil, err
	}
	if fault := pattern.NameFault(name); fault != "" {
		return nil, p.refuse("give it another: --name NAME", "the name %q %s", name, fault)
	}
	if p.lone() || p.whole() {
		if err := p.standsAt(on, tol); err != nil {
			return nil, err
		}
		return p.complete(tol)
	}
	s := p.walk.Seam
	first, at, why := spotOn(g, p.walk.First, on, tol)
	if why != "" {
		return nil, p.refuse("name a level that "+measure.SideName(s.First)+" crosses once, or a distance above or below one", "%s", why)
	}
	out := &Notched{Garment: pattern.Clone(g)}
	if err := out.place(s, first, at, on, name, tol); err != nil {
		return nil, err
	}
	if s.Mirrored {
		return out, nil
	}
	second, there := p.walk.Second.EdgeAt(p.walk.Across(0, out.Placed[0].At))
	if err := out.place(s, second, there, spotNear(g, second, there, on.Level, tol), name, tol); err != nil {
		return nil, err
	}
	return out, nil
}

// nameOfSpot makes the name of a notch: "bust", "above-bust".
func nameOfSpot(s pattern.Spot) string {
	switch {
	case s.Kind == pattern.AtLevel:
		return s.Level
	case s.Above:
		return "above-" + s.Level
	}
	return "below-" + s.Level
}

// spotOn finds a spot on a side: the part and the distance along its edge. why says what
// is wrong where it is not there once.
func spotOn(g *pattern.Garment, side measure.Side, on pattern.Spot, tol float64) (found measure.Part, at float64, why string) {
	count := 0
	for _, part := range side.Parts {
		d, err := g.SpotAt(part.Piece, part.Edge, on, tol)
		switch {
		case err != nil:
			why = err.Error()
		case outOf(part, d):
			why = fmt.Sprintf("the place lies outside the span of %s", part.Ref)
		default:
			found, at = part, d
			count++
		}
	}
	switch count {
	case 1:
		return found, at, ""
	case 0:
		return found, 0, why
	}
	return found, 0, fmt.Sprintf("%s has that place %d times", measure.SideName(side.Refs), count)
}

func outOf(part measure.Part, at float64) bool {
	_, inside := part.Along(at)
	return !inside
}

// spotNear words a place on an edge: at the level where that is the place, else by its
// distance from the level or the waist, else from the nearer corner.
func spotNear(g *pattern.Garment, part measure.Part, at float64, level string, tol float64) pattern.Spot {
	const same = 0.0005 // what the text rounds away
	p := part.Piece
	for _, l := range []string{level, "waist"} {
		crossing, err := g.SpotAt(p, part.Edge, pattern.Spot{Level: l}, tol)
		if err != nil {
			continue
		}
		if math.Abs(crossing-at) <= same {
			return pattern.Spot{Kind: pattern.AtLevel, Level: l}
		}
		spot := pattern.Spot{Kind: pattern.FromLevel, Level: l, Distance: pattern.RoundLength(math.Abs(crossing - at))}
		for _, spot.Above = range []bool{true, false} {
			if d, err := g.SpotAt(p, part.Edge, spot, tol); err == nil && math.Abs(d-at) <= 2*same {
				return spot
			}
		}
	}
	length := p.EdgePath(part.Edge).Length(tol)
	if at <= length/2 {
		return pattern.Spot{Kind: pattern.FromCorner, Corner: p.Corners[part.Edge].Name, Distance: pattern.RoundLength(at)}
	}
	return pattern.Spot{Kind: pattern.FromCorner, Corner: p.Corners[p.After(part.Edge)].Name, Distance: pattern.RoundLength(length - at)}
}

// place writes one notch into the copy, unless it has no room there.
func (n *Notched) place(s *pattern.Seam, part measure.Part, at float64, on pattern.Spot, name string, tol float64) error {
	p := n.Garment.Piece(part.Piece.Name)
	edge := p.Edges[part.Edge].Name
	hint := fmt.Sprintf("choose a place at least %g from corners and other notches on both sides, and a name of its own", check.NotchClear)
	if p.NotchIndex(edge, name) >= 0 {
		return &Refusal{Seam: s.Name, Why: fmt.Sprintf("%s.%s has a notch %s already", p.Name, edge, name), Hint: hint}
	}
	if near := check.NotchNear(n.Garment, p, part.Edge, at, name, tol); near != "" {
		return &Refusal{Seam: s.Name, Why: fmt.Sprintf("the place on %s.%s is %s", p.Name, edge, near), Hint: hint}
	}
	along, _ := part.Along(at)
	notch := pattern.Notch{Name: name, Edge: pattern.Mention{Name: edge}, On: on}
	p.Notches = append(p.Notches, notch)
	n.Placed = append(n.Placed, Placed{Piece: p.Name, Edge: edge, Notch: notch, At: along})
	return nil
}
