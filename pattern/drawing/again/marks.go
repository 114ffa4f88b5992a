package again

import (
	"math"

	"seamkeep/pattern"
	"seamkeep/pattern/curve"
)

// marks takes the drawn marks and the grain into the new version: those that lie
// where they lay keep their records.
func (y *laying) marks(old *pattern.Piece, d Drawn, fit curve.Rigid, within float64) {
	m := fit.Affine()
	if d.HasMarks {
		y.takeMarks(old, d.Marks, fit, within)
	}
	if d.Grain == nil {
		return
	}
	from, to := m.Apply(d.Grain.From), m.Apply(d.Grain.To)
	if g := y.piece.Grain; g != nil {
		there := g.From.Dist(from) <= within && g.To.Dist(to) <= within
		back := g.From.Dist(to) <= within && g.To.Dist(from) <= within
		if there || back { // a line has no direction for a drawing program
			return
		}
	}
	y.report.Redrawn = append(y.report.Redrawn, "grain")
	g := pattern.Grain{From: pattern.Round(from), To: pattern.Round(to)}
	if y.piece.Grain != nil {
		g.Place = y.piece.Grain.Place
	}
	y.piece.Grain = &g
}

func (y *laying) takeMarks(old *pattern.Piece, drawn []pattern.Mark, fit curve.Rigid, within float64) {
	moved := make([]pattern.Mark, len(drawn))
	for i, d := range drawn {
		moved[i] = movedMark(d, fit)
	}
	partner := pairMarks(old.Marks, moved, within)
	used := make([]bool, len(drawn))
	y.piece.Marks = nil
	for i, was := range old.Marks {
		if partner[i] < 0 {
			y.report.Gone.Marks = append(y.report.Gone.Marks, markName(was))
			continue
		}
		used[partner[i]] = true
		now := moved[partner[i]]
		if !markLies(was, now, within) {
			y.report.Redrawn = append(y.report.Redrawn, markName(was))
			was = redrawn(was, now)
		}
		y.piece.Marks = append(y.piece.Marks, *pattern.Clone(&was))
	}
	names := map[string]bool{}
	for _, m := range old.Marks {
		names[markName(m)] = true
	}
	for i, m := range moved {
		if used[i] {
			continue
		}
		if m.Name == "" || names[markName(m)] {
			m.Name = freeMark(m.Kind, names)
		}
		names[markName(m)] = true
		y.report.New.Marks = append(y.report.New.Marks, markName(m))
		y.piece.Marks = append(y.piece.Marks, redrawn(m, m))
	}
}

func markName(m pattern.Mark) string { return string(m.Kind) + " " + m.Name }

// freeMark gives a mark the first letter of its kind and a number.
func freeMark(kind pattern.MarkKind, used map[string]bool) string {
	n := &names{}
	taken := map[string]bool{}
	for name := range used {
		if rest, ok := cutKind(name, kind); ok {
			taken[rest] = true
		}
	}
	return n.free(taken, string(kind)[:1])
}

func cutKind(name string, kind pattern.MarkKind) (string, bool) {
	prefix := string(kind) + " "
	if len(name) < len(prefix) || name[:len(prefix)] != prefix {
		return "", false
	}
	return name[len(prefix):], true
}

// pairMarks gives each old mark its drawn one, or -1: of one kind, by name, then
// by place, then the only one left of its kind without a name.
func pairMarks(old, drawn []pattern.Mark, within float64) []int {
	partner := make([]int, len(old))
	used := make([]bool, len(drawn))
	for i := range partner {
		partner[i] = -1
	}
	pair := func(fits func(a, b pattern.Mark) bool) {
		for i, a := range old {
			for j, b := range drawn {
				if partner[i] < 0 && !used[j] && a.Kind == b.Kind && fits(a, b) {
					partner[i], used[j] = j, true
				}
			}
		}
	}
	pair(func(a, b pattern.Mark) bool { return b.Name != "" && a.Name == b.Name })
	pair(func(a, b pattern.Mark) bool { return markLies(a, b, within) })
	alone := func(list []pattern.Mark, kind pattern.MarkKind, open func(int) bool) bool {
		n := 0
		for i, m := range list {
			if m.Kind == kind && open(i) {
				n++
			}
		}
		return n == 1
	}
	pair(func(a, b pattern.Mark) bool {
		return b.Name == "" && alone(old, a.Kind, func(i int) bool { return partner[i] < 0 }) &&
			alone(drawn, a.Kind, func(j int) bool { return !used[j] })
	})
	return partner
}

