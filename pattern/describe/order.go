package describe

import (
	"math"
	"sort"

	"seamkeep/pattern"
)

// link is a back side that fits the front side of another piece.
type link struct {
	a, b int // indices of panels
	off  float64
}

// proposeOrder finds the order of the panels, and proposes it and the seams.
func (d *draft) proposeOrder() {
	next, bound := d.sewn()
	clear, open := d.matched(next, bound)
	order, known := d.decide(next, clear, len(open) == 0)
	if known {
		for _, i := range order {
			d.order = append(d.order, d.panels[i])
		}
		d.proposeAround()
		for k := 1; k < len(order); k++ {
			d.proposeSeam(link{a: order[k-1], b: order[k]})
		}
		return
	}
	for _, l := range clear {
		d.proposeSeam(l)
	}
	d.askSeams(open)
}

// sewn gives which panel each is sewn to at its back already, -1 for none, and
// which edges are in a seam.
func (d *draft) sewn() (next []int, bound map[string]bool) {
	next, bound = make([]int, len(d.panels)), map[string]bool{}
	backs, fronts := map[string]int{}, map[string]int{}
	for i, p := range d.panels {
		next[i] = -1
		for _, r := range p.back.refs() {
			backs[key(r)] = i
		}
		for _, r := range p.front.refs() {
			fronts[key(r)] = i
		}
	}
	for _, s := range d.g.Seams {
		for _, sides := range [2][2][]pattern.Ref{{s.First, s.Second}, {s.Second, s.First}} {
			for _, r := range sides[0] {
				bound[key(r)] = true
				for _, q := range sides[1] {
					i, isBack := backs[key(r)]
					j, isFront := fronts[key(q)]
					if isBack && isFront && i != j {
						next[i] = j
					}
				}
			}
		}
	}
	return next, bound
}

func key(r pattern.Ref) string { return r.Piece + "." + r.Edge }

func isBound(bound map[string]bool, s side) bool {
	for _, r := range s.refs() {
		if bound[key(r)] {
			return true
		}
	}
	return false
}

// mostPairs bounds the pairs of sides that are compared.
const mostPairs = 1 << 16

// fits lists all free back sides with the free front sides that agree with them,
// the best first.
func (d *draft) fits(bound map[string]bool) []link {
	var list []link
	if len(d.panels)*len(d.panels) > mostPairs {
		return nil
	}
	for i, a := range d.panels {
		if !a.back.known() || isBound(bound, a.back) {
			continue
		}
		for j, b := range d.panels {
			if i == j || !b.front.known() || isBound(bound, b.front) {
				continue
			}
			if off := misfit(a.backHeld, b.frontHeld); off <= Agree {
				list = append(list, link{i, j, off})
			}
		}
	}
	sort.SliceStable(list, func(x, y int) bool { return list[x].off < list[y].off })
	return list
}

// matching pairs sides by their lengths.
type matching struct {
	byA, byB map[int][]link // the best first
	takenA   map[int]bool
	takenB   map[int]bool
	chain    []int // which panel follows each; -1 for none
}

// matched pairs sides by their lengths alone, the best first. A pair is clear
// where no other side fits one of the two nearly as well; the others come back
// as open.
func (d *draft) matched(next []int, bound map[string]bool) (clear, open []link) {
	all := d.fits(bound)
	m := matching{byA: map[int][]link{}, byB: map[int][]link{}, takenA: map[int]bool{}, takenB: map[int]bool{}, chain: append([]int{}, next...)}
	for _, l := range all {
		m.byA[l.a] = append(m.byA[l.a], l)
		m.byB[l.b] = append(m.byB[l.b], l)
	}
	for found := true; found; {
		found, open = false, open[:0]
		for _, l := range all {
			switch {
			case !m.free(l):
			case m.rivals(l):
				open = append(open, l)
			default:
				m.takenA[l.a], m.takenB[l.b], m.chain[l.a] = true, true, l.b
				clear, found = append(clear, l), true
			}
		}
	}
	return clear, open
}

