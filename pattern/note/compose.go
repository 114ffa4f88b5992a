package note

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"seamkeep/pattern"
	"seamkeep/pattern/claim"
	"seamkeep/pattern/diag"
	"seamkeep/pattern/measure"
)

// Claims gives what the note as a whole claims. before is the garment that it
// alters, and may be nil.
//
// Within a group its steps bring their own claims, added in the order in which they
// stand; they yield to the written ones. With several groups, Changes of one measure are added, Keeps yields to
// another group's Changes, and Only is the union, or none if a group that claims
// something has none; a group that repeats a name has that one's. A claim on every level meets one on a single level by the levels of before.
// Amounts that add up to nothing become a Keeps. Tolerances are not added, the widest counts:
// the whole is one commit, and small errors must not add up unseen. The order of
// the groups has no effect; therefore "to N" beside another amount of the same
// measure in another group is an error, since only the order could tell which is
// meant. The claims of one group alone are given as they are.
func (n *Note) Claims(before *pattern.Garment) ([]claim.Claim, diag.List) {
	var parts [][]claim.Claim
	var problems diag.List
	proofs := n.proofs(before)
	for i, g := range n.Groups {
		claims, faults := g.claims(proofs[i], before)
		parts = append(parts, claims)
		problems = append(problems, faults...)
	}
	if len(parts) == 1 {
		return parts[0], problems
	}
	n.sameName(parts)
	claims, faults := compose(parts, before, inAnyOrder)
	return claims, append(problems, faults...)
}

// sameName gives a part without an Only that of its alteration's first part: a squash!
// repeats the name with the lines that it adds.
func (n *Note) sameName(parts [][]claim.Claim) {
	first := map[string][]claim.Claim{}
	for i, g := range n.Groups {
		only := onlyOf(parts[i])
		switch {
		case len(only) == 0 && len(parts[i]) > 0:
			parts[i] = append(parts[i], first[g.Name]...)
		case len(first[g.Name]) == 0:
			first[g.Name] = only
		}
	}
}

// sequence tells what is known of the order of parts.
type sequence bool

const (
	inAnyOrder sequence = false
	inOrder    sequence = true // that of their places
)

// compose puts the claims of several parts together. The result is sorted by
// place.
func compose(parts [][]claim.Claim, before *pattern.Garment, known sequence) ([]claim.Claim, diag.List) {
	parts = apart(spread(parts, before))
	byMeasure := map[measure.Measure][]claim.Claim{}
	for _, part := range parts {
		for _, c := range firstOfEach(part) {
			byMeasure[c.Measure] = append(byMeasure[c.Measure], c)
		}
	}
	out := together(parts)
	var problems diag.List
	for _, claims := range byMeasure {
		c, fault := sum(claims, known)
		if fault != nil {
			problems = append(problems, *fault)
			continue
		}
		out = append(out, c)
	}
	slices.SortFunc(out, order)
	problems.Sort()
	return out, problems
}

// apart takes out of each part the gaps that another part changes without saying by how
// much: with a girth or an overlap. What they add up to only measuring tells.
func apart(parts [][]claim.Claim) [][]claim.Claim {
	silent := func(part []claim.Claim, closure string) bool {
		moves := func(c claim.Claim) bool {
			return c.Kind == claim.Changes && slices.Contains([]string{"girth", "worn", "overlap"}, c.Measure.Kind)
		}
		tells := func(c claim.Claim) bool { return c.Measure.Kind == "gap" && c.Measure.Closure == closure }
		return slices.ContainsFunc(part, moves) && !slices.ContainsFunc(part, tells)
	}
	out := make([][]claim.Claim, len(parts))
	for i, part := range parts {
		out[i] = slices.DeleteFunc(slices.Clone(part), func(c claim.Claim) bool {
			return c.Kind == claim.Changes && c.Measure.Kind == "gap" && slices.ContainsFunc(parts, func(o []claim.Claim) bool { return silent(o, c.Measure.Closure) })
		})
	}
	return out
}

// order sorts by place, then by words, so that it is complete.
func order(a, b claim.Claim) int {
	if d := placeOrder(a.Place, b.Place); d != 0 {
		return d
	}
	return strings.Compare(a.Line(), b.Line())
}

func placeOrder(a, b diag.Place) int {
	return cmp.Or(strings.Compare(a.File, b.File), a.Line-b.Line, a.Column-b.Column)
}

