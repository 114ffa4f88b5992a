package measure

import (
	"fmt"
	"slices"

	"seamkeep/pattern"
	"seamkeep/pattern/curve"
	"seamkeep/pattern/diag"
)

// Input is what measures are taken of. Body may be nil: a gap is then unknown.
type Input struct {
	Garment *pattern.Garment
	Body    *pattern.Body
	Tol     float64 // error allowed on a curve's length, mm; 0 means Accuracy
	// Calibrated adds to each gap what fittings showed beside the prediction at its
	// level; Of then says so. Other measures have no calibration.
	Calibrated bool
}

// Value is one answer.
type Value struct {
	Measure string
	Of      string  // what part of the measure, where it has several: a side of a seam; "calibrated"
	Value   float64 // in Unit
	Unit    string  // "mm", "mm2", "degrees" or "" for a count
	Known   bool    // false: it cannot be told, for the reason in Why
	Why     string
}

// Eval answers a measure: one value, or one a level where no level is named, or
// both sides of a seam, or one a seam that a run crosses. A name that does not exist is an error with the nearest
// known one.
func (m Measure) Eval(in Input) ([]Value, error) {
	if in.Tol == 0 {
		in.Tol = Accuracy
	}
	if err := m.known(in.Garment); err != nil {
		return nil, err
	}
	switch m.Kind {
	case "girth", "worn", "gap", "width":
		return m.perLevel(in)
	case "area":
		return one(m, Area(in.Garment.Piece(m.Piece)), "mm2"), nil
	case "length":
		return m.length(in)
	case "seam", "walk":
		return m.walk(in)
	case "turn":
		return m.turn(in), nil
	case "spread":
		return m.spread(in)
	case "reach":
		return m.reach(in)
	default:
		return m.closure(in)
	}
}

func one(m Measure, v float64, unit string) []Value {
	return []Value{{Measure: m.String(), Value: v, Unit: unit, Known: true}}
}

func unknown(m Measure, unit, why string) []Value {
	return []Value{{Measure: m.String(), Unit: unit, Why: why}}
}

func (m Measure) perLevel(in Input) ([]Value, error) {
	levels := []string{m.Level}
	if m.Level == "" {
		levels = LevelNames(in.Garment)
		if m.Kind == "width" {
			levels = levelsOf(in.Garment, in.Garment.Piece(m.Piece))
		}
	}
	var out []Value
	for _, level := range levels {
		at := m
		at.Level = level
		out = append(out, at.atLevel(in)...)
	}
	return out, nil
}

// levelsOf lists the garment's levels, then those that only the piece has.
func levelsOf(g *pattern.Garment, p *pattern.Piece) []string {
	names := LevelNames(g)
	for _, l := range p.Levels {
		if !slices.Contains(names, l.Name) {
			names = append(names, l.Name)
		}
	}
	return names
}

func (m Measure) atLevel(in Input) []Value {
	g := in.Garment
	switch m.Kind {
	case "girth", "worn":
		sum := GirthAt(g, m.Level)
		if why := sum.Why(); why != "" {
			return unknown(m, "mm", why)
		}
		if m.Kind == "girth" {
			return one(m, sum.Rest(), "mm")
		}
		return one(m, sum.Worn(), "mm")
	case "width":
		w, ok := Width(g, g.Piece(m.Piece), m.Level)
		if !ok {
			return unknown(m, "mm", "piece "+m.Piece+" has no level "+m.Level)
		}
		return one(m, w, "mm")
	}
	c := g.Closure(m.Closure)
	gap, ok := GapAt(g, in.Body, c, m.Level)
	switch {
	case ok && in.Calibrated:
		v := one(m, gap.Calibrated(g), "mm")
		v[0].Of = "calibrated"
		return v
	case ok:
		return one(m, gap.Value(), "mm")
	case c.Kind != pattern.Lacing:
		return unknown(m, "mm", "closure "+c.Name+" is no lacing, so it has no gap")
	case in.Body == nil:
		return unknown(m, "mm", "no body here: the body's measures are not in this folder")
	}
	if _, known := in.Body.Girth(m.Level); !known {
		return unknown(m, "mm", "body "+in.Body.Name+" has no girth at "+m.Level)
	}
	return unknown(m, "mm", gap.Girth.Why())
}

func (m Measure) length(in Input) ([]Value, error) {
	ref := pattern.Ref{Piece: m.Piece, Edge: m.Edge, From: m.From, To: m.To}
	part, problem := partOf(in.Garment, ref, in.Tol)
	if problem != nil {
		return nil, fmt.Errorf("%s", problem.Message())
	}
	if m.Part == "" {
		return one(m, part.Length(), "mm"), nil
	}
	y, ok := in.Garment.LevelOn(part.Piece, m.Level)
	if !ok {
		return unknown(m, "mm", "piece "+m.Piece+" has no level "+m.Level), nil
	}
	return one(m, lengthBeyond(part.SewnPath(in.Tol), y, m.Part == "above", in.Tol), "mm"), nil
}

