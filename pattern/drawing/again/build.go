package again

import (
	"fmt"
	"math"
	"sort"

	"seamkeep/pattern"
	"seamkeep/pattern/curve"
	"seamkeep/pattern/diag"
)

// stop is a corner of the next version.
type stop struct {
	old int // the old corner, or -1
	at  float64
}

// stretch is the line between two stops that follow each other.
type stretch struct {
	path curve.Path
	old  []int // the old edges that it stands for
	name int   // the old edge whose record it continues, or -1
	part int   // the old edge that it was cut from, or -1
}

// build makes the next version of the piece from the places of its corners.
// The names of taken, which may be nil, are not given anew.
func (y *laying) build(k *kept, p *plan, taken *pattern.Piece) {
	y.piece = pattern.Clone(k.piece)
	y.piece.Corners, y.piece.Edges = nil, nil
	y.parts = map[string][]string{}
	stops := p.stops()
	names := namesOf(k.piece, taken)
	for _, s := range stops {
		y.addCorner(k, p, s, names)
	}
	list := p.stretches(stops)
	for n, s := range list {
		y.addEdge(k, n, s, names)
	}
	y.tellGone(k, p, list)
	y.tellNew(k, p, list)
	y.references(k.piece)
	y.crossing(k.piece)
}

// stops lists the corners of the next version in order, from the first old one
// that is still there.
func (p *plan) stops() []stop {
	var out []stop
	for i, f := range p.fate {
		if f != gone && f != unknown {
			out = append(out, stop{i, p.at[i]})
		}
	}
	first := out[0].at
	sort.Float64s(p.added)
	for _, a := range p.added {
		n := 1
		for n < len(out) && p.l.ahead(first, out[n].at) < p.l.ahead(first, a) {
			n++
		}
		out = append(out[:n], append([]stop{{-1, a}}, out[n:]...)...)
	}
	return out
}

// stretches says which old edges each line between two stops stands for. Of
// several old edges the longest gives the name, of several parts of one old edge
// the longest keeps it.
func (p *plan) stretches(stops []stop) []stretch {
	out := make([]stretch, len(stops))
	for n, s := range stops {
		to := stops[(n+1)%len(stops)].at
		out[n] = stretch{path: p.l.cut(s.at, to), name: -1, part: -1}
	}
	for n := 0; n < len(stops); {
		m := n + 1
		for m < len(stops) && stops[m].old < 0 {
			m++
		}
		end := stops[m%len(stops)].old
		main, length := n, 0.0
		for i := n; i < m; i++ {
			if l := out[i].path.Length(lengthTol); l > length {
				main, length = i, l
			}
		}
		var edges []int
		longest := stops[n].old
		for e := stops[n].old; ; {
			edges = append(edges, e)
			if p.k.lengths[e] > p.k.lengths[longest] {
				longest = e
			}
			if e = p.k.next(e); e == end {
				break
			}
		}
		for i := n; i < m; i++ {
			if i != main {
				out[i].part = longest
			}
		}
		out[main].name, out[main].old = longest, edges
		n = m
	}
	return out
}

func (y *laying) addCorner(k *kept, p *plan, s stop, names *names) {
	y.corners = append(y.corners, s.old)
	if s.old < 0 {
		c := pattern.Corner{Name: names.free(names.corners, "c"), At: pattern.Round(p.l.point(s.at))}
		y.report.New.Corners = append(y.report.New.Corners, c.Name)
		y.piece.Corners = append(y.piece.Corners, c)
		return
	}
	c := k.piece.Corners[s.old]
	switch p.fate[s.old] {
	case slid:
		y.add(k.piece, "corner", diag.Note, "", fmt.Sprintf(
			"corner %s has no joint in the drawing any more; it was set at the same part of the way between its neighbours", c.Name),
			"a joint where the corner stands", "")
		fallthrough
	case moved:
		if q := p.l.point(s.at); q.Dist(c.At) > k.within {
			c.At = pattern.Round(q)
			y.report.Moved = append(y.report.Moved, c.Name)
		}
	}
	y.piece.Corners = append(y.piece.Corners, c)
}

func (y *laying) addEdge(k *kept, n int, s stretch, names *names) {
	y.edges = append(y.edges, s.name)
	from, to := n, (n+1)%len(y.piece.Corners)
	a, b := y.piece.Corners[from].At, y.piece.Corners[to].At
	if s.name < 0 {
		was := k.piece.Edges[s.part].Name
		e := pattern.Edge{Name: names.free(names.edges, "e"), Was: was}
		e.Segs, e.Length = drawnLine(s.path, a, b, k.paths[s.part])
		y.parts[was] = append(y.parts[was], e.Name)
		y.report.New.Edges = append(y.report.New.Edges, e.Name)
		y.piece.Edges = append(y.piece.Edges, e)
		return
	}
	e := *pattern.Clone(&k.piece.Edges[s.name])
	i := s.name
	same := len(s.old) == 1 && y.corners[from] == i && y.corners[to] == k.next(i) &&
		a == k.corner(i) && b == k.corner(k.next(i)) && agree(k.paths[i], s.path, k.within)
	if same {
		y.report.Kept = append(y.report.Kept, e.Name)
	} else {
		var old curve.Path
		for _, o := range s.old {
			old = append(old, k.paths[o]...)
		}
		e.Segs, e.Length = drawnLine(s.path, a, b, old)
		y.report.Changed = append(y.report.Changed, e.Name)
	}
	y.piece.Edges = append(y.piece.Edges, e)
}

