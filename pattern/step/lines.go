package step

import (
	"math"
	"slices"

	"seamkeep/pattern"
	"seamkeep/pattern/measure"
)

// joint is a corner at which a line ends or crosses a seam.
type joint struct {
	line   edgeOf        // the edge of the line
	next   edgeOf        // the other edge at the corner: it becomes longer or shorter
	corner string        // name
	seam   *pattern.Seam // that next is sewn in; nil: none
}

// lineOf gives the edges of a target, those of a run front to back, and the
// corners at which they end, in the same order.
func (p *proof) lineOf(s Step) (edges []edgeOf, joints []joint) {
	refs := []pattern.Ref{{Piece: s.Piece, Edge: s.Edge}}
	if s.Run != "" {
		refs = nil
		if r := p.g.Run(s.Run); r != nil {
			refs = r.Refs
		}
	}
	edges = p.edgesOf(refs)
	for i, e := range edges {
		start, end := p.joint(e, true), p.joint(e, false)
		var turned bool
		if i > 0 {
			turned = p.meets(end, edges[i-1])
		} else if len(edges) > 1 {
			turned = p.meets(start, edges[1])
		}
		if turned {
			start, end = end, start
		}
		joints = append(joints, start, end)
	}
	return part(s, edges, joints)
}

// part leaves of a run what lies from one seam to another; nothing where it does
// not cross them so.
func part(s Step, edges []edgeOf, joints []joint) ([]edgeOf, []joint) {
	first, last := 0, len(edges)-1
	for i := range edges {
		if sewn := joints[2*i].seam; s.Start != "" && sewn != nil && sewn.Name == s.Start {
			first = i
		}
		if sewn := joints[2*i+1].seam; s.End != "" && sewn != nil && sewn.Name == s.End {
			last = i
		}
	}
	crosses := func(seam string) bool {
		return seam == "" || slices.ContainsFunc(joints, func(j joint) bool { return j.seam != nil && j.seam.Name == seam })
	}
	if first > last || !crosses(s.Start) || !crosses(s.End) {
		return nil, nil
	}
	return edges[first : last+1], joints[2*first : 2*last+2]
}

func (p *proof) joint(e edgeOf, start bool) joint {
	j := joint{line: e, next: e.after(), corner: e.piece.Corners[e.piece.After(e.edge)].Name}
	if start {
		j.next, j.corner = e.before(), e.piece.Corners[e.edge].Name
	}
	for _, seam := range p.seamsAt(j.next) {
		if j.seam == nil && slices.ContainsFunc(refsOf(seam), j.next.wholeIn(p.g)) {
			j.seam = seam
		}
	}
	return j
}

// wholeIn tells of references whether they are to the edge in all its length: a
// span between two notches ends at no corner.
func (e edgeOf) wholeIn(g *pattern.Garment) func(pattern.Ref) bool {
	return func(r pattern.Ref) bool {
		piece, i, ok := g.Edge(r)
		return ok && r.From == "" && (edgeOf{piece, i}) == e
	}
}

// meets tells whether the seam at a joint also ends at another edge.
func (p *proof) meets(j joint, other edgeOf) bool {
	if j.seam == nil || j.line == other {
		return false
	}
	sewn := p.edgesOf(refsOf(j.seam))
	return slices.Contains(sewn, other.before()) || slices.Contains(sewn, other.after())
}

// at tells whether an amount is meant at the joint.
func (j joint) at(place string) bool {
	return place == j.corner || place == j.line.piece.Name+"."+j.corner || j.seam != nil && place == j.seam.Name
}

func (j joint) amount(list []Amount) float64 {
	if v, ok := whole(list); ok {
		return v
	}
	for _, a := range list {
		if j.at(a.At) {
			return a.MM
		}
	}
	return 0
}

// upper tells whether an edge bounds its piece from above: the outline runs
// anticlockwise, so that a top runs against x. ok is false for an edge that runs
// more upright than across.
func (e edgeOf) upper() (up, ok bool) {
	path := e.piece.EdgePath(e.edge)
	d := path.End().Sub(path.Start())
	return d.X < 0, math.Abs(d.X) > math.Abs(d.Y)
}

func proveTrim(p *proof, s Step) {
	p.shiftLine(s, func(edgeOf) (float64, bool) { return -1, true })
}

func proveRaise(p *proof, s Step) { p.shiftLine(s, upwards(1)) }
func proveLower(p *proof, s Step) { p.shiftLine(s, upwards(-1)) }

// upwards is the sign of what the edges at a line's ends gain where it moves up.
func upwards(sign float64) func(edgeOf) (float64, bool) {
	return func(e edgeOf) (float64, bool) {
		up, ok := e.upper()
		if !up {
			return -sign, ok
		}
		return sign, ok
	}
}

