package vector

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"seamkeep/pattern/curve"
	"seamkeep/pattern/diag"
)

// agrees is how far a measured length may be from the known one, as a part of it:
// a tape is read to half a mm on 100 mm.
const agrees = 0.005

// measured is what a drawing says of a length that is known.
type measured struct {
	KnownLength
	place  diag.Place
	title  string
	length float64 // mm at the present scale
}

// fromKnown finds the scale of a drawing that has none: it is drawn once at a mm
// for a unit to measure the first of the known lengths.
func (r *reader) fromKnown(p page) (page, bool) {
	before := len(r.probs)
	r.measuring = true
	d := r.draw(p)
	r.measuring = false
	if r.fatal {
		return p, false
	}
	r.probs = r.probs[:before]
	m, ok := r.measure(d, r.opt.Known[0])
	if !ok {
		return p, false
	}
	k := m.Length / m.length
	if !(k > 1e-6) || !(k < 1e6) || !(max(p.across, p.down)*k <= maxMatrix) {
		r.refuse(m.place, "drawing.known", fmt.Sprintf("%s measures %.6g units, so that one would be %.6g mm", m.title, m.length, k),
			"a unit between 0.000001 mm and 1 km", "")
		return p, false
	}
	e, f := p.toPage.E, p.toPage.F
	p = even(k, [4]float64{-e, -f, p.across, p.down}, Known)
	r.problem(m.place, diag.Note, "drawing.known", fmt.Sprintf("%s is %.3f mm long, so that a unit of the drawing is %.6g mm (%.6g units to the inch)",
		m.title, m.Length, k, 25.4/k), "", "")
	return p, true
}

// checkKnown holds the known lengths against the drawing, and says what was only
// assumed of its scale where none of them settles it.
func (r *reader) checkKnown(p page, d *Drawing) {
	rest := r.opt.Known
	if p.source == Known {
		rest = rest[1:]
	}
	settled := false
	for _, k := range rest {
		m, ok := r.measure(d, k)
		if !ok {
			continue
		}
		settled = true
		if ratio := m.Length / m.length; math.Abs(ratio-1) > agrees {
			r.contradicts(p, m, ratio)
			continue
		}
		r.problem(m.place, diag.Note, "drawing.known", fmt.Sprintf("%s measures %.3f mm, %.3f mm as known", m.title, m.length, m.Length), "", "")
	}
	if p.doubt != nil && !settled {
		r.probs = append(r.probs, *p.doubt)
	}
}

// contradicts refuses a drawing that a known length shows to be at another scale,
// and offers the option where the ratio is one that programs are known for.
func (r *reader) contradicts(p page, m measured, ratio float64) {
	r.fatal = true
	found := fmt.Sprintf("%s measures %.3f mm, but it is known to be %.3f mm: %.5g times as much", m.title, m.length, m.Length, ratio)
	hint := "measure again; if the drawing is at another scale, say how many units make an inch: " + fmt.Sprintf("--dpi %.6g", p.dpi()/ratio)
	if dpi, why, ok := p.offer(ratio); ok {
		found += ", " + why
		hint = fmt.Sprintf("read it with --dpi %.6g: everything becomes %.5g times as large", dpi, p.dpi()/dpi)
	}
	r.probs = append(r.probs, diag.Problem{
		ID: "drawing.known", Severity: diag.Error, Place: m.place, Subject: Clean(m.ID), Amount: math.Abs(m.Length - m.length),
		Found: found, Expected: fmt.Sprintf("lengths that agree within %g %%", agrees*100), Hint: hint,
	})
}

// dpi is the number that the option --dpi would have to give for the present
// scale.
func (p page) dpi() float64 {
	if p.px > 0 {
		return p.px
	}
	return 25.4 / p.sx
}

// offer recognises the ratios of programs that count 72, 90 or 300 px to the inch
// where others count 96, and of drawings whose unit is really 1 mm, 1 cm or a px.
func (p page) offer(ratio float64) (dpi float64, why string, ok bool) {
	for _, n := range []float64{72, 90, 300} {
		if math.Abs(ratio*n/cssDPI-1) <= agrees {
			return p.dpi() * n / cssDPI, fmt.Sprintf("as 96 to %g: it was drawn at %g px to the inch", n, n), true
		}
	}
	for _, unit := range []struct {
		dpi  float64
		name string
	}{{25.4, "1 mm"}, {2.54, "1 cm"}, {72, "1/72 inch"}, {90, "1/90 inch"}, {96, "1/96 inch"}, {300, "1/300 inch"}} {
		if math.Abs(p.dpi()/ratio/unit.dpi-1) <= agrees {
			return unit.dpi, "so that a unit is " + unit.name + ", other than the page has it", true
		}
	}
	return 0, "", false
}

// measure finds the element of a known length and measures it.
func (r *reader) measure(d *Drawing, k KnownLength) (measured, bool) {
	name := strings.TrimSpace(k.ID)
	items, group := d.called(name)
	if len(items) == 0 {
		r.refuse(r.top(), "drawing.known", fmt.Sprintf("no line has the id or label %q", Clean(k.ID)), "the id or label of a line whose length is known",
			d.examples())
		return measured{}, false
	}
	m := measured{KnownLength: k, place: items[0].Place, title: items[0].Title()}
	if group {
		m.title = titled("group", name, "")
	}
	for _, it := range items {
		if it.Place != items[0].Place && !group {
			r.refuse(it.Place, "drawing.known", fmt.Sprintf("several elements are called %q: %s and %s", Clean(name), items[0].Title(), it.Title()),
				"one element whose length is known", "give it an id of its own in the drawing program")
			return measured{}, false
		}
	}
	if m.length = extent(items); !(m.length > 0) {
		r.refuse(m.place, "drawing.known", m.title+" has no length", "a line whose length is known", "")
		return measured{}, false
	}
	return m, true
}

// called gives the lines of the element with that id; else those with that label;
// else those of the group with that id or label.
func (d *Drawing) called(name string) (items []Item, group bool) {
	for i, is := range []func(Item) bool{
		func(i Item) bool { return i.ID == name },
		func(i Item) bool { return i.Label == name },
		func(i Item) bool {
			return slices.ContainsFunc(i.Layers, func(l Layer) bool { return l.ID == name || l.Label == name })
		},
	} {
		for _, it := range d.Items {
			if is(it) {
				items = append(items, it)
			}
		}
		if len(items) > 0 {
			return items, i == 2
		}
	}
	return nil, false
}

// extent is the longer side of the box round the lines where one of them is
// closed, else the length of the longest.
func extent(items []Item) float64 {
	box, longest, closed := curve.EmptyBox(), 0.0, false
	for _, it := range items {
		box = box.Union(it.Path.Bounds())
		longest = max(longest, it.Path.Length(1e-6))
		closed = closed || it.Closed
	}
	if closed {
		return max(box.Width(), box.Height())
	}
	return longest
}

// examples names a few lines that could be asked for.
func (d *Drawing) examples() string {
	var names []string
	for _, it := range d.Items {
		name := Clean(it.ID)
		if name == "" {
			name = Clean(it.Label)
		}
		if name != "" && !slices.Contains(names, name) {
			names = append(names, name)
		}
		if len(names) == 8 {
			break
		}
	}
	if len(names) == 0 {
		return "give the line an id in the drawing program"
	}
	return "lines that have one: " + strings.Join(names, ", ")
}
