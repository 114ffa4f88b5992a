// Package describe turns loose pieces into a garment. It looks at pieces as they
// came from a drawing, with corners c1, c2 and edges e1, e2, and proposes what
// their shapes tell: names by an edge's place, the order round the body, which
// edges are sewn together, the lines that run across seams, where the garment
// may open, which notches are pairs. The maker accepts by number; what the maker
// wrote is never overwritten.
//
// The frame of the pieces is that of package pattern: y up, x towards the
// wearer's back, the waist at y = 0 where there are levels.
package describe
