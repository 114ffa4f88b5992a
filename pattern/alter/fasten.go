package alter

import (
	"fmt"
	"math"
	"slices"
	"strconv"

	"seamkeep/pattern"
	"seamkeep/pattern/check"
	"seamkeep/pattern/curve"
	"seamkeep/pattern/diag"
	"seamkeep/pattern/measure"
)

// Fasten says what to place, and where the records do not.
type Fasten struct {
	Closure string
	Inset   pattern.Opt // mm inside the edge
	Holes   string      // "left" or "right" half, or PIECE.EDGE of a closure with two edges; "": see PlaceMarks
}

// Fastened is what placing wrote.
type Fastened struct {
	Garment *pattern.Garment
	Closure *pattern.Closure
	Record  *pattern.Fastening
	Inset   float64 // mm inside the edge
	Sets    []MarkSet
	Pieces  []string // those that changed
	Others  []string // marks of other names at the edge, as "eyelet eye1 of front": left alone
}

// MarkSet is the marks of one kind on one edge, the uppermost first.
type MarkSet struct {
	Kind  pattern.MarkKind
	Row   measure.Row
	Only  string // the half, or "" for both
	Marks []pattern.Mark
}

// PlaceMarks gives a copy of the garment in which the buttons and buttonholes, or the
// eyelets, of a closure stand as marks where the garment file records them: along the
// edge, see measure.RowOn. Marks that bear the names that it gives, b1, h1, e1 and so
// on, are replaced where they belong to the closure; all others stay, and keep their
// names.
//
// Buttons and holes stand inside the edge by half the overlap, on the line that both
// halves share; without an overlap by three quarters of a diameter. A hole is level
// with its button, square to the edge, and begins 1/8 in beyond that line. Holes
// stand where the holes of the closure stand already, else on the right half of a
// closure with one edge (right over left: common practice, no source), and on the
// first edge of one with two. Eyelets stand on both halves, as far inside the edge as
// before where they stood so as eyelets may, else measure.EyeletInset.
//
// A problem comes back instead where the records do not say enough, where the closure
// has one edge and needs two, and where a mark would lie outside its piece.
func PlaceMarks(g *pattern.Garment, o Fasten, tol float64) (*Fastened, *diag.Problem) {
	c := g.Closure(o.Closure)
	if c == nil {
		return nil, &diag.Problem{ID: "name.unknown", Severity: diag.Error, Place: g.Place, Subject: o.Closure,
			Found: "there is no closure " + o.Closure, Expected: "a closure of the garment file"}
	}
	p := &placer{g: g, c: c, o: o, tol: tol}
	f, problem := p.record()
	if problem != nil {
		return nil, problem
	}
	if p.inset, problem = p.insetOf(f); problem != nil {
		return nil, problem
	}
	copied := pattern.Clone(g)
	p.g, p.c = copied, copied.Closure(c.Name)
	sets, problem := p.sets(f)
	if problem == nil {
		problem = p.tooWide(f, sets)
	}
	if problem != nil {
		return nil, problem
	}
	out := &Fastened{Garment: copied, Closure: p.c, Record: f, Inset: p.inset, Sets: sets}
	p.write(sets)
	out.Others = p.others(sets)
	return out.settle(g)
}

// placer holds what the steps of placing share.
type placer struct {
	g     *pattern.Garment
	c     *pattern.Closure
	o     Fasten
	tol   float64
	inset float64
}

func (p *placer) fault(id, found, expected, hint string) *diag.Problem {
	return &diag.Problem{ID: id, Severity: diag.Error, Place: p.c.Place, Subject: p.c.Name, Found: found, Expected: expected, Hint: hint}
}

// asChecked gives a fault of a row in the words of check, which says more.
func (p *placer) asChecked(f *measure.RowFault) *diag.Problem {
	for _, x := range check.OfClosure(p.g, p.c.Name, p.tol) {
		if x.ID == f.ID {
			return refuse(x)
		}
	}
	return p.fault(f.ID, f.Found, f.Expected, f.Hint)
}

