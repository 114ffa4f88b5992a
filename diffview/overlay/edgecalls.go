package overlay

import (
	"cmp"
	"slices"

	"seamkeep/pattern/compare"
	"seamkeep/pattern/curve"
)

// An edge's movement below calledFrom has no callout within calledNear of a
// larger one: where a corner moved, the edge beside it moved a little too.
const (
	calledFrom = 0.3  // mm
	calledNear = 10.0 // mm
)

// edgeMove is a movement of an edge that the figure may call out.
type edgeMove struct {
	compare.Move
	edge compare.EdgeChange
}

// worthCalling gives the movements of edges that get a callout, in the order of
// the rows; the others stand in the table alone.
func (f *figure) worthCalling() []edgeMove {
	var all []edgeMove
	add := func(m compare.Move, e compare.EdgeChange) {
		if new := (edgeMove{m, e}); e.Status != compare.Split || !new.calledBy(all) {
			all = append(all, new)
		}
	}
	for _, r := range f.rows {
		e := r.edge
		if !e.Redrawn() || len(e.Before) == 0 || len(e.After) == 0 {
			continue
		}
		add(e.Largest, e)
		if e.Other.Distance >= seen {
			add(e.Other, e)
		}
	}
	largest := slices.Clone(all)
	slices.SortStableFunc(largest, func(a, b edgeMove) int { return cmp.Compare(b.Distance, a.Distance) })
	var called []edgeMove
	for _, m := range largest {
		if m.Distance >= calledFrom || !m.crowdedBy(called) {
			called = append(called, m)
		}
	}
	return slices.DeleteFunc(all, func(m edgeMove) bool { return m.Distance < calledFrom && m.crowdedBy(called) })
}

// calledBy tells whether another part of an edge that was split has the same
// movement: where they meet, both moved most.
func (m edgeMove) calledBy(all []edgeMove) bool {
	return slices.ContainsFunc(all, func(o edgeMove) bool {
		return o.edge.Status == compare.Split && o.Direction == m.Direction && o.New.Dist(m.New) <= 2*compare.Still
	})
}

// crowdedBy tells whether a larger movement is called out close by.
func (m edgeMove) crowdedBy(called []edgeMove) bool {
	return slices.ContainsFunc(called, func(o edgeMove) bool {
		return o.Distance > m.Distance && o.tip().Dist(m.tip()) <= calledNear
	})
}

// tip is the place outside the piece to which the callout points.
func (m edgeMove) tip() curve.Point {
	if m.Direction == "in" {
		return m.Old
	}
	return m.New
}
