package judge_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// A body is told of once, in the version that takes it in.
func TestABodyThatIsTakenInIsToldOfOnce(t *testing.T) {
	h := newHistory(t)
	first := h.keep("first", matching.files("."))
	files := wider(matching, 5).files(".")
	files["bodies/maker.body"] = []byte("seamkeep body 1\ngirth waist 700\n")
	taken := h.keep("taken", files, first)
	files = wider(matching, 6).files(".")
	files["bodies/maker.body"] = []byte("seamkeep body 1\ngirth waist 701\n")
	later := h.keep("later", files, taken)
	const told = "warning body.kept bodies/maker.body" // it never refuses a commit
	assert.Contains(t, ids(h.judge(first, taken, nil).Problems()), told)
	assert.NotContains(t, ids(h.judge(taken, later, nil).Problems()), told)
}
