package compare

import (
	"fmt"
	"math"
	"strings"

	"seamkeep/pattern"
	"seamkeep/pattern/curve"
)

// Fault is what is wrong with one of the versions, so that its figures mean
// little. Faults of outlines are looked for only in pieces that differ.
type Fault struct {
	Piece string // as PieceChange names it, or as it was before a split or a join; empty: the whole version
	After bool   // it is the later version's fault
	Why   string // a clause without full stop: "its outline runs clockwise"
}

// Version says which version the fault is in: "before" or "after".
func (f Fault) Version() string {
	if f.After {
		return "after"
	}
	return "before"
}

// Sentence tells the fault: "back in the later version is faulty: edge front
// crosses edge hem at 10.0 20.0", "the earlier version has no pieces".
func (f Fault) Sentence() string {
	version := "the earlier version"
	if f.After {
		version = "the later version"
	}
	if f.Piece != "" {
		version = f.Piece + " in " + version + " is faulty"
	}
	if rest, ok := strings.CutPrefix(f.Why, "it "); ok && f.Piece == "" {
		return version + " " + rest
	}
	return version + ": " + f.Why
}

// FaultsOf gives the faults of a piece in either version.
func (c *Change) FaultsOf(piece string) []Fault {
	var out []Fault
	for _, f := range c.Faults {
		if f.Piece == piece {
			out = append(out, f)
		}
	}
	return out
}

// unread tells whether a version is missing because it could not be read.
func (c *Change) unread(after bool) bool {
	for _, f := range c.Faults {
		if f.After == after && f.Piece == "" {
			return true
		}
	}
	return false
}

// NoPieces is the fault of a version without a single piece, but for an earlier
// one when the later one has some.
const NoPieces = "it has no pieces"

// first tells whether the later version has the first pieces of a garment that
// had none yet, which is no fault.
func (c *Change) first() bool {
	return c.Before != nil && len(c.Before.Pieces) == 0 && c.After != nil && len(c.After.Pieces) > 0
}

// Span is the greatest width or height, in mm, that is believed of one piece:
// common practice, no source. What is larger was drawn in another unit or has
// a number with a slip of the point.
const Span = 10000

// faults finds what is wrong with the versions: first the whole ones, then
// piece by piece, the earlier version before the later one.
func (c *Change) faults() []Fault {
	var out []Fault
	for _, v := range []struct {
		g     *pattern.Garment
		after bool
	}{{c.Before, false}, {c.After, true}} {
		if v.g != nil && len(v.g.Pieces) == 0 && (v.after || !c.first()) {
			out = append(out, Fault{After: v.after, Why: NoPieces})
		}
	}
	seen := map[*pattern.Piece]bool{}
	look := func(name string, p *pattern.Piece, after bool) {
		if p == nil || seen[p] {
			return
		}
		seen[p] = true
		if why := outlineFault(p); why != "" {
			out = append(out, Fault{name, after, why})
		}
	}
	for _, p := range c.Pieces {
		if p.Status == Unchanged {
			continue
		}
		look(p.Name, p.Before, false)
		if p.Before == nil && c.Before != nil {
			for _, was := range p.Was {
				look(was, c.Before.Piece(was), false)
			}
		}
		look(p.Name, p.After, true)
	}
	return out
}

// outlineFault says what is wrong with an outline; "" where nothing is.
func outlineFault(p *pattern.Piece) string {
	if n, m := len(p.Corners), len(p.Edges); n != m || n < 2 {
		return fmt.Sprintf("%s and %s make no outline", count(n, "corner"), count(m, "edge"))
	}
	ring := p.Outline()
	if !finite(ring) {
		return "a number of its outline is no measure"
	}
	box := ring.Bounds()
	if size := max(box.Width(), box.Height()); !(size <= Span) {
		return fmt.Sprintf("it is %.1f m large, more than %d m", size/1000, Span/1000)
	}
	edges := make([]int, 0, len(ring)) // of each segment
	for i := range p.Edges {
		path := p.EdgePath(i)
		if path.Length(Still) < Still {
			return fmt.Sprintf("edge %s has no length", p.Edges[i].Name)
		}
		for range path {
			edges = append(edges, i)
		}
	}
	if crossings := ring.SelfCrossings(); len(crossings) > 0 {
		return crossed(p, edges, crossings)
	}
	switch area := ring.Area(); {
	case math.Abs(area) < Still:
		return "its outline encloses nothing"
	case area < 0:
		return "its outline runs clockwise: it lies mirrored, or its corners are in the opposite order"
	}
	return ""
}

// crossed tells where an outline first meets itself; edges gives the edge of
// each of its segments.
func crossed(p *pattern.Piece, edges []int, crossings []curve.SelfCrossing) string {
	first := crossings[0]
	a, b := p.Edges[edges[first.SegA]].Name, p.Edges[edges[first.SegB]].Name
	what := "edge " + b
	if a == b {
		what = "itself"
	}
	text := fmt.Sprintf("edge %s crosses %s at %.1f %.1f", a, what, first.Point.X, first.Point.Y)
	if n := len(crossings) - 1; n > 0 {
		text += fmt.Sprintf(", and %s more", count(n, "crossing"))
	}
	return text
}

func finite(ring curve.Path) bool {
	for _, s := range ring {
		for _, p := range []curve.Point{s.P0, s.P1, s.P2, s.P3} {
			if math.IsNaN(p.X+p.Y) || math.IsInf(p.X, 0) || math.IsInf(p.Y, 0) {
				return false
			}
		}
	}
	return true
}
