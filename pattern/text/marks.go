package text

import (
	"fmt"

	"seamkeep/pattern"
)

func readNotch(c *record, _ string, p *pattern.Piece) {
	n := pattern.Notch{Place: c.recordPlace(), Name: c.name("the name of the notch")}
	c.need("on")
	n.Edge = c.mention("the edge that it is on")
	n.Place.Edge, n.Edge.Place.Edge = n.Edge.Name, n.Edge.Name
	if n.Edge.Name == "" {
		c.declare("notch", "")
	} else {
		c.declare("notch", n.Name+" on "+n.Edge.Name)
	}
	n.On = c.spot()
	p.Notches = append(p.Notches, n)
}

// spot reads the place of a notch on its edge.
func (c *record) spot() pattern.Spot {
	var s pattern.Spot
	if c.accept("at") {
		s.Level = c.name("a level")
		if c.accept("nearest") {
			s.Nearest = c.name("a corner")
		}
		return s
	}
	if t, ok := c.peek(); !ok || t.quoted || !looksNumeric(t.text) {
		c.fail(IDSyntax, `"at" and a level, or a distance`)
		return s
	}
	s.Distance = c.number("a distance along the edge in mm", notBelow0)
	switch w := c.need("above", "below", "from"); w {
	case "from":
		s.Kind, s.Corner = pattern.FromCorner, c.name("a corner of the edge")
	default:
		s.Kind, s.Above, s.Level = pattern.FromLevel, w == "above", c.name("a level")
	}
	return s
}

func printNotches(p *pattern.Piece, s *sheet) {
	for _, n := range p.Notches {
		l := s.record(marks, "notch", n.Name+" on "+n.Edge.Name, "notch").word(n.Name, "on", n.Edge.Name)
		switch {
		case n.On.Kind == pattern.AtLevel:
			l.word("at", n.On.Level).named("nearest", n.On.Nearest)
		case n.On.Kind == pattern.FromCorner:
			l.number(n.On.Distance).word("from", n.On.Corner)
		case n.On.Above:
			l.number(n.On.Distance).word("above", n.On.Level)
		default:
			l.number(n.On.Distance).word("below", n.On.Level)
		}
		l.done()
	}
}

// lineMarks are the words of the marks that are lines.
func lineMarks() []string {
	return []string{string(pattern.Bone), string(pattern.Cord), string(pattern.Stitch), string(pattern.Placement), string(pattern.Cutout)}
}

// pointMarks are the words of the marks that are points.
func pointMarks() []string {
	return []string{string(pattern.Eyelet), string(pattern.Button), string(pattern.Buttonhole), string(pattern.Drill)}
}

func readMark(c *record, word string, p *pattern.Piece) {
	m := pattern.Mark{Place: c.recordPlace(), Kind: pattern.MarkKind(word), Name: c.name("the name of the mark")}
	c.declare(word, m.Name)
	if m.Kind.IsLine() {
		c.markOptions(&m)
		c.need("from")
		c.point(&m.At.X, &m.At.Y)
		c.r.open = aMark
		if c.accept("to") {
			seg := pattern.Seg{Place: c.recordPlace()}
			c.point(&seg.To.X, &seg.To.Y)
			m.Segs = []pattern.Seg{seg}
			c.r.open = nothing
		}
	} else {
		c.point(&m.At.X, &m.At.Y)
		c.markOptions(&m)
	}
	if c.failed {
		c.r.open = skipping
	}
	p.Marks = append(p.Marks, m)
}

func (c *record) markOptions(m *pattern.Mark) {
	for {
		switch {
		case c.accept("width"):
			c.option(&m.Width, "width", notBelow0)
		case c.accept("length"):
			c.option(&m.Length, "length", notBelow0)
		case c.accept("diameter"):
			c.option(&m.Diameter, "diameter", notBelow0)
		case c.accept("angle"):
			c.option(&m.Angle, "angle", anyNumber)
		case c.accept("left"):
			c.only(m, "left")
		case c.accept("right"):
			c.only(m, "right")
		default:
			return
		}
	}
}

func (c *record) only(m *pattern.Mark, side string) {
	c.once(side, m.Only != "")
	m.Only = side
	c.need("only")
}

func printMarks(p *pattern.Piece, s *sheet) {
	for _, m := range p.Marks {
		l := s.record(marks, string(m.Kind), m.Name, string(m.Kind)).word(m.Name)
		if !m.Kind.IsLine() {
			l.point(m.At.X, m.At.Y)
			printMarkOptions(m, l)
			l.done()
			continue
		}
		printMarkOptions(m, l)
		l.word("from").point(m.At.X, m.At.Y)
		if len(m.Segs) == 1 && !m.Segs[0].Curve {
			l.word("to").point(m.Segs[0].To.X, m.Segs[0].To.Y).done()
			continue
		}
		l.done()
		for _, seg := range m.Segs {
			printSegment(seg, s)
		}
	}
}

func printMarkOptions(m pattern.Mark, l *line) {
	l.option("width", m.Width).option("length", m.Length).option("diameter", m.Diameter).option("angle", m.Angle)
	if m.Only != "" {
		l.word(m.Only, "only")
	}
}

// checkMarkLine makes sure that the line of a mark goes somewhere, and that a
// cutout closes.
func (r *reader) checkMarkLine(m pattern.Mark) {
	if !m.Kind.IsLine() || r.faulty[m.Place.Line] || r.anyFaulty(m.Segs) {
		return
	}
	if len(m.Segs) == 0 {
		r.reportAt(m.Place, IDMarkLine, fmt.Sprintf("%s %s without a line", m.Kind, m.Name),
			`"to X Y", or segments under it`, "")
		return
	}
	last := m.Segs[len(m.Segs)-1]
	switch {
	case m.Kind == pattern.Cutout && last.To != m.At:
		r.reportAt(last.Place, IDMarkLine, "a cutout that ends elsewhere than it begins", "a last segment that returns to its start", "")
	case m.Kind == pattern.Cutout && len(m.Segs) == 1 && !last.Curve:
		r.reportAt(m.Place, IDMarkLine, "a cutout without a hole", "segments that go round one", "")
	}
}