// markLies tells whether two marks of one kind are the same on the cloth. A line
// may be drawn from its other end.
func markLies(a, b pattern.Mark, within float64) bool {
	if !a.Kind.IsLine() {
		turned := a.Angle.Set && b.Angle.Set && math.Abs(math.Remainder(a.Angle.Value-b.Angle.Value, 180)) > 0.01
		return a.At.Dist(b.At) <= within && !turned
	}
	p, q := a.Path(), b.Path()
	if len(p) == 0 || len(q) == 0 {
		return len(p) == len(q) && a.At.Dist(b.At) <= within
	}
	if agree(p, q, within) || agree(p, q.Reverse(), within) {
		return true
	}
	return a.Kind == pattern.Cutout && curve.Lies(p, q, within) && curve.Lies(q, p, within) // begun elsewhere
}

// movedMark is a drawn mark on the piece, not rounded.
func movedMark(d pattern.Mark, fit curve.Rigid) pattern.Mark {
	m := fit.Affine()
	d = *pattern.Clone(&d)
	d.At = m.Apply(d.At)
	for i := range d.Segs {
		s := &d.Segs[i]
		s.H1, s.H2, s.To = m.Apply(s.H1), m.Apply(s.H2), m.Apply(s.To)
	}
	if d.Angle.Set {
		d.Angle.Value += fit.Angle * 180 / math.Pi
	}
	return d
}

// redrawn puts an old mark where the drawn one lies, rounded; sizes that the
// drawing does not show stay.
func redrawn(was, now pattern.Mark) pattern.Mark {
	out := *pattern.Clone(&was)
	path := now.Path()
	out.At, out.Segs = pattern.Round(now.At), nil
	for i, s := range path {
		s = onStep(s, was.Path())
		seg := pattern.Seg{Curve: !s.Straight, To: pattern.Round(s.P3)}
		if seg.Curve {
			seg.H1, seg.H2 = pattern.Round(s.P1), pattern.Round(s.P2)
		}
		if i == len(path)-1 && was.Kind == pattern.Cutout {
			seg.To = out.At
		}
		out.Segs = append(out.Segs, seg)
	}
	for _, o := range [][2]*pattern.Opt{{&out.Width, &now.Width}, {&out.Length, &now.Length}, {&out.Diameter, &now.Diameter}, {&out.Angle, &now.Angle}} {
		if o[1].Set {
			*o[0] = pattern.Some(pattern.RoundLength(o[1].Value))
		}
	}
	return out
}

// marksLaid is how much of the drawn marks a movement of the ring lays on old
// ones, in mm of lines and pointWeight a point.
func (s *search) marksLaid(m curve.Affine, within float64) float64 {
	if !s.d.HasMarks {
		return 0
	}
	fit := curve.Rigid{Angle: math.Atan2(m.B, m.A), Shift: curve.Pt(m.E, m.F)}
	sum := 0.0
	for _, d := range s.d.Marks {
		now := movedMark(d, fit)
		for _, was := range s.k.piece.Marks {
			if was.Kind != now.Kind || !markLies(was, now, within) {
				continue
			}
			if was.Kind.IsLine() {
				sum += was.Path().Length(lengthTol)
			} else {
				sum += pointWeight
			}
			break
		}
	}
	return sum
}
