package waterfall

import (
	"io"
	"math"

	"seamkeep/pattern/curve"
	"seamkeep/pattern/svg"
)

// Options are for a picture.
type Options struct {
	Title  string // of the garment; may be empty
	Prefix string // goes before every id: pictures with different ones can stand in one page
}

// Measures of the sheet, mm. It is narrow, so that its smallest letters are still
// 11 pixels high on a telephone of 390 pixels, and with the most steps it fits on a
// sheet of A4 with margins of 10 mm.
const (
	sheetWidth  = 120.0
	margin      = 4.0
	gapColumn   = sheetWidth - margin
	stepColumn  = gapColumn - 16
	labelRoom   = stepColumn - 17 - margin
	mostTicks   = 6
	leastSpan   = 4.0 // mm of gap on the axis, at least
	looseRow    = 10.2
	tightRow    = 7.1
	looseUpTo   = 18 // rows
	axisHeight  = 6.0
	headingLead = 7.2
	lineLead    = 5.2
)

// Picture draws the waterfall: bars that float from the old gap to the new one, one
// below the other, note by note, with the wanted range behind them. More than
// MostSteps steps are grouped. A gap that is not known gives a sheet that says so.
// What cannot be written is the error.
func Picture(w io.Writer, d Data, o Options) error {
	l := layout{o: o, anyOutside: d.AnyOutside()}
	l.byNotes, l.outside = d.Printed()
	d = d.Grouped(MostSteps)
	l.d, l.rows = d, len(d.Steps)+2
	l.measure()
	pen := svg.New(w, svg.Picture{Width: sheetWidth, Height: l.height, Title: l.title(), Desc: d.described(), Prefix: o.Prefix})
	pg := newPage(pen)
	y := l.head(pg)
	if d.Start.Set {
		l.chart(pg, y)
	}
	return pen.Close()
}

// layout is where things lie on the sheet.
type layout struct {
	d    Data
	o    Options
	rows int

	byNotes, outside float64 // as printed
	anyOutside       bool

	row    float64 // height of a row
	base   float64 // from a row's top to the baseline of its words
	top    float64 // from a row's top to its bar
	bar    float64 // height of a bar
	height float64
	lo, hi float64 // ends of the axis, mm of gap
	step   float64 // between ticks
}

// title names the picture for lists and for readers who do not see it.
func (l *layout) title() string {
	if l.o.Title == "" {
		return l.d.title()
	}
	return l.o.Title + ": " + l.d.title()
}

func (l *layout) measure() {
	l.row, l.base, l.top, l.bar = looseRow, 3.9, 5.4, 3.6
	if l.rows > looseUpTo {
		l.row, l.base, l.top, l.bar = tightRow, 3.2, 4.4, 2
	}
	l.height = margin + headingLead + lineLead*float64(len(l.lines())) + margin
	if !l.d.Start.Set {
		return
	}
	l.height += lineLead + axisHeight + l.row*float64(l.rows)
	l.scale()
}

// scale takes in every gap and the wanted range, with some room beside them.
func (l *layout) scale() {
	l.lo, l.hi = l.d.Start.Value, l.d.Start.Value
	grow := func(v float64) { l.lo, l.hi = min(l.lo, v), max(l.hi, v) }
	for _, s := range l.d.Steps {
		grow(s.Before)
		grow(s.After)
	}
	if w := l.d.Wanted; w != nil {
		grow(w.Min)
		grow(w.Max)
	}
	if span := l.hi - l.lo; span < leastSpan {
		l.lo, l.hi = l.lo-(leastSpan-span)/2, l.hi+(leastSpan-span)/2
	}
	pad := 0.04 * (l.hi - l.lo)
	l.lo, l.hi = l.lo-pad, l.hi+pad
	l.step = niceStep(l.hi-l.lo, mostTicks)
}

// niceStep gives 1, 2 or 5 times a power of ten, so that at most that many fit.
func niceStep(span float64, most int) float64 {
	step := math.Pow(10, math.Floor(math.Log10(span/float64(most))))
	for _, k := range []float64{1, 2, 5, 10} {
		if span/(k*step) <= float64(most) {
			return k * step
		}
	}
	return 10 * step
}

// x gives the place of a gap on the sheet.
func (l *layout) x(gap float64) float64 {
	return margin + (gap-l.lo)/(l.hi-l.lo)*(sheetWidth-2*margin)
}

// lines are the words under the heading.
func (l *layout) lines() []string {
	d := l.d
	var out []string
	if l.o.Title != "" {
		out = append(out, l.o.Title)
	}
	if !d.Start.Set {
		return append(out, "not known: "+d.Why)
	}
	out = append(out, mm(d.Start.Value)+" to "+mm(d.End.Value)+" mm ("+signed(tenth(tenth(d.End.Value)-tenth(d.Start.Value)))+"), predicted")
	if v := d.Verdict(); v != "" {
		out = append(out, v)
	}
	if l.anyOutside {
		out = append(out, "by notes "+signed(l.byNotes)+", without a note "+signed(l.outside))
	}
	return out
}

func (l *layout) head(pg *page) float64 {
	room := sheetWidth - 2*margin
	y := margin + heading().Size
	pg.text(margin, y, l.d.title(), room, heading())
	y += 1.4
	for _, s := range l.lines() {
		y += lineLead
		pg.text(margin, y, s, room, plain())
	}
	return y
}