func (p *placer) record() (*pattern.Fastening, *diag.Problem) {
	if f := p.g.Fastened(p.c.Name); f != nil {
		return f, nil
	}
	x := check.NoRecord(p.g, p.c, p.tol)
	return nil, refuse(x)
}

// refuse makes an error of what a check found: the words are the same.
func refuse(x diag.Problem) *diag.Problem {
	x.Severity = diag.Error
	return &x
}

// insetOf is how far inside the edge the line of the marks runs.
func (p *placer) insetOf(f *pattern.Fastening) (float64, *diag.Problem) {
	half := p.c.Overlap.Value / 2
	switch {
	case p.c.Kind == pattern.Lacing:
		return p.eyeletInset(f)
	case p.c.Overlap.Set && half > 0 && p.o.Inset.Set && p.o.Inset.Value != half:
		return 0, p.fault("closure.inset", fmt.Sprintf("the overlap of %s is %g, so its buttons stand %g inside the edge", p.c.Name, p.c.Overlap.Value, half),
			"no other inset", fmt.Sprintf("write overlap %g in the garment file first; girth and gap follow it", 2*p.o.Inset.Value))
	case p.c.Overlap.Set && half > 0:
		return half, nil
	case p.o.Inset.Set:
		return p.o.Inset.Value, nil
	case f.Diameter.Set:
		return measure.Extension * f.Diameter.Value, nil
	}
	return 0, p.fault("closure.inset", "neither an overlap nor a diameter is recorded for closure "+p.c.Name, "one of them, or an inset", "say how far inside the edge: --inset 12")
}

// eyeletInset is how far inside the edge eyelets are placed: as it was asked for; else
// as those stand that placing wrote before, where all stand alike and so as eyelets
// may; else measure.EyeletInset, or more for large ones.
func (p *placer) eyeletInset(f *pattern.Fastening) (float64, *diag.Problem) {
	least, most, found := math.Inf(1), 0.0, false
	widest, sound := f.Diameter, true
	for _, ref := range p.c.Edges {
		r := measure.Row{Ref: ref}
		var ok bool
		if r.Piece, r.Edge, ok = p.g.Edge(ref); !ok {
			continue
		}
		list := r.Standing(pattern.Eyelet, p.rivals()[ref.Piece], true, p.tol)
		for _, s := range list {
			sound = sound && !s.Outside
			least, most, found = min(least, s.Away), max(most, s.Away), true
		}
		if !f.Diameter.Set {
			widest = r.Widest(&pattern.Fastening{Diameter: widest}, list)
		}
	}
	room := measure.EyeletRoom(widest)
	const hair = 2 * pattern.Grid // places are rounded to 0.001
	switch {
	case p.o.Inset.Set && p.o.Inset.Value < room:
		return 0, p.fault("closure.near", fmt.Sprintf("%g inside the edge an eyelet is too near to it", p.o.Inset.Value),
			fmt.Sprintf("at least %g: half a diameter and %g of cloth", room, measure.EyeletClear), fmt.Sprintf("say --inset %g or more", math.Ceil(room)))
	case p.o.Inset.Set:
		return p.o.Inset.Value, nil
	case found && sound && most-least <= hair && least >= room-hair && most <= measure.EyeletReach+hair:
		return math.Round(100*least) / 100, nil
	}
	return max(measure.EyeletInset, math.Ceil(room)), nil
}

