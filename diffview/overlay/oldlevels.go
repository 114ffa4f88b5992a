package overlay

import (
	"fmt"
	"math"
	"strings"

	"seamkeep/pattern"
	"seamkeep/pattern/compare"
	"seamkeep/pattern/curve"
	"seamkeep/pattern/svg"
)

// oldLevel is a level that lies elsewhere in the cloth than it lay: its line
// before, carried on to the later version of the piece, and its line after; both
// in the figure's frame, y down.
type oldLevel struct {
	name          string
	before, after [2]curve.Point // after is nothing where that passes the piece by
	isGone        bool           // the later version has no such level
	rise          float64        // mm that it lies higher in the cloth, where it was not turned
	turn          float64        // degrees that the piece turned against it
	label         rect           // empty: there was no room for its name
	words         string
}

// levelOver is how far a level's line goes beyond the piece, mm.
const levelOver = 5.0

// oldLevels gives the levels of a piece that lie elsewhere in its cloth: because
// they were set to another height, or because the piece was turned or raised as
// a whole in a frame where its levels hold.
func oldLevels(c *compare.Change, p compare.PieceChange) []oldLevel {
	if p.Before == nil || p.After == nil || p.Status != compare.Changed || c.Before == nil || c.After == nil {
		return nil
	}
	fit, whole := wholeMotion(p)
	var out []oldLevel
	for _, name := range levelNames(c, p.Before) {
		was, ok := levelOn(c.Before, p.Before, name)
		if !ok {
			continue
		}
		is, stays := levelOn(c.After, p.After, name)
		l := oldLevel{name: name, isGone: !stays, turn: fit.Angle * 180 / math.Pi}
		if stays && !whole && math.Abs(is-was) <= compare.Still {
			continue
		}
		left, right, ok := chord(p.Before, was)
		if !ok {
			continue
		}
		for i, q := range []curve.Point{curve.Pt(left-levelOver, was), curve.Pt(right+levelOver, was)} {
			l.before[i] = flip(fit.Affine().Apply(q))
		}
		if stays {
			if x0, x1, ok := chord(p.After, is); ok {
				l.after = [2]curve.Point{flip(curve.Pt(x0-levelOver, is)), flip(curve.Pt(x1+levelOver, is))}
			}
			l.rise = is - was - fit.Shift.Y
		}
		out = append(out, l)
	}
	return out
}

// wholeMotion tells whether the later outline is the earlier one, turned or
// raised as a whole, and by which motion.
func wholeMotion(p compare.PieceChange) (curve.Rigid, bool) {
	points := func(ring curve.Path) []curve.Point {
		var out []curve.Point
		for _, s := range ring {
			out = append(out, s.P0, s.P1, s.P2)
		}
		return out
	}
	from, to := points(p.Before.Outline()), points(p.After.Outline())
	fit, _, ok := curve.Register(from, to)
	if !ok {
		return curve.Rigid{}, false
	}
	for i, q := range from {
		if !(fit.Affine().Apply(q).Dist(to[i]) <= 3*compare.Still) {
			return curve.Rigid{}, false
		}
	}
	if math.Abs(fit.Angle) < 1e-6 && math.Abs(fit.Shift.Y) <= 2*compare.Still {
		return curve.Rigid{}, false
	}
	return fit, true
}

// chord gives the outermost places where an outline meets a height. Where it runs
// along that height, they are the ends of the run.
func chord(p *pattern.Piece, y float64) (x0, x1 float64, ok bool) {
	const same = 0.0005 // mm: half of the step of a file's numbers
	ring := p.Outline()
	x0, okL := farthest([]curve.Path{ring}, y, -1)
	x1, okR := farthest([]curve.Path{ring}, y, 1)
	if !okL || !okR {
		return 0, 0, false
	}
	for _, s := range ring {
		if math.Abs(s.P0.Y-y) <= same {
			x0, x1 = min(x0, s.P0.X), max(x1, s.P0.X)
		}
	}
	return x0, x1, true
}

// nameOldLevels puts the name of each level as it lay beside its line, where
// there is room.
func (b *board) nameOldLevels() {
	for i := range b.f.old {
		l := &b.f.old[i]
		for _, q := range []curve.Point{l.before[0], l.before[1]} {
			b.f.room = b.f.room.union(around(q, 1, 1))
		}
		l.words = small().Shorten(l.name+" before", 50)
		w, h := small().Width(l.words), 1.25*small().Size
		for _, at := range []curve.Point{
			l.before[1].Add(curve.Pt(1.5+w/2, 0)), l.before[1].Add(curve.Pt(1.5+w/2, -2.6)), l.before[1].Add(curve.Pt(1.5+w/2, 2.6)),
			l.before[1].Add(curve.Pt(-w/2-levelOver-2, -3)), l.before[0].Add(curve.Pt(w/2+levelOver+2, -3)),
		} {
			box := around(at, w, h)
			if b.free(box.grow(0.4)) && b.crossings(box) == 0 {
				l.label = box
				b.taken = append(b.taken, box.grow(0.4))
				break
			}
		}
	}
}

func (l oldLevel) draw(pg *page, at curve.Point) {
	pg.pen.Titled("level "+l.name+" as it lay", svg.A("data-level", l.name), svg.A("data-when", "before"))
	a, b := at.Add(l.before[0]), at.Add(l.before[1])
	pg.pen.Line(a, b, stroke("halo", paperColour, 1.1)...)
	pg.pen.Line(a, b, stroke("old", oldColour, 0.35, svg.Dash(2.2, 1.4))...)
	if l.label != (rect{}) {
		s := small().Middle()
		s.Halo = haloOfWords
		pg.text(at.X+l.label.centre().X, at.Y+l.label.centre().Y+0.36*s.Size, l.words, s)
	}
	pg.pen.End()
	if l.after == ([2]curve.Point{}) {
		return
	}
	pg.pen.Titled("level "+l.name, svg.A("data-level", l.name), svg.A("data-when", "after"))
	pg.pen.Line(at.Add(l.after[0]), at.Add(l.after[1]), stroke("level", levelColour, 0.4)...)
	pg.pen.End()
}

// oldLevels says in words how the levels moved in the cloth.
func (s *stack) oldLevels(f *figure) {
	if len(f.old) == 0 {
		return
	}
	words := ""
	if turn := f.old[0].turn; math.Abs(turn) >= 0.05 {
		words = fmt.Sprintf("Turned by %s degrees against its levels.", mm(math.Abs(turn)))
	} else {
		var parts []string
		for _, l := range f.old {
			switch {
			case l.isGone:
				parts = append(parts, l.name+" gone")
			case l.rise > 0:
				parts = append(parts, l.name+" "+amount(l.rise)+" higher")
			default:
				parts = append(parts, l.name+" "+amount(-l.rise)+" lower")
			}
		}
		words = "Levels in the cloth: " + strings.Join(parts, ", ") + "."
	}
	s.space(2)
	s.para(words+" Dashed: where they lay in the cloth; thin: where they lie.", plain(), 4)
}
