package check

import (
	"fmt"
	"slices"
	"strings"

	"seamkeep/pattern"
	"seamkeep/pattern/check/findings"
	"seamkeep/pattern/diag"
)

// AcceptedSlack is how much worse than recorded, in the finding's own unit, an
// accepted finding may get.
const AcceptedSlack = 0.05

// Acceptable tells whether a finding of this id may be accepted in the garment file:
// what is a matter of fit or of judgement, never a fault of a file or an outline, nor
// one that leaves something unmeasured.
func Acceptable(id string) bool {
	switch id {
	case "seam.ease-mixed", "seam.edge-twice", "seam.broken-side", "seam.ease-mirrored", "seam.ease-zone", "seam.warn-above",
		"notch.no-place", "around.apart", "closure.kind":
		return false
	}
	family, _, _ := strings.Cut(id, ".")
	return slices.Contains([]string{
		"seam", "run", "notch", "bone", "cord", "closure", "buttons", "eyelets", "gap", "around", "grain", "cloth",
	}, family)
}

// grade orders the findings that ask one question of one seam by their weight; 0 for
// all others.
func grade(id string) int {
	return slices.Index([]string{"", "seam.near", "seam.segment", "seam.differs"}, id)
}

// AsksSame tells whether two ids ask the same of their subject: one id, or findings
// that differ only in weight.
func AsksSame(a, b string) bool { return a == b || grade(a) > 0 && grade(b) > 0 }

// settles tells whether a record accepts a finding about its own subject: of its id,
// or of a lighter one that asks the same, and no worse than recorded, place by place where
// the record names places.
func settles(a pattern.Accepted, id string, amount float64, parts []diag.Part) bool {
	if !AsksSame(a.ID, id) || grade(id) > grade(a.ID) {
		return false
	}
	if len(a.Parts) == 0 {
		return amount <= a.Amount+AcceptedSlack
	}
	return len(parts) > 0 && len(diag.Worse(a.Parts, parts, AcceptedSlack)) == 0
}

// accept makes notes of the findings that the garment file accepts, and finds fault
// with records that accept nothing.
func accept(in Input, all diag.List) diag.List {
	if len(in.Garment.Accepted) == 0 {
		return all
	}
	about := map[string][]int{}
	blind := false // something could not be measured, so that a finding may be missing
	for i, x := range all {
		about[x.Subject] = append(about[x.Subject], i)
		blind = blind || x.Severity == diag.Error && !Acceptable(x.ID)
	}
	var faults diag.List
	known, settled := findings.IDs(), map[int]bool{}
	for _, a := range in.Garment.Accepted {
		if fault := unacceptable(a, known, len(faults) < maxNearest); fault != nil {
			faults = append(faults, *fault)
			continue
		}
		met, gone := false, a.Parts
		for _, i := range about[a.Subject] {
			if AsksSame(a.ID, all[i].ID) {
				met, gone = true, diag.Gone(gone, all[i].Parts)
				settle(in, a, &all[i], settled, i)
			}
		}
		unknowable := blind || strings.HasPrefix(a.ID, "gap.") && in.Body == nil
		switch {
		case unknowable:
		case !met:
			faults = append(faults, idle(a))
		case len(gone) > 0:
			faults = append(faults, idleParts(a, gone))
		}
	}
	return append(all, faults...)
}

// settle makes a note of finding i, or tells that it got worse.
func settle(in Input, a pattern.Accepted, x *diag.Problem, settled map[int]bool, i int) {
	line := a.Place
	line.Column = 0
	id := x.ID
	if w := in.walked.of[x.Subject]; w != nil && grade(id) > 0 {
		id = Judge(in.Garment, w).graced(id)
	}
	switch {
	case settled[i]:
	case settles(a, id, x.Amount, x.Parts):
		settled[i] = true
		x.Severity, x.Hint, x.Related = diag.Note, "", nil
		x.Expected = fmt.Sprintf("accepted: %s (%s)", a.Reason, line)
	case len(a.Parts) > 0 && grade(id) <= grade(a.ID):
		x.Related = append(x.Related, worseParts(a, x.Parts)...)
	case x.Amount > a.Amount:
		x.Related = append(x.Related, diag.Related{Place: a.Place, Text: fmt.Sprintf("accepted up to %g; it got worse by %.2f", a.Amount, x.Amount-a.Amount)})
	default:
		x.Related = append(x.Related, diag.Related{Place: a.Place, Text: "accepted only as " + a.ID})
	}
}

// worseParts says at which places a finding is new or worse than the record lets it be.
func worseParts(a pattern.Accepted, parts []diag.Part) []diag.Related {
	if len(parts) == 0 {
		return []diag.Related{{Place: a.Place, Text: "accepted by its places, of which it names none"}}
	}
	var out []diag.Related
	for _, w := range diag.Worse(a.Parts, parts, AcceptedSlack) {
		text := fmt.Sprintf("not accepted at %s: %.2f there", w.At, w.Amount)
		if i := slices.IndexFunc(a.Parts, func(p diag.Part) bool { return p.At == w.At }); i >= 0 {
			text = fmt.Sprintf("accepted up to %g at %s; it got worse there by %.2f", a.Parts[i].Amount, w.At, w.Amount)
		}
		out = append(out, diag.Related{Place: a.Place, Text: text})
	}
	return out
}

func acceptProblem(id string, a pattern.Accepted) diag.Problem {
	return diag.Problem{ID: id, Severity: diag.Warning, Place: a.Place, Subject: a.Subject}
}

// maxNearest bounds for how many unknown ids the nearest known one is looked for: a
// garment from somewhere else may have very many.
const maxNearest = 100

// unacceptable says why a record can accept nothing, nil where it can; known are the
// ids that there are, in order, and nearest asks to name the one that is most alike.
func unacceptable(a pattern.Accepted, known []string, nearest bool) *diag.Problem {
	if _, found := slices.BinarySearch(known, a.ID); !found {
		x := acceptProblem("accept.unknown", a)
		x.Found, x.Expected = "found "+a.ID+", which no finding has as its id", "the id of one that can be accepted"
		if !nearest {
			return &x
		}
		if near := diag.Nearest(a.ID, known); near != "" {
			x.Expected += fmt.Sprintf(" (nearest: %q)", near)
		}
		return &x
	}
	if Acceptable(a.ID) {
		return nil
	}
	x := acceptProblem("accept.never", a)
	x.Found, x.Expected = a.ID+" cannot be accepted", "that it is mended"
	x.Hint = "mend it and take the line out of the garment file"
	return &x
}

func idle(a pattern.Accepted) diag.Problem {
	x := acceptProblem("accept.idle", a)
	x.Found, x.Expected = "there is no "+a.Address()+" to accept any more", "only what is there"
	x.Hint = "take the line out of the garment file"
	return x
}

// idleParts tells the places of a record at which its finding does not hold any more.
func idleParts(a pattern.Accepted, gone []diag.Part) diag.Problem {
	x := acceptProblem("accept.idle", a)
	var places []string
	for _, p := range gone {
		places = append(places, p.At)
		x.AddPart(p.At, p.Amount)
	}
	x.Found = fmt.Sprintf("there is no %s at %s to accept any more", a.Address(), strings.Join(places, ", "))
	x.Expected = "only the places where it is"
	x.Hint = fmt.Sprintf("take at %s out of the line, with its number", strings.Join(places, " and at "))
	return x
}
