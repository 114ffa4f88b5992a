package report

import (
	"fmt"
	"math"

	"seamkeep/pattern"
	"seamkeep/pattern/curve"
	"seamkeep/pattern/measure"
)

// Measured tells what a print does whose check square of 100 mm measures so many
// mm across and upwards: every seam still matches its partner, and the girth is
// wrong (at a scale f by (1 - f) G).
func (t *Text) Measured(g *pattern.Garment, square curve.Point) {
	fx, fy := square.X/100, square.Y/100
	t.Para(fmt.Sprintf("a square of 100 mm that measures %s x %s: the print is %s across and %s upwards",
		millimetres(square.X), millimetres(square.Y), offBy(fx), offBy(fy)), "  ")
	for _, level := range measure.LevelNames(g) {
		if v := measure.GirthAt(g, level); v.Why() == "" {
			t.Para(fmt.Sprintf("girth %s: %.1f comes out %.1f (%+.1f)", level, v.Rest(), v.Rest()*fx, v.Rest()*(fx-1)), "  ")
		}
	}
	longest := 0.0
	var name string
	for i := range g.Seams {
		if w, fault := measure.WalkSeam(g, &g.Seams[i], measure.Accuracy); fault == nil && w.First.Length > longest {
			longest, name = w.First.Length, g.Seams[i].Name
		}
	}
	if name != "" {
		t.Para(fmt.Sprintf("seams still match each other; the longest, %s, comes out %.1f instead of %.1f if it runs upright", name, longest*fy, longest), "  ")
	}
	if d := math.Abs(fx - fy); d > 0.001 {
		t.Para(fmt.Sprintf("the two directions differ by %.1f %%: a seam that slants on one side only is off as well", d*100), "  ")
	}
}

func millimetres(v float64) string { return fmt.Sprintf("%.4g", v) }

// offBy says a scale in words.
func offBy(f float64) string {
	switch d := (f - 1) * 100; {
	case math.Abs(d) < 0.005:
		return "true"
	case d < 0:
		return fmt.Sprintf("%.2g %% too small", -d)
	default:
		return fmt.Sprintf("%.2g %% too large", d)
	}
}
