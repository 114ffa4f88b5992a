package report

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"seamkeep/pattern/diag"
)

// Of more than manyOfAKind findings of one id and weight the first firstOfAKind are
// written in full; of the others the namedOfAKind worst are named.
const (
	manyOfAKind  = 6
	firstOfAKind = 3
	namedOfAKind = 20
)

// ProblemsShortly writes findings like Problems, but of very many of one kind only the
// first, with a line that names the others; all says how each of them is told.
func (t *Text) ProblemsShortly(list diag.List, all string) {
	kind := func(p diag.Problem) string { return p.Severity.String() + " " + p.ID }
	count := map[string]int{}
	for _, p := range list {
		count[kind(p)]++
	}
	seen, rest := map[string]int{}, map[string]diag.List{}
	var shown diag.List
	for _, p := range list {
		k := kind(p)
		if seen[k]++; count[k] > manyOfAKind && seen[k] > firstOfAKind {
			rest[k] = append(rest[k], p)
			continue
		}
		shown = append(shown, p)
	}
	told := map[string]int{}
	for i, p := range shown {
		if i > 0 {
			t.line("")
		}
		t.problem(p, "")
		k := kind(p)
		if told[k]++; told[k] == firstOfAKind && len(rest[k]) > 0 {
			t.line("")
			t.Para(moreOfAKind(rest[k], all), "  ")
		}
	}
}

// moreOfAKind names findings of one kind, the worst first.
func moreOfAKind(list diag.List, all string) string {
	list = slices.Clone(list)
	slices.SortStableFunc(list, func(a, b diag.Problem) int { return cmp.Compare(b.Amount, a.Amount) })
	var names []string
	for _, p := range list[:min(len(list), namedOfAKind)] {
		names = append(names, strings.TrimSpace(p.Subject+fmt.Sprintf(" %.2f", p.Amount)))
	}
	if n := len(list) - len(names); n > 0 {
		names = append(names, fmt.Sprintf("and %d not named here", n))
	}
	return fmt.Sprintf("and %d more %ss of this kind [%s], the worst first: %s (each in full: %s)",
		len(list), list[0].Severity, list[0].ID, strings.Join(names, ", "), all)
}