func (l *layout) chart(pg *page, y float64) {
	y += lineLead + 0.6
	l.key(pg, y)
	y += 1.6
	top, bottom := y+axisHeight, y+axisHeight+l.row*float64(l.rows)
	l.axis(pg, top)
	for y := top; y < bottom-1; y += l.row {
		l.strip(pg, y+l.top-0.5, l.bar+1)
	}
	for i := range l.rows - 1 {
		l.thread(pg, l.x(l.reached(i)), top+l.row*float64(i))
	}
	l.post(pg, top, l.d.First.Name(), l.d.Start.Value)
	at := top + l.row
	for i, s := range l.d.Steps {
		l.stepRow(pg, at, i, s)
		at += l.row
	}
	l.post(pg, at, "gap now", l.d.End.Value)
}

// key tells the textures, and heads the two columns of figures.
func (l *layout) key(pg *page, y float64) {
	const box = 6.5
	x := margin
	for _, k := range []struct {
		from, to float64
		words    string
	}{{0, box, "wider"}, {box, 0, "narrower"}} {
		pg.bar(x+k.from, x+k.to, y-2.8, 3)
		pg.text(x+box+1.2, y, k.words, 30, small())
		x += box + 1.2 + small().Width(k.words) + 3
	}
	if l.d.Wanted != nil {
		pg.pen.Rect(x, y-2.8, box, 3, svg.A("class", "band"), svg.A("fill", bandColour))
		for _, at := range []float64{x, x + box} {
			pg.line(curve.Pt(at, y-2.8), curve.Pt(at, y+0.2), "bandedge", bandEdgeColour, 0.45, svg.Dash(1.2, 0.7))
		}
		pg.text(x+box+1.2, y, "wanted", 20, small())
	}
	pg.text(stepColumn, y, "change", 20, small().End())
	pg.text(gapColumn, y, "gap", 14, small().End())
}

// reached is the gap at the end of a row; the first one is the old gap.
func (l *layout) reached(row int) float64 {
	if row == 0 {
		return l.d.Start.Value
	}
	return l.d.Steps[row-1].After
}

// axis writes round figures.
func (l *layout) axis(pg *page, y float64) {
	for _, v := range l.ticks() {
		text := plainNumber(v)
		half := small().Width(text) / 2
		pg.text(min(max(l.x(v), margin+half), sheetWidth-margin-half), y-0.9, text, 30, small().Middle())
	}
}

func (l *layout) ticks() []float64 {
	var out []float64
	for i := math.Ceil(l.lo / l.step); i*l.step <= l.hi; i++ {
		out = append(out, i*l.step)
	}
	return out
}

// strip draws what lies behind a bar: the wanted range, and lines at the figures of
// the axis, a heavy one at 0, where the edges meet. Words stand between the strips.
func (l *layout) strip(pg *page, y, height float64) {
	if w := l.d.Wanted; w != nil {
		pg.pen.Rect(l.x(w.Min), y, l.x(w.Max)-l.x(w.Min), height, svg.A("class", "band"), svg.A("fill", bandColour))
	}
	for _, v := range l.ticks() {
		class, colour, width := "rule", ruleColour, 0.25
		if v == 0 {
			class, colour, width = "line", inkColour, 0.4
		}
		pg.line(curve.Pt(l.x(v), y), curve.Pt(l.x(v), y+height), class, colour, width)
	}
	if w := l.d.Wanted; w != nil {
		for _, v := range []float64{w.Min, w.Max} {
			pg.line(curve.Pt(l.x(v), y), curve.Pt(l.x(v), y+height), "bandedge", bandEdgeColour, 0.45, svg.Dash(1.2, 0.7))
		}
	}
}

// post marks the old gap and the new one.
func (l *layout) post(pg *page, y float64, name string, gap float64) {
	pg.pen.Titled(name + ": " + mm(gap))
	pg.text(margin, y+l.base, name, labelRoom, strong())
	pg.text(gapColumn, y+l.base, mm(gap), 16, strong().End())
	x := l.x(gap)
	pg.pen.Rect(x-0.9, y+l.top, 1.8, l.bar, svg.A("class", "word"), svg.A("fill", inkColour))
	pg.pen.End()
}

// thread leads from the end of one bar down to the next.
func (l *layout) thread(pg *page, x, y float64) {
	pg.line(curve.Pt(x, y+l.top+l.bar), curve.Pt(x, y+l.row+l.top), "line", inkColour, 0.25, svg.Dash(0.7, 0.7))
}

func (l *layout) stepRow(pg *page, y float64, number int, s Step) {
	title := s.Sentence()
	if s.Subject != "" && s.Versions == 1 {
		title += " (" + s.Subject + ")"
	}
	pg.pen.Titled(title, svg.N("data-step", float64(number+1)))
	name, figure := plain(), strong()
	if s.Note == "" {
		name = style{Size: plain().Size, Halo: plain().Halo, Mute: true}
	}
	pg.text(margin, y+l.base, s.Label(), labelRoom, name)
	top, x := y+l.top, l.x(s.After)
	switch {
	case !s.Known:
		pg.text(gapColumn, y+l.base, "not known", 34, small().End())
		x = l.x(s.Before)
		pg.line(curve.Pt(x, top), curve.Pt(x, top+l.bar), "line", inkColour, 0.25, svg.Dash(0.7, 0.7))
	case s.Shown() == 0:
		pg.text(stepColumn, y+l.base, "=", 17, plain().End())
		pg.text(gapColumn, y+l.base, mm(s.After), 16, plain().End())
		pg.line(curve.Pt(x, top), curve.Pt(x, top+l.bar), "line", inkColour, 0.7)
	default:
		pg.text(stepColumn, y+l.base, signed(s.Shown()), 17, figure.End())
		pg.text(gapColumn, y+l.base, mm(s.After), 16, plain().End())
		pg.bar(l.x(s.Before), x, top, l.bar)
	}
	pg.pen.End()
}