// drawnLine gives the segments of an edge that follows a drawn path between two
// corners, and its length: rounded, but for segments of the old line that the
// path still follows, which keep their numbers. A curve that is straight but for
// the rounding becomes a line.
func drawnLine(path curve.Path, from, to curve.Point, old curve.Path) ([]pattern.Seg, pattern.Opt) {
	path = append(curve.Path(nil), path...)
	path[0] = fromPoint(path[0], from)
	last := len(path) - 1
	path[last] = fromPoint(path[last].Reverse(), to).Reverse()
	var out curve.Path
	for n, s := range path {
		s = onStep(s, old)
		if len(out) > 0 {
			s = fromPoint(s, out.End())
		}
		if n == last {
			s = fromPoint(s.Reverse(), to).Reverse()
		}
		if s.P0 == s.P3 && s.P1 == s.P0 && s.P2 == s.P0 && (len(out) > 0 || n < last) {
			continue
		}
		out = append(out, s)
	}
	if len(out) == 0 {
		out = curve.Path{curve.Line(from, to)}
	}
	if out.End() != to { // the last segment vanished by rounding
		out[len(out)-1] = fromPoint(out[len(out)-1].Reverse(), to).Reverse()
	}
	return pattern.SegsOf(out), pattern.Some(pattern.RoundLength(out.Length(1e-6)))
}

// onStep gives a drawn segment the numbers of the old one that it lies on, or
// rounds it.
func onStep(s curve.Segment, old curve.Path) curve.Segment {
	const same = 0.002 // mm: no more than rounding and eight digits explain
	s = straightened(s)
	for _, o := range old {
		if o.Straight == s.Straight && near(o, s, same) {
			return o
		}
	}
	a, b := pattern.Round(s.P0), pattern.Round(s.P3)
	if s.Straight {
		return curve.Line(a, b)
	}
	return curve.Cubic(a, pattern.Round(s.P1), pattern.Round(s.P2), b)
}

// straightened makes a line of a curve that runs from its start to its end
// without straying from the chord by more than half a step.
func straightened(s curve.Segment) curve.Segment {
	u, ok := s.P3.Sub(s.P0).Unit()
	if s.Straight || !ok {
		return s
	}
	reach := s.P3.Dist(s.P0)
	for _, q := range [2]curve.Point{s.P1, s.P2} {
		d := q.Sub(s.P0)
		if along := u.Dot(d); math.Abs(u.Cross(d)) > pattern.Grid/2 || along < -pattern.Grid || along > reach+pattern.Grid {
			return s
		}
	}
	return curve.Line(s.P0, s.P3)
}

// tellGone lists the old corners and edges that the next version lacks.
func (y *laying) tellGone(k *kept, p *plan, list []stretch) {
	left := map[int]bool{}
	for _, s := range list {
		left[s.name] = true
	}
	for i := range k.paths {
		if p.fate[i] == gone {
			y.report.Gone.Corners = append(y.report.Gone.Corners, k.piece.Corners[i].Name)
		}
		if !left[i] {
			y.report.Gone.Edges = append(y.report.Gone.Edges, k.piece.Edges[i].Name)
		}
	}
	if len(y.report.Gone.Corners) > 0 {
		y.add(k.piece, "corner-gone", diag.Warning, "", fmt.Sprintf("the drawing has no corner for %s any more, so that %s went with it",
			words(y.report.Gone.Corners), words(y.report.Gone.Edges)), "a joint for each corner",
			"draw the corner again, or mend the seams that name the edge")
	}
}

// tellNew says of each new corner where it stands.
func (y *laying) tellNew(k *kept, p *plan, list []stretch) {
	for n, i := range y.corners {
		if i >= 0 {
			continue
		}
		c := y.piece.Corners[n]
		edge := list[n].part
		if edge < 0 {
			edge = list[(n+len(list)-1)%len(list)].part
		}
		y.add(k.piece, "corner-new", diag.Warning, k.piece.Edges[edge].Name, fmt.Sprintf(
			"edge %s turns at %.1f %.1f, where it had no corner; corner %s was set there", k.piece.Edges[edge].Name, c.At.X, c.At.Y, c.Name),
			"the corners that the piece had", "smooth the joint in the drawing if it is meant to be one edge")
	}
}
