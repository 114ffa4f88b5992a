package vector

import (
	"strings"

	"seamkeep/pattern/curve"
)

// subpath is one chain of a path, from a moveto to the next.
type subpath struct {
	path   curve.Path
	closed bool // by a Z
}

// pathPen walks along path data (SVG 2, section 9.3.9) in the element's own
// units. Arcs become cubics within arcTol of the true arc; quadratics are raised
// exactly. At most limit segments are made.
type pathPen struct {
	scanner
	arcTol     float64
	limit      int
	subs       []span
	segs       curve.Path // of all subpaths together
	from       int        // first segment of the subpath that is open
	start, cur curve.Point
	handle     curve.Point // of the curve before, for S and T
	after      byte        // 'c' or 'q': which kind of curve that was
}

// span is a subpath among the segments.
type span struct {
	from, to int
	closed   bool
}

// end gives the subpaths. They share their room, but appending to one of them
// does not touch the next.
func (p *pathPen) end() []subpath {
	p.finish(false)
	subs := make([]subpath, len(p.subs))
	for i, s := range p.subs {
		subs[i] = subpath{path: p.segs[s.from:s.to:s.to], closed: s.closed}
	}
	return subs
}

// run reads commands until the end of the text.
func (p *pathPen) run() *fault {
	expected := "M or m at the start"
	for known := "m"; ; known = "mzlhvcsqta" {
		p.space()
		if p.done() {
			return nil
		}
		c := p.text[p.at]
		lower := c | 0x20
		if !isLetter(c) || strings.IndexByte(known, lower) < 0 {
			return p.fault(p.at, expected)
		}
		expected = "a path command (M L H V C S Q T A Z)"
		p.at++
		if lower == 'z' {
			p.close()
			continue
		}
		if bad := p.repeat(lower, c == lower); bad != nil {
			return bad
		}
	}
}

// repeat reads the arguments of one command as often as they are given.
func (p *pathPen) repeat(cmd byte, relative bool) *fault {
	p.space()
	for again := false; ; again = true {
		if again {
			if comma := p.separator(); !comma && !p.startsNumber() {
				return nil
			}
		}
		if bad := p.command(cmd, relative); bad != nil {
			return bad
		}
		if len(p.segs) > p.limit {
			return &fault{at: p.at, found: "a path with too many segments", expected: "a drawing of outlines"}
		}
		if cmd == 'm' {
			cmd = 'l' // further pairs after a moveto are lines
		}
	}
}

// command reads one set of arguments and draws it.
func (p *pathPen) command(cmd byte, relative bool) *fault {
	var from curve.Point
	if relative {
		from = p.cur
	}
	if cmd == 'a' {
		return p.arc(from)
	}
	var v [6]float64
	n := arity(cmd)
	for i := range n {
		if i > 0 {
			p.separator()
		}
		x, bad := p.number()
		if bad != nil {
			return bad
		}
		v[i] = x
	}
	at := func(i int) curve.Point { return curve.Pt(from.X+v[i], from.Y+v[i+1]) }
	switch cmd {
	case 'm':
		p.move(at(0))
	case 'l':
		p.line(at(0))
	case 'h':
		p.line(curve.Pt(from.X+v[0], p.cur.Y))
	case 'v':
		p.line(curve.Pt(p.cur.X, from.Y+v[0]))
	case 'c':
		p.cubic(at(0), at(2), at(4))
	case 's':
		p.cubic(p.mirrored('c'), at(0), at(2))
	case 'q':
		p.quadratic(at(0), at(2))
	case 't':
		p.quadratic(p.mirrored('q'), at(0))
	}
	return nil
}

func arity(cmd byte) int {
	switch cmd {
	case 'h', 'v':
		return 1
	case 'm', 'l', 't':
		return 2
	case 's', 'q':
		return 4
	}
	return 6
}

// mirrored is the last curve's handle seen from the current point: the current
// point itself where the command before was no curve of that kind.
func (p *pathPen) mirrored(kind byte) curve.Point {
	if p.after != kind {
		return p.cur
	}
	return p.cur.Add(p.cur.Sub(p.handle))
}

func (p *pathPen) add(s curve.Segment) {
	p.segs = append(p.segs, s)
	p.cur = s.P3
}

func (p *pathPen) move(to curve.Point) {
	p.finish(false)
	p.start, p.cur, p.after = to, to, 0
}

func (p *pathPen) line(to curve.Point) {
	p.add(curve.Line(p.cur, to))
	p.after = 0
}

func (p *pathPen) cubic(h, k, to curve.Point) {
	p.add(curve.Cubic(p.cur, h, k, to))
	p.handle, p.after = k, 'c'
}

func (p *pathPen) quadratic(q, to curve.Point) {
	p.add(curve.Cubic(p.cur, p.cur.Lerp(q, 2.0/3), to.Lerp(q, 2.0/3), to))
	p.handle, p.after = q, 'q'
}

// close draws the line home and ends the subpath; what follows without a
// moveto begins at the same point.
func (p *pathPen) close() {
	if len(p.segs) > p.from && p.cur != p.start {
		p.line(p.start)
	}
	p.finish(true)
	p.cur, p.after = p.start, 0
}

func (p *pathPen) finish(closed bool) {
	if len(p.segs) > p.from {
		p.subs = append(p.subs, span{p.from, len(p.segs), closed})
	}
	p.from = len(p.segs)
}
