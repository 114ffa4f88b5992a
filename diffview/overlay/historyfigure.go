package overlay

import (
	"fmt"
	"math"

	"seamkeep/pattern"
	"seamkeep/pattern/curve"
	"seamkeep/pattern/svg"
)

// history is the picture of all eras, laid out in the piece's frame, y down.
type history struct {
	eras   []*era
	last   *era
	tags   []historyTag
	levels []heldLevel
	lane   float64
	room   rect
}

// historyTag is the number of a version at the place where its line departs most
// from the next one.
type historyTag struct {
	at, tip curve.Point
	number  string
	newest  bool
}

func newHistory(eras []*era) *history {
	h := &history{eras: eras}
	box := curve.EmptyBox()
	for _, e := range eras {
		if len(e.ring) > 0 {
			h.last = e
			box = box.Union(e.ring.Bounds())
		}
	}
	if h.last == nil {
		return h
	}
	h.room = rect{box.Min.X, -box.Max.Y, box.Max.X, -box.Min.Y}
	h.level()
	h.room = h.room.grow(3)
	h.tag()
	h.room.x0 -= h.lane
	return h
}

// level takes the levels of the last version that has the piece.
func (h *history) level() {
	g, p := h.last.version.Garment, h.last.version.Piece
	if g == nil {
		g = &pattern.Garment{}
	}
	for _, name := range levelsOfBoth(p, g) {
		y, ok := levelOn(g, p, name)
		if ok && -y > h.room.y0-8 && -y < h.room.y1+8 {
			h.levels = append(h.levels, heldLevel{name: name, y: -y, x0: h.room.x0 - 5, x1: h.room.x1 + 3, named: true})
			h.lane = max(h.lane, laneFor(name))
		}
	}
	for _, l := range h.levels {
		h.room = h.room.union(rect{l.x0 + 2, l.y - 3, l.x1, l.y + 3})
	}
}

// tag places the numbers of the versions that are listed, the newest first, each
// near where its line departs most from the next one.
func (h *history) tag() {
	var lines [][]curve.Point
	for _, e := range h.eras {
		if e == h.last || e.shown {
			lines = append(lines, flipped(e.ring))
		}
	}
	var taken []rect
	put := func(e *era, tip curve.Point) {
		t := historyTag{tip: flip(tip), number: e.number(), newest: e == h.last}
		r := h.roomFor(t, lines, taken)
		t.at = r.centre()
		taken = append(taken, r)
		h.room = h.room.union(r)
		h.tags = append(h.tags, t)
	}
	for i := len(h.eras) - 1; i >= 0; i-- {
		if e := h.eras[i]; e.shown && e.next != nil {
			if far := e.departs(); far.Dist > 0 {
				put(e, far.On)
			}
		}
	}
	if len(h.tags) > 0 {
		put(h.last, h.last.quiet())
	}
}

// roomFor finds room for a tag round its tip, on as few lines as can be; where
// all is taken, at the right of the piece.
func (h *history) roomFor(t historyTag, lines [][]curve.Point, taken []rect) rect {
	w := tagWidth(t.number)
	var best rect
	least := math.Inf(1)
	for far := 8.0; far < 60; far += 4 {
		for k := range 16 {
			way := curve.Rotate(float64(k) * math.Pi / 8).Apply(curve.Pt(1, 0))
			r := around(t.tip.Add(way.Mul(far)), w, tagSize).grow(0.8)
			if overlapsAny(r, taken) {
				continue
			}
			cost := far
			for i := range lines {
				if crossedByAny(r, lines[i:i+1]) {
					cost += 30
				}
			}
			if cost < least-1e-9 {
				best, least = r, cost
			}
		}
	}
	if math.IsInf(least, 1) {
		best = rect{h.room.x1 + 3, h.room.y0, h.room.x1 + 3 + w, h.room.y0 + tagSize}.grow(0.8)
		for overlapsAny(best, taken) {
			best.y0, best.y1 = best.y0+7, best.y1+7
		}
	}
	return best
}

