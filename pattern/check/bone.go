package check

import (
	"fmt"
	"math"

	"seamkeep/pattern"
	"seamkeep/pattern/curve"
	"seamkeep/pattern/diag"
	"seamkeep/pattern/measure"
)

// TooLong is how much longer than its channel leaves it a bone or cord may be, mm:
// common practice, no source.
const TooLong = 0.5

// bones looks at each bone and cord and its channel, which runs along it to the
// sewing lines at both ends. A bone stops short of its casing: 1/2 in at the top in
// L. I. Baldt, Clothing for Women, 1916; by how much at each end the garment file
// says.
func bones(in Input) diag.List {
	var out diag.List
	for _, p := range in.Garment.Pieces {
		if !closed(p) {
			continue
		}
		var ring curve.Path
		for _, c := range []channels{
			{kind: pattern.Bone, tooLong: "bone.long", tooNear: "bone.near"},
			{kind: pattern.Cord, tooLong: "cord.long", tooNear: "cord.near"},
		} {
			c.in, c.p, c.clear = in, p, in.Garment.Clearance(c.kind)
			for i := range p.Marks {
				if p.Marks[i].Kind != c.kind {
					continue
				}
				if ring == nil {
					ring = p.Outline()
				}
				c.add(ring, &p.Marks[i])
			}
			out = append(out, c.found()...)
		}
		out = append(out, HolesOnBones(in.Garment, p, in.Tol)...)
	}
	return append(out, meetings(in)...)
}

// channels is what is found of the bones, or the cords, of a piece.
type channels struct {
	kind             pattern.MarkKind
	tooLong, tooNear string // ids of findings
	in               Input
	p                *pattern.Piece
	clear            float64 // mm free at each end
	long, near       diag.List
}

func (c *channels) problem(id string, m *pattern.Mark, at curve.Point, amount float64) diag.Problem {
	x := pieceProblem(id, c.p, m.Place.Point(at.X, at.Y), "")
	x.Severity, x.Amount = diag.Warning, amount
	x.AddPart(c.p.Name+"."+m.Name, amount)
	return x
}

func (c *channels) add(ring curve.Path, m *pattern.Mark) {
	path := m.Path()
	drawn := path.Length(c.in.Tol)
	if drawn < pattern.Grid {
		return // an error by itself
	}
	if at, off := outside(ring, ring.Bounds(), *m); off > 0 {
		c.addOut(ring, m, at, off)
		return
	}
	long := m.Length.Or(drawn)
	if channel, ok := measure.ChannelOf(ring, path, c.in.Tol); ok {
		if fits := channel.Length - 2*c.clear; long > fits+TooLong+slack {
			x := c.problem(c.tooLong, m, path.PointAt(drawn/2, c.in.Tol), long-fits)
			x.Found = fmt.Sprintf("%s %s is %.1f long; its channel of %.1f leaves %.1f with %g free at each end", c.kind, m.Name, long, channel.Length, max(fits, 0), c.clear)
			x.Hint = cutTo(m, fits)
			c.long = append(c.long, x)
		}
	}
	if !m.Width.Set {
		return
	}
	if d, at, over := beside(ring, path, drawn, max(2*c.clear, m.Width.Value), c.in.Tol); d < m.Width.Value/2-slack && !over {
		x := c.problem(c.tooNear, m, at, m.Width.Value/2-d)
		x.Found = fmt.Sprintf("the middle of %s %s, which is %g wide, comes within %.1f of a sewing line at %.1f %.1f", c.kind, m.Name, m.Width.Value, d, at.X, at.Y)
		x.Hint = fmt.Sprintf("move %s %.1f away from the edge beside it", m.Name, x.Amount)
		c.near = append(c.near, x)
	}
}

