package alter

import (
	"fmt"
	"math"
	"slices"

	"seamkeep/pattern"
	"seamkeep/pattern/check"
	"seamkeep/pattern/measure"
)

// settled is by how much a pair that was made to match may still be off, mm: what the
// text rounds away.
const settled = 0.0015

// MovedNotch is a notch that was moved; mm along its side of the seam, from where the
// walk begins.
type MovedNotch struct {
	Piece, Edge string
	Was, Now    float64
}

// MovedPair is a garment with a pair of notches in another place.
type MovedPair struct {
	Garment     *pattern.Garment // the altered copy
	Moved       []MovedNotch     // none where the pair matched already
	Before, Now float64          // how much further on the first side's notch lies, mm
}

// MatchNotches gives a copy of the garment in which the two notches of a name on a seam
// meet when it is sewn: walked from the waist, else from the seam's beginning; the pair of
// the waist itself from the nearest other pair, else from where both sides cross the
// waist. move names the piece whose notch goes to the other's, or is Both: each half the
// way. Notches are written to 0.001 mm; lengths are within tol.
//
// It refuses, with a *Refusal, what CompleteNotches does, half a pair, a notch at which a
// span of a seam ends, a place on another edge, and a move after which the seam no longer
// matches, or less than before.
func MatchNotches(g *pattern.Garment, seam, name, move string, tol float64) (*MovedPair, error) {
	p, err := wholePair(g, seam, name, tol)
	if err != nil {
		return nil, err
	}
	if p.walk.Seam.Mirrored {
		return nil, p.refuse("", "a mirrored seam meets itself, so no notch of it is off")
	}
	share, err := p.shares(move)
	if err != nil {
		return nil, err
	}
	out := &MovedPair{Garment: g}
	if out.Before, err = p.off(tol); err != nil {
		return nil, err
	}
	q := p
	by := out.Before
	for i := 0; i < 8 && math.Abs(by) > settled; i++ {
		if q, err = q.shift(-by*share[0], by*share[1], tol); err != nil {
			return nil, err
		}
		if by, err = q.off(tol); err != nil {
			return nil, err
		}
	}
	out.Now = by
	return out, out.settle(p, q, tol)
}

// MoveNotches gives a copy of the garment in which a pair of notches stands elsewhere on
// its seam: on the first side where the spot says, on the second where it meets that, as
// AddNotches finds it. It refuses what MatchNotches and AddNotches do.
func MoveNotches(g *pattern.Garment, seam, name string, on pattern.Spot, tol float64) (*MovedPair, error) {
	p, err := wholePair(g, seam, name, tol)
	if err != nil {
		return nil, err
	}
	if err := p.atZone("moved"); err != nil {
		return nil, err
	}
	bare := pattern.Clone(g)
	p.takeOut(bare)
	added, err := AddNotches(bare, seam, on, name, tol)
	if err != nil {
		return nil, err
	}
	q, err := pairOn(added.Garment, seam, name, tol)
	if err != nil {
		return nil, err
	}
	out := &MovedPair{Garment: g}
	if !p.walk.Seam.Mirrored {
		if out.Before, err = p.off(tol); err != nil {
			return nil, err
		}
		if out.Now, err = q.off(tol); err != nil {
			return nil, err
		}
	}
	return out, out.settle(p, q, tol)
}

// wholePair gives a whole pair of notches at which no span ends.
func wholePair(g *pattern.Garment, seam, name string, tol float64) (*notchPair, error) {
	p, err := clearPair(g, seam, name, tol)
	if err != nil {
		return nil, err
	}
	if !p.whole() {
		s := slices.Concat(p.sides[0], p.sides[1])[0]
		return nil, p.refuse("complete the pair first: seamkeep notches add "+seam+" --name "+name, "notch %s stands on %s alone", name, s.edge())
	}
	return p, p.atSpan("moved")
}

// atSpan refuses notches at which a span of a seam ends: with them the seam would change.
func (p *notchPair) atSpan(what string) error {
	for _, s := range slices.Concat(p.sides[0], p.sides[1]) {
		for _, seam := range p.garment.Seams {
			for _, r := range slices.Concat(seam.First, seam.Second) {
				if r.Piece == s.part.Piece.Name && r.Edge == s.notch.Edge.Name && (r.From == p.name || r.To == p.name) {
					return p.refuse("write another notch into that span of the garment file first", "at notch %s of %s a span of seam %s ends, so it cannot be %s", p.name, s.edge(), seam.Name, what)
				}
			}
		}
	}
	return nil
}

// atZone refuses notches at which a zone of the seam's ease ends: without them it cannot
// be walked.
func (p *notchPair) atZone(what string) error {
	for _, e := range p.walk.Seam.Eases {
		if e.From == p.name || e.To == p.name {
			return p.refuse("write another notch into the seam's ease in the garment file first", "at notch %s a zone of its ease ends, so it cannot be %s", p.name, what)
		}
	}
	return nil
}

// shares gives how much of a difference the notch of each side makes up.
func (p *notchPair) shares(move string) ([2]float64, error) {
	a, b := p.sides[0][0].part.Piece.Name, p.sides[1][0].part.Piece.Name
	switch {
	case move == Both:
		return [2]float64{0.5, 0.5}, nil
	case move == a && a != b:
		return [2]float64{1, 0}, nil
	case move == b:
		return [2]float64{0, 1}, nil
	}
	return [2]float64{}, p.refuse(fmt.Sprintf("move the one of %s, of %s, or %s", a, b, Both), "no notch %s of it stands on %s", p.name, move)
}

