package check

import (
	"fmt"
	"math"

	"seamkeep/pattern"
	"seamkeep/pattern/curve"
	"seamkeep/pattern/diag"
	"seamkeep/pattern/measure"
)

// HolesOnBones tells eyelets, buttonholes and buttons of a piece that stand on a bone: an
// eyelet by its radius, a hole by its length, a button by its middle, where it is sewn
// on. One finding, at the worst; beside a bone they may stand as near as they like. That
// holes clear the bone is common practice, no source. Lengths are within tol.
func HolesOnBones(g *pattern.Garment, p *pattern.Piece, tol float64) diag.List {
	var worst diag.Problem
	var parts []diag.Part
	for i := range p.Marks {
		m := &p.Marks[i]
		if measure.MarkLetter(m.Kind) == "" {
			continue
		}
		bone, lacks := boneUnder(p, m, tol)
		if lacks <= slack {
			continue
		}
		parts = append(parts, diag.Part{At: p.Name + "." + m.Name, Amount: lacks})
		if lacks <= worst.Amount {
			continue
		}
		worst = pieceProblem("bone.hole", p, m.Place.Point(m.At.X, m.At.Y), "")
		worst.Severity, worst.Amount = diag.Warning, lacks
		worst.Found = fmt.Sprintf("%s %s of %s stands on bone %s, by %.1f, at %.1f %.1f", m.Kind, m.Name, p.Name, bone.Name, lacks, m.At.X, m.At.Y)
		worst.Hint = offBone(g, p, i, bone, lacks)
	}
	if len(parts) == 0 {
		return nil
	}
	joinParts(&worst, parts)
	if len(parts) > 1 {
		worst.Found += fmt.Sprintf("; %d stand on bones", len(parts))
	}
	worst.Expected = "holes beside the bones, clear of half their width"
	return diag.List{worst}
}

// boneUnder gives the bone on which a mark stands most, and by how much, mm; not above
// 0 where it stands on none.
func boneUnder(p *pattern.Piece, m *pattern.Mark, tol float64) (bone *pattern.Mark, lacks float64) {
	for i := range p.Marks {
		b := &p.Marks[i]
		if b.Kind != pattern.Bone || b.Only != "" && m.Only != "" && b.Only != m.Only || b.Path().Length(tol) < pattern.Grid {
			continue
		}
		if d := b.Width.Or(0)/2 + radius(m) - nearestOf(m, b.Path()); d > lacks {
			bone, lacks = b, d
		}
	}
	return bone, lacks
}

// radius is how far from its line or middle a mark takes cloth away, mm.
func radius(m *pattern.Mark) float64 {
	if m.Kind == pattern.Eyelet {
		return m.Diameter.Or(0) / 2
	}
	return 0
}

// nearestOf is how near a mark comes to a line, mm; a buttonhole is looked at every
// millimetre, at 100 places at most.
func nearestOf(m *pattern.Mark, line curve.Path) float64 {
	near := line.Nearest(m.At).Dist
	if m.Kind != pattern.Buttonhole || !m.Length.Set {
		return near
	}
	end := m.At.Add(measure.Direction(m.Angle.Or(0)).Mul(m.Length.Value))
	n := min(100, math.Ceil(m.Length.Value))
	for k := 1.0; k <= n; k++ {
		near = min(near, line.Nearest(m.At.Lerp(end, k/n)).Dist)
	}
	return near
}

// offBone says how a mark gets off a bone: for an eyelet of a lacing by which inset.
func offBone(g *pattern.Garment, p *pattern.Piece, mark int, bone *pattern.Mark, lacks float64) string {
	m := &p.Marks[mark]
	if m.Kind == pattern.Buttonhole { // it may cross the bone: then lacks is not the way out
		return fmt.Sprintf("move bone %s, or buttonhole %s, until at least %g lie between the two", bone.Name, m.Name, bone.Width.Or(0)/2)
	}
	for i := range g.Closures {
		c := &g.Closures[i]
		for _, ref := range c.Edges {
			q, e, ok := g.Edge(ref)
			if !ok || m.Kind != pattern.Eyelet || c.Kind != pattern.Lacing || q.Name != p.Name || !along(p, e, mark) {
				continue
			}
			if inset, ok := clearInset(p.EdgePath(e), m, bone); ok {
				return fmt.Sprintf("seamkeep place eyelets %s --inset %g; or move bone %s by %.1f", c.Name, inset, bone.Name, lacks)
			}
		}
	}
	return fmt.Sprintf("move bone %s by %.1f, or %s %s", bone.Name, lacks, m.Kind, m.Name)
}

// clearInset gives how far inside the edge an eyelet is clear of a bone, to 0.1 mm, as
// near as can be to where it stands and no further in than eyelets may; false where no
// place is left.
func clearInset(edge curve.Path, m, bone *pattern.Mark) (float64, bool) {
	has := edge.Nearest(m.At).Dist
	at := edge.Nearest(bone.Path().Nearest(m.At).Point).Dist
	clear := bone.Width.Or(0)/2 + radius(m)
	out, in := min(math.Floor(10*(at-clear)+slack)/10, measure.EyeletReach), math.Ceil(10*(at+clear)-slack)/10
	outFits, inFits := out >= measure.EyeletRoom(m.Diameter), in <= measure.EyeletReach
	switch {
	case outFits && (!inFits || has-out <= in-has):
		return out, true
	case inFits:
		return in, true
	}
	return 0, false
}
