package overlay

import (
	"sort"

	"seamkeep/pattern/compare"
	"seamkeep/pattern/curve"
	"seamkeep/pattern/svg"
)

// strip is the sideways movement of one edge, the edge unrolled from its lower
// end to its higher one (a level edge from front to back), so that both sides of
// a seam run the same way.
type strip struct {
	number   string
	samples  []curve.Sample // At from the lower end of the old edge; beyond its ends below 0 or over its length
	length   float64
	lo, hi   float64 // what the chart spans, at least 0 to length
	out, in  float64 // the largest either way, 0 or more
	ends     [2]string
	ticks    []tick
	reversed bool
}

type tick struct {
	name string
	at   float64
}

// Heights in a strip chart, mm: of the largest movement, and of the names below.
const (
	stripRise = 9.0
	stripFoot = 5.5
)

// newStrip gives the chart of a changed edge; ok is false where nothing moved
// sideways.
func newStrip(f *figure, r edgeRow) (st strip, ok bool) {
	e := r.edge
	if e.Status != compare.Changed || e.Largest.Direction == "" || len(e.Movement.Samples) < 2 || f.change.Before == nil || f.change.After == nil {
		return strip{}, false
	}
	p := f.change.Before
	st = strip{number: r.number, length: e.Before.Length(0.001), out: max(0, e.Movement.Out.Dist), in: max(0, -e.Movement.In.Dist)}
	st.reversed = runsDown(e.Before)
	st.hi = st.length
	for _, s := range e.Movement.Samples {
		s.At = st.place(unrolled(s, e.Before, st.length))
		st.lo, st.hi = min(st.lo, s.At), max(st.hi, s.At)
		st.samples = append(st.samples, s)
	}
	if st.reversed {
		for i, j := 0, len(st.samples)-1; i < j; i, j = i+1, j-1 {
			st.samples[i], st.samples[j] = st.samples[j], st.samples[i]
		}
	}
	i := p.EdgeIndex(e.Name)
	st.ends = [2]string{p.Corners[i].Name, p.Corners[p.After(i)].Name}
	if st.reversed {
		st.ends[0], st.ends[1] = st.ends[1], st.ends[0]
	}
	for name, places := range levelsAt(f.garments[0], p, f.levels, e.Before) {
		for _, at := range places {
			st.ticks = append(st.ticks, tick{name, st.place(at)})
		}
	}
	sort.Slice(st.ticks, func(i, j int) bool {
		a, b := st.ticks[i], st.ticks[j]
		return a.at < b.at || a.at == b.at && a.name < b.name
	})
	return st, st.length > 0 && st.out+st.in > 0
}

// unrolled gives the place of a sample along the old edge, also where its foot
// lies on the edge's extension.
func unrolled(s curve.Sample, old curve.Path, length float64) float64 {
	const end = 2e-4 // mm, twice the accuracy of a foot's place
	switch {
	case s.At <= end:
		return s.At - s.Old.Dist(old.Start())
	case s.At >= length-end:
		return s.At + s.Old.Dist(old.End())
	}
	return s.At
}

func (st strip) place(at float64) float64 {
	if st.reversed {
		return st.length - at
	}
	return at
}

// runsDown tells whether an edge is walked from its higher end, or, where it is
// more level than steep, from the back.
func runsDown(p curve.Path) bool {
	d := p.End().Sub(p.Start())
	if d.Y*d.Y > d.X*d.X {
		return d.Y < 0
	}
	return d.X < 0
}

// strips adds the charts of a piece's moved edges.
func (s *stack) strips(f *figure) {
	first := true
	for _, r := range f.rows {
		st, ok := newStrip(f, r)
		if !ok {
			continue
		}
		if first {
			s.space(3)
			s.para("Sideways movement along each moved edge, in mm: up is out of the piece, down is in. Heights are enlarged.", small(), 3)
			first = false
		}
		s.space(2)
		s.strip(st)
	}
}

// strip adds one chart.
func (s *stack) strip(st strip) {
	const left = 20.0
	right := 4 + max(strong().Width("out 100.0"), strong().Width("out "+mm(st.out)), strong().Width("in "+mm(st.in)))
	width := s.width - left - right
	k := stripRise / max(st.out, st.in)
	up, down := max(2.5, k*st.out), max(2.5, k*st.in)
	s.add(up+down+stripFoot, func(pg *page, x, y float64) {
		c := chart{strip: st, x: x + left, y: y + up, kx: width / (st.hi - st.lo), ky: k, up: up, down: down}
		pg.tag(curve.Pt(x+tagSize/2, c.y), st.number, true)
		c.draw(pg)
	})
}

