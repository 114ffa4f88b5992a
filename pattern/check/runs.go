package check

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"seamkeep/pattern"
	"seamkeep/pattern/diag"
	"seamkeep/pattern/measure"
)

// runs looks at each style line where it crosses a seam: sewn, it has to be one line,
// without a point or a scoop and without a step (I. DeN. Conover, A Complete Course in
// Dressmaking, vol. 9, 1921-22, p. 22, of the armhole across the shoulder). How many
// degrees and mm pass is common practice, no source. One flaw of a run is one finding,
// about its worst place.
func runs(in Input) diag.List {
	if len(in.Garment.Runs) == 0 {
		return nil
	}
	reported, mirrored, centre := reportedSeams(in), mirroredEdges(in.Garment), centreEdges(in.Garment)
	var out diag.List
	for _, c := range measure.Courses(in.Garment) {
		out = append(out, course(in, c)...)
		out = append(out, worst(kinks(in, c))...)
		out = append(out, worst(stepsOf(in, c, reported))...)
		ends := askew(in.Garment, c.Run)
		out = append(out, worst(centred(c.Run, ends, centre))...)
		out = append(out, worst(square(in, c, ends, mirrored))...)
	}
	return out
}

// flaw is a finding about one place of a run, with what is said of it beside a worse
// one.
type flaw struct {
	diag.Problem
	short  string
	place  diag.Place // of the edge to redraw
	corner string     // where the run flaws, by the name that keeps it apart: PIECE.CORNER
}

// worst makes one finding of several of one kind: the worst, and a line for each of the
// others. Its amount is the sum of theirs, so that a further one makes it worse.
func worst(list []flaw) diag.List {
	if len(list) == 0 {
		return nil
	}
	slices.SortStableFunc(list, func(a, b flaw) int { return cmp.Compare(b.Amount, a.Amount) })
	x := list[0].Problem
	x.AddPart(list[0].corner, list[0].Amount)
	for _, o := range list[1:] {
		x.AddPart(o.corner, o.Amount)
		x.Amount += o.Amount
		x.Related = append(x.Related, diag.Related{Place: o.place, Text: o.short})
	}
	if len(list) > 1 {
		x.Found += fmt.Sprintf("; and at %d more", len(list)-1)
	}
	return diag.List{x}
}

func runProblem(id string, r *pattern.Run, amount float64) diag.Problem {
	return diag.Problem{ID: id, Severity: diag.Warning, Place: r.Place, Subject: r.Name, Amount: amount}
}

// at puts a finding about a run to a corner of a piece and the edge of the run there.
func at(x diag.Problem, c measure.Corner, edge, short string) flaw {
	p := c.Point()
	x.Place.Piece, x.Place.Edge = c.Piece.Name, edge
	x.Place = x.Place.Point(p.X, p.Y)
	f := flaw{Problem: x, short: short, place: c.Piece.Place, corner: c.Name()}
	if i := c.Piece.EdgeIndex(edge); i >= 0 {
		f.place = c.Piece.Edges[i].Place
	}
	f.place.Piece, f.place.Edge = c.Piece.Name, edge
	f.place = f.place.Point(p.X, p.Y)
	return f
}

// course tells a run that is not one line: its edges do not meet, it leaves an edge
// where it came in, or it has an edge twice.
func course(in Input, c measure.Course) diag.List {
	var out diag.List
	r := c.Run
	if i := twice(r.Refs); i >= 0 {
		x := runProblem("run.twice", r, 1)
		x.Found, x.Expected = fmt.Sprintf("run %s has %s twice", r.Name, name(r.Refs[i])), "each edge once"
		x.Hint = "take one of the two out of the record"
		return append(out, x)
	}
	if len(c.Breaks) > 0 {
		out = append(out, broken(in, c))
	}
	if len(c.Back) > 0 {
		ref := r.Refs[c.Back[0]]
		x := runProblem("run.turns-back", r, float64(len(c.Back)))
		x.Found = fmt.Sprintf("run %s leaves %s where it came in, so it turns back there", r.Name, name(ref))
		x.Expected = "a run that goes along each of its edges"
		x.Hint = "take " + name(ref) + " out of the run, or the edge behind it"
		out = append(out, x)
	}
	return out
}

