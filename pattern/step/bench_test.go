package step_test

import (
	"testing"

	"seamkeep/pattern/step"
)

// BenchmarkAll works out the two steps of the gusset, of which the inset is the
// dearest there is.
func BenchmarkAll(b *testing.B) {
	before := story(b)["straps"].garment
	steps := []step.Step{parse(b, theInset), parse(b, theTruth), parse(b, theMove)}
	b.ReportAllocs()
	for b.Loop() {
		if len(step.All(steps, before)) != 3 {
			b.Fatal("no claims")
		}
	}
}
