package claim

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"seamkeep/pattern"
	"seamkeep/pattern/compare"
	"seamkeep/pattern/measure"
)

// slack is what two curve lengths may be off by the accuracy of their measuring, mm.
const slack = 1e-5

// figure is one number of a measure in both versions.
type figure struct {
	level         string // empty where the measure has no levels
	of            string // the side of a seam; else empty
	before, after side
	relative      bool // only the difference means something
}

// side is a figure in one version.
type side struct {
	value float64
	why   string // why it cannot be told; empty where it can
}

func (f figure) known() bool { return f.before.why == "" && f.after.why == "" }

func (f figure) delta() float64 { return f.after.value - f.before.value }

// bench is where claims are measured: a Change with both versions made ready.
type bench struct {
	change        *compare.Change
	before, after *pattern.Garment // with the levels of both; nil where there is none
}

// newBench lays both versions out. A level that only one of them records is
// measured on the other at the same height.
func newBench(c *compare.Change) bench {
	return bench{change: c, before: withLevels(c.Before, c.After), after: withLevels(c.After, c.Before)}
}

// withLevels gives g with the levels that it lacks and other has. Nothing of g is
// altered.
func withLevels(g, other *pattern.Garment) *pattern.Garment {
	if g == nil || other == nil {
		return g
	}
	out, copied := *g, false
	for _, l := range other.Levels {
		if _, ok := g.Level(l.Name); ok {
			continue
		}
		if !copied {
			out.Levels, out.Pieces, copied = slices.Clone(g.Levels), slices.Clone(g.Pieces), true
		}
		out.Levels = append(out.Levels, l)
		for i, p := range out.Pieces {
			out.Pieces[i] = withLevel(p, other.Piece(p.Name), l.Name)
		}
	}
	return &out
}

// withLevel gives p with the height that its other version gives a level itself.
func withLevel(p, other *pattern.Piece, level string) *pattern.Piece {
	has := func(l pattern.Level) bool { return l.Name == level }
	if other == nil || slices.ContainsFunc(p.Levels, has) {
		return p
	}
	i := slices.IndexFunc(other.Levels, has)
	if i < 0 {
		return p
	}
	out := *p
	out.Levels = append(slices.Clone(p.Levels), other.Levels[i])
	return &out
}

// figures measures m on both versions: one figure a level, or both sides of a
// seam, or one, or those of a run at each seam.
func (b bench) figures(m measure.Measure) []figure {
	switch {
	case m.Run != "" && m.Seam == "" && m.Kind != "spread":
		return b.crossed(m)
	case !perLevel(m.Kind):
		return b.pair(m)
	}
	levels := []string{m.Level}
	if m.Level == "" {
		levels = b.levels(m.Piece)
	}
	var out []figure
	for _, level := range levels {
		at := m
		at.Level = level
		for _, f := range b.pair(at) {
			f.level = level
			out = append(out, f)
		}
	}
	return out
}

// crossed gives the figures of a run at each seam that it crosses in either version.
func (b bench) crossed(m measure.Measure) []figure {
	var seams []string
	for _, g := range []*pattern.Garment{b.after, b.before} {
		if g == nil {
			continue
		}
		for _, s := range measure.Crossed(g, m.Run) {
			if !slices.Contains(seams, s) {
				seams = append(seams, s)
			}
		}
	}
	if len(seams) == 0 {
		return b.pair(m)
	}
	var out []figure
	for _, s := range seams {
		at := m
		at.Seam = s
		for _, f := range b.pair(at) {
			f.of = strings.TrimSuffix(s+", "+f.of, ", ")
			out = append(out, f)
		}
	}
	return out
}

// gaps measures a gap, without the measures of the body by how much it changed.
func (b bench) gaps(m measure.Measure) []figure {
	if b.change.Body != nil || !lacing(b.before, m.Closure) || !lacing(b.after, m.Closure) || lacings(b.before) != lacings(b.after) {
		return b.figures(m)
	}
	return b.withoutBody(m)
}

// withoutBody measures by how much a gap changed where no measures of a body are: they
// stand in it as a summand, the same before and after, so that any will do while the
// lacings stay as many (measure.Gap.Value).
func (b bench) withoutBody(m measure.Measure) []figure {
	body := &pattern.Body{}
	for _, l := range b.change.Levels {
		body.Girths = append(body.Girths, pattern.LevelNum{Level: l, Value: 1000})
	}
	change := *b.change
	change.Body = body
	out := bench{change: &change, before: b.before, after: b.after}.figures(m)
	for i := range out {
		out[i].relative = true
	}
	return out
}

// lacings counts them.
func lacings(g *pattern.Garment) int {
	n := 0
	for _, c := range g.Closures {
		if c.Kind == pattern.Lacing {
			n++
		}
	}
	return n
}

// levels lists those of the garment, and those that only the piece has.
func (b bench) levels(piece string) []string {
	out := slices.Clone(b.change.Levels)
	for _, g := range []*pattern.Garment{b.after, b.before} {
		if g == nil {
			continue
		}
		if p := g.Piece(piece); p != nil {
			for _, l := range p.Levels {
				if !slices.Contains(out, l.Name) {
					out = append(out, l.Name)
				}
			}
		}
	}
	return out
}

// pair measures a measure that names its level, if it has levels.
func (b bench) pair(m measure.Measure) []figure {
	before := b.eval(b.before, b.earlier(m), "earlier")
	after := b.eval(b.after, m, "later")
	var out []figure
	for i := range max(len(before), len(after)) {
		f := figure{before: missing(before, i), after: missing(after, i)}
		if i < len(after) {
			f.of = after[i].Of
		} else {
			f.of = before[i].Of
		}
		out = append(out, f)
	}
	return out
}

// missing gives value i of a version, or says like its last one why there is none.
func missing(values []measure.Value, i int) side {
	v := values[min(i, len(values)-1)]
	switch {
	case !v.Known:
		return side{why: v.Why}
	case i >= len(values):
		return side{why: "it has one value there"}
	case math.IsNaN(v.Value) || math.IsInf(v.Value, 0):
		return side{why: "it is no number"}
	}
	return side{value: v.Value}
}

// eval gives at least one value, known or not.
func (b bench) eval(g *pattern.Garment, m measure.Measure, version string) []measure.Value {
	if g == nil {
		return []measure.Value{{Why: "there is no " + version + " version"}}
	}
	values, err := m.Eval(measure.Input{Garment: g, Body: b.change.Body})
	switch {
	case err != nil:
		return []measure.Value{{Why: "in the " + version + " version " + strings.TrimPrefix(err.Error(), fmt.Sprintf("measure %q: ", m))}}
	case len(values) == 0:
		return []measure.Value{{Why: "the " + version + " version gives no figure"}}
	}
	return values
}

// earlier gives a measure in the names that its piece and edge had before.
func (b bench) earlier(m measure.Measure) measure.Measure {
	if m.Piece == "" {
		return m
	}
	p := b.piece(m.Piece)
	if p == nil || p.Before == nil {
		return m
	}
	for _, e := range p.Edges {
		if e.Name == m.Edge && len(e.Was) == 1 && (e.Status == compare.Renamed || e.Status == compare.Changed) {
			m.Edge = e.Was[0]
			break
		}
	}
	m.Piece = p.Before.Name
	return m
}

// piece finds what became of a piece by its later name; nil where there is none.
func (b bench) piece(name string) *compare.PieceChange {
	for i := range b.change.Pieces {
		if b.change.Pieces[i].Name == name {
			return &b.change.Pieces[i]
		}
	}
	return nil
}
