package handoff

import (
	"bytes"
	"fmt"
	"math"
	"strconv"
	"strings"

	"seamkeep/pattern"
	"seamkeep/pattern/curve"
	"seamkeep/pattern/diag"
)

// sameLine is how far two lines may be apart and still be one, in mm: under half
// a step of a piece file.
const sameLine = 0.0004

// rewrite makes the edits of one piece.
func (in *into) rewrite(t *target) {
	p, ok := in.place(t)
	if !ok {
		return
	}
	in.line(t, t.outline, p, t.piece.Outline())
	in.base(t)
	in.marks(t, p)
}

// line writes a path of the piece's plane over that of an element.
func (in *into) line(t *target, e *element, p placing, path curve.Path) {
	m, known := in.matrices[e.place]
	toLocal, ok := p.local(m)
	if d := e.attr("", "d"); known && ok && d != nil && len(path) > 0 {
		if same(in.item(e), path.Transform(p.toPage)) {
			return
		}
		number, fine := numbers(path.Transform(toLocal), math.Sqrt(math.Abs(m.Det())))
		if text := data(path.Transform(toLocal), number); *fine {
			in.edits = append(in.edits, edit{d.from, d.to, text})
			return
		}
	}
	in.problem(diag.Error, e.place, "drawing.frame", t.piece.Name, fmt.Sprintf("%s of %s cannot be written: its numbers would be out of bounds", e.title(), t.piece.Name),
		"a line within 100 000 mm of the page's corner", "")
}

// same tells whether a drawn line is the line, point by point. Editors close a
// ring that they moved by a line without any length to speak of.
func same(old, new curve.Path) bool {
	if n := len(old); n == len(new)+1 && old[n-1].P0.Dist(old[n-1].P3) <= sameLine {
		old = old[:n-1]
	}
	if len(old) != len(new) {
		return false
	}
	for i, a := range old {
		b := new[i]
		if a.Straight != b.Straight || a.P0.Dist(b.P0) > sameLine || a.P3.Dist(b.P3) > sameLine ||
			!a.Straight && (a.P1.Dist(b.P1) > sameLine || a.P2.Dist(b.P2) > sameLine) {
			return false
		}
	}
	return true
}

// numbers gives the writer of a path's numbers: three decimals where they are
// exact, else enough for 0.000001 mm at so many mm a unit. The answer turns
// false at a number that cannot be written.
func numbers(path curve.Path, mm float64) (func(float64) string, *bool) {
	decimals := 3
	if !exact(path) {
		decimals = min(max(6+int(math.Ceil(math.Log10(mm))), 0), 15)
	}
	fine := true
	return func(v float64) string {
		if !(math.Abs(v) <= 1e9) {
			fine = false
			return "0"
		}
		s := strconv.FormatFloat(v, 'f', decimals, 64)
		if strings.Contains(s, ".") {
			s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
		}
		if s == "-0" {
			return "0"
		}
		return s
	}, &fine
}

// exact tells whether three decimals hold all numbers that are written of a path.
func exact(path curve.Path) bool {
	for _, s := range path {
		points := []curve.Point{s.P0, s.P3}
		if !s.Straight {
			points = append(points, s.P1, s.P2)
		}
		for _, p := range points {
			if p.Dist(pattern.Round(p)) > 1e-9 {
				return false
			}
		}
	}
	return true
}

// base writes the id of the piece file into the piece's group.
func (in *into) base(t *target) {
	group := t.outline.piece
	if group == nil || in.options.Base == nil {
		return
	}
	id := in.options.Base(t.piece.Name)
	if id == "" || id == group.own("base") {
		return
	}
	text := strings.ReplaceAll(escape(id), "'", "&apos;")
	if a := group.attr(nsOwn, "base"); a != nil {
		in.edits = append(in.edits, edit{a.from, a.to, text})
		return
	}
	a := group.attr(nsOwn, "piece") // it is written before this one, as this one is
	blank := in.src[a.before : a.from-1]
	blank = blank[:len(blank)-len(bytes.TrimLeft(blank, " \t\r\n"))]
	prefix, _, _ := strings.Cut(a.raw, ":")
	in.edits = append(in.edits, edit{a.before, a.before, string(blank) + prefix + `:base="` + text + `"`})
}

// item gives the line that an element draws, in page mm; nil where it draws
// none or several.
func (in *into) item(e *element) curve.Path {
	if list := in.items[e.place]; len(list) == 1 {
		return list[0].Path
	}
	return nil
}
