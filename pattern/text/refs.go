package text

import (
	"fmt"

	"seamkeep/pattern"
	"seamkeep/pattern/diag"
)

// CheckNames finds every name in a garment and its pieces that refers to
// nothing, and what else can be judged only with all files at hand: an edge in
// two seams, a piece that is both apart and around, buttons on a lacing. Load
// does the same, with places exact to the column.
func CheckNames(g *pattern.Garment) diag.List {
	problems := checkNames(g, nil, false)
	problems.Sort()
	return problems
}

// checkNames works as CheckNames; sources give the columns, and geometry is
// left alone where the text has faults already.
func checkNames(g *pattern.Garment, sources map[string][]byte, faulty bool) diag.List {
	c := &nameChecker{g: g, finder: finder{sources: sources}, known: newKnown(g)}
	c.garment()
	for i := range g.Seams {
		c.seam(&g.Seams[i])
	}
	for _, p := range g.Pieces {
		c.piece(p)
	}
	c.twoSeams(faulty || len(c.problems) > 0)
	return c.problems
}

type nameChecker struct {
	g        *pattern.Garment
	problems diag.List
	finder   finder
	known    *known
}

func (c *nameChecker) add(p diag.Problem) {
	if len(c.problems) < maxProblems {
		p.Severity = diag.Error
		c.problems = append(c.problems, p)
	}
}

// unknown reports a name that refers to nothing; find gives its place.
func (c *nameChecker) unknown(at diag.Place, find func(*finder, diag.Place, string) diag.Place, subject, what, name string, known func() []string) {
	if len(c.problems) >= maxProblems {
		return
	}
	if find != nil {
		at = find(&c.finder, at, name)
	}
	p := diag.Problem{
		ID: IDNameUnknown, Place: at, Subject: subject,
		Found: fmt.Sprintf("found %s %q, which does not exist", what, name), Expected: "expected the name of one that does",
	}
	if near := nearest(name, known()); near != "" {
		p.Expected = fmt.Sprintf("expected one that does (nearest: %q)", near)
	}
	c.add(p)
}

// garment checks everything in the garment file except its seams.
func (c *nameChecker) garment() {
	for _, m := range c.g.Around {
		if m.Name != "" && c.g.Piece(m.Name) == nil {
			c.unknown(m.Place, nil, m.Name, "piece", m.Name, c.known.pieceNames)
		}
		if o, ok := c.known.apart[m.Name]; ok {
			c.add(diag.Problem{ID: IDAroundApart, Place: m.Place, Subject: m.Name,
				Found: fmt.Sprintf("found piece %q around the body, which is apart", m.Name), Expected: "expected only pieces that count in a girth",
				Related: []diag.Related{{Place: o, Text: "apart here"}}})
		}
	}
	for _, o := range c.g.Options {
		if o.Piece != "" && c.g.Piece(o.Piece) == nil {
			c.unknown(o.Place, (*finder).first, o.Piece, "piece", o.Piece, c.known.pieceNames)
		}
	}
	for _, list := range [][]pattern.LevelNum{c.g.Cords, c.g.Reduce, c.g.Calibrate} {
		for _, n := range list {
			c.level(n.Place, n.Level)
		}
	}
	for _, r := range c.g.Runs {
		c.refs(r.Refs, r.Name)
		if p := c.g.Piece(r.Name); p != nil {
			c.add(diag.Problem{ID: IDNameAmbiguous, Place: c.finder.first(r.Place, r.Name), Subject: r.Name,
				Found: fmt.Sprintf("found a run with the name of the piece %q", r.Name), Expected: "expected a name that no piece has",
				Related: []diag.Related{{Place: p.Place, Text: "the piece"}}})
		}
	}
	for _, a := range c.g.Allowances {
		c.target(a.Target)
	}
	for _, j := range c.g.Joins {
		c.target(j.Target)
	}
	c.closures()
}

// level checks a level of the garment itself.
func (c *nameChecker) level(at diag.Place, name string) {
	if !c.known.levels[name] && name != "" {
		c.unknown(at, (*finder).last, "", "level", name, func() []string { return levelNames(c.g.Levels) })
	}
}

func (c *nameChecker) closures() {
	for _, x := range c.g.Closures {
		c.refs(x.Edges, x.Name)
	}
	for _, f := range c.g.Buttons {
		c.fastening(f, "buttons", pattern.ButtonClosure)
	}
	for _, f := range c.g.Eyelets {
		c.fastening(f, "eyelets", pattern.Lacing)
	}
	for _, f := range c.g.Hooks {
		c.fastening(f, "hooks", pattern.HookClosure)
	}
	for _, w := range c.g.Wanted {
		c.closure(w.Place, w.Closure, "a gap", pattern.Lacing)
		c.level(w.Place, w.Level)
	}
}

// fastening checks buttons or eyelets; their level may be one of the pieces
// that the closure is on.
func (c *nameChecker) fastening(f pattern.Fastening, what, kind string) {
	x := c.closure(f.Place, f.Closure, what, kind)
	if f.From == "" || x == nil {
		return
	}
	var known []string
	for _, r := range x.Edges {
		if p := c.g.Piece(r.Piece); p != nil {
			if c.known.levelOn(p, f.From) {
				return
			}
			known = append(known, levelNames(p.Levels)...)
		}
	}
	c.unknown(f.Place, (*finder).last, f.Closure, "level", f.From, func() []string { return append(levelNames(c.g.Levels), known...) })
}

