package report_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"seamkeep/diffview/report"
	"seamkeep/pattern/diag"
)

// many gives n findings of one kind, each worse than the one before.
func many(n int, id string, severity diag.Severity) diag.List {
	var out diag.List
	for i := range n {
		subject := fmt.Sprintf("%s-%d", strings.ReplaceAll(id, ".", "-"), i)
		out = append(out, diag.Problem{ID: id, Severity: severity, Subject: subject, Amount: float64(i), Found: "seam " + subject + " is off"})
	}
	return out
}

func shortly(list diag.List) string {
	var b strings.Builder
	(&report.Text{W: &b}).ProblemsShortly(list, "check --all")
	return b.String()
}

func TestManyFindingsOfAKindAreTheFirstAndTheNamesOfTheOthers(t *testing.T) {
	out := shortly(append(many(30, "seam.differs", diag.Error), many(2, "notch.single", diag.Warning)...))
	assert.Equal(t, 3, strings.Count(out, "error: "))
	assert.Equal(t, 2, strings.Count(out, "warning: "), "another kind is told in full")
	plain := strings.Join(strings.Fields(out), " ")
	assert.Contains(t, plain, "and 27 more errors of this kind [seam.differs], the worst first: seam-differs-29 29.00, seam-differs-28 28.00,")
	assert.Contains(t, plain, "seam-differs-10 10.00, and 7 not named here (each in full: check --all)")
	assert.NotContains(t, plain, "seam-differs-9 9.00")
	for _, line := range strings.Split(out, "\n") {
		assert.LessOrEqual(t, len(line), 80)
	}
}

func TestFewFindingsOfAKindAreAllTold(t *testing.T) {
	list := many(6, "seam.differs", diag.Error)
	var b strings.Builder
	(&report.Text{W: &b}).Problems(list)
	assert.Equal(t, b.String(), shortly(list))
}

func TestWhatIsToldShortlyIsOnlyOfOneWeight(t *testing.T) {
	list := append(many(5, "bone.long", diag.Error), many(5, "bone.long", diag.Warning)...)
	assert.NotContains(t, shortly(list), "more")
}