// sets lays out the marks of every edge, not yet named.
func (p *placer) sets(f *pattern.Fastening) ([]MarkSet, *diag.Problem) {
	var rows []measure.Row
	for i := range p.c.Edges {
		r, fault := measure.RowOn(p.g, p.c, f, i, p.tol)
		if fault != nil {
			return nil, p.asChecked(fault)
		}
		rows = append(rows, r)
	}
	if list := check.Halves(p.g, p.c, p.tol); len(rows) == 1 && len(list) > 0 {
		return nil, refuse(list[0])
	}
	if p.c.Kind == pattern.Lacing {
		var out []MarkSet
		for _, r := range rows {
			out = append(out, p.set(pattern.Eyelet, r, "", f))
		}
		return out, nil
	}
	if len(rows) == 2 {
		top, problem := p.topEdge(rows)
		if problem != nil {
			return nil, problem
		}
		return []MarkSet{p.set(pattern.Button, rows[1-top], "", f), p.set(pattern.Buttonhole, rows[top], "", f)}, nil
	}
	half, problem := p.topHalf(rows[0])
	if problem != nil {
		return nil, problem
	}
	return []MarkSet{p.set(pattern.Button, rows[0], otherHalf(half), f), p.set(pattern.Buttonhole, rows[0], half, f)}, nil
}

// tooWide refuses an overlap for which there is not cloth enough; of buttons and holes
// it tells which lacks more.
func (p *placer) tooWide(f *pattern.Fastening, sets []MarkSet) *diag.Problem {
	var worst *diag.Problem
	for _, s := range sets {
		if x, bad := check.TooWide(p.c, f, s.Row, s.Kind, p.tol); bad && (worst == nil || x.Amount > worst.Amount) {
			worst = refuse(x)
		}
	}
	return worst
}

func otherHalf(half string) string {
	if half == string(pattern.LeftHalf) {
		return string(pattern.RightHalf)
	}
	return string(pattern.LeftHalf)
}

// topHalf is the half that lies on top and has the holes.
func (p *placer) topHalf(r measure.Row) (string, *diag.Problem) {
	switch p.o.Holes {
	case string(pattern.LeftHalf), string(pattern.RightHalf):
		return p.o.Holes, nil
	case "":
		for _, s := range r.Standing(pattern.Buttonhole, p.rivals()[r.Piece.Name], true, p.tol) {
			if only := r.Piece.Marks[s.Index].Only; only != "" {
				return only, nil
			}
		}
		return string(pattern.RightHalf), nil
	}
	return "", p.fault("closure.side", "closure "+p.c.Name+" has one edge, which both halves share", "the half that has the holes", "say --holes left or --holes right")
}

// topEdge is the number of the edge that lies on top and has the holes.
func (p *placer) topEdge(rows []measure.Row) (int, *diag.Problem) {
	for i, r := range rows {
		if p.o.Holes == r.Name() {
			return i, nil
		}
	}
	if p.o.Holes != "" {
		return 0, p.fault("closure.side", fmt.Sprintf("closure %s has the edges %s and %s", p.c.Name, rows[0].Name(), rows[1].Name()), "the one that has the holes",
			fmt.Sprintf("say --holes %s or --holes %s", rows[0].Name(), rows[1].Name()))
	}
	return measure.TopEdge(p.g, p.c, p.rivals(), p.tol), nil
}

func (p *placer) rivals() map[string][]int { return measure.ClosureEdges(p.g, p.c.Kind) }

// set gives the marks of a row, on the step of a file.
func (p *placer) set(kind pattern.MarkKind, r measure.Row, only string, f *pattern.Fastening) MarkSet {
	s := MarkSet{Kind: kind, Row: r, Only: only}
	for k := range r.At {
		m := pattern.Mark{Kind: kind, Only: only, At: pattern.Round(r.Point(k, p.inset, p.tol)), Diameter: f.Diameter}
		if kind == pattern.Buttonhole {
			in := r.Inward(k, p.tol)
			m.At = pattern.Round(r.Point(k, p.inset, p.tol).Sub(in.Mul(measure.HolePast)))
			m.Angle, m.Diameter = pattern.Some(degrees(in)), pattern.Opt{}
			if f.Diameter.Set {
				m.Length = pattern.Some(pattern.RoundLength(measure.HoleLength(f.Diameter.Value, f.Thickness)))
			}
		}
		s.Marks = append(s.Marks, m)
	}
	return s
}

// degrees gives the angle of a direction from 0 up to 360, to 0.001.
func degrees(way curve.Point) float64 {
	a := pattern.RoundLength(math.Atan2(way.Y, way.X) * 180 / math.Pi)
	if a < 0 {
		a = pattern.RoundLength(a + 360)
	}
	return a
}