// broken tells where a run does not reach its next edge: the corner there, and what seam
// would lead on.
func broken(in Input, c measure.Course) diag.Problem {
	r := c.Run
	x := runProblem("run.broken", r, float64(len(c.Breaks)))
	x.Expected = "edges that follow each other, front to back, over seams or corners"
	for i, b := range c.Breaks {
		from, to := name(r.Refs[b.Next-1]), name(r.Refs[b.Next])
		where := "between " + from + " and " + to
		place := r.Place
		if b.Told() {
			where = fmt.Sprintf("at corner %s, %s", b.At[0].Name(), where)
			at := b.At[0].Point()
			place = r.Refs[b.Next-1].Place.Point(at.X, at.Y)
			place.Piece, place.Edge = b.At[0].Piece.Name, r.Refs[b.Next-1].Edge
		}
		if i > 0 {
			x.Related = append(x.Related, diag.Related{Place: place, Text: "and " + where + ": " + leadOn(in, c, b)})
			continue
		}
		x.Place = place
		x.Found = fmt.Sprintf("run %s breaks %s: no seam joins the end of one to the end of the other", r.Name, where)
		x.Hint = leadOn(in, c, b) + "\nor make two runs of it"
	}
	return x
}

// leadOn says how a broken run goes on: over a seam that is there to another edge, or over
// one that the garment file lacks.
func leadOn(in Input, c measure.Course, b measure.Broken) string {
	to := name(c.Run.Refs[b.Next])
	switch {
	case !b.Told():
		return "write them in the order in which they are met, or name the seam between them"
	case len(b.To) == 1 && b.To[0].Piece == c.Run.Refs[b.Next].Piece:
		return fmt.Sprintf("seam %s leads from there to %s: write that in the place of %s", b.Over, name(b.To[0]), to)
	case len(b.To) > 0:
		return fmt.Sprintf("seam %s leads from there to %s: write that between the two", b.Over, measure.SideName(b.To))
	}
	seam := b.Sewn[0].Piece + "-" + b.Sewn[1].Piece
	if in.Garment.Seam(seam) != nil || pattern.NameFault(seam) != "" {
		seam = "NAME"
	}
	var long [2]float64
	for i, ref := range b.Sewn {
		p, edge, _ := in.Garment.Edge(ref)
		long[i] = p.EdgePath(edge).Length(in.Tol)
	}
	return fmt.Sprintf("if %s, %.1f long, and %s, %.1f, are sewn together, write: seam %s %s %s", name(b.Sewn[0]), long[0], name(b.Sewn[1]), long[1], seam, name(b.Sewn[0]), name(b.Sewn[1]))
}

// twice gives an edge of a run that stands in it before; -1 where there is none.
func twice(refs []pattern.Ref) int {
	seen := map[string]bool{}
	for i, r := range refs {
		if seen[name(r)] {
			return i
		}
		seen[name(r)] = true
	}
	return -1
}

// kinks tells where a run turns: at a seam with both angles, and which piece to redraw,
// the one that meets the seam further from square.
func kinks(in Input, c measure.Course) []flaw {
	limit := in.Garment.ToleranceOf("turn")
	var out []flaw
	for _, t := range c.Turns {
		if kink := t.Kink(); math.Abs(kink) > limit+slack {
			out = append(out, kinked(c.Run, t, kink, limit))
		}
	}
	return out
}

func kinked(r *pattern.Run, t measure.Turn, kink, limit float64) flaw {
	x := runProblem("run.kink", r, math.Abs(kink))
	x.Expected = fmt.Sprintf("at most %g degrees", limit)
	way, what := "out", "a point"
	if kink < 0 {
		way, what = "in", "a scoop"
	}
	by := fmt.Sprintf("%s by %.1f", way, math.Abs(kink))
	first, next := name(t.Edges[0]), name(t.Edges[1])
	if t.Seam == "" {
		corner := t.At[0].Name()
		x.Found = fmt.Sprintf("run %s turns %s degrees at corner %s, to %s", r.Name, by, corner, what)
		x.Hint = fmt.Sprintf("redraw %s or %s so that one goes on as the other ends; the corner stays", first, next)
		return at(x, t.At[0], t.Edges[0].Edge, by+" at corner "+corner)
	}
	which, redraw, mend := straighten(t)
	x.Found = fmt.Sprintf("run %s turns %s degrees at seam %s, to %s: %s meets it at %.1f, %s at %.1f", r.Name, by, t.Seam, what, first, t.First, next, t.Next)
	x.Hint = mend
	short := fmt.Sprintf("%s at seam %s: %s at %.1f, %s at %.1f; redraw %s", by, t.Seam, first, t.First, next, t.Next, redraw)
	f := at(x, t.At[which], t.Edges[which].Edge, short)
	f.corner = t.At[0].Name() // whichever of the two is to be redrawn now
	return f
}

