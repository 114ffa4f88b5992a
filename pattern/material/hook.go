package material

import (
	"seamkeep/pattern"
	"seamkeep/pattern/measure"
)

// Hooks is the hooks of a closure, each with its eye.
type Hooks struct {
	Closure string
	Count   int         // pairs of hook and eye, in all
	Pitch   pattern.Opt // mm along the edge
}

func hooks(g *pattern.Garment) []Hooks {
	var out []Hooks
	for i := range g.Hooks {
		f := &g.Hooks[i]
		c, n := g.Closure(f.Closure), int(measure.CountOf(f).Or(0))
		if c == nil || n == 0 {
			continue
		}
		out = append(out, Hooks{Closure: c.Name, Count: n * lines(g, c), Pitch: pitchOf(g, c)})
	}
	return out
}

// Slide is the slide fasteners of a closure.
type Slide struct {
	Closure string
	Count   int
	Length  pattern.Opt // mm, as recorded
	Edge    pattern.Opt // mm, of what it closes; unknown where the edge is
}

func slides(g *pattern.Garment) []Slide {
	var out []Slide
	for i := range g.Closures {
		c := &g.Closures[i]
		if c.Kind != pattern.Slide {
			continue
		}
		s := Slide{Closure: c.Name, Count: lines(g, c), Length: c.Length}
		if len(c.Edges) > 0 {
			if r, problem := measure.BareRow(g, c.Edges[0], measure.Accuracy); problem == nil {
				s.Edge = pattern.Some(r.Length())
			}
		}
		out = append(out, s)
	}
	return out
}