// closure finds a closure, which has to be of a kind.
func (c *nameChecker) closure(at diag.Place, name, what, kind string) *pattern.Closure {
	if name == "" {
		return nil
	}
	x := c.known.closures[name]
	if x == nil {
		c.unknown(at, (*finder).first, name, "closure", name, func() []string {
			return namesOf(c.g.Closures, func(x pattern.Closure) string { return x.Name })
		})
		return nil
	}
	if x.Kind != kind && x.Kind != "" {
		c.add(diag.Problem{ID: IDClosureKind, Place: at, Subject: name,
			Found: fmt.Sprintf("found %s on closure %q, which is %s", what, name, x.Kind), Expected: "expected a closure that is " + kind,
			Related: []diag.Related{{Place: x.Place, Text: "the closure"}}})
	}
	return x
}

func (c *nameChecker) refs(refs []pattern.Ref, subject string) {
	for _, r := range refs {
		c.ref(r, subject)
	}
}

// ref checks a piece, its edge and the notches of a span.
func (c *nameChecker) ref(r pattern.Ref, subject string) {
	if r.Piece == "" || r.Edge == "" {
		return
	}
	p := c.g.Piece(r.Piece)
	if p == nil {
		c.unknown(r.Place, nil, subject, "piece", r.Piece, c.known.pieceNames)
		return
	}
	if !c.known.edge(p, r.Edge) {
		c.unknown(r.Place, nil, subject, "edge", r.Piece+"."+r.Edge, func() []string { return dottedEdges(p) })
		return
	}
	for _, n := range []string{r.From, r.To} {
		if n != "" && !c.known.notch(p, r.Edge, n) {
			c.unknown(r.Place, (*finder).first, subject, "notch on "+r.Piece+"."+r.Edge, n, func() []string { return notchNames(p, r.Edge) })
		}
	}
}

func (c *nameChecker) target(t pattern.Target) {
	if t.Name == "" {
		return
	}
	p := c.g.Piece(t.Name)
	switch {
	case p == nil && (t.Edge != "" || !c.known.runs[t.Name]):
		c.unknown(t.Place, nil, t.String(), "piece or run", t.Name, func() []string {
			return append(c.known.pieceNames(), namesOf(c.g.Runs, func(r pattern.Run) string { return r.Name })...)
		})
	case p != nil && t.Edge != "" && !c.known.edge(p, t.Edge):
		c.unknown(t.Place, nil, t.String(), "edge", t.String(), func() []string { return dottedEdges(p) })
	}
}

// seam checks the sides of a seam and the notches of its zones of ease, which
// have to be on both sides.
func (c *nameChecker) seam(s *pattern.Seam) {
	c.refs(s.First, s.Name)
	c.refs(s.Second, s.Name)
	for _, e := range s.Eases {
		for _, n := range []string{e.From, e.To} {
			if n == "" {
				continue
			}
			c.zoneNotch(s, e, n, s.First, "first")
			if !s.Mirrored {
				c.zoneNotch(s, e, n, s.Second, "second")
			}
		}
	}
}

func (c *nameChecker) zoneNotch(s *pattern.Seam, e pattern.Ease, name string, side []pattern.Ref, which string) {
	for _, r := range side {
		p := c.g.Piece(r.Piece)
		if p == nil || !c.known.edge(p, r.Edge) {
			return // the side itself is reported
		}
		if c.known.notch(p, r.Edge, name) {
			return
		}
	}
	c.unknown(e.Place, (*finder).first, s.Name, "notch on the "+which+" side", name, func() []string {
		var names []string
		for _, r := range side {
			names = append(names, notchNames(c.g.Piece(r.Piece), r.Edge)...)
		}
		return names
	})
}

// piece checks what a piece says of its own parts and of levels.
func (c *nameChecker) piece(p *pattern.Piece) {
	edges := func() []string { return edgeNames(p) }
	for _, cl := range p.Cloths {
		if cl.Fold.Name != "" && !c.known.edge(p, cl.Fold.Name) {
			c.unknown(cl.Fold.Place, nil, p.Name, "edge", cl.Fold.Name, edges)
		}
	}
	for _, n := range p.Notches {
		subject := p.Name + "." + n.Edge.Name
		if n.Edge.Name != "" && !c.known.edge(p, n.Edge.Name) {
			c.unknown(n.Edge.Place, nil, p.Name, "edge", n.Edge.Name, edges)
		}
		for _, k := range []string{n.On.Corner, n.On.Nearest} {
			if k != "" && !c.known.corner(p, k) {
				c.unknown(n.Place, (*finder).last, subject, "corner", k, func() []string { return cornerNames(p) })
			}
		}
		if n.On.Level != "" && !c.known.levelOn(p, n.On.Level) {
			c.unknown(n.Place, (*finder).afterKeyword, subject, "level", n.On.Level, func() []string {
				if p.NoLevels {
					return levelNames(p.Levels)
				}
				return append(levelNames(p.Levels), levelNames(c.g.Levels)...)
			})
		}
	}
}
