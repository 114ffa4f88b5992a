package drawing

import (
	"fmt"
	"math"
	"sort"

	"seamkeep/pattern"
	"seamkeep/pattern/curve"
	"seamkeep/pattern/diag"
)

// What marks look like, in mm. Common practice, no source.
const (
	smallestDrill = 1.5 // a smaller circle without a label is a full stop
	round         = 0.05
	sameSpot      = 0.5 // two strokes of one cross
	largestPoint  = 60  // a button, an eyelet
	arrowHead     = 20
)

// place gives each line that is left to the piece in which it lies, as what it
// is called or looks like.
func (r *recogniser) place() {
	r.arrows()
	var waiting []*line
	for _, l := range r.lines {
		if !l.done {
			waiting = append(waiting, l)
		}
	}
	sort.SliceStable(waiting, func(i, j int) bool { return waiting[i].items[0] < waiting[j].items[0] })
	for _, l := range waiting {
		if !l.done {
			r.placeLine(l)
		}
	}
}

func (r *recogniser) placeLine(l *line) {
	switch l.word.role {
	case aidRole:
		r.leave(l, "is called an aid, which is not imported")
		return
	case decorationRole:
		r.leave(l, "is called decoration")
		return
	}
	o := r.pieceOf(l)
	if o == nil || o.unfit {
		r.leave(l, r.nowhere(l))
		return
	}
	switch l.word.role {
	case grainRole:
		r.grain(o, l)
	case notchRole:
		r.notch(o, l)
	case markRole:
		r.mark(o, l)
	case levelRole:
		r.leave(l, "is called a level, but is a closed line")
	case cutRole:
		r.leave(l, "is called a cut line or an allowance")
	default:
		r.byShape(o, l)
	}
}

// nowhere says why a line that lies in no piece is left.
func (r *recogniser) nowhere(l *line) string {
	switch {
	case l.closed && l.box.Width() < smallest && l.box.Height() < smallest:
		return fmt.Sprintf("is only %.1f x %.1f mm and lies in no piece: taken for a letter or a mark", l.box.Width(), l.box.Height())
	case l.word.role == markRole:
		return fmt.Sprintf("is called a %s, but lies in no piece", l.word.kind)
	case l.closed:
		return "lies in no piece"
	}
	return "is an open line that lies in no piece"
}

// pieceOf is the piece to which our own attribute gives a line, else the one in
// which it lies, else for a notch the one that it touches.
func (r *recogniser) pieceOf(l *line) *outline {
	if l.home.own != nil {
		for _, o := range r.outlines {
			if o.ours != nil && o.ours.Own["piece"] == l.home.own.Own["piece"] && (l.word.how == ByOwn || o.box.Overlaps(l.box)) {
				return o
			}
		}
	}
	_, key := holder(l)
	if o := r.ownerOf(l.path, key); o != nil {
		return o
	}
	if mayTick(l) {
		for _, o := range r.outlines {
			if _, ok := r.touch(o, l); ok {
				return o
			}
		}
	}
	return nil
}

func (r *recogniser) take(o *outline, l *line, what What, kind pattern.MarkKind, name string) {
	l.done = true
	for _, i := range l.items {
		it := &r.d.Items[i]
		o.drawn.Lines = append(o.drawn.Lines, Line{Item: i, Place: it.Place, ID: clean(it.ID), What: what, Kind: kind, Edge: l.word.edge, Name: name, How: l.word.how.orShape()})
	}
}

// byShape tells what an unlabelled line in a piece is.
func (r *recogniser) byShape(o *outline, l *line) {
	switch {
	case mayTick(l) && r.tick(o, l):
	case l.closed && isCircle(l) && l.box.Width() < smallest && (l.box.Width() >= smallestDrill || r.item(l).Element == "circle") && !r.hasParts(l):
		l.word.kind, l.word.role = pattern.Drill, markRole
		r.mark(o, l)
	case l.closed && l.box.Width() < smallest && l.box.Height() < smallest:
		r.leave(l, fmt.Sprintf("is only %.1f x %.1f mm: taken for a letter", l.box.Width(), l.box.Height()))
	case l.closed:
		r.leave(l, "lies in piece "+o.drawn.Name+" and has no label that says what it is")
	default:
		r.leave(l, "is an open line in piece "+o.drawn.Name+" without a label that says what it is")
	}
}

// isCircle tells whether a closed line is round: as wide as high, and with the
// area of a circle.
func isCircle(l *line) bool {
	w, h := l.box.Width(), l.box.Height()
	return l.closed && math.Abs(w-h) <= round*w && math.Abs(l.area-math.Pi/4*w*h) <= 0.02*w*h
}

// hasParts tells whether an element draws several lines, as letters do.
func (r *recogniser) hasParts(l *line) bool {
	i := l.items[0]
	next := i + 1
	return r.d.Items[i].Part > 0 || next < len(r.d.Items) && r.d.Items[next].Part > 0 && r.d.Items[next].Place == r.d.Items[i].Place
}

