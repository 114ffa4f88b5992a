package claim_test

import (
	"testing"

	"seamkeep/pattern/claim"
)

// The claims of a whole note, judged: what a hook pays beside the comparison.
func BenchmarkJudge(b *testing.B) {
	v := story(b)["seam-move"]
	c := from(b, "gusset", "seam-move", ringer(b))
	claims := parse(b, noteLines(v.note)...)
	for b.Loop() {
		claim.Judge(c, claims)
		claim.Unclaimed(c, claims)
	}
}

func BenchmarkSuggest(b *testing.B) {
	c := from(b, "straps", "gusset", ringer(b))
	for b.Loop() {
		claim.Suggest(c)
	}
}