// shiftLine: the edges that end at the line become longer or shorter by the
// amount at that end, both sides of each seam alike, and the girth stays wherever
// the line does not come near a level.
func (p *proof) shiftLine(s Step, sign func(edgeOf) (float64, bool)) {
	edges, joints := p.lineOf(s)
	gains := map[edgeOf]float64{}
	var order []edgeOf
	margin := 1.0
	for _, j := range joints {
		k, ok := sign(j.line)
		if !ok {
			p.unproven("anything of %s, which runs more upright than across", j.line.name())
			return
		}
		mm := j.amount(s.Amounts)
		margin = math.Max(margin, mm+1)
		if !slices.Contains(order, j.next) {
			order = append(order, j.next)
		}
		gains[j.next] += k * mm
		p.touch(j.line.piece.Name)
		if j.seam != nil && mm != 0 {
			p.touch(partners(j.seam)...)
		}
	}
	for _, j := range joints {
		p.alike(s, j, gains[j.next], p.meetsAny(j, edges))
	}
	p.sewnLine(edges)
	p.keepsGirth(edges, margin)
	p.unproven("how the line runs between its corners, and at which end an edge became longer or shorter")
}

// meetsAny tells whether the line goes on beyond the seam at a joint.
func (p *proof) meetsAny(j joint, edges []edgeOf) bool {
	return slices.ContainsFunc(edges, func(e edgeOf) bool { return e.piece != j.line.piece && p.meets(j, e) })
}

// alike claims what the edge beyond a joint gains. Where the run goes on beyond
// the seam both sides gain the same; of one piece's edge alone the length is
// claimed, and that its seam's sides still differ by what they did.
func (p *proof) alike(s Step, j joint, mm float64, goesOn bool) {
	if s.Run != "" && goesOn {
		p.by(seamNamed("seam", j.seam.Name), mm)
		return
	}
	p.by(j.next.length(), mm)
	for _, seam := range p.seamsAt(j.next) {
		if mm != 0 {
			p.keeps(seamNamed("walk", seam.Name))
		}
	}
}

// sewnLine: a line that is itself sewn to something changes its length by what
// the step does not say, and its partner with it.
func (p *proof) sewnLine(edges []edgeOf) {
	for _, e := range edges {
		p.loose = append(p.loose, e.length())
		for _, seam := range p.seamsAt(e) {
			p.touch(partners(seam)...)
			p.loose = append(p.loose, seamNamed("seam", seam.Name))
			p.keeps(seamNamed("walk", seam.Name))
		}
	}
}

// proveLevel: every edge that ends at the run has the same length from the level
// on, and the run bends at no seam by more than its tolerance.
func proveLevel(p *proof, s Step) {
	edges, joints := p.lineOf(s)
	margin := 1.0
	for _, j := range joints {
		p.touch(j.line.piece.Name)
		m := j.next.length()
		m.Part, m.Level = s.Part, s.Level
		p.becomes(m, s.Number.Value, pattern.Opt{})
		p.loose = append(p.loose, j.next.length())
		if j.seam != nil {
			p.loose = append(p.loose, seamNamed("seam", j.seam.Name))
		}
		if was, err := m.Eval(measure.Input{Garment: p.g}); err == nil && len(was) == 1 && was[0].Known {
			margin = math.Max(margin, math.Abs(s.Number.Value-was[0].Value)+1)
		}
	}
	p.flat(s.Run, joints)
	p.sewnLine(edges)
	p.keepsGirth(edges, margin)
	p.unproven("how the line runs between its corners")
}

// flat claims that a run bends by no more than its tolerance at the seams of
// joints.
func (p *proof) flat(run string, joints []joint) {
	r := p.g.Run(run)
	if r == nil {
		return
	}
	for _, j := range joints {
		if j.seam == nil {
			continue
		}
		if _, crosses := measure.TurnAt(p.g, r, j.seam); crosses {
			p.becomes(measure.Measure{Kind: "turn", Run: run, Seam: j.seam.Name}, 0, pattern.Some(p.g.ToleranceOf("turn")))
		}
	}
}

// proveSmooth: the corners stay, so that every seam and edge that ends at the line
// is as long as it was; a run bends at no seam by more than its tolerance.
func proveSmooth(p *proof, s Step) {
	edges, joints := p.lineOf(s)
	for _, j := range joints {
		p.touch(j.line.piece.Name)
		if j.seam != nil {
			p.keeps(seamNamed("seam", j.seam.Name))
		} else {
			p.keeps(j.next.length())
		}
	}
	p.flat(s.Run, joints)
	for _, e := range edges {
		p.loose = append(p.loose, e.length())
		for _, seam := range p.seamsAt(e) {
			p.keeps(seamNamed("seam", seam.Name))
		}
	}
	p.keepsGirth(edges, 1+s.Number.Or(0))
	p.unproven("that the corners stayed where they were, beyond the lengths that end at them")
	if s.Number.Set {
		p.unproven("that no point of the line moved by more than %s mm", plain(s.Number.Value))
	}
}
