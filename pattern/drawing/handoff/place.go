package handoff

import (
	"bytes"
	"fmt"
	"math"
	"strconv"
	"strings"

	"seamkeep/pattern/curve"
	"seamkeep/pattern/diag"
	"seamkeep/pattern/drawing/vector"
)

const (
	trueSize = 3e-4 // part by which a frame may stretch; programs round pages
	onCorner = 0.01 // mm
)

// probeData is a path whose points show what the page makes of 0 0, 1 0 and 1 1.
const probeData = "M0,0H1V1"

// probe finds the map of each path from its own numbers to page mm. The reader of
// drawings alone knows all that bears on it (transforms, style sheets, viewports),
// so it is asked: the drawing is read again with the paths in question drawn as
// probes, each as long as the text it stands for, so that all places stay.
func (in *into) probe() {
	src := bytes.Clone(in.src)
	for _, t := range in.targets {
		for _, e := range append([]*element{t.outline}, t.marks...) {
			if d := e.attr("", "d"); e.kind == "path" && d != nil && d.to-d.from >= len(probeData) {
				copy(src[d.from:d.to], probeData+strings.Repeat(" ", d.to-d.from-len(probeData)))
			}
		}
	}
	o := vector.Options{DPI: in.options.Read.DPI}
	if in.drawn.Scale.Source == vector.Known {
		o.DPI = 25.4 / in.drawn.Scale.X
	}
	drawn, _ := vector.Read(in.options.File, src, o)
	for _, it := range drawn.Items {
		if it.Clone {
			continue
		}
		switch {
		case it.Element == "path" && len(it.Path) == 2 && !it.Closed:
			p, x, y := it.Path[0].P0, it.Path[0].P3, it.Path[1].P3
			in.matrices[it.Place] = axes(p, x.Sub(p), y.Sub(x))
		case it.Element == "circle" && len(it.Path)%4 == 0:
			// SVG 2, section 10.3, from memory: from the right, by way of the bottom, in quarters
			quarter := len(it.Path) / 4
			right, below, left := it.Path[0].P0, it.Path[quarter].P0, it.Path[2*quarter].P0
			c := right.Lerp(left, 0.5)
			in.matrices[it.Place] = axes(c, right.Sub(c), below.Sub(c))
		}
	}
}

// axes is the map that takes 0 0 to p and the two unit vectors to x and y.
func axes(p, x, y curve.Point) curve.Affine {
	return curve.Affine{A: x.X, B: x.Y, C: y.X, D: y.Y, E: p.X, F: p.Y}
}

// placing is where a piece lies.
type placing struct {
	toPage  curve.Affine // from the piece's plane, y up, to page mm
	toLocal curve.Affine // to the numbers of the outline's element, exact where "at" is believed
	matrix  curve.Affine // from those numbers to page mm
}

// local gives the map from the piece's plane to the numbers of an element.
func (p placing) local(matrix curve.Affine) (curve.Affine, bool) {
	if near(matrix, p.matrix) {
		return p.toLocal, true
	}
	back, ok := matrix.Inverse()
	return p.toPage.Then(back), ok
}

// place finds where the piece lies.
func (in *into) place(t *target) (placing, bool) {
	e, name := t.outline, t.piece.Name
	p := placing{matrix: in.matrices[e.place]}
	back, ok := p.matrix.Inverse()
	if !ok {
		in.problem(diag.Error, e.place, "drawing.frame", name, fmt.Sprintf("the outline of %s is drawn flat", name), "a transform that keeps a shape", "")
		return p, false
	}
	if in.options.Frame != nil {
		if p.toPage, ok = in.options.Frame(name); ok {
			p.toLocal = p.toPage.Then(back)
			return p, in.rigid(t, p)
		}
	}
	at, ok := in.at(e)
	if !ok {
		in.problem(diag.Error, e.place, "drawing.frame", name, fmt.Sprintf("it is not known where %s lies in the drawing", name),
			"the place of its 0 0, or its outline as it was last drawn", "import the drawing first, or export the piece anew")
		return p, false
	}
	p.toLocal = curve.Affine{A: 1, D: -1, E: at.X, F: at.Y}
	p.toPage = p.toLocal.Then(p.matrix)
	if !in.lies(t, p) {
		in.problem(diag.Error, e.place, "drawing.frame", name, fmt.Sprintf("the outline of %s was moved or redrawn: fewer than two of its corners lie where the piece has them", name),
			"an outline of which some part is known", "import the drawing first, or export the piece anew")
		return p, false
	}
	return p, in.rigid(t, p)
}

// at reads where the piece's 0 0 lies in the numbers of its lines.
func (in *into) at(e *element) (curve.Point, bool) {
	if e.piece == nil {
		return curve.Point{}, false
	}
	words := strings.Fields(e.piece.own("at"))
	if len(words) != 2 {
		return curve.Point{}, false
	}
	x, bad := strconv.ParseFloat(words[0], 64)
	y, worse := strconv.ParseFloat(words[1], 64)
	ok := bad == nil && worse == nil && math.Abs(x) <= 1e6 && math.Abs(y) <= 1e6
	return curve.Pt(x, y), ok
}

// lies tells whether two corners of the piece are joints of the drawn outline.
func (in *into) lies(t *target, p placing) bool {
	old := in.item(t.outline)
	n := 0
	for _, c := range t.piece.Corners {
		at := p.toPage.Apply(c.At)
		for _, s := range old {
			if s.P0.Dist(at) <= onCorner {
				n++
				break
			}
		}
	}
	return n >= 2
}

// rigid says where the piece would not be drawn at true size.
func (in *into) rigid(t *target, p placing) bool {
	m := p.toPage
	x, y := math.Hypot(m.A, m.B), math.Hypot(m.C, m.D)
	slant := m.A*m.C + m.B*m.D
	if math.Abs(x-1) <= trueSize && math.Abs(y-1) <= trueSize && math.Abs(slant) <= trueSize {
		return true
	}
	in.problem(diag.Error, t.outline.place, "drawing.frame", t.piece.Name,
		fmt.Sprintf("%s is drawn %.5g times as wide and %.5g times as high as it is", t.piece.Name, x, y),
		"the outline at true size", "undo the scaling of the piece or its layer in the drawing program")
	return false
}

// near tells whether two maps are the same but for rounding.
func near(a, b curve.Affine) bool {
	for _, q := range []curve.Point{{}, {X: 1000}, {Y: 1000}} {
		if a.Apply(q).Dist(b.Apply(q)) > 1e-6 {
			return false
		}
	}
	return true
}
