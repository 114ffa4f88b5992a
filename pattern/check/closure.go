package check

import (
	"fmt"
	"math"
	"strings"

	"seamkeep/pattern"
	"seamkeep/pattern/diag"
	"seamkeep/pattern/measure"
)

// NearStrain is how far from the level of the greatest strain the nearest button may
// stand, mm: common practice, no source.
const NearStrain = 5.0

// fastenings looks at closures, and at what is recorded of their buttons and eyelets.
func fastenings(in Input) diag.List {
	g := in.Garment
	closures := map[string]*pattern.Closure{}
	var out diag.List
	for i := range g.Closures {
		c := &g.Closures[i]
		closures[c.Name] = c
		out = append(out, halves(in, c)...)
	}
	rivals := map[string]map[string][]int{}
	for _, kind := range []string{pattern.ButtonClosure, pattern.Lacing} {
		rivals[kind] = measure.ClosureEdges(g, kind)
	}
	for _, list := range [][]pattern.Fastening{g.Buttons, g.Eyelets} {
		for i := range list {
			if c := closures[list[i].Closure]; c != nil {
				r := fastening{in, &list[i], c, rivals[c.Kind]}
				out = append(out, r.look()...)
			}
		}
	}
	return out
}

// fastening is a record of buttons or eyelets with its closure.
type fastening struct {
	in     Input
	f      *pattern.Fastening
	c      *pattern.Closure
	rivals map[string][]int // edges of closures of the kind, by piece
}

func closureProblem(id string, at diag.Place, c *pattern.Closure, amount float64) diag.Problem {
	return diag.Problem{ID: id, Severity: diag.Warning, Place: at, Subject: c.Name, Amount: amount}
}

func (x fastening) problem(id string, amount float64) diag.Problem {
	return closureProblem(id, x.f.Place, x.c, amount)
}

// halves tells a closure that has one edge where it needs two, and two edges that
// are not equally long: what is fastened at one end is crooked at the other.
func halves(in Input, c *pattern.Closure) diag.List {
	var lengths []float64
	var names []string
	for _, ref := range c.Edges {
		p, i, ok := in.Garment.Edge(ref)
		if !ok || !closed(p) {
			return nil
		}
		if len(c.Edges) == 1 && !measure.Mirrored(in.Garment, p) {
			x := closureProblem("closure.one-edge", c.Place, c, 1)
			x.Found = fmt.Sprintf("closure %s has one edge, %s, and %s is cut once", c.Name, ref.String(), p.Name)
			x.Expected = "the edge of the other half too"
			x.Hint = fmt.Sprintf("write both: closure %s %s %s PIECE.EDGE", c.Name, c.Kind, ref.String())
			x.Place = onPiece(x.Place, p, p.Edges[i].Name)
			return diag.List{x}
		}
		r, _ := measure.RowOn(in.Garment, c, &pattern.Fastening{Count: pattern.Some(2)}, len(lengths), in.Tol)
		if r.Piece == nil {
			return nil
		}
		lengths, names = append(lengths, r.Length()), append(names, ref.String())
	}
	limit, _ := in.Garment.SeamTolerance(nil)
	if len(lengths) < 2 || math.Abs(lengths[0]-lengths[1]) <= limit+slack {
		return nil
	}
	x := closureProblem("closure.halves", c.Place, c, math.Abs(lengths[0]-lengths[1]))
	x.Found = fmt.Sprintf("the two edges of closure %s are %.1f (%s) and %.1f (%s) long", c.Name, lengths[0], names[0], lengths[1], names[1])
	x.Expected = fmt.Sprintf("at most %g between them, so that buttons meet their holes and eyelets stand opposite", limit)
	x.Hint = fmt.Sprintf("alter one by %.1f at its ends", x.Amount)
	return diag.List{x}
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
		all = append(all, x.onEdge(r)...)
	}
	return worstOfEach(all)
}

func (x fastening) fault(f *measure.RowFault, r measure.Row) diag.Problem {
	y := x.problem(f.ID, f.Amount)
	y.Found, y.Expected, y.Hint = f.Found, f.Expected, f.Hint
	if r.Piece != nil {
		y.Place = onPiece(y.Place, r.Piece, r.Piece.Edges[r.Edge].Name)
	}
	return y
}

// onEdge looks at the places of the row, then at the marks that stand for them.
func (x fastening) onEdge(r measure.Row) diag.List {
	var out diag.List
	add := func(y diag.Problem, bad bool) {
		if bad {
			out = append(out, y)
		}
	}
	add(x.beyond(r))
	add(x.overlaid(r))
	if x.c.Kind == pattern.Lacing {
		add(x.apart(r))
	} else {
		add(x.unstrained(r))
	}
	return append(out, x.marks(r)...)
}

// overlaid tells buttons or eyelets that would lie over each other: at a pitch that is
// smaller than they are.
func (x fastening) overlaid(r measure.Row) (diag.Problem, bool) {
	across := x.f.Diameter.Value
	if !x.f.Diameter.Set || len(r.At) < 2 {
		return diag.Problem{}, false
	}
	pitch := math.Abs(r.At[len(r.At)-1]-r.At[0]) / float64(len(r.At)-1)
	if pitch >= across-slack {
		return diag.Problem{}, false
	}
	y := x.problem("closure.pitch", across-pitch)
	y.Place = onPiece(y.Place, r.Piece, r.Piece.Edges[r.Edge].Name)
	y.Found = fmt.Sprintf("what closes %s is %g across and stands %.3g apart, one over the other", x.c.Name, across, pitch)
	y.Expected = fmt.Sprintf("a pitch of at least %g", across)
	y.Hint = "take a larger pitch, or fewer of them"
	return y, true
}

