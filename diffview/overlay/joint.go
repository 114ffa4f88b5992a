package overlay

import (
	"math"
	"strings"

	"seamkeep/pattern"
	"seamkeep/pattern/curve"
	"seamkeep/pattern/measure"
)

// joining is a seam between two panels, with the side of either.
type joining struct {
	seam  *pattern.Seam
	g     *pattern.Garment
	front []pattern.Ref // on the panel nearer to the front
	back  []pattern.Ref
	p, q  *pattern.Piece
}

// seamsBetween gives the seams that sew one panel to the next.
func seamsBetween(g *pattern.Garment, p, q *pattern.Piece) []joining {
	var out []joining
	for i := range g.Seams {
		s := &g.Seams[i]
		switch {
		case s.Mirrored:
		case touches(s.First, p) && touches(s.Second, q):
			out = append(out, joining{s, g, s.First, s.Second, p, q})
		case touches(s.Second, p) && touches(s.First, q):
			out = append(out, joining{s, g, s.Second, s.First, p, q})
		}
	}
	return out
}

func touches(side []pattern.Ref, p *pattern.Piece) bool {
	for _, r := range side {
		if r.Piece == p.Name && p.EdgeIndex(r.Edge) >= 0 {
			return true
		}
	}
	return false
}

// edges gives the lines of one of the two panels that lie in the seam.
func (j joining) edges(p *pattern.Piece) []curve.Path {
	var out []curve.Path
	for _, r := range append(append([]pattern.Ref(nil), j.front...), j.back...) {
		if i := p.EdgeIndex(r.Edge); r.Piece == p.Name && i >= 0 {
			out = append(out, p.EdgePath(i))
		}
	}
	return out
}

// place is a corner of a panel at the end of a seam.
type place struct {
	piece        *pattern.Piece
	corner, edge int // of the corner, of the edge that is sewn
}

func (c place) at() curve.Point { return c.piece.Corners[c.corner].At }

// other gives the edge at the corner that is not sewn: the one that goes on
// across the seam.
func (c place) other() int {
	if c.edge == c.corner {
		return (c.corner + len(c.piece.Edges) - 1) % len(c.piece.Edges)
	}
	return c.corner
}

// along gives the direction in which the seam leaves the corner.
func (c place) along() (curve.Point, bool) {
	path := c.piece.EdgePath(c.edge)
	if c.edge == c.corner {
		return path.StartTangent()
	}
	way, ok := path.EndTangent()
	return way.Mul(-1), ok
}

// joint is where a line of the garment, a neckline or a hem, crosses a seam.
type joint struct {
	line  string // the run's name; where it is in none, top or hem
	seam  string
	ends  [2]place    // the panel nearer to the front first
	kink  pattern.Opt // degrees, positive where the sewn edge points outwards
	step  pattern.Opt // mm that the front panel's corner lies beyond the other's
	fine  bool        // both within the garment's tolerances
	first bool        // where the walk of the seam begins
}

// key tells joints of two versions of a garment apart.
func (j joint) key() string {
	if j.first {
		return j.seam + " begins"
	}
	return j.seam + " ends"
}

// jointsOf gives the joints between neighbours, front to back; in a whole garment
// also those of the last panel and the first. At each seam the top comes first.
func jointsOf(g *pattern.Garment, list []laid) []joint {
	var out []joint
	pair := func(p, q *pattern.Piece) {
		for _, j := range seamsBetween(g, p, q) {
			found := j.joints()
			if len(found) == 2 && height(found[1]) > height(found[0]) {
				found[0], found[1] = found[1], found[0]
			}
			out = append(out, found...)
		}
	}
	for i := 1; i < len(list); i++ {
		pair(list[i-1].piece, list[i].piece)
	}
	if g.Half == pattern.Whole && len(list) > 2 {
		pair(list[len(list)-1].piece, list[0].piece)
	}
	return out
}

func height(j joint) float64 { return j.ends[0].at().Y + j.ends[1].at().Y }

// joints gives the two ends of a seam, as far as they lie on the two panels.
func (j joining) joints() []joint {
	start, end, ok1 := sideEnds(j.g, j.seam.First)
	from, to, ok2 := sideEnds(j.g, j.seam.Second)
	if !ok1 || !ok2 {
		return nil
	}
	if !j.seam.SameWay {
		from, to = to, from
	}
	atStart, atEnd := steps(j.g, j.seam)
	turned := touches(j.seam.Second, j.p) && !touches(j.seam.First, j.p)
	var out []joint
	for _, e := range []struct {
		a, b  place
		step  pattern.Opt
		first bool
	}{{start, from, atStart, true}, {end, to, atEnd, false}} {
		if turned {
			e.a, e.b, e.step.Value = e.b, e.a, -e.step.Value
		}
		if e.a.piece == j.p && e.b.piece == j.q {
			out = append(out, newJoint(j.g, j.seam, joint{seam: j.seam.Name, ends: [2]place{e.a, e.b}, step: e.step, first: e.first}))
		}
	}
	return out
}