// mark puts a mark on a piece.
func (r *recogniser) mark(o *outline, l *line) {
	m := l.word.opts
	m.Place, m.Kind = l.place, l.word.kind
	m.Place.Piece = o.drawn.Name
	path := rounded(l.path.Transform(o.toPiece()))
	switch {
	case m.Kind == pattern.Cutout && !l.closed:
		r.openCutout(o, l)
		return
	case m.Kind.IsLine() && len(path) == 0:
		r.leave(l, "is only a point")
		return
	case m.Kind.IsLine() && len(path) > maxRecords/2:
		r.leave(l, fmt.Sprintf("has %d segments, more than a mark may", len(path)))
		return
	case m.Kind.IsLine():
		r.warnShape(o, l)
		m.At, m.Segs = path.Start(), lineSegs(path)
	default:
		if !r.point(o, l, &m) {
			return
		}
	}
	if !fits(path) {
		r.leave(l, "reaches farther than a piece may")
		return
	}
	m.Name = o.markName(l.word)
	r.take(o, l, MarkLine, m.Kind, m.Name)
	o.drawn.Piece.Marks = append(o.drawn.Piece.Marks, m)
}

// warnShape says that a bone or a cord is drawn as a shape.
func (r *recogniser) warnShape(o *outline, l *line) {
	if l.closed && (l.word.kind == pattern.Bone || l.word.kind == pattern.Cord) {
		r.warn(l.place, "drawing.mark", o.drawn.Name, fmt.Sprintf("%s is called a %s, but is a closed shape", r.kind(l), l.word.kind), "a line along it",
			"if it is a stroke that was turned into a shape, undo that; its length is measured all round")
	}
}

// lineSegs gives the segments of a mark.
func lineSegs(path curve.Path) []pattern.Seg {
	segs := make([]pattern.Seg, len(path))
	for i, s := range path {
		segs[i] = pattern.Seg{Curve: !s.Straight, To: s.P3}
		if segs[i].Curve {
			segs[i].H1, segs[i].H2 = s.P1, s.P2
		}
	}
	return segs
}

func (r *recogniser) openCutout(o *outline, l *line) {
	gap := l.path.Start().Dist(l.path.End())
	r.problem(l.place, diag.Error, "drawing.gap", o.drawn.Name, fmt.Sprintf("%s is called a cutout, but is open by %.3f mm", r.kind(l), gap), "a closed line",
		"close it in the drawing program, or give it another label")
	r.leave(l, fmt.Sprintf("is called a cutout, but is open by %.3f mm", gap))
}

// point places a mark that is a point: the middle of what is drawn, and where a
// buttonhole begins. A circle gives its diameter, a buttonhole its length and angle.
func (r *recogniser) point(o *outline, l *line, m *pattern.Mark) bool {
	box := l.box
	if max(box.Width(), box.Height()) > largestPoint {
		r.leave(l, fmt.Sprintf("is called a %s, but is %.1f x %.1f mm", m.Kind, box.Width(), box.Height()))
		return false
	}
	at := box.Min.Lerp(box.Max, 0.5)
	if m.Kind == pattern.Buttonhole {
		at = buttonhole(l, m)
	}
	m.At = pattern.Round(o.toPiece().Apply(at))
	if isCircle(l) && m.Kind != pattern.Buttonhole && !m.Diameter.Set {
		m.Diameter = pattern.Some(pattern.RoundLength(box.Width()))
	}
	for _, other := range o.drawn.Piece.Marks {
		if other.Kind == m.Kind && !l.closed && other.At.Dist(m.At) <= sameSpot {
			r.leave(l, fmt.Sprintf("is another stroke of %s %s", other.Kind, other.Name))
			return false
		}
	}
	return true
}

// buttonhole reads a slit: a straight line from where it begins, or a closed shape
// along its longer side, from the left or from below. It gives its beginning.
func buttonhole(l *line, m *pattern.Mark) curve.Point {
	a, b := l.path.Start(), l.path.End()
	if l.closed {
		mid := l.box.Min.Lerp(l.box.Max, 0.5)
		half := curve.Pt(l.box.Width()/2, 0)
		if l.box.Height() > l.box.Width() {
			half = curve.Pt(0, -l.box.Height()/2) // y runs down the page
		}
		a, b = mid.Sub(half), mid.Add(half)
	}
	d := b.Sub(a)
	if !m.Length.Set && d.Len() >= pattern.Grid {
		m.Length = pattern.Some(pattern.RoundLength(d.Len()))
	}
	angle := math.Mod(math.Atan2(-d.Y, d.X)*180/math.Pi+360, 360)
	if a := pattern.RoundLength(angle); !m.Angle.Set && a > 0 && a < 360 {
		m.Angle = pattern.Some(a)
	}
	return a
}

// markName is the name of a mark: its own where it is free, else a number.
func (o *outline) markName(w word) string {
	name := w.name
	if name == "" {
		return o.number(prefix(w.role, w.kind))
	}
	free := name
	for i := 2; o.used[free]; i++ {
		free = withNumber(name, i)
	}
	o.used[free] = true
	return free
}

// number gives the next free name that begins so: b1, b2 ...
func (o *outline) number(begin string) string {
	for {
		o.counts[begin]++
		if name := fmt.Sprintf("%s%d", begin, o.counts[begin]); !o.used[name] {
			o.used[name] = true
			return name
		}
	}
}
