package step

import (
	"fmt"
	"slices"
	"strings"

	"seamkeep/pattern"
	"seamkeep/pattern/diag"
	"seamkeep/pattern/measure"
)

// Check looks up the names of a step and tells what cannot be done with them. A
// name may exist in any of the versions: give the garment before the step and,
// where the step was made already, the one after it, since earlier steps of the
// same alteration bring names of their own. What the step needs of its places is
// asked of the first version that has all of its names. nil versions are passed
// over; without any nothing is told.
func Check(s Step, versions ...*pattern.Garment) diag.List {
	f, ok := formOf(s.Verb)
	versions = slices.DeleteFunc(slices.Clone(versions), func(g *pattern.Garment) bool { return g == nil })
	if !ok || len(versions) == 0 {
		return nil
	}
	var fewest diag.List
	for i, g := range versions {
		c := &checker{g: g, s: s}
		if c.names(f); len(c.problems) == 0 {
			c.places()
			return c.problems
		}
		if i == 0 || len(c.problems) < len(fewest) {
			fewest = c.problems
		}
	}
	return fewest
}

type checker struct {
	g        *pattern.Garment
	s        Step
	problems diag.List
}

func (c *checker) unknown(at diag.Place, noun, name string, all []string) {
	p := diag.Problem{ID: UnknownName, Severity: diag.Error, Place: at, Subject: name,
		Found: fmt.Sprintf("there is no %s %q", noun, name), Expected: "expected " + choices(noun, all)}
	if near := diag.Nearest(name, all); near != "" {
		p.Hint = "did you mean " + near + "?"
	}
	c.problems = append(c.problems, p)
}

// choices names what there is.
func choices(noun string, all []string) string {
	switch {
	case len(all) == 0:
		return "a " + noun + ", but the garment has none"
	case len(all) > 12:
		return fmt.Sprintf("one of %d: %s, ...", len(all), strings.Join(all[:12], ", "))
	}
	return "one of " + strings.Join(all, ", ")
}

func (c *checker) fault(at diag.Place, found, expected string, hint string) {
	c.problems = append(c.problems, diag.Problem{ID: PlaceFault, Severity: diag.Error, Place: at, Found: found, Expected: expected, Hint: hint})
}

// names looks up what each slot of the form names.
func (c *checker) names(f form) {
	for _, t := range f.slots {
		switch t.kind {
		case seamName, pieceName, runName, closureName, levelName:
			c.name(t.kind, *t.name(&c.s))
		case beside:
			c.name(levelName, c.s.Level)
		case mover, sharing:
			c.name(pieceName, c.s.Piece)
		case target:
			c.target()
		case cornerName:
			c.corner()
		case amounts:
			if !strings.Contains(t.label, "CORNER") {
				c.levels(*t.list(&c.s))
			}
		}
	}
}

func (c *checker) name(k kind, name string) {
	if name == "" {
		return
	}
	noun := strings.TrimPrefix(noun(k), "a ")
	if all := namesOf(c.g, k); !slices.Contains(all, name) {
		c.unknown(c.s.Place, noun, name, all)
	}
}

func namesOf(g *pattern.Garment, k kind) []string {
	var out []string
	switch k {
	case seamName:
		for _, s := range g.Seams {
			out = append(out, s.Name)
		}
	case pieceName:
		for _, p := range g.Pieces {
			out = append(out, p.Name)
		}
	case runName:
		for _, r := range g.Runs {
			out = append(out, r.Name)
		}
	case closureName:
		for _, x := range g.Closures {
			out = append(out, x.Name)
		}
	case levelName:
		out = measure.LevelNames(g)
	}
	return out
}

func (c *checker) levels(list []Amount) {
	all := measure.LevelNames(c.g)
	for _, a := range list {
		if a.At != "" && !slices.Contains(all, a.At) {
			c.unknown(a.Place, "level", a.At, all)
		}
	}
}

// target looks up PIECE.EDGE or RUN, and the places of its amounts.
func (c *checker) target() {
	if c.s.Run != "" {
		if c.name(runName, c.s.Run); len(c.problems) > 0 {
			return
		}
	} else {
		p := c.g.Piece(c.s.Piece)
		if p == nil {
			c.name(pieceName, c.s.Piece)
			return
		}
		if p.EdgeIndex(c.s.Edge) < 0 {
			c.unknown(c.s.Place, "edge", c.s.Piece+"."+c.s.Edge, edgeNames(p))
			return
		}
	}
	c.joints()
}

func edgeNames(p *pattern.Piece) []string {
	var out []string
	for _, e := range p.Edges {
		out = append(out, p.Name+"."+e.Name)
	}
	return out
}

// joints looks up where the amounts of a line are meant: at its ends, and at the
// seams that a run crosses, once each.
func (c *checker) joints() {
	_, joints := (&proof{g: c.g}).lineOf(c.s)
	var all []string
	add := func(name string) {
		if !slices.Contains(all, name) {
			all = append(all, name)
		}
	}
	for _, j := range joints {
		switch {
		case j.seam != nil && c.s.Run != "":
			add(j.seam.Name)
		case c.s.Run != "":
			add(j.line.piece.Name + "." + j.corner)
		default:
			add(j.corner)
		}
	}
	for _, a := range c.s.Amounts {
		hits := 0
		bare := 0
		for _, j := range joints {
			if a.At != "" && j.at(a.At) {
				hits++
				if a.At == j.corner && c.s.Run != "" && !(j.seam != nil && a.At == j.seam.Name) {
					bare++
				}
			}
		}
		switch {
		case a.At == "":
		case hits == 0:
			c.unknown(a.Place, "seam or corner at an end of "+c.line(), a.At, all)
		case bare > 1:
			c.fault(a.Place, fmt.Sprintf("%q is the name of %d corners of %s", a.At, bare, c.line()), "expected "+choices("place", all), "")
		}
	}
}

func (c *checker) line() string {
	if c.s.Run != "" {
		return c.s.Run
	}
	return c.s.Piece + "." + c.s.Edge
}

func (c *checker) corner() {
	p := c.g.Piece(c.s.Piece)
	if p == nil || p.CornerIndex(c.s.Corner) >= 0 {
		return
	}
	var all []string
	for _, k := range p.Corners {
		all = append(all, k.Name)
	}
	c.unknown(c.s.Place, "corner of "+p.Name, c.s.Corner, all)
}
