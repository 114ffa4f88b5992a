package alter

import (
	"math"

	"seamkeep/pattern"
	"seamkeep/pattern/check"
	"seamkeep/pattern/measure"
)

// Effect is what truing did to another seam of a piece that changed.
type Effect struct {
	Seam          string
	Before, After *measure.Walk
	Fails         bool // it was within its tolerance and is no more
}

// Effects walks the other seams that touch a piece that changed, on the garment
// as it was and as it is, and gives those whose difference changed by more than
// 0.05 mm or that now fail, in the order of the file. A seam that cannot be
// walked is left out. Lengths are within tol.
func (t *Trued) Effects(before *pattern.Garment, tol float64) []Effect {
	const seen = 0.05
	changed := map[string]bool{}
	for _, s := range t.Slid {
		changed[s.Piece] = true
	}
	var out []Effect
	for i := range before.Seams {
		s := &before.Seams[i]
		if s.Name == t.Before.Seam.Name || !touches(s, changed) {
			continue
		}
		was, fault := measure.WalkSeam(before, s, tol)
		if fault != nil {
			continue
		}
		is, fault := measure.WalkSeam(t.Garment, s, tol)
		if fault != nil {
			continue
		}
		e := Effect{Seam: s.Name, Before: was, After: is, Fails: check.Judge(before, was).OK && !check.Judge(t.Garment, is).OK}
		if e.Fails || math.Abs(is.Difference-was.Difference) > seen {
			out = append(out, e)
		}
	}
	return out
}

func touches(s *pattern.Seam, pieces map[string]bool) bool {
	for _, side := range [][]pattern.Ref{s.First, s.Second} {
		for _, r := range side {
			if pieces[r.Piece] {
				return true
			}
		}
	}
	return false
}