// firstOfEach gives one claim a measure; of a contradiction the change.
func firstOfEach(part []claim.Claim) []claim.Claim {
	var out []claim.Claim
	at := map[measure.Measure]int{}
	for _, c := range part {
		i, known := at[c.Measure]
		switch {
		case c.Kind == claim.Only:
		case !known:
			at[c.Measure] = len(out)
			out = append(out, c)
		case out[i].Kind == claim.Keeps && c.Kind == claim.Changes:
			out[i] = c
		}
	}
	return out
}

// sum puts the claims of several parts on one measure together.
func sum(claims []claim.Claim, known sequence) (claim.Claim, *diag.Problem) {
	claims = slices.Clone(claims)
	slices.SortFunc(claims, order)
	out := claims[0]
	var by int64 // in thousandths, so that the order of adding has no effect
	var first *claim.Claim
	var to bool // by is what the measure becomes
	out.Follows = source(claims)
	for i, c := range claims {
		if c.Tolerance() > out.Tolerance() {
			out.Within = pattern.Some(c.Tolerance())
		}
		if c.Kind != claim.Changes {
			continue
		}
		if first == nil {
			first = &claims[i]
		}
		if known == inAnyOrder && (first.To.Set != c.To.Set || c.To.Set && thousandths(c.To.Value) != thousandths(first.To.Value)) {
			return out, unordered(*first, c)
		}
		if c.To.Set {
			to, by = true, thousandths(c.To.Value)
		} else {
			by += thousandths(c.By.Value)
		}
	}
	if out.Within.Set && out.Within.Value == claim.DefaultTolerance(out.Measure.Kind) {
		out.Within = pattern.Opt{}
	}
	if first == nil {
		return out, nil
	}
	out.Kind, out.Place, out.By, out.To = claim.Changes, first.Place, pattern.Opt{}, pattern.Opt{}
	switch {
	case to:
		out.To = pattern.Some(float64(by) / 1000)
	case by == 0:
		out.Kind = claim.Keeps
	default:
		out.By = pattern.Some(float64(by) / 1000)
	}
	return out, nil
}

// source names the lines that one claim put together of several follows from;
// empty where one of them is written itself.
func source(claims []claim.Claim) string {
	var out []string
	for _, c := range claims {
		if c.Follows == "" {
			return ""
		}
		if !slices.Contains(out, c.Follows) {
			out = append(out, c.Follows)
		}
	}
	return strings.Join(out, " and ")
}

// thousandths counts in the last decimal that a note may have.
func thousandths(v float64) int64 { return int64(math.Round(v * 1000)) }

func unordered(a, b claim.Claim) *diag.Problem {
	return &diag.Problem{
		ID: OrderFault, Severity: diag.Error, Place: b.Place,
		Found:    fmt.Sprintf("found %q", b.Line()),
		Expected: fmt.Sprintf("expected nothing that cannot be added to %q of another alteration", a.Line()),
		Hint:     "say in each of these alterations what it is now: Changes: " + a.Measure.String() + " to N",
		Related:  []diag.Related{{Place: a.Place, Text: "the other amount of " + a.Measure.String()}},
	}
}

// together is the union of the Only of all parts; none where a part that claims
// something has none.
func together(parts [][]claim.Claim) []claim.Claim {
	var all []claim.Claim
	for _, part := range parts {
		only := onlyOf(part)
		switch {
		case len(part) == 0: // words alone: nothing was done for them
			continue
		case len(only) == 0:
			return nil
		}
		all = append(all, only...)
	}
	if len(all) == 0 {
		return nil
	}
	out := claim.Claim{Kind: claim.Only, Place: slices.MinFunc(all, order).Place, Follows: source(all)}
	for _, c := range all {
		out.Pieces = append(out.Pieces, c.Pieces...)
	}
	slices.SortFunc(out.Pieces, piecesFirst)
	out.Pieces = slices.Compact(out.Pieces)
	return []claim.Claim{out}
}

// piecesFirst sorts pieces by name and the garment behind them.
func piecesFirst(a, b string) int {
	switch {
	case a == b:
		return 0
	case a == claim.Garment:
		return 1
	case b == claim.Garment:
		return -1
	}
	return strings.Compare(a, b)
}

func onlyOf(part []claim.Claim) []claim.Claim {
	var out []claim.Claim
	for _, c := range part {
		if c.Kind == claim.Only {
			out = append(out, c)
		}
	}
	return out
}
