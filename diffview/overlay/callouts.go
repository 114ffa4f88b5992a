package overlay

import (
	"seamkeep/pattern/curve"
	"seamkeep/pattern/svg"
)

// jointCall is a joint on the strip: a tick where it is fine, a callout where it
// is not. Places are in the strip's frame, y down.
type jointCall struct {
	joint   joint
	corners [2]curve.Point
	out     [2]curve.Point // the ways in which the ticks point
	text    string         // empty: fine
	title   string
	box     rect
}

const tickLength = 2.6

// call places the joints of the strip.
func (a *assembled) call() {
	where := map[string]laid{}
	for _, l := range a.list {
		where[l.piece.Name] = l
	}
	lines := a.flat()
	var taken []rect
	for _, j := range a.joints {
		c := jointCall{joint: j, title: j.line + " at " + j.seam + ": " + orDash(j.words(a.g, false))}
		for i, e := range j.ends {
			c.corners[i] = flip(where[e.piece.Name].at.Add(e.at()))
			if way, ok := e.along(); ok {
				c.out[i] = flip(way.Mul(-1))
			}
		}
		if !j.fine {
			c.text = j.words(a.g, true)
			c.place(lines, taken, a.room)
			taken = append(taken, c.box.grow(0.8))
			a.room = a.room.union(c.box.grow(1))
		}
		a.calls = append(a.calls, c)
	}
}

// flat gives the drawn lines as chains of points, y down.
func (a *assembled) flat() [][]curve.Point {
	var out [][]curve.Point
	for _, s := range a.lines {
		line := s.path.Flatten(0.2)
		for i := range line {
			line[i] = flip(line[i]).Add(s.at)
		}
		out = append(out, line)
	}
	return out
}

// place finds room for a callout beyond the corners, clear of all lines and as
// near to them as it can; where all is crowded, beyond the lines altogether.
func (c *jointCall) place(lines [][]curve.Point, taken []rect, all rect) {
	w, h := calloutStyle().Width(c.text), 1.25*calloutStyle().Size
	middle := c.corners[0].Lerp(c.corners[1], 0.5)
	way := -1.0 // upwards
	if c.out[0].Y > 0 {
		way = 1
	}
	for far := 6.0; far < 90; far++ {
		for _, aside := range []float64{0, 5, -5, 10, -10} {
			c.box = around(curve.Pt(middle.X+aside, middle.Y+way*(far+h/2)), w, h)
			if !overlapsAny(c.box.grow(0.8), taken) && !crossedByAny(c.box.grow(1.5), lines) {
				return
			}
		}
	}
	y := all.y0 - h
	if way > 0 {
		y = all.y1 + h
	}
	for c.box = around(curve.Pt(middle.X, y), w, h); overlapsAny(c.box.grow(0.8), taken); {
		c.box.y0, c.box.y1 = c.box.y0+way*h, c.box.y1+way*h
	}
}

func crossedByAny(r rect, lines [][]curve.Point) bool {
	for _, line := range lines {
		for i := 1; i < len(line); i++ {
			if r.crossedBy(line[i-1], line[i]) {
				return true
			}
		}
	}
	return false
}

func (c jointCall) draw(pg *page, at curve.Point) {
	attrs := []svg.Attr{svg.A("data-joint", c.joint.seam), svg.A("data-line", c.joint.line)}
	if c.joint.kink.Set {
		attrs = append(attrs, svg.N("data-kink", c.joint.kink.Value))
	}
	if c.joint.step.Set {
		attrs = append(attrs, svg.N("data-step", c.joint.step.Value))
	}
	pg.pen.Titled(c.title, attrs...)
	c.sign(pg, at)
	pg.pen.End()
}

// sign draws the tick or the callout.
func (c jointCall) sign(pg *page, at curve.Point) {
	if c.text == "" {
		for i, p := range c.corners {
			pg.pen.Line(at.Add(p), at.Add(p.Add(c.out[i].Mul(tickLength))), stroke("line", inkColour, 0.3)...)
		}
		return
	}
	for _, p := range c.corners {
		end := c.box.nearest(p)
		pg.pen.Line(at.Add(p), at.Add(end), stroke("line", inkColour, 0.25)...)
		pg.pen.Circle(at.Add(p), 0.9, dotInk()...)
	}
	s := calloutStyle()
	pg.text(at.X+c.box.centre().X, at.Y+c.box.centre().Y+0.36*s.Size, c.text, s.Middle())
}
