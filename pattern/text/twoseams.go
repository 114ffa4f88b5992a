package text

import (
	"fmt"
	"sort"

	"seamkeep/pattern"
	"seamkeep/pattern/diag"
)

// spanSlack is how far two spans of an edge may overlap, in mm: their ends are
// notches, whose places are rounded.
const spanSlack = 0.01

// edgeUse is one mention of an edge in a seam.
type edgeUse struct {
	seam     string
	ref      pattern.Ref
	from, to float64 // mm along the edge
}

// twoSeams finds edges that lie in two seams, or twice in one. Spans are
// compared on the cloth, unless the garment is faulty.
func (c *nameChecker) twoSeams(faulty bool) {
	uses := map[string][]edgeUse{}
	var order []string
	for _, s := range c.g.Seams {
		for _, side := range [][]pattern.Ref{s.First, s.Second} {
			for _, r := range side {
				if p := c.g.Piece(r.Piece); p == nil || !c.known.edge(p, r.Edge) {
					continue
				}
				key := r.Piece + "." + r.Edge
				if uses[key] == nil {
					order = append(order, key)
				}
				uses[key] = append(uses[key], edgeUse{seam: s.Name, ref: r})
			}
		}
	}
	for _, key := range order {
		if list := uses[key]; len(list) > 1 && !c.wholeTwice(list) && !faulty {
			c.spansMeet(list)
		}
	}
}

// wholeTwice reports further uses of an edge that one seam takes whole.
func (c *nameChecker) wholeTwice(list []edgeUse) bool {
	for _, u := range list {
		if u.ref.From != "" {
			continue
		}
		for _, more := range list[1:] {
			c.twice(list[0], more)
		}
		return true
	}
	return false
}

// spansMeet reports spans of one edge that overlap.
func (c *nameChecker) spansMeet(list []edgeUse) {
	var placed []edgeUse
	at := map[string]float64{}
	for _, u := range list {
		if c.place(&u, at) {
			placed = append(placed, u)
		}
	}
	sort.SliceStable(placed, func(i, j int) bool { return placed[i].from < placed[j].from })
	for i := 1; i < len(placed); i++ {
		far, u := placed[i-1], placed[i]
		if u.from < far.to-spanSlack {
			if u.ref.Place.Line < far.ref.Place.Line {
				far, u = u, far
			}
			c.twice(far, u)
		}
		if placed[i].to < placed[i-1].to {
			placed[i].to, placed[i].ref, placed[i].seam = placed[i-1].to, placed[i-1].ref, placed[i-1].seam
		}
	}
}

// place finds where a span lies; false where a notch has no place. The places
// of the edge's notches are kept in at.
func (c *nameChecker) place(u *edgeUse, at map[string]float64) bool {
	p, i, ok := c.g.Edge(u.ref)
	if !ok || len(p.Corners) != len(p.Edges) {
		return false
	}
	for _, name := range []string{u.ref.From, u.ref.To} {
		if _, placed := at[name]; placed {
			continue
		}
		n := p.NotchIndex(u.ref.Edge, name)
		if n < 0 {
			return false
		}
		d, err := c.g.SpotAt(p, i, p.Notches[n].On, 1e-6)
		if err != nil {
			return false
		}
		at[name] = d
	}
	a, b := at[u.ref.From], at[u.ref.To]
	u.from, u.to = min(a, b), max(a, b)
	return true
}

func (c *nameChecker) twice(first, more edgeUse) {
	name := more.ref.Piece + "." + more.ref.Edge
	p := diag.Problem{
		ID: IDEdgeTwice, Place: more.ref.Place, Subject: name,
		Found:    fmt.Sprintf("found edge %s in seam %s and again in seam %s", name, first.seam, more.seam),
		Expected: "expected an edge in one seam, or in several with spans that keep apart",
		Hint:     "a span is written: " + name + " from NOTCH to NOTCH",
		Related:  []diag.Related{{Place: first.ref.Place, Text: "first in seam " + first.seam}},
	}
	if first.seam == more.seam {
		p.Found = fmt.Sprintf("found edge %s twice in seam %s", name, more.seam)
	}
	c.add(p)
}
