package note

import (
	"slices"

	"seamkeep/pattern"
	"seamkeep/pattern/claim"
	"seamkeep/pattern/diag"
	"seamkeep/pattern/step"
)

// Doing is a step of an alteration: the value of a line "Does:".
type Doing struct {
	Entry
	Step  step.Step // where Known
	Known bool      // the step could be read
}

// readDoing reads a step.
func readDoing(e Entry) (Doing, diag.List) {
	s, problems := step.Parse(e.Text, e.Place)
	if problems.HasErrors() {
		return Doing{Entry: e}, problems
	}
	return Doing{Entry: e, Step: s, Known: true}, problems
}

// proofs gives for each group what proves each of its steps, at the place of the
// step's words. The steps of all groups are proven together: what one of them
// moves, the claims of the others do not hold still.
func (n *Note) proofs(before *pattern.Garment) [][][]claim.Claim {
	var steps []step.Step
	var from []Doing
	for _, g := range n.Groups {
		for _, d := range g.Does {
			if d.Known {
				steps, from = append(steps, d.Step), append(from, d)
			}
		}
	}
	all := step.All(steps, before)
	for i, claims := range all {
		for k := range claims {
			claims[k].Follows = "Does: " + from[i].String()
			if claims[k].Place == (diag.Place{}) {
				claims[k].Place = from[i].Place
			}
		}
	}
	out := make([][][]claim.Claim, len(n.Groups))
	for i, g := range n.Groups {
		for _, d := range g.Does {
			if d.Known {
				out[i], all = append(out[i], all[0]), all[1:]
			}
		}
	}
	return out
}

// claims gives what a group claims: what is written, and of the proofs of its
// steps what does not yield to that. Its steps were made in the order in which they stand.
func (g Group) claims(proofs [][]claim.Claim, before *pattern.Garment) ([]claim.Claim, diag.List) {
	if len(proofs) == 0 {
		return g.Claims, nil
	}
	steps, problems := proofs[0], diag.List(nil)
	if len(proofs) > 1 {
		steps, problems = compose(proofs, before, inOrder)
	}
	return append(slices.Clone(g.Claims), yielding(steps, g.Claims, before)...), problems
}

// yielding gives the claims of steps that stand beside written ones. A written
// claim on a measure counts instead of a step's on the same one. Changes of
// measures that no step speaks of show that the group did more than its steps:
// the steps' Only is dropped then, and where they are widths or an overlap, also
// that girth, worn girth and gap stay.
func yielding(steps, written []claim.Claim, before *pattern.Garment) []claim.Claim {
	spoken := map[any]bool{}
	for _, c := range steps {
		spoken[anyLevel(c.Measure)] = true
	}
	var extra []claim.Claim
	for _, c := range written {
		if c.Kind == claim.Changes && !spoken[anyLevel(c.Measure)] {
			extra = append(extra, c)
		}
	}
	var out []claim.Claim
	for _, c := range spread([][]claim.Claim{steps, written}, before)[0] {
		switch {
		case c.Kind == claim.Only && (len(extra) > 0 || len(onlyOf(written)) > 0):
		case c.Kind == claim.Keeps && slices.ContainsFunc(extra, func(x claim.Claim) bool { return roundTheBody(x, c) }):
		case c.Kind != claim.Only && answered(c, written):
		default:
			out = append(out, c)
		}
	}
	return out
}

// answered tells whether a written claim is on the measure of a step's claim.
func answered(c claim.Claim, written []claim.Claim) bool {
	every := c
	every.Measure = anyLevel(c.Measure)
	return speaks(written, c.Measure) || speaks(written, every.Measure)
}

// roundTheBody tells whether a change moves the girth, worn girth or gap that
// another claim keeps.
func roundTheBody(change, keeps claim.Claim) bool {
	switch keeps.Measure.Kind {
	case "girth", "worn", "gap":
	default:
		return false
	}
	x, y := change.Measure, keeps.Measure
	switch x.Kind {
	case "girth", "worn", "gap", "width":
		return x.Level == "" || y.Level == "" || x.Level == y.Level
	case "overlap":
		return true
	}
	return false
}

// String gives the step's words, as written where they could not be read.
func (d Doing) String() string {
	if d.Known {
		return d.Step.String()
	}
	return d.Text
}