// straighten says which edge to redraw at a seam, and to what angle, shortly and as a
// hint: both where both are off to the same side of square, else the one that is further
// from square. which is the edge that is.
func straighten(t measure.Turn) (which int, redraw, mend string) {
	first, next := 90-t.First, 90-t.Next // by how much each is narrower than square
	angle := t.First
	if math.Abs(next) > math.Abs(first) {
		which, angle = 1, t.Next
	}
	const worth = 1.0 // degrees that are worth redrawing an end for
	if first*next > 0 && min(math.Abs(first), math.Abs(next)) >= worth {
		return which, "both to 90.0", fmt.Sprintf("redraw the end of %s by %.1f degrees and that of %s by %.1f, square to the seam; the corners stay",
			name(t.Edges[0]), math.Abs(first), name(t.Edges[1]), math.Abs(next))
	}
	to := fmt.Sprintf("%.1f", angle+t.Kink())
	edge := name(t.Edges[which])
	return which, edge + " to " + to, fmt.Sprintf("redraw the end of %s by %.1f degrees, to meet the seam at %s; its corner stays", edge, math.Abs(t.Kink()), to)
}

// stepsOf tells where the two edges of a run miss each other at a seam: with both sides
// laid together at the waist, one reaches further than the other. A seam that is told
// anyway says it already, and its cure takes the step away too.
func stepsOf(in Input, c measure.Course, reported map[string]bool) []flaw {
	limit := in.Garment.ToleranceOf("step")
	var out []flaw
	for _, t := range c.Turns {
		if t.Seam == "" || reported[t.Seam] {
			continue
		}
		w := in.walked.of[t.Seam]
		if w == nil || len(w.Segments) < 2 && !w.Agreed[0] && !w.Agreed[1] {
			continue // nothing says where the two sides are laid together
		}
		off, end := w.FromWaist()
		if t.AtEnd {
			off = end
		}
		if math.Abs(off) <= limit+slack {
			continue
		}
		x := runProblem("run.step", c.Run, math.Abs(off))
		longer, shorter := measure.SideName(w.Seam.First), measure.SideName(w.Seam.Second)
		if off < 0 {
			longer, shorter = shorter, longer
		}
		x.Found = fmt.Sprintf("run %s steps by %.2f mm at seam %s: %s reaches further than %s", c.Run.Name, math.Abs(off), t.Seam, longer, shorter)
		x.Expected = fmt.Sprintf("at most %g mm", limit)
		x.Hint = unstep(w, t.AtEnd, off, in.Tol)
		out = append(out, at(x, t.At[0], t.Edges[0].Edge, fmt.Sprintf("%.2f at seam %s: %s reaches further", math.Abs(off), t.Seam, longer)))
	}
	return out
}

// unstep says how to take a step away by hand: the seam itself passes, so that no
// command moves its corners. off is how much further the first side reaches, mm.
func unstep(w *measure.Walk, atEnd bool, off, tol float64) string {
	end := short(w.First.StartName())
	if atEnd {
		end = short(w.First.EndName())
	}
	hint := fmt.Sprintf("%s %s: %.2f at the %s end", verb(off), measure.SideName(w.First.Refs), math.Abs(off), end)
	if q, ok := slid(w.First, atEnd, off, tol); ok && CannotTrue(w) == "" {
		hint += fmt.Sprintf(" (to %s)", coords(q))
	}
	return hint + ", or as much the other way on " + measure.SideName(w.Second.Refs)
}

// reportedSeams names the seams that the walk tells anyway, to be mended; not those that
// are off on purpose, which nobody trues.
func reportedSeams(in Input) map[string]bool {
	out := map[string]bool{}
	for _, w := range in.walked.walks {
		v := Judge(in.Garment, w)
		out[w.Seam.Name] = (!v.OK || v.Near) && !Stays(in.Garment, w)
	}
	return out
}