// sticksOut tells whether a bone or cord is too long and runs out of its piece at an
// end; then its channel, by the part that lies inside, and the length that fits. One
// that has room at its other end, or leaves the piece beside, is outside as any other
// mark is.
func sticksOut(ring curve.Path, m *pattern.Mark, clear, tol float64) (channel measure.Channel, fits float64, ok bool) {
	if m.Kind != pattern.Bone && m.Kind != pattern.Cord {
		return channel, 0, false
	}
	part, ok := measure.Within(ring, m.Path(), tol)
	if !ok {
		return channel, 0, false
	}
	channel, ok = measure.ChannelOf(ring, part, tol)
	fits = channel.Length - 2*clear
	return channel, fits, ok && longest(m, tol) > fits+slack
}

// longest is the length of a bone, as recorded or as drawn, mm.
func longest(m *pattern.Mark, tol float64) float64 {
	return max(m.Path().Length(tol), m.Length.Or(0))
}

// addOut adds one that sticks out by off at a point.
func (c *channels) addOut(ring curve.Path, m *pattern.Mark, at curve.Point, off float64) {
	channel, fits, ok := sticksOut(ring, m, c.clear, c.in.Tol)
	if !ok {
		return
	}
	long := longest(m, c.in.Tol)
	x := c.problem(c.tooLong, m, at, long-fits)
	x.Severity = diag.Error
	x.Found = fmt.Sprintf("%s %s is %.1f long and sticks out by %.1f; its channel of %.1f leaves %.1f with %g free at each end", c.kind, m.Name, long, off, channel.Length, max(fits, 0), c.clear)
	x.Hint = cutTo(m, fits)
	c.long = append(c.long, x)
}

func cutTo(m *pattern.Mark, fits float64) string {
	if fits <= 0 {
		return "leave " + m.Name + " out, or write a smaller clearance"
	}
	return fmt.Sprintf("cut %s to %.1f: write length %.1f and draw its line so long", m.Name, fits, pattern.RoundLength(fits))
}

// found gives one finding of each cause: its worst, with a line for each other.
func (c *channels) found() diag.List {
	var out diag.List
	if x, ok := c.worst(c.long, "now too long"); ok {
		x.Expected = "each short of both ends of its channel"
		x.Hint += "\nseamkeep bones fit " + c.p.Name
		if c.kind == pattern.Cord {
			x.Hint += " --cords"
		}
		out = append(out, x)
	}
	if x, ok := c.worst(c.near, "too near to a sewing line"); ok {
		x.Expected = "half the width between the two"
		out = append(out, x)
	}
	return out
}

func (c *channels) worst(list diag.List, what string) (diag.Problem, bool) {
	if len(list) == 0 {
		return diag.Problem{}, false
	}
	w := 0
	for i := range list {
		if list[i].Amount > list[w].Amount {
			w = i
		}
	}
	x := list[w]
	for i, y := range list {
		x.Severity = max(x.Severity, y.Severity)
		if i != w {
			for _, part := range y.Parts {
				x.AddPart(part.At, part.Amount)
			}
			x.Related = append(x.Related, diag.Related{Place: y.Place, Text: y.Found})
			x.Hint += "\n" + y.Hint
		}
	}
	verb := "is"
	if len(list) > 1 {
		verb = "are"
	}
	x.Found = fmt.Sprintf("%s of %s %s %s: %s", counted(len(list), string(c.kind)), c.p.Name, verb, what, x.Found)
	return x, true
}

func counted(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}

// beside gives how near a line comes to the outline beside it, leaving out a stretch
// at both ends, which run towards sewing lines; over where all of it lies on a sewing
// line, as a bone does that is cased in the allowances. It looks every 5 mm, at 100
// places at most.
func beside(ring, path curve.Path, length, leave, tol float64) (near float64, at curve.Point, over bool) {
	near, over = math.Inf(1), true
	span := max(length-2*leave, 0)
	n := min(100, max(math.Ceil(span/5), 1))
	for k := 0.0; k <= n; k++ {
		q := path.PointAt((length-span)/2+span*k/n, tol)
		d := ring.Nearest(q).Dist
		over = over && d <= onLine
		if d < near {
			near, at = d, q
		}
	}
	return near, at, over
}