// free tells whether both sides of a pair are, and whether it closes no ring.
func (m *matching) free(l link) bool {
	return !m.takenA[l.a] && !m.takenB[l.b] && !leadsTo(m.chain, l.b, l.a)
}

// rivals tells whether another free side fits one of a pair nearly as well.
func (m *matching) rivals(l link) bool {
	for _, list := range [][]link{m.byA[l.a], m.byB[l.b]} {
		for _, o := range list {
			if o.off >= l.off+clearly {
				break
			}
			if o != l && m.free(o) {
				return true
			}
		}
	}
	return false
}

// leadsTo follows the chain from a panel: whether it comes to another.
func leadsTo(chain []int, from, to int) bool {
	for steps := 0; from >= 0 && steps <= len(chain); steps++ {
		if from == to {
			return true
		}
		from = chain[from]
	}
	return false
}

// decide gives the order of the panels: that which the garment says, that of the
// sheet where the edges agree with it at least as well as with any other, or that
// of the edges where they leave no question.
func (d *draft) decide(next []int, clear []link, certain bool) ([]int, bool) {
	if len(d.g.Around) > 0 {
		return d.written()
	}
	if len(d.panels) == 0 {
		return nil, false
	}
	chain := append([]int{}, next...)
	for _, l := range clear {
		chain[l.a] = l.b
	}
	order, whole := path(chain)
	if sheet, ok := d.fromSheet(); ok {
		links := 0
		for _, to := range chain {
			if to >= 0 {
				links++
			}
		}
		// without levels the order is not written: the next run has to find it again
		n := d.agreeing(sheet, next)
		if n >= links && (len(d.g.Levels) > 0 || n == len(sheet)-1) {
			return sheet, true
		}
	}
	return order, whole && certain
}

// written is the order that the garment file gives; pieces that are no panels
// break it.
func (d *draft) written() ([]int, bool) {
	var order []int
	for _, m := range d.g.Around {
		for i, p := range d.panels {
			if p.piece.Name == m.Name {
				order = append(order, i)
			}
		}
	}
	return order, len(order) == len(d.g.Around)
}

// path orders panels that one chain joins.
func path(chain []int) (order []int, whole bool) {
	entered := make([]bool, len(chain))
	for _, to := range chain {
		if to >= 0 {
			entered[to] = true
		}
	}
	for i := range chain {
		if entered[i] {
			continue
		}
		for at := i; at >= 0 && len(order) < len(chain); at = chain[at] {
			order = append(order, at)
		}
		return order, len(order) == len(chain)
	}
	return nil, false
}

// fromSheet orders the panels as they lay on the sheet; false where one of them
// did not, or two lay above each other.
func (d *draft) fromSheet() ([]int, bool) {
	order := make([]int, len(d.panels))
	at := make([]float64, len(d.panels))
	for i, p := range d.panels {
		x, ok := d.hints.SheetX[p.piece.Name]
		if !ok || math.IsNaN(x) {
			return nil, false
		}
		order[i], at[i] = i, x
	}
	sort.SliceStable(order, func(i, j int) bool { return at[order[i]] < at[order[j]] })
	for k := 1; k < len(order); k++ {
		if at[order[k]]-at[order[k-1]] < 1 {
			return nil, false
		}
	}
	return order, true
}

// agreeing counts the neighbours that are sewn or could be.
func (d *draft) agreeing(order, next []int) int {
	n := 0
	for k := 1; k < len(order); k++ {
		a, b := d.panels[order[k-1]], d.panels[order[k]]
		if next[order[k-1]] == order[k] || a.back.known() && b.front.known() && misfit(a.backHeld, b.frontHeld) <= Agree {
			n++
		}
	}
	return n
}

// proposeAround lists the panels front to back, where the garment has levels at
// which a girth can be taken.
func (d *draft) proposeAround() {
	if len(d.g.Around) > 0 || len(d.g.Levels) == 0 {
		return
	}
	list := names(d.order)
	d.add(Proposal{Kind: OfAround, Sentence: "around, front to back: " + words(list), Change: Change{Around: list}})
}
