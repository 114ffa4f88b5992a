package check_test

import (
	"regexp"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"seamkeep/pattern"
	"seamkeep/pattern/check"
	"seamkeep/pattern/measure"
)

var (
	moveNotch = regexp.MustCompile(`move notch (\w+) on p00000\.back by ([0-9.]+) towards (\w+),`)
	topEnd    = regexp.MustCompile(`(add to|take off)[^;\n]*?([0-9.]+) at the tb end`)
)

// One notch out of its place and a top that is too high: doing all that the hint says
// leaves the seam within its tolerance, and never makes it worse.
func TestDoingWhatTheHintSaysMendsTheSeam(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g := strip(2)
		bust := func(edge string, at float64) pattern.Notch {
			return pattern.Notch{Name: "bust", Edge: pattern.Mention{Name: edge}, On: pattern.Spot{Kind: pattern.FromLevel, Level: "waist", Distance: at, Above: true}}
		}
		off := rapid.OneOf(rapid.Float64Range(-9, -2), rapid.Float64Range(2, 9)).Draw(t, "notch")
		top := rapid.OneOf(rapid.Just(0.0), rapid.Float64Range(-0.9, 0.9)).Draw(t, "top")
		g.Pieces[0].Notches = append(g.Pieces[0].Notches, bust("back", 50+off))
		g.Pieces[1].Notches = append(g.Pieces[1].Notches, bust("front", 50))
		g.Pieces[1].Corners[0].At.Y, g.Pieces[1].Corners[3].At.Y = 100-top, 100-top
		hint := check.Cure(g, walked(t, g), measure.Accuracy)
		m := moveNotch.FindStringSubmatch(hint)
		if m == nil {
			t.Fatalf("no notch is moved: %s", hint)
		}
		by, _ := strconv.ParseFloat(m[2], 64)
		if m[3] == "hb" {
			by = -by
		}
		g.Pieces[0].Notches[2].On.Distance += by
		if m := topEnd.FindStringSubmatch(hint); m != nil && strings.Contains(hint, "besides") {
			d, _ := strconv.ParseFloat(m[2], 64)
			if m[1] == "take off" {
				d = -d
			}
			g.Pieces[0].Corners[3].At.Y += d
		}
		if v := check.Judge(g, walked(t, g)); !v.OK || v.Near {
			t.Fatalf("off by %v after: %s", v.Amount, hint)
		}
	})
}
