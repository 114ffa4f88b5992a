package report

import (
	"strings"

	"seamkeep/pattern/claim"
)

// describe says in a sentence what an id means.
func (t ToolInfo) describe(id string) string {
	if s := strings.TrimSpace(Clean(t.Rules[id])); s != "" {
		return s
	}
	if s := ruleText(id); s != "" {
		return s
	}
	return "A finding that is explained where it is reported."
}

// ruleText says what the ids of checks, merges and claims mean; empty for others.
func ruleText(id string) string {
	switch id {
	case UnjudgedRule:
		return "The commit cannot be judged, since what it was made from is not here."
	case claim.Untrue:
		return "The note claims something that was measured to be otherwise."
	case claim.Untold:
		return "The note claims something that cannot be measured."
	case claim.UnclaimedID:
		return "A girth, a gap, a piece or the garment file changed and no claim of the note names it."
	case "claim.unmeasured":
		return "What the note claims was not measured, since the version before cannot be read whole."
	case claim.Contradicts:
		return "Two claims of a note cannot both be true."
	case claim.UnknownName:
		return "A claim names something that neither version has."
	case claim.KeyFault, claim.EmptyFault, claim.LongFault, claim.MeasureFault, claim.AmountFault, claim.WithinFault, claim.PieceFault:
		return "A claim of the note is not written as claims are."
	}
	for _, rule := range []func(string) string{noteRule, seamRule, shapeRule} {
		if s := rule(id); s != "" {
			return s
		}
	}
	return ""
}

func noteRule(id string) string {
	switch id {
	case "note.unseen":
		return "A line of the note stands where git sees no trailer."
	case "note.near-miss":
		return "A key of the note is nearly, but not quite, one that is measured."
	case "note.name":
		return "An alteration has no name, or one that is no name."
	case "note.empty":
		return "A line of the note says nothing."
	case "note.above-first":
		return "A line of the note stands above the alteration it belongs to."
	case "note.order":
		return "Claims of several alterations in one note cannot be added up."
	case "note.fold":
		return "A line of the note would be thrown away by git."
	case "note.offered":
		return "A line that was offered for a note was left as it stood."
	case "note.long":
		return "The message is longer than a note can be."
	case "step.unknown":
		return "A step of the note names something that the garment does not have."
	case "step.place":
		return "A step of the note cannot be made where it says."
	case "step.verb", "step.form", "step.amount", "step.name", "step.long":
		return "A step of the note is not written as steps are."
	}
	return ""
}

func seamRule(id string) string {
	switch id {
	case "seam.differs":
		return "The two sides of a seam differ by more than its tolerance."
	case "seam.segment":
		return "The two sides of a seam differ by more than its tolerance between two notches."
	case "seam.near":
		return "The two sides of a seam match, but only just."
	case "seam.broken-side":
		return "The edges of one side of a seam do not join."
	case "seam.ease-mirrored":
		return "A seam that joins an edge to its own mirror image has ease."
	case "seam.ease-zone":
		return "The ease of a seam is given between notches that do not stand on both of its sides."
	case "gap.outside":
		return "The predicted gap of a lacing is outside the wanted range."
	case "girth.presses":
		return "The garment is smaller than the body: it presses."
	case "body.absent":
		return "The body's measures are not here, so no gap is predicted."
	case "around.no-level":
		return "A piece that goes round the body lacks a level."
	case "merge.both":
		return "Both sides of a merge changed the same thing."
	case "merge.doubled":
		return "A merge brings a change twice, once from each side."
	}
	return ""
}

func shapeRule(id string) string {
	switch id {
	case "outline.crosses":
		return "An outline crosses itself."
	case "outline.clockwise":
		return "An outline runs clockwise."
	case "edge.short":
		return "An edge is too short to be meant."
	case "edge.length-stale":
		return "The length that a file records for an edge is not the true one."
	case "mark.outside":
		return "A mark lies outside its piece."
	case "notch.no-place":
		return "A notch has no place on its edge, or more than one."
	case "name.unknown":
		return "A name refers to nothing."
	case "file.left-out":
		return "A file of the pattern is no plain file, so it was left out."
	}
	return ""
}