// chart is a strip on the sheet: the old edge lies along y.
type chart struct {
	strip
	x, y, kx, ky, up, down float64
}

func (c chart) at(s curve.Sample) curve.Point {
	return curve.Pt(c.along(s.At), c.y-s.Dist*c.ky)
}

// along gives x of a place along the old edge.
func (c chart) along(at float64) float64 { return c.x + (at-c.lo)*c.kx }

func (c chart) draw(pg *page) {
	end := c.along(c.hi)
	c.scale(pg)
	c.names(pg)
	if !c.folds() {
		gained, lost := c.fills()
		pg.lost(svg.Data(lost...))
		pg.gained(svg.Data(gained...))
	}
	pg.pen.Line(curve.Pt(c.along(0), c.y), curve.Pt(c.along(c.length), c.y), oldInk()...)
	var line curve.Path
	for i := 1; i < len(c.samples); i++ {
		line = append(line, curve.Line(c.at(c.samples[i-1]), c.at(c.samples[i])))
	}
	pg.pen.Path(svg.Data(line), newInk()...)
	if c.out >= seen {
		pg.text(end+3, c.y-max(2.4, c.up-2.4), "out "+mm(c.out), strong())
	}
	if c.in >= seen {
		pg.text(end+3, c.y+max(4.4, c.down), "in "+mm(c.in), strong())
	}
	if c.out < seen && c.in < seen {
		pg.text(end+3, c.y+1.2, "under 0.1", plain())
	}
}

// scale draws a grid line at a round figure each way.
func (c chart) scale(pg *page) {
	step := roundBelow(max(c.out, c.in))
	end := c.along(c.hi)
	for _, side := range []float64{1, -1} {
		if step*c.ky > c.up && side > 0 || step*c.ky > c.down && side < 0 {
			continue
		}
		y := c.y - side*step*c.ky
		pg.pen.Line(curve.Pt(c.x, y), curve.Pt(end, y), ruleInk()...)
		pg.text(c.x-2, y+1.2, compact(step), small().End())
	}
}

// names draws the levels, and the corners at the ends where there is room.
func (c chart) names(pg *page) {
	end, y := c.along(c.hi), c.y+c.down+4
	s := small()
	var taken []rect
	put := func(x float64, name string) {
		name = s.Shorten(name, 40)
		half := s.Width(name) / 2
		at := min(max(x, c.x+half), end-half)
		box := textBox(at, y, name, s.Middle()).grow(0.8)
		for _, t := range taken {
			if t.overlaps(box) {
				return
			}
		}
		taken = append(taken, box)
		pg.text(at, y, name, s.Middle())
	}
	for _, t := range c.ticks {
		x := c.along(t.at)
		pg.pen.Line(curve.Pt(x, c.y-c.up), curve.Pt(x, c.y+c.down), levelInk()...)
		put(x, t.name)
	}
	put(c.along(0), c.ends[0])
	put(c.along(c.length), c.ends[1])
}

// folds tells whether the new line turns back along the old one, so that one
// place of it has several movements.
func (c chart) folds() bool {
	for i := 1; i < len(c.samples); i++ {
		if c.samples[i].At < c.samples[i-1].At-1 {
			return true
		}
	}
	return false
}

// fills gives what lies between the old line and the new one, by sign.
func (c chart) fills() (gained, lost []curve.Path) {
	var run []curve.Point
	sign := 0.0
	close := func() {
		if len(run) > 2 {
			loop := polygon(run)
			if sign > 0 {
				gained = append(gained, loop)
			} else {
				lost = append(lost, loop)
			}
		}
		run = nil
	}
	for i, s := range c.samples {
		p := c.at(s)
		if i > 0 && s.Dist*sign < 0 { // the line passes over: end at the crossing
			q := c.at(c.samples[i-1])
			cross := curve.Pt(q.X+(p.X-q.X)*(c.y-q.Y)/(p.Y-q.Y), c.y)
			run = append(run, cross)
			close()
			run = []curve.Point{cross}
			sign = 0
		}
		if len(run) == 0 {
			run = []curve.Point{{X: p.X, Y: c.y}}
		}
		run = append(run, p)
		switch {
		case s.Dist > 0:
			sign = 1
		case s.Dist < 0:
			sign = -1
		}
	}
	if len(run) > 0 {
		run = append(run, curve.Pt(run[len(run)-1].X, c.y))
		close()
	}
	return gained, lost
}

func polygon(points []curve.Point) curve.Path {
	var p curve.Path
	for i := range points {
		p = append(p, curve.Line(points[i], points[(i+1)%len(points)]))
	}
	return p
}
