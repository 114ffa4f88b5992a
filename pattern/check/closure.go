package check

import (
	"fmt"
	"slices"
	"strings"

	"seamkeep/pattern"
	"seamkeep/pattern/diag"
	"seamkeep/pattern/measure"
)

// fastenings looks at closures, and at what is recorded of their buttons and eyelets.
func fastenings(in Input) diag.List {
	var out diag.List
	f := newFastener(in)
	for i := range in.Garment.Closures {
		out = append(out, f.closure(i)...)
	}
	return out
}

// OfClosure gives what the checks find of one closure, whether the garment file accepts
// it or not. Lengths are within tol.
func OfClosure(g *pattern.Garment, name string, tol float64) diag.List {
	f := newFastener(Input{Garment: g, Tol: tol})
	for i := range g.Closures {
		if g.Closures[i].Name == name {
			return f.closure(i)
		}
	}
	return nil
}

// fastener holds what the findings of all closures share.
type fastener struct {
	in      Input
	records map[string][]*pattern.Fastening // by closure
	rivals  map[string]map[string][]int     // by kind: the edges of closures, by piece
	uses    map[string][]edgeUse            // by PIECE.EDGE: what closes or sews it
}

func newFastener(in Input) *fastener {
	g := in.Garment
	f := &fastener{in: in, records: map[string][]*pattern.Fastening{}, rivals: map[string]map[string][]int{}}
	for _, list := range [][]pattern.Fastening{g.Buttons, g.Eyelets, g.Hooks} {
		for i := range list {
			f.records[list[i].Closure] = append(f.records[list[i].Closure], &list[i])
		}
	}
	for _, kind := range []string{pattern.ButtonClosure, pattern.Lacing} {
		f.rivals[kind] = measure.ClosureEdges(g, kind)
	}
	f.uses = usesOf(g)
	return f
}

// closure gives the findings of one closure, number i of the garment.
func (f *fastener) closure(i int) diag.List {
	c := &f.in.Garment.Closures[i]
	out := Halves(f.in.Garment, c, f.in.Tol)
	if len(out) == 0 {
		out = slide(f.in, c)
	}
	taken, sewn := f.taken(i)
	out = append(append(out, taken...), f.stray(c)...)
	if len(f.records[c.Name]) == 0 {
		return append(out, f.unrecorded(c)...)
	}
	unequal := f.opposite(c)
	for _, record := range f.records[c.Name] {
		x := fastening{f.in, record, c, f.rivals[c.Kind], len(unequal) > 0, sewn}
		out = append(out, x.look()...)
	}
	return append(out, unequal...)
}

// fastening is a record of buttons or eyelets with its closure.
type fastening struct {
	in     Input
	f      *pattern.Fastening
	c      *pattern.Closure
	rivals map[string][]int // edges of closures of the kind, by piece

	unequal bool // its two halves have another number of eyelets each
	sewn    bool // an edge of it is sewn shut, so that its marks may stand anywhere
}

func closureProblem(id string, at diag.Place, c *pattern.Closure, amount float64) diag.Problem {
	return diag.Problem{ID: id, Severity: diag.Warning, Place: at, Subject: c.Name, Amount: amount}
}

func (x fastening) problem(id string, amount float64) diag.Problem {
	return closureProblem(id, x.f.Place, x.c, amount)
}

func onPiece(at diag.Place, p *pattern.Piece, edge string) diag.Place {
	at.Piece, at.Edge = p.Name, edge
	return at
}

// look gives the findings of one record: of each cause the worst of its edges.
func (x fastening) look() diag.List {
	var all diag.List
	if e, bad := x.extension(); bad {
		all = append(all, e)
	}
	for i := range x.c.Edges {
		p, _, ok := x.in.Garment.Edge(x.c.Edges[i])
		if !ok || !closed(p) {
			continue
		}
		r, fault := measure.RowOn(x.in.Garment, x.c, x.f, i, x.in.Tol)
		if fault != nil {
			if fault.ID != "" {
				all = append(all, x.fault(fault, r))
			}
			continue
		}
		all = append(all, x.onEdge(r, i)...)
	}
	return worstOfEach(all)
}

func (x fastening) fault(f *measure.RowFault, r measure.Row) diag.Problem {
	y := x.problem(f.ID, f.Amount)
	y.Found, y.Expected, y.Hint = f.Found, f.Expected, f.Hint
	switch {
	case r.Piece == nil:
	case !measure.CountOf(x.f).Set:
		y.Hint = x.counts(r)
	case f.ID == "closure.anchor":
		if list := x.crossed(r); len(list) > 0 {
			y.Hint = "count from one that it crosses once: " + strings.Join(list, ", ")
		}
	}
	if r.Piece != nil {
		y.Place = onPiece(y.Place, r.Piece, r.Piece.Edges[r.Edge].Name)
	}
	return y
}

