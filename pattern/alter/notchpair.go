package alter

import (
	"fmt"
	"math"

	"seamkeep/pattern"
	"seamkeep/pattern/measure"
)

// notchPair is the notches of a name on a seam that was walked.
type notchPair struct {
	garment *pattern.Garment
	walk    *measure.Walk
	name    string
	sides   [2][]standing // none on the second where the seam is mirrored
}

// standing is a notch on a side of a seam.
type standing struct {
	part  measure.Part
	notch pattern.Notch
	at    float64 // mm along its edge
	along float64 // mm along the side
	fault string  // why it has no place; at and along are then nothing
}

func (s standing) edge() string { return s.part.Piece.Name + "." + s.notch.Edge.Name }

// pairOn walks a seam and finds the notches of a name on it.
func pairOn(g *pattern.Garment, seam, name string, tol float64) (*notchPair, error) {
	s := g.Seam(seam)
	if s == nil {
		return nil, &Refusal{Seam: seam, Why: "there is no such seam"}
	}
	w, problem := measure.WalkSeam(g, s, tol)
	if problem != nil {
		return nil, &Refusal{Seam: seam, Why: problem.Message(), Hint: problem.Hint}
	}
	p := &notchPair{garment: g, walk: w, name: name}
	p.sides[0] = standingOn(g, w.First, name, tol)
	if !s.Mirrored {
		p.sides[1] = standingOn(g, w.Second, name, tol)
	}
	return p, nil
}

func standingOn(g *pattern.Garment, side measure.Side, name string, tol float64) []standing {
	var out []standing
	for _, part := range side.Parts {
		k := part.Piece.NotchIndex(part.Piece.Edges[part.Edge].Name, name)
		if k < 0 {
			continue
		}
		s := standing{part: part, notch: part.Piece.Notches[k]}
		at, err := g.SpotAt(part.Piece, part.Edge, s.notch.On, tol)
		inside := true
		if err != nil {
			s.fault = err.Error()
		} else {
			s.at = at
			s.along, inside = part.Along(at)
		}
		if inside {
			out = append(out, s)
		}
	}
	return out
}

// lone tells whether one side only has a notch of the name, once; whole whether all
// sides have.
func (p *notchPair) lone() bool {
	return !p.walk.Seam.Mirrored && len(p.sides[0])+len(p.sides[1]) == 1
}

func (p *notchPair) whole() bool {
	return len(p.sides[0]) == 1 && (p.walk.Seam.Mirrored || len(p.sides[1]) == 1)
}

func (p *notchPair) refuse(hint, why string, args ...any) *Refusal {
	return &Refusal{Seam: p.walk.Seam.Name, Why: fmt.Sprintf(why, args...), Hint: hint}
}

// unclear refuses a name that stands twice on a side, and a notch without a place.
func (p *notchPair) unclear() error {
	for i, side := range [2]measure.Side{p.walk.First, p.walk.Second} {
		if len(p.sides[i]) > 1 {
			return p.refuse("give one of them, and its partner, another name; or take all of them out: seamkeep notches drop "+p.walk.Seam.Name+" "+p.name,
				"notch %s stands %d times on %s", p.name, len(p.sides[i]), measure.SideName(side.Refs))
		}
		for _, s := range p.sides[i] {
			if s.fault != "" {
				return p.refuse("give it another place in the file of its piece", "notch %s on %s has no place: %s", p.name, s.edge(), s.fault)
			}
		}
	}
	return nil
}

// standsAt refuses a spot at which the notches that are there do not stand.
func (p *notchPair) standsAt(on pattern.Spot, tol float64) error {
	const same = 0.01 // mm: a partner is written to 0.001
	if err := p.unclear(); err != nil {
		return err
	}
	i, side := 0, p.walk.First
	if len(p.sides[0]) == 0 {
		i, side = 1, p.walk.Second
	}
	s := p.sides[i][0]
	hint := "complete the pair where it stands: seamkeep notches add " + p.walk.Seam.Name + " --name " + p.name + "\nor give the new one a name of its own: --name NAME"
	if p.whole() {
		hint = fmt.Sprintf("move the pair there: seamkeep notches move %s %s PLACE\nor give the new one a name of its own: --name NAME", p.walk.Seam.Name, p.name)
	}
	_, at, why := spotOn(p.garment, side, on, tol)
	switch {
	case why != "":
		return p.refuse(hint, "%s has a notch %s already; of the place that is asked for: %s", s.edge(), p.name, why)
	case math.Abs(at-s.at) > same:
		return p.refuse(hint, "%s has a notch %s already, %.1f mm from there", s.edge(), p.name, math.Abs(at-s.at))
	}
	return nil
}

// clearPair gives the notches of a name on a seam: one or two, each with a place.
func clearPair(g *pattern.Garment, seam, name string, tol float64) (*notchPair, error) {
	p, err := pairOn(g, seam, name, tol)
	if err != nil {
		return nil, err
	}
	if len(p.sides[0])+len(p.sides[1]) == 0 {
		return nil, p.missing()
	}
	if err := p.unclear(); err != nil {
		return nil, err
	}
	return p, nil
}

// CompleteNotches gives a copy of the garment in which the notch of a name that stands on
// one side of a seam has its partner on the other: at the place that meets it when the
// seam is sewn, as AddNotches finds it. Where both stand nothing is written. It refuses,
// with a *Refusal, a name that stands nowhere on the seam or twice on a side, a notch
// without a place, and a place without room.
func CompleteNotches(g *pattern.Garment, seam, name string, tol float64) (*Notched, error) {
	p, err := clearPair(g, seam, name, tol)
	if err != nil {
		return nil, err
	}
	return p.complete(tol)
}

func (p *notchPair) missing() *Refusal {
	return p.refuse("say where the pair is to stand: seamkeep notches add "+p.walk.Seam.Name+" at LEVEL --name "+p.name, "no notch %s stands on it", p.name)
}

func (p *notchPair) complete(tol float64) (*Notched, error) {
	out := &Notched{Garment: pattern.Clone(p.garment)}
	for _, side := range p.sides {
		for _, s := range side {
			out.Stood = append(out.Stood, Placed{Piece: s.part.Piece.Name, Edge: s.notch.Edge.Name, Notch: s.notch, At: s.along})
		}
	}
	if p.whole() {
		return out, nil
	}
	from, side := 0, p.walk.Second
	if len(p.sides[0]) == 0 {
		from, side = 1, p.walk.First
	}
	stood := p.sides[from][0]
	part, at := side.EdgeAt(p.walk.Across(from, stood.along))
	if err := out.place(p.walk.Seam, part, at, spotNear(p.garment, part, at, stood.notch.On.Level, tol), p.name, tol); err != nil {
		return nil, err
	}
	return out, nil
}
