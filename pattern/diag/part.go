package diag

import (
	"cmp"
	"slices"
)

// Part is one of the places at which a finding of several holds, and how bad it is
// there, in the finding's own unit. At is a name that stays while others come and go:
// PIECE.CORNER, PIECE.MARK, a notch.
type Part struct {
	At     string
	Amount float64
}

// AddPart notes how bad a finding is at a place. What is found there twice counts as its sum.
func (p *Problem) AddPart(at string, amount float64) {
	for i := range p.Parts {
		if p.Parts[i].At == at {
			p.Parts[i].Amount += amount
			return
		}
	}
	p.Parts = append(p.Parts, Part{at, amount})
	slices.SortStableFunc(p.Parts, func(a, b Part) int { return cmp.Compare(a.At, b.At) })
}

// NoWorse tells whether a finding is no worse than another of its address by more than
// slack: at each of its places where both have several, else as a whole.
func (p Problem) NoWorse(than Problem, slack float64) bool {
	if len(p.Parts) > 0 && len(than.Parts) > 0 {
		return len(Worse(than.Parts, p.Parts, slack)) == 0
	}
	return p.Amount <= than.Amount+slack
}

// Worse gives the parts of now that before lacks, or that are worse than there by more
// than slack, with by how much.
func Worse(before, now []Part, slack float64) []Part {
	var out []Part
	for _, p := range now {
		was, there := at(before, p.At)
		if !there || !(p.Amount <= was+slack) {
			out = append(out, Part{p.At, p.Amount - was})
		}
	}
	return out
}

// Gone gives the parts of before that now lacks.
func Gone(before, now []Part) []Part {
	var out []Part
	for _, p := range before {
		if _, there := at(now, p.At); !there {
			out = append(out, p)
		}
	}
	return out
}

func at(list []Part, place string) (amount float64, there bool) {
	i := slices.IndexFunc(list, func(p Part) bool { return p.At == place })
	if i < 0 {
		return 0, false
	}
	return list[i].Amount, true
}
