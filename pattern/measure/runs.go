package measure

import (
	"fmt"

	"seamkeep/pattern"
)

// Crossed names the seams that a run crosses, in its order.
func Crossed(g *pattern.Garment, run string) []string {
	r := g.Run(run)
	if r == nil {
		return nil
	}
	turns, _ := Measure{Run: run}.crossings(g)
	var out []string
	for _, t := range turns {
		out = append(out, t.Seam)
	}
	return out
}

// crossings gives the turns of the measure's run at its seam, or at every seam that the
// run crosses, in its order; why there are none.
func (m Measure) crossings(g *pattern.Garment) (turns []Turn, why string) {
	r := g.Run(m.Run)
	if m.Seam != "" {
		t, ok := TurnAt(g, r, g.Seam(m.Seam))
		if !ok {
			return nil, "seam " + m.Seam + " does not join two neighbouring edges of run " + m.Run
		}
		return []Turn{t}, ""
	}
	for _, c := range Courses(g) {
		if c.Run != r {
			continue
		}
		for _, t := range c.Turns {
			if t.Seam != "" {
				turns = append(turns, t)
			}
		}
	}
	if len(turns) == 0 {
		why = "run " + m.Run + " crosses no seam"
	}
	return turns, why
}

// turn gives the kink of a run at a seam, or at each that it crosses.
func (m Measure) turn(in Input) []Value {
	turns, why := m.crossings(in.Garment)
	if why != "" {
		return unknown(m, "degrees", why)
	}
	var out []Value
	for _, t := range turns {
		v := one(m, t.Kink(), "degrees")[0]
		if m.Seam == "" {
			v.Of = t.Seam
		}
		out = append(out, v)
	}
	return out
}

// reach gives how far a run lies from the waist along each seam that it crosses, on the
// cloth of each side, mm: a hem is level on the body where these are equal. The waist is
// the notch of that name, else where the side crosses the level waist, once.
func (m Measure) reach(in Input) ([]Value, error) {
	turns, why := m.crossings(in.Garment)
	if why != "" {
		return unknown(m, "mm", why), nil
	}
	var out []Value
	for _, t := range turns {
		w, problem := WalkSeam(in.Garment, in.Garment.Seam(t.Seam), in.Tol)
		if problem != nil {
			return nil, fmt.Errorf("%s", problem.Message())
		}
		for _, side := range []Side{w.First, w.Second} {
			v := Value{Measure: m.String(), Of: SideName(side.Refs), Unit: "mm"}
			if m.Seam == "" {
				v.Of = t.Seam + ", " + v.Of
			}
			if waist, ok := side.waistOrNotch(in.Garment, in.Tol); ok {
				v.Known, v.Value = true, waist
				if t.AtEnd {
					v.Value = side.Length - waist
				}
			} else {
				v.Why = "it has no notch waist and does not cross the waist once"
			}
			out = append(out, v)
		}
	}
	return out, nil
}

// waistOrNotch gives where the waist lies on a side, mm from its start.
func (s Side) waistOrNotch(g *pattern.Garment, tol float64) (float64, bool) {
	if at, ok := stations(s.ticks(g, tol))["waist"]; ok {
		return at, true
	}
	return s.waist(g, tol)
}

// spread gives by how much the longest reach of a run exceeds the shortest, mm: 0 for a
// run that is level on the body. It is unknown where one of them is.
func (m Measure) spread(in Input) ([]Value, error) {
	list, err := Measure{Kind: "reach", Run: m.Run}.reach(in)
	if err != nil {
		return nil, err
	}
	least, most := list[0].Value, list[0].Value
	for _, v := range list {
		if !v.Known {
			why := v.Why
			if v.Of != "" {
				why = v.Of + ": " + why
			}
			return unknown(m, "mm", why), nil
		}
		least, most = min(least, v.Value), max(most, v.Value)
	}
	return one(m, most-least, "mm"), nil
}