// departs finds where an era's line lies farthest from the next one's.
func (e *era) departs() curve.Far {
	var worst curve.Far
	if e.next == nil {
		return worst
	}
	for _, p := range e.own {
		if far := curve.Directed(p, e.next.ring, 0.01); far.Dist > worst.Dist {
			worst = far
		}
	}
	return worst
}

// quiet gives a place on the last line for its own number: the middle of its
// longest edge.
func (e *era) quiet() curve.Point {
	longest := curve.Path{}
	for i := range e.version.Piece.Edges {
		if p := e.version.Piece.EdgePath(i); p.Length(0.1) > longest.Length(0.1) {
			longest = p
		}
	}
	return longest.PointAt(0.42*longest.Length(0.1), 0.1)
}

func flipped(p curve.Path) []curve.Point {
	line := p.Flatten(0.2)
	for i := range line {
		line[i] = flip(line[i])
	}
	return line
}

// number names the versions of an era: "3", "3-5".
func (e *era) number() string { return fmt.Sprint(e.first) }

func (e *era) numbers() string {
	if e.first == e.last {
		return fmt.Sprint(e.first)
	}
	return fmt.Sprintf("%d\u2013%d", e.first, e.last)
}

// ink is the line of an era. Those that are not listed are so many that they are
// drawn in one light grey: opaque, so that they do not add up to black.
func (e *era) ink() []svg.Attr {
	if !e.shown {
		return ruleInk()
	}
	return fadedInk(e.shade)
}

// fadedInk is the line of an older version: thin, the older the fainter.
func fadedInk(shade float64) []svg.Attr {
	return stroke("line", inkColour, 0.35, svg.N("stroke-opacity", 0.22+0.6*shade))
}

func (h *history) draw(pg *page, x, y float64) {
	at := curve.Pt(tenth(x-h.room.x0), tenth(y-h.room.y0))
	v := svg.View{Origin: at}
	pg.heldLevels(h.levels, x, at, h.lane, at.Y+h.room.y1+2)
	for _, e := range h.inDrawingOrder() {
		pg.pen.Titled(e.numbers()+" "+e.version.Label, svg.N("data-version", float64(e.first)), svg.N("data-x", at.X), svg.N("data-y", at.Y))
		pg.pen.Path(v.Data(e.own...), e.ink()...)
		pg.pen.End()
	}
	pg.pen.Titled(h.last.numbers()+" "+h.last.version.Label+", the last", svg.N("data-version", float64(h.last.first)), svg.N("data-x", at.X), svg.N("data-y", at.Y))
	pg.after(v.Data(h.last.ring))
	pg.pen.End()
	for _, t := range h.tags {
		end := around(t.at, tagWidth(t.number), tagSize).nearest(t.tip)
		pg.pen.Line(at.Add(t.tip), at.Add(end), stroke("line", inkColour, 0.25)...)
		pg.pen.Circle(at.Add(t.tip), 0.6, dotInk()...)
		pg.tag(at.Add(t.at), t.number, t.newest)
	}
}

// inDrawingOrder gives the older eras that have a line of their own: those that
// are not listed lie under the others.
func (h *history) inDrawingOrder() []*era {
	var under, over []*era
	for _, e := range h.eras {
		switch {
		case e == h.last || len(e.own) == 0:
		case e.shown:
			over = append(over, e)
		default:
			under = append(under, e)
		}
	}
	return append(under, over...)
}

// historySigns is the key.
func historySigns() []keyItem {
	line := func(ink ...[]svg.Attr) func(pg *page, x, y float64) {
		return func(pg *page, x, y float64) {
			for i, in := range ink {
				w := keySign / float64(len(ink))
				pg.pen.Line(curve.Pt(x+float64(i)*w, y), curve.Pt(x+float64(i+1)*w, y), in...)
			}
		}
	}
	return []keyItem{
		{"the last version (heavy)", line(newInk())},
		{"older versions (thin), where they lay elsewhere than the next: the older the fainter", line(fadedInk(0), fadedInk(0.5), fadedInk(1))},
		{"number of a version, where its line departs most from the next", func(pg *page, x, y float64) { pg.tag(curve.Pt(x+keySign/2, y), "1", false) }},
	}
}
