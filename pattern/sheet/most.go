package sheet

import (
	"fmt"
	"math"
	"slices"

	"seamkeep/pattern"
	"seamkeep/pattern/diag"
)

// NoCutLine says that pieces have no line to be cut along.
type NoCutLine struct{ Problems diag.List }

// Error tells the first of them.
func (e *NoCutLine) Error() string {
	p := e.Problems[0]
	return fmt.Sprintf("no cut line for %s: %s; %s", p.Subject, p.Found, p.Hint)
}

// tellMost adds to a finding about room up to which allowance there would be some: on
// the edge that it speaks of where that alone helps, else all round the piece.
func (c *cutter) tellMost() {
	for k := range c.found {
		p := &c.found[k]
		if p.ID != IDRoom && p.ID != IDShape {
			continue
		}
		i := c.p.EdgeIndex(p.Place.Edge)
		if i >= 0 {
			if most, ok := c.most([]int{i}); ok {
				p.Hint += fmt.Sprintf("; up to %s mm there has room", plain(most))
				continue
			}
		}
		all := make([]int, len(c.p.Edges))
		for e := range all {
			all[e] = e
		}
		if most, ok := c.most(all); ok {
			p.Hint += fmt.Sprintf("; up to %s mm all round the piece has room", plain(most))
		}
	}
}

// most is the greatest allowance, down to 0.1 mm, to which those of some edges can be
// brought down for a cut line to be found; false where none above 0 does.
func (c *cutter) most(edges []int) (float64, bool) {
	const step = 0.1
	high := 0.0
	for _, i := range edges {
		high = max(high, AllowanceOf(c.g, c.p, i))
	}
	works, fails := 0, int(math.Ceil(high/step))
	for fails-works > 1 {
		if middle := (works + fails) / 2; c.cuts(edges, float64(middle)*step) {
			works = middle
		} else {
			fails = middle
		}
	}
	return float64(works) * step, works > 0
}

// cuts tells whether a cut line is found with the allowances of some edges at most so
// many mm.
func (c *cutter) cuts(edges []int, mm float64) bool {
	g := *c.g
	g.Allowances = slices.Clone(g.Allowances)
	for _, i := range edges {
		g.Allowances = append(g.Allowances, pattern.Allowance{
			Target: pattern.Target{Name: c.p.Name, Edge: c.p.Edges[i].Name}, Value: min(mm, AllowanceOf(c.g, c.p, i)),
		})
	}
	try := cutter{g: &g, p: c.p, tol: c.tol}
	bands := try.bands()
	out := try.trim(bands)
	if len(try.found) == 0 {
		try.verify(&out)
	}
	return len(try.found) == 0
}
