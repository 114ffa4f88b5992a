package overlay

import (
	"slices"

	"seamkeep/pattern/curve"
	"seamkeep/pattern/diag"
	"seamkeep/pattern/svg"
)

// findColour is that of findings, apart from before and after. It is never the
// only sign: a finding has a number in a tag, whose shape tells how grave it is.
const findColour = "#8F2D6B"

func findingShades() []svg.Shade {
	const onDark = "#E79CCB"
	return []svg.Shade{{Class: "find", Stroke: onDark}, {Class: "findf", Fill: onDark}}
}

func findInk() []svg.Attr { return stroke("find", findColour, 0.8) }

// bandInk is the broad band under the stretch where a seam differs most.
func bandInk() []svg.Attr {
	return stroke("find", findColour, 4, svg.N("stroke-opacity", 0.32))
}

// findDot fills the dot at a finding's point, apart from the lines under it.
func findDot() []svg.Attr {
	return []svg.Attr{svg.A("class", "findf halo"), svg.A("fill", findColour), svg.A("stroke", paperColour), svg.N("stroke-width", 0.4)}
}

func findingData(f finding) []svg.Attr {
	return []svg.Attr{svg.A("data-finding", f.number), svg.A("data-severity", f.Severity.String())}
}

// findingLines draws edges that a finding is about, and the worst of them.
func (pg *page) findingLines(origin curve.Point, lines, worst []curve.Path) {
	v := svg.View{Origin: origin}
	if len(worst) > 0 {
		pg.pen.Path(v.Data(worst...), bandInk()...)
	}
	if len(lines) > 0 {
		pg.pen.Path(v.Data(lines...), findInk()...)
	}
}

// findingTag draws a finding's number round a place: filled for an error, in a
// heavy line for a warning, round and dashed for a note.
func (pg *page) findingTag(at curve.Point, number string, s diag.Severity) {
	w := pinWidth(number)
	box := func(attrs ...svg.Attr) {
		pg.pen.Rect(at.X-w/2, at.Y-pinSize/2, w, pinSize, attrs...)
	}
	st, colour, class := pinStyle(), findColour, "findf"
	switch s {
	case diag.Error:
		box(svg.A("class", "findf find"), svg.A("fill", findColour), svg.A("stroke", findColour), svg.N("stroke-width", 0.5))
		colour, class = paperColour, "paper"
	case diag.Warning:
		box(svg.A("class", "paper find"), svg.A("fill", paperColour), svg.A("stroke", findColour), svg.N("stroke-width", 0.9))
	default:
		st.Bold = false
		box(svg.A("class", "paper find"), svg.A("fill", paperColour), svg.A("stroke", findColour), svg.N("stroke-width", 0.4),
			svg.N("rx", pinSize/2), svg.Dash(1.4, 0.9))
	}
	attrs := []svg.Attr{svg.N("font-size", st.Size), svg.A("text-anchor", "middle"), svg.A("fill", colour), svg.A("class", class)}
	if st.Bold {
		attrs = append(attrs, svg.A("font-weight", "bold"))
	}
	pg.pen.Text(at.X, at.Y+0.36*st.Size, number, attrs...)
}

// signs gives the key, of what the picture holds.
func (s *findingSheet) signs() []keyItem {
	var out []keyItem
	for _, k := range []struct {
		of    diag.Severity
		words string
	}{{diag.Error, "error (filled)"}, {diag.Warning, "warning (outlined)"}, {diag.Note, "note (dashed)"}} {
		if len(s.all.Only(k.of)) > 0 {
			out = append(out, keyItem{k.words, func(pg *page, x, y float64) { pg.findingTag(curve.Pt(x+keySign/2, y), "1", k.of) }})
		}
	}
	dot := keyItem{"the place of a finding", func(pg *page, x, y float64) { pg.pen.Circle(curve.Pt(x+keySign/2, y), pinDot, findDot()...) }}
	out = append(out, dot)
	if s.hasPin(func(q pin) bool { return q.away != curve.Point{} }) {
		out = append(out, keyItem{"its place lies further out that way", func(pg *page, x, y float64) {
			pg.pointer(curve.Pt(x+keySign/2+1.8, y), curve.Pt(1, 0))
		}})
	}
	across := func(x, y float64) []curve.Path {
		return []curve.Path{{curve.Line(curve.Pt(x, -y), curve.Pt(x+keySign, -y))}}
	}
	if s.strip != nil || s.hasPin(func(q pin) bool { return len(q.lines) > 0 }) {
		out = append(out, keyItem{"edge that a finding is about", func(pg *page, x, y float64) { pg.findingLines(curve.Point{}, across(x, y), nil) }})
	}
	if s.hasPin(func(q pin) bool { return len(q.worst) > 0 }) {
		out = append(out, keyItem{"where the sides of a seam differ most (broad)", func(pg *page, x, y float64) {
			pg.findingLines(curve.Point{}, across(x, y), across(x, y))
		}})
	}
	if s.strip != nil && len(s.strip.sewn) > 0 {
		out = append(out, keyItem{"a run turns or steps: by how much, and which way", turnsItem().draw})
	}
	return out
}

// hasPin tells whether something holds of a finding on a piece that is drawn.
func (s *findingSheet) hasPin(holds func(pin) bool) bool {
	for _, r := range s.rows {
		for _, slot := range r.slots {
			if slices.ContainsFunc(slot.f.pins.list, holds) {
				return true
			}
		}
	}
	return false
}

// pointer draws an arrowhead whose tip points a way from a place.
func (pg *page) pointer(at, way curve.Point) {
	back, side := at.Sub(way.Mul(3.6)), way.Left().Mul(1.6)
	pg.pen.Polygon([]curve.Point{at, back.Add(side), back.Sub(side)}, findDot()...)
}
