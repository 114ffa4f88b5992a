package check

import (
	"fmt"
	"math"
	"slices"
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
	out = append(out, taken...)
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
	if r.Piece != nil && !measure.CountOf(x.f).Set {
		y.Hint = x.counts(r)
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
	y.Hint = fmt.Sprintf("write a pitch of at least %g", across)
	if !x.f.Pitch.Set {
		y.Hint = fmt.Sprintf("write count %g or less", spacesIn(pitch*float64(len(r.At)-1), across)+1)
	}
	return y, true
}

// tooFar tells a pitch so large that the edge has room for one button or eyelet only.
func (x fastening) tooFar(r measure.Row) (diag.Problem, bool) {
	left := r.Length() - 2*x.room()
	if len(r.At) < 2 || r.Pitch <= left+slack {
		return diag.Problem{}, false
	}
	y := x.problem("closure.pitch", r.Pitch-left)
	y.Place = onPiece(y.Place, r.Piece, r.Piece.Edges[r.Edge].Name)
	y.Found = fmt.Sprintf("at pitch %g no second one of the %d %s of %s fits on %s, which is %.1f long", pattern.RoundLength(r.Pitch), len(r.At), measure.WordOf(x.c), x.c.Name, r.Name(), r.Length())
	y.Expected = "the distance from one to the next"
	fits := left
	for _, k := range []int{0, len(r.At) - 1} {
		if spaces, reach, ok := x.side(r, k); ok && spaces > 0 {
			fits = min(fits, reach/spaces)
		}
	}
	switch across := x.f.Diameter.Or(0); {
	case fits <= 0:
		y.Hint = "count from a level further from the end of the edge"
	case fits < across:
		y.Hint = fmt.Sprintf("take fewer: on all of the edge fit %g at pitch %g", spacesIn(left, across)+1, across)
	default:
		y.Hint = fmt.Sprintf("write a pitch of at most %.1f", math.Floor(10*fits+slack)/10)
	}
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

// beyond tells a row that would not end on the edge, clear of its ends by half a
// button.
func (x fastening) beyond(r measure.Row) (diag.Problem, bool) {
	room := x.room()
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
	where := fmt.Sprintf("%.1f from the end of %s", room-off, r.Name())
	if off > room {
		where = fmt.Sprintf("%.1f beyond the end of %s", off-room, r.Name())
	}
	y.Found = fmt.Sprintf("the %s of the %s of %s would stand %s", word, measure.WordOf(x.c), x.c.Name, where)
	y.Expected = "on the edge"
	if room > 0 {
		y.Expected = fmt.Sprintf("at least half of one, %g, inside it", room)
	}
	y.Hint = x.shorter(r, k)
	return y, true
}

// side gives how many spaces a row has from where its counting begins towards its
// uppermost (k = 0) or its lowest, and how much of the edge there is for them, mm, clear
// of the end; false where nothing is counted that way.
func (x fastening) side(r measure.Row, k int) (spaces, reach float64, ok bool) {
	start, up := r.Anchor.Value, x.f.Up.Or(0)
	if !r.Anchor.Set {
		start, _ = r.Inside(x.f.Margin.Or(0))
		up = 0
	}
	top, bottom := r.Ends(start)
	if k == 0 {
		return up, top - x.room(), r.Pitch > 0 && r.Anchor.Set && x.f.Pitch.Set
	}
	return float64(len(r.At)-1) - up, bottom - x.room(), r.Pitch > 0 && x.f.Pitch.Set
}

// shorter says by which pitch, or how many fewer, a row comes to end on its edge.
func (x fastening) shorter(r measure.Row, k int) string {
	spaces, reach, ok := x.side(r, k)
	switch {
	case !ok:
		return fmt.Sprintf("write a margin of at least %g", x.room())
	case reach <= 0 || spaces == 0:
		return "count from a level further from the end of the edge"
	}
	fewer := fmt.Sprintf("take %g fewer there", spaces-math.Floor(reach/r.Pitch+slack))
	pitch := math.Floor(10*reach/spaces+slack) / 10
	if pitch < x.f.Diameter.Or(0) {
		return fewer
	}
	return fmt.Sprintf("%s, or write a pitch of at most %.1f", fewer, pitch)
}

// apart tells eyelets or hooks too far from each other.
func (x fastening) apart(r measure.Row, most float64) (diag.Problem, bool) {
	if r.Pitch <= most+slack {
		return diag.Problem{}, false
	}
	y := x.problem("closure.apart", r.Pitch-most)
	y.Place = onPiece(y.Place, r.Piece, r.Piece.Edges[r.Edge].Name)
	y.Found = fmt.Sprintf("the %d %s of %s on %s, %.1f long, stand %.1f apart", len(r.At), measure.WordOf(x.c), x.c.Name, r.Name(), r.Length(), r.Pitch)
	y.Expected = fmt.Sprintf("at most %g", most)
	if x.f.Pitch.Set {
		y.Hint = fmt.Sprintf("write a pitch of at most %g, and so many more that they reach as far", most)
		return y, true
	}
	long := r.Pitch * float64(len(r.At)-1)
	n := math.Ceil(long/most - slack)
	y.Hint = fmt.Sprintf("write count %g: they stand %.1f apart", n+1, long/n)
	return y, true
}

// unstrained tells buttons of which none stands where the closure pulls hardest, and
// the pitches at which both that level and the anchor would have one.
func (x fastening) unstrained(r measure.Row) (diag.Problem, bool) {
	level := r.Strain(x.in.Garment, x.in.Body, x.in.Tol)
	at, ok := r.Crossing(x.in.Garment, level, x.in.Tol)
	told := !x.f.Pitch.Set && x.f.From == level // as one of two anchors
	if level == "" || !ok || told || r.Miss(at) <= NearStrain+slack {
		return diag.Problem{}, false
	}
	y := x.problem("closure.no-button-at-strain", r.Miss(at))
	spot := r.Piece.EdgePath(r.Edge).PointAt(at, x.in.Tol)
	y.Place = onPiece(y.Place, r.Piece, r.Piece.Edges[r.Edge].Name).Point(spot.X, spot.Y)
	y.Found = fmt.Sprintf("the nearest button of %s stands %.1f from %s, where it pulls hardest", x.c.Name, r.Miss(at), level)
	y.Expected = fmt.Sprintf("one within %g", NearStrain)
	y.Hint = fmt.Sprintf("count from there: buttons %s from %s", x.c.Name, level)
	if r.Anchor.Set {
		if list := BothPitches(x.f, math.Abs(at-r.Anchor.Value), r.Pitch); len(list) > 0 {
			y.Hint += fmt.Sprintf("; or keep one at %s and write pitch %s", x.f.From, Pitches(list))
		}
	}
	return y, true
}

// BothPitches gives the pitches next to a record's own that hold two anchors so far apart,
// mm, see measure.BothPitches: those at which its buttons or eyelets do not lie over each
// other.
func BothPitches(f *pattern.Fastening, distance, pitch float64) []float64 {
	return slices.DeleteFunc(measure.BothPitches(distance, pitch), func(p float64) bool { return p < f.Diameter.Or(0) })
}

// Pitches writes pitches for a hint: "22.857 or 26.667", as a file may hold them.
func Pitches(list []float64) string {
	words := make([]string, len(list))
	for i, p := range list {
		words[i] = fmt.Sprintf("%g", pattern.RoundLength(p))
	}
	return strings.Join(words, " or ")
}
