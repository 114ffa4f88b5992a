package note

import (
	"slices"

	"seamkeep/pattern"
	"seamkeep/pattern/claim"
	"seamkeep/pattern/diag"
)

// Doing is a step of an alteration: the value of a line "Does:".
type Doing struct {
	Entry
	Known bool // the step could be read
}

// readDoing reads a step.
func readDoing(e Entry) (Doing, diag.List) {
	return Doing{Entry: e}, nil
}

func (d Doing) claims(before *pattern.Garment) []claim.Claim { return nil }

// claims gives what a group claims: what is written, and of its steps what does
// not yield to that.
func (g Group) claims(before *pattern.Garment) ([]claim.Claim, diag.List) {
	var parts [][]claim.Claim
	for _, d := range g.Does {
		if d.Known {
			parts = append(parts, d.claims(before))
		}
	}
	var problems diag.List
	var steps []claim.Claim
	switch len(parts) {
	case 0:
		return g.Claims, nil
	case 1:
		steps = parts[0]
	default:
		steps, problems = compose(parts, before)
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

// String gives the step's words.
func (d Doing) String() string { return d.Text }