// runEnd is a corner at which an edge of a run meets another edge of its piece, by more
// than is allowed off a right angle.
type runEnd struct {
	ref    pattern.Ref // the edge of the run
	corner measure.Corner
	beside string  // the other edge
	angle  float64 // inside the piece, degrees
	turn   float64 // of the run and its mirror image beyond the other edge, degrees
}

func askew(g *pattern.Garment, r *pattern.Run) []runEnd {
	var out []runEnd
	for _, ref := range r.Refs {
		p, i, ok := g.Edge(ref)
		if !ok || !closed(p) {
			continue
		}
		for _, at := range []struct{ corner, beside int }{{i, (i + len(p.Edges) - 1) % len(p.Edges)}, {p.After(i), p.After(i)}} {
			angle, ok := measure.InteriorAngle(p, at.corner)
			if turn := math.Abs(2 * (90 - angle)); ok && turn > g.ToleranceOf("turn")+slack {
				out = append(out, runEnd{ref, measure.Corner{Piece: p, Index: at.corner}, p.Edges[at.beside].Name, angle, turn})
			}
		}
	}
	return out
}

// square tells where a run does not meet a fold, or the seam of a piece to its own
// mirror image, at a right angle: unfolded it comes to a point there, or to a scoop.
func square(in Input, c measure.Course, ends []runEnd, mirrored map[string]bool) []flaw {
	var out []flaw
	for _, e := range ends {
		what := mirrorLine(mirrored, e.corner.Piece, e.beside)
		if what == "" {
			continue
		}
		x := runProblem("run.not-square", c.Run, e.turn)
		x.Found = fmt.Sprintf("run %s meets the %s %s.%s at %.1f degrees, so both halves together turn by %.1f there", c.Run.Name, what, e.ref.Piece, e.beside, e.angle, e.turn)
		x.Expected = fmt.Sprintf("90 degrees, within %g", in.Garment.ToleranceOf("turn")/2)
		x.Hint = fmt.Sprintf("redraw the end of %s square to it; its corner stays", name(e.ref))
		out = append(out, at(x, e.corner, e.ref.Edge, fmt.Sprintf("at %.1f to the %s %s.%s", e.angle, what, e.ref.Piece, e.beside)))
	}
	return out
}

// centred notes where a run does not meet the centre edge of a half garment, which a
// closure brings to its other half, at a right angle: closed it comes to a point there,
// or to a scoop. Many are meant to, such as a V.
func centred(r *pattern.Run, ends []runEnd, centre map[string]bool) []flaw {
	var out []flaw
	for _, e := range ends {
		edge := e.ref.Piece + "." + e.beside
		if !centre[edge] {
			continue
		}
		x := runProblem("run.centre", r, e.turn)
		x.Severity = diag.Note
		x.Found = fmt.Sprintf("run %s meets the centre edge %s at %.1f degrees, so closed it turns by %.1f there", r.Name, edge, e.angle, e.turn)
		x.Expected = "90 degrees, unless a point or a scoop is meant"
		out = append(out, at(x, e.corner, e.ref.Edge, fmt.Sprintf("at %.1f to %s", e.angle, edge)))
	}
	return out
}

// centreEdges gives the edges of a half garment that a closure brings to their own mirror
// images.
func centreEdges(g *pattern.Garment) map[string]bool {
	centre := map[string]bool{}
	for _, x := range g.Closures {
		if g.Half != pattern.Whole && len(x.Edges) == 1 {
			centre[name(x.Edges[0])] = true
		}
	}
	return centre
}

// mirrorLine says what an edge is at which its piece goes on as its own mirror image;
// empty where it is none. mirrored are the edges of mirroredEdges.
func mirrorLine(mirrored map[string]bool, p *pattern.Piece, edge string) string {
	if slices.ContainsFunc(p.Cloths, func(c pattern.Cloth) bool { return c.Cut == pattern.OnFold && c.Fold.Name == edge }) {
		return "fold"
	}
	if mirrored[p.Name+"."+edge] {
		return "mirrored seam"
	}
	return ""
}

// mirroredEdges gives the whole edges that are sewn to their own mirror images.
func mirroredEdges(g *pattern.Garment) map[string]bool {
	out := map[string]bool{}
	for _, s := range g.Seams {
		if s.Mirrored && len(s.First) == 1 && s.First[0].From == "" {
			out[name(s.First[0])] = true
		}
	}
	return out
}

func name(r pattern.Ref) string { return r.Piece + "." + r.Edge }