// write takes the closure's old marks out of the pieces and puts the new ones, named,
// where the first old one of their kind stood.
func (p *placer) write(sets []MarkSet) {
	rivals := p.rivals()
	for _, kind := range []pattern.MarkKind{pattern.Button, pattern.Buttonhole, pattern.Eyelet} {
		if !measure.Fastens(p.c.Kind, kind) {
			continue
		}
		first := map[string]int{}
		for i := range p.c.Edges {
			r := measure.Row{}
			var ok bool
			if r.Piece, r.Edge, ok = p.g.Edge(p.c.Edges[i]); ok {
				takeOut(r, kind, rivals[r.Piece.Name], first, p.tol)
			}
		}
		for i := range sets {
			if sets[i].Kind == kind {
				sets[i].putIn(first)
			}
		}
	}
}

// others names the marks at the edges that somebody else named.
func (p *placer) others(sets []MarkSet) []string {
	var out []string
	rivals := p.rivals()
	for _, s := range sets {
		for _, x := range s.Row.Standing(s.Kind, rivals[s.Row.Piece.Name], false, p.tol) {
			if m := &s.Row.Piece.Marks[x.Index]; !measure.Numbered(m) {
				out = append(out, fmt.Sprintf("%s %s of %s", m.Kind, m.Name, s.Row.Piece.Name))
			}
		}
	}
	return out
}

// takeOut removes the marks of a kind that placing wrote for an edge, and notes where
// in its piece's list the first one stood.
func takeOut(r measure.Row, kind pattern.MarkKind, rivals []int, first map[string]int, tol float64) {
	old := map[int]bool{}
	for _, s := range r.Standing(kind, rivals, true, tol) {
		old[s.Index] = true
	}
	var left []pattern.Mark
	for i, m := range r.Piece.Marks {
		if !old[i] {
			left = append(left, m)
			continue
		}
		if _, seen := first[r.Piece.Name]; !seen {
			first[r.Piece.Name] = len(left)
		}
	}
	r.Piece.Marks = left
}

// putIn names the marks of the set by the lowest numbers that are free and puts them
// into their piece.
func (s *MarkSet) putIn(first map[string]int) {
	p := s.Row.Piece
	taken := map[string]bool{}
	for _, m := range p.Marks {
		if m.Kind == s.Kind {
			taken[m.Name] = true
		}
	}
	n := 0
	for i := range s.Marks {
		name := ""
		for name == "" || taken[name] {
			n++
			name = measure.MarkLetter(s.Kind) + strconv.Itoa(n)
		}
		s.Marks[i].Name, s.Marks[i].Place = name, p.Place
	}
	at, ok := first[p.Name]
	if !ok || at > len(p.Marks) {
		at = len(p.Marks)
	}
	p.Marks = slices.Insert(p.Marks, at, s.Marks...)
	first[p.Name] = at + len(s.Marks)
}

// settle lists the pieces that changed and refuses what would lie outside them.
func (f *Fastened) settle(before *pattern.Garment) (*Fastened, *diag.Problem) {
	var was, is []*pattern.Piece
	for i, p := range f.Garment.Pieces {
		if !pattern.EqualPieces(before.Pieces[i], p) {
			was, is = append(was, before.Pieces[i]), append(is, p)
			f.Pieces = append(f.Pieces, p.Name)
		}
	}
	bad := worse(check.Shapes(before, was), check.Shapes(f.Garment, is))
	if len(bad) == 0 {
		return f, nil
	}
	for _, x := range check.OfClosure(before, f.Closure.Name, measure.Accuracy) {
		if x.ID == "closure.beyond" || x.ID == "closure.pitch" {
			return nil, refuse(x)
		}
	}
	bad[0].Hint = "place them elsewhere: by --inset, or by the records of closure " + f.Closure.Name + " in the garment file"
	return nil, &bad[0]
}