// off gives how much further on the first side's notch lies than the place that the
// second's meets there, mm.
func (p *notchPair) off(tol float64) (float64, error) {
	if p.name != "waist" {
		for _, d := range p.walk.Drifts() {
			if d.Name == p.name {
				return d.By, nil
			}
		}
		return 0, nil // at the ends of both sides
	}
	if err := p.atZone("matched to others"); err != nil {
		return 0, err
	}
	bare := pattern.Clone(p.garment)
	p.takeOut(bare)
	q, err := pairOn(bare, p.walk.Seam.Name, p.name, tol)
	if err != nil {
		return 0, err
	}
	return p.sides[0][0].along - q.walk.Across(1, p.sides[1][0].along), nil
}

// takeOut removes the notches of the pair from a copy of its garment.
func (p *notchPair) takeOut(from *pattern.Garment) {
	for _, s := range slices.Concat(p.sides[0], p.sides[1]) {
		piece := from.Piece(s.part.Piece.Name)
		piece.Notches = slices.DeleteFunc(piece.Notches, func(n pattern.Notch) bool { return n.Name == p.name && n.Edge.Name == s.notch.Edge.Name })
	}
}

// shift moves the notches of the first and the second side along by so many mm, in a copy
// of the garment.
func (p *notchPair) shift(first, second, tol float64) (*notchPair, error) {
	c := pattern.Clone(p.garment)
	for i, by := range [2]float64{first, second} {
		if by == 0 {
			continue
		}
		s := p.sides[i][0]
		at := s.at + by
		if s.part.Backward {
			at = s.at - by
		}
		if outOf(s.part, at) {
			return nil, p.refuse("redraw the edge instead", "notch %s would leave %s", p.name, s.edge())
		}
		piece := c.Piece(s.part.Piece.Name)
		on := &piece.Notches[piece.NotchIndex(s.notch.Edge.Name, p.name)].On
		*on = movedSpot(p.garment, s.part, at, *on, tol)
	}
	return pairOn(c, p.walk.Seam.Name, p.name, tol)
}

// movedSpot words a place on an edge in the way in which the notch was given.
func movedSpot(g *pattern.Garment, part measure.Part, at float64, was pattern.Spot, tol float64) pattern.Spot {
	if was.Kind != pattern.FromCorner {
		return spotNear(g, part, at, was.Level, tol)
	}
	was.Distance = pattern.RoundLength(at)
	if part.Piece.Corners[part.Edge].Name != was.Corner {
		was.Distance = pattern.RoundLength(part.Piece.EdgePath(part.Edge).Length(tol) - at)
	}
	return was
}

// settle takes the moved pair over, unless it has no room or the seam suffers.
func (m *MovedPair) settle(was, is *notchPair, tol float64) error {
	for i := range was.sides {
		for k, s := range is.sides[i] {
			before := was.sides[i][k]
			if before.edge() == s.edge() && math.Abs(before.along-s.along) <= settled/2 {
				continue
			}
			if near := check.NotchNear(is.garment, s.part.Piece, s.part.Edge, s.at, is.name, tol); near != "" {
				return is.refuse("redraw the edge instead, or take the pair out: seamkeep notches drop "+is.walk.Seam.Name+" "+is.name, "notch %s on %s would stand %s", is.name, s.edge(), near)
			}
			m.Moved = append(m.Moved, MovedNotch{Piece: s.part.Piece.Name, Edge: s.notch.Edge.Name, Was: before.along, Now: s.along})
		}
	}
	a, b := check.Judge(was.garment, was.walk), check.Judge(is.garment, is.walk)
	if !b.OK && (a.OK || b.Amount > a.Amount+settled) {
		seg := is.walk.Worst()
		return is.refuse("its sides differ there: redraw an edge between these notches", "the seam would not match: %s to %s would be off by %+.2f", seg.From, seg.To, seg.Difference)
	}
	if len(m.Moved) > 0 {
		m.Garment = is.garment
	}
	return nil
}

// DropNotches gives a copy of the garment without the notches of a name on a seam, on
// both sides, and what was taken out. It refuses, with a *Refusal, a name that stands
// nowhere on the seam, and notches at which a span or a zone of ease ends.
func DropNotches(g *pattern.Garment, seam, name string, tol float64) (*pattern.Garment, []Placed, error) {
	p, err := pairOn(g, seam, name, tol)
	if err != nil {
		return nil, nil, err
	}
	all := slices.Concat(p.sides[0], p.sides[1])
	if len(all) == 0 {
		return nil, nil, p.refuse("seamkeep walk "+seam+" names those that do", "no notch %s stands on it", name)
	}
	if err := p.atSpan("taken out"); err != nil {
		return nil, nil, err
	}
	if err := p.atZone("taken out"); err != nil {
		return nil, nil, err
	}
	out := pattern.Clone(g)
	p.takeOut(out)
	var gone []Placed
	for _, s := range all {
		gone = append(gone, Placed{Piece: s.part.Piece.Name, Edge: s.notch.Edge.Name, Notch: s.notch, At: s.along, Placeless: s.fault != ""})
	}
	return out, gone, nil
}
