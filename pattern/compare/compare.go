package compare

import (
	"math"
	"slices"
	"sort"

	"seamkeep/pattern"
	"seamkeep/pattern/measure"
)

// Options say how to compare.
type Options struct {
	Body *pattern.Body // the same one for both versions; nil: no gaps
	Tol  float64       // error allowed on a curve's length, mm; 0 means measure.Accuracy

	Faults []Fault // found on reading the versions: told first
}

// Garments compares two versions of a garment. Either may be nil: all its
// pieces were then added, or removed.
func Garments(before, after *pattern.Garment, o Options) *Change {
	if o.Tol == 0 {
		o.Tol = measure.Accuracy
	}
	c := &Change{Before: before, After: after, Body: o.Body}
	a, b := orEmpty(before), orEmpty(after)
	c.Levels = union(measure.LevelNames(b), measure.LevelNames(a))
	c.Edits = Edits(before, after)
	c.Pieces = comparePieces(a, b, c, o.Tol)
	for _, level := range c.Levels {
		c.Girths = append(c.Girths, AtLevel{level, Pair{girth(before, level, measure.Girth.Rest), girth(after, level, measure.Girth.Rest)}})
		c.Worn = append(c.Worn, AtLevel{level, Pair{girth(before, level, measure.Girth.Worn), girth(after, level, measure.Girth.Worn)}})
	}
	c.Gaps = gapsOf(a, b, c.Levels, o.Body)
	c.Seams = seamsOf(a, b, o.Tol)
	c.Records = inWords(c.Edits, "")
	c.Faults = append(slices.Clone(o.Faults), c.faults()...)
	return c
}

func orEmpty(g *pattern.Garment) *pattern.Garment {
	if g == nil {
		return &pattern.Garment{}
	}
	return g
}

// union lists the first names, then those of the second that it lacks.
func union(first, second []string) []string {
	seen := map[string]bool{}
	var out []string
	for _, n := range append(append([]string{}, first...), second...) {
		if !seen[n] {
			seen[n] = true
			out = append(out, n)
		}
	}
	return out
}

// pieceNames lists the pieces of both versions: those that go round the body
// front to back, then the others by name.
func pieceNames(a, b *pattern.Garment) []string {
	var around, rest []string
	for _, g := range []*pattern.Garment{b, a} {
		for _, m := range g.Around {
			if a.Piece(m.Name) != nil || b.Piece(m.Name) != nil {
				around = append(around, m.Name)
			}
		}
		for _, p := range g.Pieces {
			rest = append(rest, p.Name)
		}
	}
	sort.Strings(rest)
	return union(around, rest)
}

func girth(g *pattern.Garment, level string, of func(measure.Girth) float64) pattern.Opt {
	if g == nil {
		return pattern.Opt{}
	}
	if _, ok := g.Level(level); !ok {
		return pattern.Opt{}
	}
	sum := measure.GirthAt(g, level)
	if sum.Why() != "" {
		return pattern.Opt{}
	}
	return pattern.Some(of(sum))
}

func gapsOf(a, b *pattern.Garment, levels []string, body *pattern.Body) []ClosureGaps {
	var names []string
	for _, g := range []*pattern.Garment{b, a} {
		for _, c := range g.Closures {
			if c.Kind == pattern.Lacing {
				names = append(names, c.Name)
			}
		}
	}
	var out []ClosureGaps
	for _, name := range union(names, nil) {
		gaps := ClosureGaps{Closure: name}
		for _, level := range levels {
			pair := Pair{gapAt(a, body, name, level), gapAt(b, body, name, level)}
			if pair.Before.Set || pair.After.Set {
				gaps.Levels = append(gaps.Levels, AtLevel{level, pair})
			}
		}
		out = append(out, gaps)
	}
	return out
}

func gapAt(g *pattern.Garment, body *pattern.Body, closure, level string) pattern.Opt {
	c := g.Closure(closure)
	if c == nil {
		return pattern.Opt{}
	}
	if _, ok := g.Level(level); !ok {
		return pattern.Opt{}
	}
	gap, ok := measure.GapAt(g, body, c, level)
	if !ok {
		return pattern.Opt{}
	}
	return pattern.Some(gap.Value())
}

func seamsOf(a, b *pattern.Garment, tol float64) []SeamChange {
	var names []string
	for _, g := range []*pattern.Garment{b, a} {
		for _, s := range g.Seams {
			names = append(names, s.Name)
		}
	}
	var out []SeamChange
	for _, name := range union(names, nil) {
		sc := SeamChange{Name: name}
		if w := walked(a, name, tol); w != nil {
			sc.Difference.Before = pattern.Some(w.Difference)
			sc.Worst.Before = pattern.Some(math.Abs(w.Worst().Difference))
			sc.Lengths[0].Before, sc.Lengths[1].Before = pattern.Some(w.First.Length), pattern.Some(w.Second.Length)
		}
		if w := walked(b, name, tol); w != nil {
			sc.Difference.After = pattern.Some(w.Difference)
			sc.Worst.After = pattern.Some(math.Abs(w.Worst().Difference))
			sc.Lengths[0].After, sc.Lengths[1].After = pattern.Some(w.First.Length), pattern.Some(w.Second.Length)
		}
		out = append(out, sc)
	}
	return out
}

func walked(g *pattern.Garment, name string, tol float64) *measure.Walk {
	s := g.Seam(name)
	if s == nil {
		return nil
	}
	w, problem := measure.WalkSeam(g, s, tol)
	if problem != nil {
		return nil
	}
	return w
}
