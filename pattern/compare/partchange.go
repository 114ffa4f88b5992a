package compare

import (
	"fmt"
	"math"
	"strings"

	"seamkeep/pattern"
	"seamkeep/pattern/curve"
	"seamkeep/pattern/match"
)

// Kinds of parts that are no marks.
const (
	Corner = "corner"
	Notch  = "notch"
)

// PartChange is what became of a corner, a notch or a mark of a piece. Its Status
// is Unchanged, Renamed, Moved, Changed, Added or Removed. A notch that is given
// as it was did not move, though its edge may have moved with it.
type PartChange struct {
	Kind          string // Corner, Notch, or the kind of a mark: "bone"
	Name          string // its later name; its earlier one where it went
	Was           string // its earlier name, where it has another one now
	Edge          string // of a notch: the edge that it is on; the earlier one where it went
	WasEdge       string // of a notch: the edge that it was on, where that has another name or is another edge
	Status        Status
	Distance      float64     // mm that it moved on the cloth, a notch along its edge, the line of a mark at its farthest place (Hausdorff); 0 up to twice Still
	From, To      curve.Point // where it moved by that much, in the frame of the later version; zero where it did not move
	Before, After int         // its place in the lists of the two pieces; -1 where that version lacks it

	strayed bool // a notch on another edge than it was
}

// Words tell what became of the part: "corner top-back is called neck-corner
// now", "bone b1 moved 6.0 and changed"; "" where nothing did, and for a corner
// that moved, which its edges tell.
func (p PartChange) Words() string {
	name, edge := p.Name, p.Edge
	if p.Was != "" {
		name = p.Was
	}
	if p.strayed {
		edge = p.WasEdge
	}
	if edge != "" {
		name += " on " + edge
	}
	name = p.Kind + " " + name
	switch p.Status {
	case Added:
		return name + " added"
	case Removed:
		return name + " lost"
	}
	var parts []string
	if p.Was != "" {
		parts = append(parts, "is called "+p.Name+" now")
	}
	if p.strayed {
		parts = append(parts, "is on "+p.Edge+" now")
	}
	switch {
	case p.Distance == 0 || p.Kind == Corner:
	case p.Distance < Seen:
		parts = append(parts, "moved by less than 0.05")
	default:
		parts = append(parts, fmt.Sprintf("moved %.1f", p.Distance))
	}
	if p.Status == Changed && !p.strayed {
		parts = append(parts, "changed")
	}
	if len(parts) == 0 {
		return ""
	}
	return name + " " + strings.Join(parts, " and ")
}

// settle gives the part its status, from what was found.
func (p *PartChange) settle(otherwise bool) {
	switch {
	case otherwise || p.strayed:
		p.Status = Changed
	case p.Distance > 0:
		p.Status = Moved
	case p.Was != "":
		p.Status = Renamed
	default:
		p.Status = Unchanged
	}
}

// goes takes a movement, unless it is what rounding does.
func (p *PartChange) goes(distance float64, from, to curve.Point) {
	if distance > 2*Still {
		p.Distance, p.From, p.To = distance, from, to
	}
}

// partsOf lists the parts of a piece, as they stand in its lists.
func partsOf(p *pattern.Piece) (corners, notches, marks []PartChange) {
	for _, c := range p.Corners {
		corners = append(corners, PartChange{Kind: Corner, Name: c.Name})
	}
	for _, n := range p.Notches {
		notches = append(notches, PartChange{Kind: Notch, Name: n.Name, Edge: n.Edge.Name})
	}
	for _, m := range p.Marks {
		marks = append(marks, PartChange{Kind: string(m.Kind), Name: m.Name})
	}
	return corners, notches, marks
}

// sharedParts gives the parts of a piece that is one and the same in both
// versions.
func sharedParts(p *pattern.Piece) []PartChange {
	out := make([]PartChange, 0, len(p.Corners)+len(p.Notches)+len(p.Marks))
	corners, notches, marks := partsOf(p)
	for _, list := range [][]PartChange{corners, notches, marks} {
		for i, c := range list {
			c.Status, c.Before, c.After = Unchanged, i, i
			out = append(out, c)
		}
	}
	return out
}

