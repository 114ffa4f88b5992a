package claim

import (
	"fmt"
	"math"

	"seamkeep/pattern/diag"
	"seamkeep/pattern/measure"
)

// Contradictions tells which claims of one group cannot both be meant: Changes and
// Keeps of one measure, and two Changes of it by, or to, other numbers. A measure
// without a level is one with every level. The problem stands at the later claim;
// the earlier one is its related place.
func Contradictions(claims []Claim) diag.List {
	var out diag.List
	earlier := map[measure.Measure][]Claim{} // by measure without level
	for _, c := range claims {
		if c.Kind == Only {
			continue
		}
		key := anyLevel(c.Measure)
		for _, old := range earlier[key] {
			if contradict(old, c) {
				out = append(out, diag.Problem{
					ID: Contradicts, Severity: diag.Error, Place: c.Place,
					Found:    fmt.Sprintf("found %q", c.Line()),
					Expected: fmt.Sprintf("expected nothing that contradicts %q", old.Line()),
					Related:  []diag.Related{{Place: old.Place, Text: "the other claim on " + c.Measure.String()}},
				})
				break
			}
		}
		earlier[key] = append(earlier[key], c)
	}
	return out
}

// anyLevel gives a measure that may leave its level out without one.
func anyLevel(m measure.Measure) measure.Measure {
	if perLevel(m.Kind) {
		m.Level = ""
	}
	return m
}

// contradict judges two claims on measures that differ in their level at most.
func contradict(a, b Claim) bool {
	x, y := a.Measure, b.Measure
	switch {
	case perLevel(x.Kind) && x.Level != y.Level && x.Level != "" && y.Level != "":
		return false
	case a.Kind != b.Kind:
		return true
	case a.Kind == Keeps:
		return false
	}
	other := func(p, q float64) bool { return math.Abs(p-q) >= 0.0005 } // files hold three decimals
	return a.By.Set && b.By.Set && other(a.By.Value, b.By.Value) || a.To.Set && b.To.Set && other(a.To.Value, b.To.Value)
}