// sideEnds gives the corners at which a side of a seam begins and ends; not
// where it begins or ends at a notch.
func sideEnds(g *pattern.Garment, refs []pattern.Ref) (start, end place, ok bool) {
	if len(refs) == 0 || refs[0].From != "" || refs[len(refs)-1].To != "" {
		return start, end, false
	}
	p, i, ok1 := g.Edge(refs[0])
	q, k, ok2 := g.Edge(refs[len(refs)-1])
	if !ok1 || !ok2 {
		return start, end, false
	}
	return place{p, i, i}, place{q, q.After(k), k}, true
}

// newJoint measures a joint.
func newJoint(g *pattern.Garment, s *pattern.Seam, j joint) joint {
	a, okA := measure.InteriorAngle(j.ends[0].piece, j.ends[0].corner)
	b, okB := measure.InteriorAngle(j.ends[1].piece, j.ends[1].corner)
	if okA && okB {
		j.kink = pattern.Some(180 - a - b)
	}
	j.line = "top"
	if way, ok := j.ends[0].along(); ok && way.Y > 0 {
		j.line = "hem"
	}
	for i := range g.Runs {
		r := &g.Runs[i]
		if !passes(r, j.ends[0]) || !passes(r, j.ends[1]) {
			continue
		}
		if t, ok := measure.TurnAt(g, r, s); ok {
			j.line, j.kink = r.Name, pattern.Some(t.Kink())
			break
		}
	}
	j.fine = math.Abs(j.kink.Value) <= g.ToleranceOf("turn") && math.Abs(j.step.Value) <= g.ToleranceOf("step")
	return j
}

// passes tells whether a run goes on over the corner.
func passes(r *pattern.Run, c place) bool {
	for _, ref := range r.Refs {
		if ref.Piece == c.piece.Name && ref.Edge == c.piece.Edges[c.other()].Name {
			return true
		}
	}
	return false
}

// steps gives how far the first side of a seam ends beyond the second at the
// walk's start and end, both laid together at the waist; without a waist on both
// sides, at the outermost notches, and without those so that both ends share.
func steps(g *pattern.Garment, s *pattern.Seam) (start, end pattern.Opt) {
	w, problem := measure.WalkSeam(g, s, 1e-4)
	if problem != nil {
		return pattern.Opt{}, pattern.Opt{}
	}
	a, b := w.Ends()
	waist := -1
	for i, seg := range w.Segments {
		if seg.To == "waist" && i+1 < len(w.Segments) {
			waist = i
		}
	}
	if waist >= 0 {
		a, b = 0, 0
		for i, seg := range w.Segments {
			if i <= waist {
				a += seg.Difference
			} else {
				b += seg.Difference
			}
		}
	}
	return pattern.Some(a), pattern.Some(b)
}

// words says what a joint does: "19.7° out, step 1.4"; rough keeps only what is
// over the tolerances of the garment.
func (j joint) words(g *pattern.Garment, rough bool) string {
	var out []string
	if j.kink.Set && (!rough || math.Abs(j.kink.Value) > g.ToleranceOf("turn")) {
		out = append(out, bends(j.kink))
	}
	if j.step.Set && (!rough || math.Abs(j.step.Value) > g.ToleranceOf("step")) {
		out = append(out, "step "+mm(math.Abs(j.step.Value)))
	}
	return strings.Join(out, ", ")
}

// bends gives a kink with one decimal and its way.
func bends(kink pattern.Opt) string {
	switch {
	case !kink.Set:
		return "\u2013"
	case math.Abs(kink.Value) < seen:
		return "0.0\u00b0"
	case kink.Value > 0:
		return mm(kink.Value) + "\u00b0 out"
	}
	return mm(-kink.Value) + "\u00b0 in"
}

// together gives the motion that lays the second panel of a joint on the first
// as they are sewn: the seams along each other, its corner off by the step.
func (j joint) together() (curve.Affine, bool) {
	a, okA := j.ends[0].along()
	b, okB := j.ends[1].along()
	if !okA || !okB {
		return curve.Identity(), false
	}
	turn := curve.Rotate(math.Atan2(b.Cross(a), b.Dot(a)))
	corner := turn.Apply(j.ends[1].at())
	to := j.ends[0].at().Add(a.Mul(j.step.Value))
	return turn.Then(curve.Translate(to.X-corner.X, to.Y-corner.Y)), true
}