// lengthBeyond adds up the stretches of a path that lie above, or below, a height.
func lengthBeyond(path curve.Path, y float64, above bool, tol float64) float64 {
	cuts := []float64{0}
	for _, hit := range path.CrossingsY(y) {
		cuts = append(cuts, path.LengthTo(hit.Seg, hit.T, tol))
	}
	cuts = append(cuts, path.Length(tol))
	sum := 0.0
	for i := 1; i < len(cuts); i++ {
		// by its furthest point: part of a stretch may lie along the level
		reach := path.SubPath(cuts[i-1], cuts[i], tol).Bounds()
		if (reach.Max.Y-y > y-reach.Min.Y) == above {
			sum += cuts[i] - cuts[i-1]
		}
	}
	return sum
}

func (m Measure) walk(in Input) ([]Value, error) {
	w, problem := WalkSeam(in.Garment, in.Garment.Seam(m.Seam), in.Tol)
	if problem != nil {
		return nil, fmt.Errorf("%s", problem.Message())
	}
	if m.Kind == "walk" {
		return one(m, w.Difference, "mm"), nil
	}
	return []Value{
		{Measure: m.String(), Of: SideName(w.First.Refs), Value: w.First.Length, Unit: "mm", Known: true},
		{Measure: m.String(), Of: SideName(w.Second.Refs), Value: w.Second.Length, Unit: "mm", Known: true},
	}, nil
}

// SideName gives a side of a seam as it is written: "a.top + b.top".
func SideName(refs []pattern.Ref) string {
	s := ""
	for i, r := range refs {
		if i > 0 {
			s += " + "
		}
		s += r.String()
	}
	return s
}

func (m Measure) closure(in Input) ([]Value, error) {
	c := in.Garment.Closure(m.Closure)
	if m.Kind == "overlap" {
		return one(m, c.Overlap.Or(0), "mm"), nil
	}
	if f := in.Garment.Fastened(c.Name); f != nil {
		return m.row(in, c, f), nil
	}
	return unknown(m, unitOf(m.Kind), "no buttons, eyelets or hooks are recorded for closure "+c.Name), nil
}

func unitOf(kind string) string {
	if kind == "count" {
		return ""
	}
	return "mm"
}

// row gives the count, or the pitch on the closure's first edge.
func (m Measure) row(in Input, c *pattern.Closure, f *pattern.Fastening) []Value {
	if m.Kind == "count" {
		if n := CountOf(f); n.Set {
			return one(m, n.Value, "")
		}
		return unknown(m, "", "the "+WordOf(c)+" of closure "+c.Name+" record no count")
	}
	if f.Pitch.Set {
		return one(m, f.Pitch.Value, "mm")
	}
	r, fault := RowOn(in.Garment, c, f, 0, in.Tol)
	switch {
	case fault != nil:
		return unknown(m, "mm", fault.Found)
	case len(r.At) < 2:
		return unknown(m, "mm", "a single one of the "+WordOf(c)+" of closure "+c.Name+" has no pitch")
	}
	return one(m, r.Pitch, "mm")
}

// among finds a name of the measure among the known ones.
func (m Measure) among(kind, name string, names []string) error {
	if name == "" || slices.Contains(names, name) {
		return nil
	}
	hint := ""
	if near := diag.Nearest(name, names); near != "" {
		hint = fmt.Sprintf("; did you mean %s?", near)
	}
	return fmt.Errorf("measure %q: there is no %s %s%s", m, kind, name, hint)
}

// known looks up every name of the measure.
func (m Measure) known(g *pattern.Garment) error {
	names := func(n int, at func(int) string) []string {
		out := make([]string, n)
		for i := range out {
			out[i] = at(i)
		}
		return out
	}
	levels := LevelNames(g)
	var edges, notches []string
	if p := g.Piece(m.Piece); p != nil {
		levels = append(levels, names(len(p.Levels), func(i int) string { return p.Levels[i].Name })...)
		edges = names(len(p.Edges), func(i int) string { return p.Edges[i].Name })
		for _, n := range p.Notches {
			if n.Edge.Name == m.Edge {
				notches = append(notches, n.Name)
			}
		}
	}
	for _, err := range []error{
		m.among("piece", m.Piece, names(len(g.Pieces), func(i int) string { return g.Pieces[i].Name })),
		m.among("edge", m.Edge, edges),
		m.among("notch", m.From, notches),
		m.among("notch", m.To, notches),
		m.among("level", m.Level, levels),
		m.among("seam", m.Seam, names(len(g.Seams), func(i int) string { return g.Seams[i].Name })),
		m.among("run", m.Run, names(len(g.Runs), func(i int) string { return g.Runs[i].Name })),
		m.among("closure", m.Closure, names(len(g.Closures), func(i int) string { return g.Closures[i].Name })),
	} {
		if err != nil {
			return err
		}
	}
	return nil
}
