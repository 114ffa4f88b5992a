package handoff

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"seamkeep/pattern/curve"
	"seamkeep/pattern/diag"
	"seamkeep/pattern/drawing/page"
)

// markWords gives the words of a line that says "mark KIND NAME".
func markWords(e *element) []string {
	words := strings.Fields(e.own("line"))
	if len(words) == 3 && words[0] == string(page.Mark) {
		return words
	}
	return nil
}

// marks writes the marks that the drawing names and the piece has.
func (in *into) marks(t *target, p placing) {
	seen := make(map[string]*element)
	for _, e := range t.marks {
		line := e.own("line")
		if first := seen[line]; first != nil {
			in.problem(diag.Error, e.place, "drawing.twice", t.piece.Name, fmt.Sprintf("the drawing has the %s of %s twice: %s and %s", line, t.piece.Name, first.title(), e.title()),
				"each mark once", "delete the copy in the drawing program")
			continue
		}
		seen[line] = e
		in.oneMark(t, p, e)
	}
	for _, m := range t.piece.Marks {
		line := strings.Join([]string{string(page.Mark), string(m.Kind), m.Name}, " ")
		if _, drawn := page.MarkLine(m); drawn && seen[line] == nil && len(t.marks) > 0 {
			in.leave(t, t.outline, fmt.Sprintf("the drawing has no %s of %s", line, t.piece.Name), "export the piece anew to have it drawn")
		}
	}
}

func (in *into) leave(t *target, e *element, found, hint string) {
	in.problem(diag.Warning, e.place, "drawing.mark", t.piece.Name, found, "a drawing that shows the marks of the piece", hint)
}

// oneMark writes one mark.
func (in *into) oneMark(t *target, p placing, e *element) {
	words := markWords(e)
	for _, m := range t.piece.Marks {
		if string(m.Kind) != words[1] || m.Name != words[2] {
			continue
		}
		l, _ := page.MarkLine(m)
		switch {
		case l.Circle.Radius > 0 && e.kind == "circle":
			in.circle(t, p, e, l.Circle)
		case l.Circle.Radius == 0 && e.kind == "path" && in.item(e) != nil:
			in.line(t, e, p, l.Path)
		default:
			in.leave(t, e, fmt.Sprintf("the %s of %s is drawn as %s and was left as it is", e.own("line"), t.piece.Name, e.title()), "export the piece anew to have it drawn")
		}
		return
	}
	in.leave(t, e, fmt.Sprintf("%s has no %s any more; the drawing still shows it", t.piece.Name, e.own("line")), "delete it in the drawing program")
}

// circle moves the sign of a point.
func (in *into) circle(t *target, p placing, e *element, c page.Circle) {
	was, m, plainly := in.ofCircle(e)
	toLocal, ok := p.local(m)
	if !plainly || !ok {
		in.leave(t, e, fmt.Sprintf("the %s of %s is not a plain circle and was left as it is", e.own("line"), t.piece.Name), "export the piece anew to have it drawn")
		return
	}
	mm := math.Sqrt(math.Abs(m.Det()))
	centre, radius := toLocal.Apply(c.Centre), c.Radius/mm
	number, fine := numbers(curve.Path{curve.Line(centre, curve.Pt(radius, radius))}, mm)
	is := [...]float64{centre.X, centre.Y, radius}
	for i, name := range circleNumbers() {
		if text := number(is[i]); math.Abs(is[i]-was[i])*mm > sameLine && *fine {
			a := e.attr("", name)
			in.edits = append(in.edits, edit{a.from, a.to, text})
		}
	}
}

func circleNumbers() [3]string { return [...]string{"cx", "cy", "r"} }

// ofCircle reads a circle's numbers and finds their map to page mm: the probe
// found it up to the circle's own centre and radius. False where a number is
// not a plain one.
func (in *into) ofCircle(e *element) (was [3]float64, m curve.Affine, ok bool) {
	for i, name := range circleNumbers() {
		v, err := strconv.ParseFloat(strings.TrimSpace(e.get("", name)), 64)
		if err != nil || !(math.Abs(v) <= 1e6) {
			return was, m, false
		}
		was[i] = v
	}
	u, known := in.matrices[e.place]
	r := was[2]
	if !known || !(r > 0) {
		return was, m, false
	}
	m = curve.Affine{A: u.A / r, B: u.B / r, C: u.C / r, D: u.D / r}
	shift := m.Apply(curve.Pt(was[0], was[1]))
	m.E, m.F = u.E-shift.X, u.F-shift.Y
	return was, m, true
}
