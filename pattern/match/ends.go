package match

import (
	"slices"

	"seamkeep/pattern/curve"
)

// byEnds finds the edges into which points were drawn that do not lie on them,
// and those from which such points were taken: the edges between the same two
// corners, of which one may have been matched already, if they all run along the
// edge: a vent that was put in runs across it.
func (f *edgeFinder) byEnds(corners *pairing) {
	for i := range f.old.paths {
		f.drawnInto(f.old, f.new, i, corners.before, f.openOld, f.openNew, func(m *EdgeMatch) (x, y *[]int) { return &m.Before, &m.After })
	}
	for j := range f.new.paths {
		f.drawnInto(f.new, f.old, j, corners.after, f.openNew, f.openOld, func(m *EdgeMatch) (x, y *[]int) { return &m.After, &m.Before })
	}
}

// drawnInto looks for the edges of y that edge i of x became; to gives the
// corners of y that are those of x, sides the edges of a match in x and in y.
func (f *edgeFinder) drawnInto(x, y *outline, i int, to []int, openX, openY []bool, sides func(*EdgeMatch) (x, y *[]int)) {
	start, end := to[i], to[x.next(i)]
	if start < 0 || end < 0 {
		return
	}
	partner, group := f.partnerOf(i, sides)
	if !openX[i] && partner < 0 {
		return
	}
	var chain []int
	for j := start; j != end; j = y.next(j) {
		if !openY[j] && j != partner {
			return
		}
		if !alongside(y.paths[j], y.lengths[j], x.paths[i]) {
			return
		}
		chain = append(chain, j)
	}
	if len(chain) < 2 || partner >= 0 && !slices.Contains(chain, partner) {
		return
	}
	if partner < 0 {
		f.groups = append(f.groups, EdgeMatch{How: ByCorners})
		group = len(f.groups) - 1
	}
	one, many := sides(&f.groups[group])
	*one, *many = []int{i}, chain
	openX[i] = false
	for _, j := range chain {
		openY[j] = false
	}
}

// leastAlong is the cosine of 40 degrees, the greatest angle by which an edge may
// turn from the one that it was split off: common practice, no source.
const leastAlong = 0.766

// alongside tells whether an edge runs much the way in which a path runs beside
// its middle.
func alongside(edge curve.Path, length float64, path curve.Path) bool {
	way, ok := edge.End().Sub(edge.Start()).Unit()
	n := path.Nearest(edge.PointAt(length/2, lengthTol))
	if !ok || n.Seg < 0 || n.Seg >= len(path) {
		return false
	}
	along, ok := path[n.Seg].Tangent(n.T)
	return ok && way.Dot(along) >= leastAlong
}

// partnerOf gives the one edge that an edge was matched with, if it does not lie
// where it lay, and the match; -1 where there is none.
func (f *edgeFinder) partnerOf(i int, sides func(*EdgeMatch) (x, y *[]int)) (partner, group int) {
	for g := range f.groups {
		m := &f.groups[g]
		if one, other := sides(m); len(*one) == 1 && (*one)[0] == i && len(*other) == 1 && !m.Lies {
			return (*other)[0], g
		}
	}
	return -1, -1
}
