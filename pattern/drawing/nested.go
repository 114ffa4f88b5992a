package drawing

import (
	"fmt"
	"sort"

	"seamkeep/pattern"
	"seamkeep/pattern/diag"
)

// Two rings that run beside each other: closer than the first figure they are
// the two sides of a drawn line, closer than the second a sewing line and its
// cutting line. Common practice, no source.
const (
	widestStroke    = 3.0  // mm
	widestAllowance = 40.0 // mm
	// how much work is spent on looking for such rings
	nestedSamples = 24
	nestedWork    = 5_000_000
)

// warnDoubled says that a path is a stroke turned into a shape.
func (r *reader) warnDoubled(el element, rings []outline) {
	work := nestedWork
	for i := range rings {
		for j := range rings {
			if d, ok := besides(rings[i], rings[j], &work); i != j && ok && d <= widestStroke {
				r.warn(el.at, "drawing.double", fmt.Sprintf("%s is two rings %.2f mm apart: a stroke that was turned into a shape", el.title(), d),
					"the single line that was drawn: the outer ring is too large all round",
					"undo the change from stroke to path in the drawing program, or draw the outline again")
				return
			}
		}
	}
}

// warnNested says which pieces may be two lines of the same piece.
func (r *reader) warnNested() {
	work := nestedWork
	for _, in := range r.rings {
		for _, out := range r.rings {
			if in == out {
				continue
			}
			d, ok := besides(in.outline, out.outline, &work)
			if !ok {
				continue
			}
			id, found := "drawing.cut-line", "%s lies inside %s, %.2f mm from it all round: a sewing line and its cutting line"
			if d <= widestStroke {
				id, found = "drawing.double", "%s lies inside %s, %.2f mm from it all round: a stroke that was turned into a shape"
			}
			r.probs = append(r.probs, diag.Problem{
				ID: id, Severity: diag.Warning, Place: out.place, Subject: out.name,
				Found: fmt.Sprintf(found, in.kind(), out.kind(), d), Expected: "one line for each piece, the sewing line",
				Hint:    "delete or hide the other one in the drawing program",
				Related: []diag.Related{{Place: in.place, Text: "the inner ring"}},
			})
			break
		}
	}
}

// besides tells whether ring a lies inside ring b at about the same distance all
// round, and gives the middle one of the distances, in mm. It gives up, with
// false, when the work that is left is used up.
func besides(a, b outline, work *int) (float64, bool) {
	if !inside(a.box, b.box, 0) || !inside(b.box, a.box, -widestAllowance) {
		return 0, false
	}
	if *work -= nestedSamples * len(b.path); *work < 0 {
		return 0, false
	}
	var dist []float64
	for k := range nestedSamples {
		// spread over the ring, away from its joints
		i := k * len(a.path) / nestedSamples
		q := a.path[i].At(0.2 + 0.6*float64(k%4)/3)
		dist = append(dist, b.path.Nearest(q).Dist)
	}
	sort.Float64s(dist)
	low, mid, high := dist[nestedSamples/10], dist[nestedSamples/2], dist[nestedSamples*9/10]
	return mid, mid > pattern.Grid && mid <= widestAllowance && high-low <= 0.2*mid+0.02
}
