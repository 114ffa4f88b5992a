package judge_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestANoteAnswersAFittingThatIsKept(t *testing.T) {
	h := newHistory(t)
	first := h.keep("first", matching.files("."))
	paper := h.keep("paper", wider(matching, 5).files("."), first)
	files := wider(matching, 5).files(".")
	files["fittings/mock-up-1.fitting"] = []byte("seamkeep fitting 1\n")
	kept := h.keep("kept", files, first)
	say := func(after, name string) []string {
		return wrong(h.told(first, after, message("Changes: girth +10", "Only: front", "Answers: "+name)))
	}
	assert.Empty(t, say(paper, "mock-up-2"), "fittings on paper are nobody's business")
	assert.Empty(t, say(kept, "mock-up-1"))
	assert.Equal(t, []string{"note.answers: the note answers mock-up-2, but no fitting of that name is kept"}, say(kept, "mock-up-2"))
	for _, p := range h.told(first, kept, message("Changes: girth +10", "Only: front", "Answers: mock-up-2")).Findings() {
		assert.Equal(t, "warning", p.Severity.String(), "it never refuses a commit")
		assert.Equal(t, "did you mean mock-up-1?", p.Hint)
		assert.Positive(t, p.Place.Line)
	}

	files["fittings/refit.fitting"] = []byte("seamkeep fitting 1\nversion hip\n")
	kept = h.keep("refit", files, first)
	own := func(name string) []string {
		return wrong(h.told(first, kept, "A subject\n\nAlteration: "+name+"\nBecause: b\nChanges: girth +10\nOnly: front\nAnswers: refit\n"))
	}
	assert.Equal(t, []string{"note.answers: the note answers refit, which was cut from hip itself"}, own("hip"))
	assert.Empty(t, own("waist"))
}
