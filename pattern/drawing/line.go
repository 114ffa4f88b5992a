package drawing

import (
	"fmt"
	"math"
	"slices"
	"sort"
	"strings"

	"seamkeep/pattern"
	"seamkeep/pattern/curve"
	"seamkeep/pattern/diag"
	"seamkeep/pattern/drawing/vector"
)

// Limits, so that a drawing made to harm cannot tie up the reader.
const (
	maxRings = 2_000       // large closed lines
	maxWork  = 100_000_000 // segments looked at for what lies in what
	maxTold  = 100         // problems of one kind
)

// line is a drawn line on its way to being told what it is.
type line struct {
	items  []int // of the drawing, in the order of the path
	place  diag.Place
	path   curve.Path // page mm, y down
	closed bool
	box    curve.Box
	area   float64 // of a ring, without sign
	word   word    // what it is called
	home   *home
	joined int

	done bool // it is told what it is
}

// home is the list of layers and groups in which lines lie.
type home struct {
	layers []vector.Layer
	inner  word // what the innermost layer that is called something calls its lines
	own    *vector.Layer
	number int
}

// recogniser carries a drawing from its items to its pieces.
type recogniser struct {
	d        *vector.Drawing
	opt      Options
	sheet    *Sheet
	probs    diag.List
	work     int            // segments that may still be looked at
	compared int            // segments looked at for lines beside each other
	told     map[string]int // problems of each kind
	full     bool           // too much has been looked at
	lines    []*line
	outlines []*outline
	open     []*strand // outlines that are not shut
	heights  map[string]float64
}

// outline is a ring that is taken for a piece.
type outline struct {
	*line
	drawn  Drawn
	waist  float64 // mm below the page's top, where known
	known  bool
	level  []seen          // level lines that cross it
	own    []pattern.Level // heights of its own
	ours   *vector.Layer   // the group that our own attribute makes a piece
	over   *line           // the line to cut along that was drawn round it
	key    string          // of the layer or group that holds it
	soft   bool            // others may have the same name
	unfit  bool            // it cannot be made a piece
	counts map[string]int
	used   map[string]bool
}

// gather takes the items of the drawing as lines.
func (r *recogniser) gather() {
	homes := map[string]*home{}
	var last *home
	var lastLayers []vector.Layer
	for i := range r.d.Items {
		it := &r.d.Items[i]
		if last == nil || !sameList(lastLayers, it.Layers) {
			last, lastLayers = homeOf(homes, it.Layers), it.Layers
		}
		l := &line{items: []int{i}, place: it.Place, path: it.Path, home: last}
		l.closed = it.Closed
		if gap := l.path.Start().Dist(l.path.End()); !l.closed && gap <= meets && loops(l.path) {
			l.path, l.closed = shut(l.path), true
		}
		l.measure()
		l.word = r.called(it, last)
		r.lines = append(r.lines, l)
	}
}

func sameList(a, b []vector.Layer) bool {
	return len(a) == len(b) && (len(a) == 0 || &a[0] == &b[0])
}

func homeOf(homes map[string]*home, layers []vector.Layer) *home {
	var b strings.Builder
	for _, l := range layers {
		fmt.Fprintf(&b, "%q %q %q %t/", l.ID, l.Label, l.Own["piece"], l.Group)
	}
	if h := homes[b.String()]; h != nil {
		return h
	}
	h := &home{layers: layers, number: len(homes)}
	for i := len(layers) - 1; i >= 0; i-- {
		l := &layers[i]
		if h.inner.role == unsaid {
			h.inner = layerWord(*l)
		}
		if h.own == nil && l.Own["piece"] != "" {
			h.own = l
		}
	}
	homes[b.String()] = h
	return h
}

// measure fills in what is asked of a line often.
func (l *line) measure() {
	l.box = l.path.Bounds()
	l.area = 0
	if l.closed {
		l.area = math.Abs(l.path.Area())
	}
}

// loops tells whether a line whose ends meet goes somewhere between them.
func loops(p curve.Path) bool {
	box := p.Bounds()
	return max(box.Width(), box.Height()) > 2*meets && (len(p) > 2 || len(p) > 0 && !(p[0].Straight && p[len(p)-1].Straight))
}

// shut closes a path whose ends nearly meet.
func shut(p curve.Path) curve.Path {
	p = slices.Clone(p)
	n := len(p) - 1
	if n == 0 {
		p[0].P3 = p[0].P0
		return p
	}
	p[n], p[0] = meet(p[n], p[0])
	return p
}

func (r *recogniser) item(l *line) *vector.Item { return &r.d.Items[l.items[0]] }

// kind names the line in a message.
func (r *recogniser) kind(l *line) string {
	if l.joined > 0 {
		return fmt.Sprintf("the ring of %d lines from %s on", l.joined, r.item(l).Title())
	}
	return r.item(l).Title()
}

// leave lists a line that becomes no part of a piece.
func (r *recogniser) leave(l *line, why string) {
	if l.done {
		return
	}
	l.done = true
	for _, i := range l.items {
		it := &r.d.Items[i]
		r.sheet.Left = append(r.sheet.Left, Left{Item: i, Place: it.Place, ID: clean(it.ID), Label: clean(it.Label), Why: why})
	}
}

// finish leaves what nobody has taken, and puts the lists in order.
func (r *recogniser) finish() {
	for _, l := range r.lines {
		r.leave(l, "is of no piece")
	}
	for _, o := range r.outlines {
		if !o.unfit {
			r.sheet.Pieces = append(r.sheet.Pieces, o.drawn)
		}
	}
	sort.SliceStable(r.sheet.Left, func(i, j int) bool { return r.sheet.Left[i].Item < r.sheet.Left[j].Item })
	if len(r.sheet.Pieces) == 0 && !r.probs.HasErrors() {
		var place diag.Place
		if len(r.d.Items) > 0 {
			place.File = r.d.Items[0].Place.File
		}
		r.fail(place, "drawing.empty", "", fmt.Sprintf("the drawing holds no closed path that could be a piece (lines left out: %d)", len(r.sheet.Left)),
			"a closed path for each piece", "join open lines in the drawing program, or see why each was left out")
	}
}

// tellMore says how many problems of a kind were not listed.
func (r *recogniser) tellMore() {
	for i, n := 0, len(r.probs); i < n; i++ {
		p := r.probs[i]
		more := r.told[p.ID] - maxTold
		if more <= 0 {
			continue
		}
		r.told[p.ID] = 0
		r.probs = append(r.probs, diag.Problem{ID: p.ID, Severity: p.Severity, Place: diag.Place{File: p.Place.File}, Found: fmt.Sprintf("there are %d more problems of this kind", more)})
	}
}

func (r *recogniser) problem(p diag.Place, sev diag.Severity, id, subject, found, expected, hint string, rel ...diag.Related) {
	if r.told[id]++; r.told[id] > maxTold {
		return
	}
	r.probs = append(r.probs, diag.Problem{
		ID: id, Severity: sev, Place: p, Subject: subject, Found: found, Expected: expected, Hint: hint, Related: rel,
	})
}

func (r *recogniser) fail(p diag.Place, id, subject, found, expected, hint string, rel ...diag.Related) {
	r.problem(p, diag.Error, id, subject, found, expected, hint, rel...)
}

func (r *recogniser) warn(p diag.Place, id, subject, found, expected, hint string, rel ...diag.Related) {
	r.problem(p, diag.Warning, id, subject, found, expected, hint, rel...)
}