// onEdge looks at the places of the row on edge i of the closure, then at the marks that stand for them.
func (x fastening) onEdge(r measure.Row, i int) diag.List {
	var out diag.List
	add := func(y diag.Problem, bad bool) {
		if bad {
			out = append(out, y)
		}
	}
	wide, tooWide := TooWide(x.c, x.f, r, x.deepest(i), x.in.Tol)
	add(wide, tooWide)
	far, lone := x.tooFar(r)
	add(far, lone)
	off, beyond := x.beyond(r)
	add(off, beyond && !lone)
	add(x.overlaid(r))
	add(x.twoAnchors(r))
	switch x.c.Kind {
	case pattern.Lacing:
		add(x.apart(r, measure.EyeletsApart))
	case pattern.HookClosure:
		add(x.apart(r, measure.HooksApart))
	default:
		add(x.unstrained(r))
	}
	if x.sewn || tooWide || beyond && off.Amount > x.room()+slack {
		return out // no mark can stand where there is no cloth, or another edge is meant
	}
	return append(out, x.marks(r)...)
}

// room is how far from the end of its edge the middle of a button or eyelet stays, mm.
func (x fastening) room() float64 { return x.f.Diameter.Or(0) / 2 }

// worstOfEach keeps one finding of each id, in the order of the first; it names the
// others of the id as further places, and how bad it is at each.
func worstOfEach(all diag.List) diag.List {
	var out diag.List
	at := map[string]int{}
	for _, y := range all {
		if len(y.Parts) == 0 && y.Place.Edge != "" {
			y.AddPart(y.Place.Piece+"."+y.Place.Edge, y.Amount)
		}
		i, seen := at[y.ID]
		if !seen {
			at[y.ID] = len(out)
			out = append(out, y)
			continue
		}
		worst, other := out[i], y
		if y.Amount > worst.Amount {
			worst, other = y, worst
			worst.Related = append(other.Related, worst.Related...)
		}
		if worst.Found != other.Found {
			worst.Related = append(worst.Related, diag.Related{Place: other.Place, Text: other.Found})
		}
		joinParts(&worst, other.Parts)
		out[i] = worst
	}
	return out
}

// joinParts adds parts to those of a finding; of what stands in both, as a mark of both
// halves does, the worse one counts.
func joinParts(x *diag.Problem, parts []diag.Part) {
	for _, p := range parts {
		if i := slices.IndexFunc(x.Parts, func(q diag.Part) bool { return q.At == p.At }); i >= 0 {
			x.Parts[i].Amount = max(x.Parts[i].Amount, p.Amount)
			continue
		}
		x.AddPart(p.At, p.Amount)
	}
}

// extension tells an overlap that is too narrow for its buttons, or is not recorded.
func (x fastening) extension() (diag.Problem, bool) {
	has, needs := x.c.Overlap.Value/2, measure.Extension*x.f.Diameter.Value
	if x.c.Kind == pattern.ButtonClosure && !x.c.Overlap.Set {
		return x.noOverlap(needs), true
	}
	if x.c.Kind == pattern.Lacing || !x.f.Diameter.Set || !x.c.Overlap.Set || has >= needs-slack {
		return diag.Problem{}, false
	}
	y := x.problem("closure.extension", needs-has)
	y.Found = fmt.Sprintf("the overlap of %s is %g, so %g of cloth lies beyond the buttons on each half", x.c.Name, x.c.Overlap.Value, has)
	y.Expected = fmt.Sprintf("at least %g, three quarters of a button of %g", needs, x.f.Diameter.Value)
	y.Hint = fmt.Sprintf("let the edge out by %g on each half and write overlap %g: girth and gap stay", needs-has, 2*needs)
	if len(x.c.Edges) == 1 {
		y.Place.Piece, y.Place.Edge = x.c.Edges[0].Piece, x.c.Edges[0].Edge
	}
	return y, true
}

// noOverlap tells buttons of a closure that says nothing of its overlap: they are placed
// so far inside the edge as they need, but the cloth that then lies double is not counted.
func (x fastening) noOverlap(needs float64) diag.Problem {
	y := x.problem("closure.no-overlap", max(1, 2*needs))
	y.Place = x.c.Place
	if len(x.c.Edges) > 0 {
		y.Place.Piece, y.Place.Edge = x.c.Edges[0].Piece, x.c.Edges[0].Edge
	}
	y.Found = fmt.Sprintf("closure %s is buttoned, but says nothing of its overlap, so girth and gap count none", x.c.Name)
	y.Expected = "how far the two halves lie over each other in all"
	y.Hint = "write overlap NUMBER at the end of its line"
	if needs > 0 {
		y.Hint = fmt.Sprintf("write overlap %g or more at the end of its line, as buttons of %g need", 2*needs, x.f.Diameter.Value)
	}
	return y
}
