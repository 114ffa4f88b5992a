package drawing

import (
	"fmt"
	"sort"

	"seamkeep/pattern"
	"seamkeep/pattern/diag"
)

// Two rings that run beside each other: closer than the first figure they are
// the two sides of a drawn line, closer than the second a sewing line and the
// line to cut along. Common practice, no source.
const (
	widestStroke    = 3.0  // mm
	widestAllowance = 40.0 // mm
	widestHem       = 80.0 // mm, at some edge
	besideSamples   = 24
	besideWork      = 5_000_000
)

// beside judges a ring that lies in another one, if both may be lines of the
// same piece.
func (r *recogniser) beside(in *nest) {
	out := in.up
	if out.gone || in.word.role != unsaid && in.word.role != sewingRole && in.word.role != cutRole {
		return
	}
	d, same, ok := r.apart(in.line, out.line)
	if !ok || d <= 0 {
		return
	}
	stroke := same && d <= widestStroke
	cut := !stroke && (same || in.area > 0.5*out.area)
	keep := r.opt.Outline
	switch {
	case !stroke && !cut:
		return
	case ownOutline(in.line) != ownOutline(out.line):
		keep = Outer
		if ownOutline(in.line) {
			keep = Inner
		}
	case cut && in.word.role != cutRole && out.word.role == cutRole, cut && in.word.role == sewingRole && out.word.role == unsaid:
		keep = Inner
	case keep == Ask:
		r.askBeside(in, out, d, stroke)
		return
	}
	gone, why := out, fmt.Sprintf("is the line to cut along, %.2f mm outside %s", d, r.kind(in.line))
	switch {
	case keep == Outer:
		gone, why = in, fmt.Sprintf("is the inner one of two lines %.2f mm apart", d)
	case stroke:
		why = fmt.Sprintf("is the outer one of two lines %.2f mm apart", d)
	}
	gone.gone = true
	if gone == out {
		in.over = out.line
		r.warnUneven(in, out, same)
	}
	r.leave(gone.line, why)
}

func ownOutline(l *line) bool { return l.word.how == ByOwn && l.word.role == sewingRole }

// warnUneven says that a line to cut along was taken for one by its label only.
func (r *recogniser) warnUneven(in, out *nest, same bool) {
	if same || out.word.role == cutRole {
		return
	}
	r.warn(out.place, "drawing.cut-line", "", r.kind(out.line)+" was taken for the line to cut along, though it does not run beside "+r.kind(in.line)+" all round",
		"one line for each piece, the sewing line", "look at the picture", diag.Related{Place: in.place, Text: "the sewing line"})
}

// askBeside asks which of two rings is the outline; neither is taken.
func (r *recogniser) askBeside(in, out *nest, d float64, stroke bool) {
	id, found, expected := "drawing.cut-line", "%s lies inside %s, about %.2f mm from it all round: a sewing line and its cutting line", "one line for each piece, the sewing line"
	hint := "label the inner one \"sewing line\" or the outer one \"cut line\", or say which is the sewing line with --outline inner or --outline outer"
	if stroke {
		id = "drawing.double"
		found, expected = "%s lies inside %s, %.2f mm from it all round: a stroke that was turned into a shape", "the single line that was drawn: the outer one is too large all round, the inner one too small"
		hint = "undo the change from stroke to path in the drawing program; or say that one of the two is right with --outline inner or --outline outer"
	}
	r.fail(out.place, id, "", fmt.Sprintf(found, r.kind(in.line), r.kind(out.line), d), expected, hint,
		diag.Related{Place: in.place, Text: "the inner ring"})
	for _, n := range []*nest{in, out} {
		r.leave(n.line, fmt.Sprintf("is one of two lines %.2f mm apart", d))
		n.gone = true
	}
}

// isStroke says that a ring is no outline but an open line whose stroke was turned
// into a shape: long, and no wider in the mean than a stroke. Only a label
// "outline" makes it a piece.
func (r *recogniser) isStroke(l *line) bool {
	const slender = 10 // times as long as wide; common practice, no source
	half := l.path.Length(0.01) / 2
	if l.word.role == sewingRole || half == 0 {
		return false
	}
	width := l.area / half
	if width < 10*pattern.Grid || width > widestStroke || half < slender*width {
		return false
	}
	r.fail(l.place, "drawing.double", "", fmt.Sprintf("%s is a shape %.0f mm long and %.2f mm wide: a stroke that was turned into a shape", r.kind(l), half, width),
		"the single line that was drawn", "undo the change from stroke to path in the drawing program; if it is really a piece, label it \"outline NAME\"")
	r.leave(l, fmt.Sprintf("is a stroke %.2f mm wide that was turned into a shape", width))
	return true
}

// apart tells whether ring a runs beside ring b, inside it, and how far from it
// in the middle; same, whether that is much the same all round. False where it
// is far from it somewhere, or no time is left.
func (r *recogniser) apart(a, b *line) (mid float64, same, ok bool) {
	if !inside(a.box, b.box, 0) || !inside(b.box, a.box, -widestHem) {
		return 0, false, false
	}
	if r.compared += besideSamples * len(b.path); r.compared > besideWork {
		r.tooMuch(b)
		return 0, false, false
	}
	var dist []float64
	for k := range besideSamples {
		// spread over the ring, away from its joints
		i := k * len(a.path) / besideSamples
		q := a.path[i].At(0.2 + 0.6*float64(k%4)/3)
		dist = append(dist, b.path.Nearest(q).Dist)
	}
	sort.Float64s(dist)
	low, high := dist[besideSamples/10], dist[besideSamples*9/10]
	mid = dist[besideSamples/2]
	same = mid > pattern.Grid && mid <= widestAllowance && high-low <= 0.2*mid+0.02
	return mid, same, dist[besideSamples-1] <= widestHem && dist[0] > 0
}