// lonelyParts gives the parts of a piece that only one version has.
func lonelyParts(before, after *pattern.Piece) []PartChange {
	var out []PartChange
	if after != nil {
		for _, c := range sharedParts(after) {
			c.Status, c.Before = Added, -1
			out = append(out, c)
		}
	}
	if before != nil {
		for _, c := range sharedParts(before) {
			c.Status, c.After = Removed, -1
			out = append(out, c)
		}
	}
	return out
}

// compareParts tells what became of each part of a piece that both versions have.
func (c *PieceChange) compareParts(a, b *pattern.Garment, m match.PieceParts, tol float64) []PartChange {
	corners, notches, marks := partsOf(c.Before)
	newCorners, newNotches, newMarks := partsOf(c.After)
	out := make([]PartChange, 0, len(newCorners)+len(newNotches)+len(newMarks))
	each := func(matches []match.PartMatch, before, after []PartChange, judge func(p *PartChange)) {
		for _, m := range matches {
			out = append(out, partChange(m, before, after, judge))
		}
	}
	n := newNotchJudge(c, a, b, m, tol)
	each(m.Corners, corners, newCorners, c.judgeCorner)
	each(m.Notches, notches, newNotches, n.judge)
	each(m.Marks, marks, newMarks, c.judgeMark)
	return out
}

func partChange(m match.PartMatch, before, after []PartChange, judge func(p *PartChange)) PartChange {
	var p PartChange
	switch {
	case m.Before < 0:
		p = after[m.After]
		p.Status = Added
	case m.After < 0:
		p = before[m.Before]
		p.Status = Removed
	default:
		p = after[m.After]
		if old := before[m.Before]; old.Name != p.Name {
			p.Was = old.Name
		}
	}
	p.Before, p.After = m.Before, m.After
	if m.Before >= 0 && m.After >= 0 {
		judge(&p)
	}
	return p
}

// laidAt gives where a point of the earlier version lies after the movement of
// the piece.
func (c *PieceChange) laidAt(p curve.Point) curve.Point {
	if c.Fit == (curve.Rigid{}) {
		return p
	}
	return c.Fit.Affine().Apply(p)
}

func (c *PieceChange) judgeCorner(p *PartChange) {
	x, y := c.Before.Corners[p.Before], c.After.Corners[p.After]
	from := c.laidAt(x.At)
	p.goes(from.Dist(y.At), from, y.At)
	p.settle(p.Was == "" && x.Was != y.Was)
}

// judgeMark tells how a mark moved on the cloth and whether it is of another size
// now. A line that has other points or handles and lies where it lay is only
// written otherwise.
func (c *PieceChange) judgeMark(p *PartChange) {
	x, y := c.Before.Marks[p.Before], c.After.Marks[p.After]
	old, now := laid(x.Path(), c.Fit), y.Path()
	otherwise := (len(old) == 0) != (len(now) == 0)
	switch {
	case len(old) == 0 || len(now) == 0:
		from := c.laidAt(x.At)
		p.goes(from.Dist(y.At), from, y.At)
	case !finite(old) || !finite(now):
		otherwise = !pattern.Same(x, y)
	case !samePath(old, now):
		far := curve.Hausdorff(old, now, Still)
		from, to := far.On, far.To
		if far.Back {
			from, to = to, from
		}
		p.goes(far.Dist, from, to)
	}
	if x.Angle.Set && y.Angle.Set && math.Abs(x.Angle.Value+c.Fit.Angle*180/math.Pi-y.Angle.Value) < turnSeen {
		x.Angle = y.Angle // it turned with its piece
	}
	x.Name, x.At, x.Segs = y.Name, y.At, y.Segs
	p.settle(otherwise || !pattern.Same(x, y))
}

// turnSeen is the turn of a mark, in degrees, below which it only followed its
// piece, whose turn is found from rounded points. Without one, every difference
// counts.
const turnSeen = 0.01
