package measure_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"seamkeep/pattern"
)

// A seam of 205 mm against 202 mm, from -100 and -101, with the waist at 0, and what is
// recorded besides; where it meets the other side, by hand.
func TestWhereAPlaceMeetsTheOtherSide(t *testing.T) {
	const waist = "level waist 0\n"
	a, b := box("0", "-100", "80", "105"), box("0", "-101", "80", "101")
	for _, c := range []struct {
		name, garment, onA, onB string
		from                    int
		at, want                float64
	}{
		{"below the waist, from the waist", waist + "seam s a.back b.front", "", "", 0, 60, 61},
		{"above the waist, from the waist", waist + "seam s a.back b.front", "", "", 0, 160, 161},
		{"the way back", waist + "seam s a.back b.front", "", "", 1, 161, 160},
		{"at the waist", waist + "seam s a.back b.front", "", "", 0, 100, 101},
		{"no further than the side reaches", waist + "seam s a.back b.front", "", "", 0, 205, 202},
		{"without a station from the nearer end", "seam s a.back b.front", "", "", 0, 50, 50},
		{"without a station from the other end", "seam s a.back b.front", "", "", 0, 195, 192},
		{"from the nearer of two pairs", "seam s a.back b.front", "notch m on back 50 from hb\nnotch n on back 150 from hb\n", "notch m on front 52 from hf\nnotch n on front 149 from hf\n", 0, 60, 62},
		{"from the other of two pairs", "seam s a.back b.front", "notch m on back 50 from hb\nnotch n on back 150 from hb\n", "notch m on front 52 from hf\nnotch n on front 149 from hf\n", 0, 140, 139},
		// the second side is 202, so the first is meant to be 303: 3 mm of it meet 2
		{"with ease in proportion", "seam s a.back b.front ease 101", "", "", 0, 30, 20},
		{"the ease on the way back", "seam s a.back b.front ease 101", "", "", 1, 20, 30},
		{"without the ease that a zone has elsewhere", waist + "seam s a.back b.front ease 8 from waist to n", "notch waist on back at waist\nnotch n on back 60 above waist\n", "notch waist on front at waist\nnotch n on front 52 above waist\n", 0, 90, 91},
	} {
		w := walkOf(t, read(t, "-- garment --\nhalf left\n"+c.garment+"\n-- a --\n"+a+c.onA+"-- b --\n"+b+c.onB), "s")
		assert.InDelta(t, c.want, w.Across(c.from, c.at), 1e-6, c.name)
	}
}

// The sums of the differences, counted from the waist or, without it, from the start.
func TestDrift(t *testing.T) {
	a, b := box("0", "-100", "80", "105"), box("0", "-101", "80", "101")
	const onA, onB = "notch m on back 50 from hb\nnotch waist on back 100 from hb\nnotch n on back 150 from hb\n",
		"notch m on front 51.5 from hf\nnotch waist on front 101 from hf\nnotch n on front 151.8 from hf\n"
	drifts := func(record, onA, onB string) map[string]float64 {
		w := walkOf(t, read(t, "-- garment --\nhalf left\n"+record+"\n-- a --\n"+a+onA+"-- b --\n"+b+onB), "s")
		out := map[string]float64{}
		for _, d := range w.Drifts() {
			out[d.Name] = pattern.RoundLength(d.By)
		}
		return out
	}
	assert.Equal(t, map[string]float64{"m": -0.5, "waist": 0, "n": -0.8}, drifts("seam s a.back b.front", onA, onB))
	assert.Equal(t, map[string]float64{"m": -1.5}, drifts("seam s a.back b.front", "notch m on back 50 from hb\n", onB))
	assert.Empty(t, drifts("seam s a.back b.front", "", ""))
}
