package claim

import (
	"fmt"
	"slices"
	"strings"

	"seamkeep/pattern/compare"
)

// judgeOnly tells the pieces, and the garment file, that changed though none of
// the Only claims names them.
func (b bench) judgeOnly(c Claim, named []string) Result {
	r := Result{Claim: c, Claimed: c.claimed()}
	var also, changed, where []string
	for _, p := range b.change.ChangedPieces() {
		changed = append(changed, p.Name)
		if !covers(named, p) {
			also = append(also, p.Name)
			where = append(where, p.Sentence())
		}
	}
	if garmentChanged(b.change) {
		changed = append(changed, Garment)
		if !slices.Contains(named, Garment) {
			also = append(also, Garment)
			where = append(where, records(b.change.Records))
		}
	}
	r.OK = len(also) == 0
	r.Where = shortened(where)
	r.Notes = b.idle(c)
	switch {
	case !r.OK:
		r.Measured = "also changed: " + strings.Join(also, ", ")
	case len(changed) == 0:
		r.Measured = "nothing changed"
	default:
		r.Measured = "changed: " + strings.Join(changed, ", ")
	}
	return r
}

// records tells the first of what changed in the garment file, and how much more.
func records(list []string) string {
	const most = 4
	text := "the garment file changed"
	if len(list) == 0 {
		return text
	}
	shown := list[:min(most, len(list))]
	text += ": " + strings.Join(shown, ", ")
	if more := len(list) - len(shown); more > 0 {
		text += fmt.Sprintf(", and %d more", more)
	}
	return text
}

// garmentChanged tells whether the garment file says something else, came or went.
func garmentChanged(c *compare.Change) bool {
	return len(c.Records) > 0 || (c.Before == nil) != (c.After == nil)
}

// covers tells whether the names name a piece: as it is called now or, where it
// was only renamed, as it was called.
func covers(names []string, p compare.PieceChange) bool {
	if slices.Contains(names, p.Name) {
		return true
	}
	return p.Before != nil && slices.Contains(names, p.Before.Name)
}

// idle tells of the names of a claim that nothing changed under.
func (b bench) idle(c Claim) []string {
	var out []string
	for _, name := range c.Pieces {
		if name == Garment {
			if !garmentChanged(b.change) {
				out = append(out, "the garment file is named and did not change")
			}
			continue
		}
		touched := false
		for _, p := range b.change.ChangedPieces() {
			touched = touched || p.Name == name || slices.Contains(p.Was, name)
		}
		if !touched {
			out = append(out, name+" is named and did not change")
		}
	}
	return out
}

// shortened gives at most MaxWhere sentences; the last one counts the others.
func shortened(sentences []string) []string {
	if len(sentences) <= MaxWhere {
		return sentences
	}
	out := slices.Clone(sentences[:MaxWhere-1])
	return append(out, fmt.Sprintf("and %d more", len(sentences)-MaxWhere+1))
}
