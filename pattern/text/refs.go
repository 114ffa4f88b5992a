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
	c := &nameChecker{g: g, finder: finder{sources: sources}}
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
}

func (c *nameChecker) add(p diag.Problem) {
	if len(c.problems) < maxProblems {
		p.Severity = diag.Error
		c.problems = append(c.problems, p)
	}
}

// unknown reports a name that refers to nothing.
func (c *nameChecker) unknown(at diag.Place, subject, what, name string, known []string) {
	p := diag.Problem{
		ID: IDNameUnknown, Place: at, Subject: subject,
		Found: fmt.Sprintf("found %s %q, which does not exist", what, name), Expected: "expected the name of one that does",
	}
	if near := diag.Nearest(name, known); near != "" {
		p.Expected = fmt.Sprintf("expected one that does (nearest: %q)", near)
	}
	c.add(p)
}

func (c *nameChecker) pieceNames() []string {
	return namesOf(c.g.Pieces, func(p *pattern.Piece) string { return p.Name })
}

func namesOf[T any](list []T, name func(T) string) []string {
	names := make([]string, len(list))
	for i, v := range list {
		names[i] = name(v)
	}
	return names
}

func cornerNames(p *pattern.Piece) []string {
	return namesOf(p.Corners, func(k pattern.Corner) string { return k.Name })
}

func edgeNames(p *pattern.Piece) []string {
	return namesOf(p.Edges, func(e pattern.Edge) string { return e.Name })
}

func levelNames(levels []pattern.Level) []string {
	return namesOf(levels, func(l pattern.Level) string { return l.Name })
}

func notchNames(p *pattern.Piece, edge string) []string {
	var names []string
	for _, n := range p.Notches {
		if n.Edge.Name == edge {
			names = append(names, n.Name)
		}
	}
	return names
}

// garment checks everything in the garment file except its seams.
func (c *nameChecker) garment() {
	for _, m := range c.g.Around {
		if m.Name != "" && c.g.Piece(m.Name) == nil {
			c.unknown(m.Place, m.Name, "piece", m.Name, c.pieceNames())
		}
		if c.g.Option(m.Name).Apart {
			c.add(diag.Problem{ID: IDAroundApart, Place: m.Place, Subject: m.Name,
				Found: fmt.Sprintf("found piece %q around the body, which is apart", m.Name), Expected: "expected only pieces that count in a girth",
				Related: []diag.Related{{Place: c.g.Option(m.Name).Place, Text: "apart here"}}})
		}
	}
	for _, o := range c.g.Options {
		if o.Piece != "" && c.g.Piece(o.Piece) == nil {
			c.unknown(c.finder.first(o.Place, o.Piece), o.Piece, "piece", o.Piece, c.pieceNames())
		}
	}
	for _, list := range [][]pattern.LevelNum{c.g.Cords, c.g.Reduce, c.g.Calibrate} {
		for _, n := range list {
			c.level(n.Place, n.Level)
		}
	}
	for _, r := range c.g.Runs {
		c.refs(r.Refs, r.Name)
		if c.g.Piece(r.Name) != nil {
			c.add(diag.Problem{ID: IDNameAmbiguous, Place: c.finder.first(r.Place, r.Name), Subject: r.Name,
				Found: fmt.Sprintf("found a run with the name of the piece %q", r.Name), Expected: "expected a name that no piece has",
				Related: []diag.Related{{Place: c.g.Piece(r.Name).Place, Text: "the piece"}}})
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
	if _, ok := c.g.Level(name); !ok && name != "" {
		c.unknown(c.finder.last(at, name), "", "level", name, levelNames(c.g.Levels))
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
	known := levelNames(c.g.Levels)
	for _, r := range x.Edges {
		if p := c.g.Piece(r.Piece); p != nil {
			if _, ok := c.g.LevelOn(p, f.From); ok {
				return
			}
			known = append(known, levelNames(p.Levels)...)
		}
	}
	c.unknown(c.finder.last(f.Place, f.From), f.Closure, "level", f.From, known)
}

// closure finds a closure, which has to be of a kind.
func (c *nameChecker) closure(at diag.Place, name, what, kind string) *pattern.Closure {
	if name == "" {
		return nil
	}
	x := c.g.Closure(name)
	if x == nil {
		known := namesOf(c.g.Closures, func(x pattern.Closure) string { return x.Name })
		c.unknown(c.finder.first(at, name), name, "closure", name, known)
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
		c.unknown(r.Place, subject, "piece", r.Piece, c.pieceNames())
		return
	}
	if p.EdgeIndex(r.Edge) < 0 {
		c.unknown(r.Place, subject, "edge", r.Piece+"."+r.Edge, prefixed(r.Piece+".", edgeNames(p)))
		return
	}
	for _, n := range []string{r.From, r.To} {
		if n != "" && p.NotchIndex(r.Edge, n) < 0 {
			c.unknown(c.finder.first(r.Place, n), subject, "notch on "+r.Piece+"."+r.Edge, n, notchNames(p, r.Edge))
		}
	}
}

func prefixed(prefix string, names []string) []string {
	return namesOf(names, func(n string) string { return prefix + n })
}

func (c *nameChecker) target(t pattern.Target) {
	if t.Name == "" {
		return
	}
	p := c.g.Piece(t.Name)
	switch {
	case p == nil && (t.Edge != "" || c.g.Run(t.Name) == nil):
		known := append(c.pieceNames(), namesOf(c.g.Runs, func(r pattern.Run) string { return r.Name })...)
		c.unknown(t.Place, t.String(), "piece or run", t.Name, known)
	case p != nil && t.Edge != "" && p.EdgeIndex(t.Edge) < 0:
		c.unknown(t.Place, t.String(), "edge", t.String(), prefixed(t.Name+".", edgeNames(p)))
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
	var known []string
	for _, r := range side {
		p := c.g.Piece(r.Piece)
		if p == nil || p.EdgeIndex(r.Edge) < 0 {
			return // the side itself is reported
		}
		if p.NotchIndex(r.Edge, name) >= 0 {
			return
		}
		known = append(known, notchNames(p, r.Edge)...)
	}
	c.unknown(c.finder.first(e.Place, name), s.Name, "notch on the "+which+" side", name, known)
}

// piece checks what a piece says of its own parts and of levels.
func (c *nameChecker) piece(p *pattern.Piece) {
	for _, cl := range p.Cloths {
		if cl.Fold.Name != "" && p.EdgeIndex(cl.Fold.Name) < 0 {
			c.unknown(cl.Fold.Place, p.Name, "edge", cl.Fold.Name, edgeNames(p))
		}
	}
	for _, n := range p.Notches {
		subject := p.Name + "." + n.Edge.Name
		if n.Edge.Name != "" && p.EdgeIndex(n.Edge.Name) < 0 {
			c.unknown(n.Edge.Place, p.Name, "edge", n.Edge.Name, edgeNames(p))
		}
		for _, k := range []string{n.On.Corner, n.On.Nearest} {
			if k != "" && p.CornerIndex(k) < 0 {
				c.unknown(c.finder.last(n.Place, k), subject, "corner", k, cornerNames(p))
			}
		}
		if n.On.Level == "" {
			continue
		}
		if _, ok := c.g.LevelOn(p, n.On.Level); !ok {
			known := levelNames(p.Levels)
			if !p.NoLevels {
				known = append(known, levelNames(c.g.Levels)...)
			}
			c.unknown(c.finder.afterKeyword(n.Place, n.On.Level), subject, "level", n.On.Level, known)
		}
	}
}
