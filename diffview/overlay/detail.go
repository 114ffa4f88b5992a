package overlay

import (
	"fmt"
	"math"
	"strconv"

	"seamkeep/pattern/compare"
	"seamkeep/pattern/curve"
	"seamkeep/pattern/svg"
)

// detail shows the place of a piece's largest movement enlarged, where at true
// size nothing would be seen of it. Place and movement are enlarged alike: no
// shape is invented.
type detail struct {
	f     *figure
	edge  compare.EdgeChange
	tag   string
	times float64
}

const (
	smallMove    = 2.0  // mm: from there on the picture itself shows it
	detailRadius = 14.0 // mm on the sheet
)

// newDetail gives the detail of a piece; nil where none is needed.
func newDetail(f *figure) *detail {
	var best *detail
	for _, r := range f.rows {
		e := r.edge
		if e.Redrawn() && e.Largest.Direction != "" && len(e.Before) > 0 && len(e.After) > 0 && (best == nil || e.Largest.Distance > best.edge.Largest.Distance) {
			best = &detail{f: f, edge: e, tag: r.number, times: 5}
		}
	}
	if best == nil || best.edge.Largest.Distance >= smallMove || best.edge.Largest.Distance < 0.005 {
		return nil
	}
	if best.edge.Largest.Distance < 0.2 {
		best.times = 50
	}
	return best
}

// ring marks on the piece what the detail shows.
func (d *detail) ring(pg *page, v svg.View) {
	pg.pen.Circle(v.At(d.edge.Largest.New), max(1.2, detailRadius/d.times), stroke("line", inkColour, 0.3, svg.Dash(0.7, 0.9))...)
}

// detail adds the enlarged view to a piece's block.
func (s *stack) detail(d *detail) {
	s.space(3)
	s.add(2*detailRadius+2, func(pg *page, x, y float64) {
		centre := curve.Pt(x+tagSize+3+detailRadius, y+1+detailRadius)
		d.draw(pg, centre)
		pg.tag(curve.Pt(x+tagSize/2, centre.Y), d.tag, true)
		at := centre.X + detailRadius + 6
		pg.text(at, centre.Y-6, fmt.Sprintf("Detail \u00d7%g", d.times), strong())
		pg.text(at, centre.Y-0.5, "place and movement enlarged alike", small())
		length := roundBelow(20 / d.times)
		pg.bar(at, centre.Y+6, length*d.times, 2)
		pg.text(at+length*d.times+3, centre.Y+7.2, compact(length)+" mm", small())
	})
}

func (d *detail) draw(pg *page, centre curve.Point) {
	p := d.edge.Largest.New
	v := svg.View{Origin: curve.Pt(centre.X-p.X*d.times, centre.Y+p.Y*d.times), Scale: d.times}
	reach := detailRadius / d.times
	window := pg.pen.Window("detail-"+d.tag, centre.X-detailRadius, centre.Y-detailRadius, 2*detailRadius, 2*detailRadius, detailRadius)
	pg.pen.Group(window)
	inView := func(path curve.Path) bool {
		return len(path) > 0 && path.Bounds().Overlaps(curve.EmptyBox().Add(p).Grow(reach))
	}
	for _, loop := range d.f.areas.lost {
		if inView(loop) {
			pg.lost(v.Data(loop))
		}
	}
	for _, loop := range d.f.areas.gained {
		if inView(loop) {
			pg.gained(v.Data(loop))
		}
	}
	for _, e := range d.f.change.Edges {
		switch {
		case e.Lies() && inView(lying(e)):
			pg.pen.Path(v.Data(lying(e)), stillInk()...)
		case !e.Lies() && inView(e.Before):
			pg.before(v.Data(e.Before))
		}
	}
	for _, e := range d.f.change.Edges {
		if !e.Lies() && inView(e.After) {
			pg.lineAfter(v.Data(e.After), e)
		}
	}
	pg.pen.End()
	pg.pen.Circle(centre, detailRadius, stroke("line", inkColour, 0.4)...)
}

// roundBelow gives the largest of 1, 2 and 5 times a power of ten that is not
// over v.
func roundBelow(v float64) float64 {
	if !(v > 0) {
		return 1
	}
	p := math.Pow(10, math.Floor(math.Log10(v)))
	for _, k := range []float64{5, 2} {
		if k*p <= v*(1+1e-9) {
			return k * p
		}
	}
	return p
}

// compact writes a round figure without needless zeros.
func compact(v float64) string {
	return strconv.FormatFloat(math.Round(v*1e4)/1e4, 'f', -1, 64)
}
