package step

import (
	"slices"

	"seamkeep/pattern"
	"seamkeep/pattern/claim"
	"seamkeep/pattern/measure"
)

// Claims gives what is true of the altered garment if the step was made on before
// and nothing else was: mm per level, lengths, and which pieces alone changed.
// The last one is the Only. Every claim stands at the step's place. Amounts hold
// at the levels that they name and, by a straight line between two of these, at
// those between; beyond them they are 0, but what lies beyond the garment's own
// outermost level goes with that level. Names that before does not have, and a
// before that is nil, give few claims or none: see Check.
//
// A step speaks of its own work. Where a note has several, take All.
func Claims(s Step, before *pattern.Garment) []claim.Claim { return prove(s, before).claims }

// Unproven says in words what the claims of a step leave open, since the language
// of measures has no word for it or since it does not follow from the amounts.
func Unproven(s Step, before *pattern.Garment) []string { return prove(s, before).open }

// All gives the claims of several steps of one alteration, a list for each in
// order. What a step says stays as it was is left out where another step changes
// it by an amount that it does not state, or takes the piece or the seam away:
// truing a seam changes its length by what was wrong, an inset ends the seam that
// it is let into.
func All(steps []Step, before *pattern.Garment) [][]claim.Claim {
	proofs := make([]*proof, len(steps))
	for i, s := range steps {
		proofs[i] = prove(s, before)
	}
	out := make([][]claim.Claim, len(steps))
	for i, p := range proofs {
		for _, c := range p.claims {
			kept := []claim.Claim{c}
			for j, other := range proofs {
				if j != i {
					kept = other.yields(kept)
				}
			}
			out[i] = append(out[i], kept...)
		}
	}
	return out
}

// yields leaves out what does not hold beside this step.
func (p *proof) yields(claims []claim.Claim) []claim.Claim {
	var out []claim.Claim
	for _, c := range claims {
		switch {
		case c.Kind == claim.Only:
			out = append(out, c)
		case slices.Contains(p.gone, "seam "+c.Measure.Seam) || slices.Contains(p.gone, "piece "+c.Measure.Piece):
		case c.Kind != claim.Keeps && !c.By.Set:
			out = append(out, c)
		default:
			out = append(out, p.spread(c)...)
		}
	}
	return out
}

// spread gives the claim without the levels at which the step moves its measure.
func (p *proof) spread(c claim.Claim) []claim.Claim {
	every := c.Measure
	every.Level = ""
	if slices.Contains(p.loose, c.Measure) || slices.Contains(p.loose, every) {
		return nil
	}
	var free []string
	for _, l := range p.g.Levels {
		every.Level = l.Name
		if !slices.Contains(p.loose, every) {
			free = append(free, l.Name)
		}
	}
	if c.Measure.Level != "" || len(free) == len(p.g.Levels) {
		return []claim.Claim{c}
	}
	var out []claim.Claim
	for _, l := range free {
		if c.Measure.Level = l; p.told(c.Measure) {
			out = append(out, c)
		}
	}
	return out
}

// told tells whether a measure has a figure.
func (p *proof) told(m measure.Measure) bool {
	values, err := m.Eval(measure.Input{Garment: p.g})
	return err == nil && len(values) > 0 && values[0].Known
}