// worstOfEach keeps one finding of each id, in the order of the first; it names the
// others of the id as further places.
func worstOfEach(all diag.List) diag.List {
	var out diag.List
	at := map[string]int{}
	for _, y := range all {
		i, seen := at[y.ID]
		switch {
		case !seen:
			at[y.ID] = len(out)
			out = append(out, y)
		case y.Amount > out[i].Amount:
			y.Related = append(y.Related, diag.Related{Place: out[i].Place, Text: out[i].Found})
			out[i] = y
		case y.Found != out[i].Found:
			out[i].Related = append(out[i].Related, diag.Related{Place: y.Place, Text: y.Found})
		}
	}
	return out
}

// extension tells an overlap that is too narrow for its buttons.
func (x fastening) extension() (diag.Problem, bool) {
	has, needs := x.c.Overlap.Value/2, measure.Extension*x.f.Diameter.Value
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

// beyond tells a row that would not end on the edge, clear of its ends by half a
// button.
func (x fastening) beyond(r measure.Row) (diag.Problem, bool) {
	room := x.f.Diameter.Or(0) / 2
	top, bottom := r.Beyond(room)
	off, word, k := top, "uppermost", 0
	if bottom > off {
		off, word, k = bottom, "lowest", len(r.At)-1
	}
	if off <= slack {
		return diag.Problem{}, false
	}
	y := x.problem("closure.beyond", off)
	at := r.Point(k, 0, x.in.Tol)
	y.Place = onPiece(y.Place, r.Piece, r.Piece.Edges[r.Edge].Name).Point(at.X, at.Y)
	y.Found = fmt.Sprintf("the %s of the %s of %s would stand %.1f too near to the end of %s, or beyond it", word, measure.WordOf(x.c), x.c.Name, off, r.Name())
	y.Expected = fmt.Sprintf("half of one, %g, between them", room)
	y.Hint = x.shorter(r, k)
	return y, true
}

// shorter says by which pitch, or how many fewer, a row comes to end on its edge.
func (x fastening) shorter(r measure.Row, k int) string {
	room := x.f.Diameter.Or(0) / 2
	if !r.Anchor.Set || r.Pitch == 0 {
		return fmt.Sprintf("write a margin of at least %g", room)
	}
	count, has := x.f.Up.Or(0), 0.0 // on the side of the anchor that is too long
	top, bottom := r.Beyond(room)
	reach := count*r.Pitch - top
	if k > 0 {
		count = float64(len(r.At)-1) - count
		reach = count*r.Pitch - bottom
	}
	has = math.Floor(reach/r.Pitch + slack)
	if reach <= 0 || count == 0 {
		return "count from a level further from the end of the edge"
	}
	fewer := fmt.Sprintf("take %g fewer there", count-has)
	return fmt.Sprintf("%s, or write a pitch of at most %.1f", fewer, math.Floor(10*reach/count)/10)
}

// apart tells eyelets too far from each other.
func (x fastening) apart(r measure.Row) (diag.Problem, bool) {
	if r.Pitch <= measure.EyeletsApart+slack {
		return diag.Problem{}, false
	}
	y := x.problem("closure.apart", r.Pitch-measure.EyeletsApart)
	y.Place = onPiece(y.Place, r.Piece, r.Piece.Edges[r.Edge].Name)
	y.Found = fmt.Sprintf("the %d eyelets of %s on %s, %.1f long, stand %.1f apart", len(r.At), x.c.Name, r.Name(), r.Length(), r.Pitch)
	y.Expected = fmt.Sprintf("at most %g", measure.EyeletsApart)
	long := r.Pitch * float64(len(r.At)-1)
	n := math.Ceil(long/measure.EyeletsApart - slack)
	y.Hint = fmt.Sprintf("write count %g: they stand %.1f apart", n+1, long/n)
	return y, true
}

// unstrained tells buttons of which none stands where the closure pulls hardest, and
// the pitches at which both that level and the anchor would have one.
func (x fastening) unstrained(r measure.Row) (diag.Problem, bool) {
	level := r.Strain(x.in.Garment, x.in.Body, x.in.Tol)
	at, ok := r.Crossing(x.in.Garment, level, x.in.Tol)
	if level == "" || !ok || r.Miss(at) <= NearStrain+slack {
		return diag.Problem{}, false
	}
	y := x.problem("closure.no-button-at-strain", r.Miss(at))
	spot := r.Piece.EdgePath(r.Edge).PointAt(at, x.in.Tol)
	y.Place = onPiece(y.Place, r.Piece, r.Piece.Edges[r.Edge].Name).Point(spot.X, spot.Y)
	y.Found = fmt.Sprintf("the nearest button of %s stands %.1f from %s, where it pulls hardest", x.c.Name, r.Miss(at), level)
	y.Expected = fmt.Sprintf("one within %g", NearStrain)
	y.Hint = fmt.Sprintf("count from there: buttons %s from %s", x.c.Name, level)
	if r.Anchor.Set {
		if list := measure.BothPitches(math.Abs(at-r.Anchor.Value), r.Pitch); len(list) > 0 {
			y.Hint += fmt.Sprintf("; or keep one at %s and write pitch %s", x.f.From, Pitches(list))
		}
	}
	return y, true
}

// Pitches writes pitches for a hint: "22.857 or 26.667", as a file may hold them.
func Pitches(list []float64) string {
	words := make([]string, len(list))
	for i, p := range list {
		words[i] = fmt.Sprintf("%g", pattern.RoundLength(p))
	}
	return strings.Join(words, " or ")
}
