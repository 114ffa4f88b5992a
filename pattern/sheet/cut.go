package sheet

import (
	"fmt"
	"math"

	"seamkeep/pattern"
	"seamkeep/pattern/curve"
	"seamkeep/pattern/diag"
)

// The findings of Cut.
const (
	IDOutline = "allowance.outline" // the sewing line is no sound outline
	IDRoom    = "allowance.no-room" // allowances run into each other
	IDShape   = "allowance.shape"   // no sound cut line was found
	IDNotch   = "allowance.notch"   // a notch does not reach the cut line
)

// NotchDepth is how deep a notch is cut into the allowance, in mm, at most half of
// it: common practice, no source.
const NotchDepth = 5.0

// Outline is the line along which a piece is cut: one ring, anticlockwise, that
// does not cross itself and holds the sewing line.
type Outline struct {
	Path    curve.Path
	Edges   []EdgeCut // one for each edge of the piece, in its order; together they are the path
	Notches []CutNotch
}

// EdgeCut is what an edge has of the cut line, corners shared out to both sides.
type EdgeCut struct {
	Edge      string
	Allowance float64 // mm
	Path      curve.Path
}

// CutNotch is a notch carried straight out from the sewing line.
type CutNotch struct {
	Name, Edge string
	Sewing     curve.Point // on the sewing line
	At         curve.Point // on the cut line
	In         curve.Point // how far it is snipped; At where there is no allowance
	Depth      float64     // mm from At to In
}

// Cut gives the cut line of a piece from the garment's allowances and joins, to
// within tol mm (0.01 is plenty; not below 1e-6). Straight edges are exact. Where an
// edge bends inwards more tightly than its allowance, and at inner corners, the
// cut line is trimmed to where the two sides meet; a kink within an edge is rounded
// on its outer side. The outline is empty where anything is found: a sewing line
// that crosses itself, allowances without room, a notch off its edge. Where smaller allowances
// would do, the finding says up to which.
func Cut(g *pattern.Garment, p *pattern.Piece, tol float64) (Outline, diag.List) {
	tol = max(tol, 1e-6)
	c := cutter{g: g, p: p, tol: tol}
	if !c.sound() {
		return Outline{}, c.found
	}
	bands := c.bands()
	out := c.trim(bands)
	if len(c.found) == 0 {
		c.verify(&out)
	}
	if len(c.found) == 0 {
		c.notches(&out, bands)
	}
	if len(c.found) > 0 {
		c.tellMost()
		return Outline{}, c.found
	}
	return out, nil
}

type cutter struct {
	g     *pattern.Garment
	p     *pattern.Piece
	tol   float64
	found diag.List
}

// add keeps a finding about edge i, or about the piece where i is -1.
func (c *cutter) add(id string, i int, found, expected, hint string) {
	problem := diag.Problem{ID: id, Severity: diag.Error, Place: c.p.Place, Subject: c.p.Name,
		Found: found, Expected: expected, Hint: hint}
	if i >= 0 {
		problem.Place = c.p.Edges[i].Place
		problem.Place.Edge = c.p.Edges[i].Name
		problem.Subject += "." + c.p.Edges[i].Name
	}
	problem.Place.Piece = c.p.Name
	c.found = append(c.found, problem)
}

// sound tells whether the sewing line is an outline that can have a cut line.
func (c *cutter) sound() bool {
	const expected = "an outline that runs anticlockwise once round the piece"
	if n := len(c.p.Edges); n < 2 || n != len(c.p.Corners) {
		c.add(IDOutline, -1, fmt.Sprintf("piece %s has %d edges and %d corners", c.p.Name, n, len(c.p.Corners)), expected, "")
		return false
	}
	ring := c.p.Outline()
	for i := range c.p.Edges {
		if _, ok := c.p.EdgePath(i).StartTangent(); !ok {
			c.add(IDOutline, i, "edge "+c.p.Edges[i].Name+" has no length", "an edge that leads somewhere", "")
			return false
		}
	}
	if x := ring.SelfCrossings(); len(x) > 0 {
		c.add(IDOutline, -1, fmt.Sprintf("the outline of %s crosses itself at (%.1f, %.1f)", c.p.Name, x[0].Point.X, x[0].Point.Y), expected, "")
		return false
	}
	if !(ring.Area() > 0) {
		c.add(IDOutline, -1, "the outline of "+c.p.Name+" runs clockwise", expected, "")
		return false
	}
	return true
}

// bands gives each edge its untrimmed cut line, the corners joined.
func (c *cutter) bands() []band {
	bands := make([]band, len(c.p.Edges))
	for i := range bands {
		b := &bands[i]
		b.edge, b.sew, b.d = i, c.p.EdgePath(i), AllowanceOf(c.g, c.p, i)
		b.kind, b.fit = joinOf(c.g, c.p, i)
		b.cut = b.sew.Parallel(b.d, c.tol-c.tol/16)
	}
	for i := range bands {
		if k, ok := newCorner(&bands[(i+len(bands)-1)%len(bands)], &bands[i]); ok {
			k.join()
			k.close(c.tol / 16)
		}
	}
	return bands
}

// trim walks along the rim of all cut lines.
func (c *cutter) trim(bands []band) Outline {
	raw, owner := chained(bands)
	parts, ok := raw.Rim()
	if !ok {
		c.noShape()
		return Outline{}
	}
	// The rim begins where it is lowest; ours begins with the first edge.
	start := 0
	for i := range parts {
		before := owner[parts[(i+len(parts)-1)%len(parts)].Seg]
		if owner[parts[i].Seg] == 0 && before != 0 {
			start = i
		}
	}
	parts = append(parts[start:len(parts):len(parts)], parts[:start]...)
	path := raw.Assemble(parts)
	out := Outline{Path: path, Edges: make([]EdgeCut, len(bands))}
	for i, b := range bands {
		out.Edges[i] = EdgeCut{Edge: c.p.Edges[i].Name, Allowance: b.d}
	}
	for i, part := range parts {
		e := owner[part.Seg]
		if i > 0 && owner[parts[i-1].Seg] > e {
			c.noRoom(bands, owner[parts[i-1].Seg])
			return Outline{}
		}
		out.Edges[e].Path = append(out.Edges[e].Path, path[i])
	}
	var lost []int
	for i := range out.Edges {
		if len(out.Edges[i].Path) == 0 {
			lost = append(lost, i)
		}
	}
	if len(lost) > 0 {
		c.noRoom(bands, lost...)
	}
	return out
}

// chained makes one ring of all bands, and tells the band of each segment.
func chained(bands []band) (raw curve.Path, owner []int) {
	add := func(i int, s curve.Segment) {
		if s.P0 != s.P3 || !s.Straight {
			raw, owner = append(raw, s), append(owner, i)
		}
	}
	for i := range bands {
		for _, s := range bands[i].cut {
			add(i, s)
		}
		add(i, curve.Line(bands[i].cut.End(), bands[(i+1)%len(bands)].cut.Start()))
	}
	return raw, owner
}

// noRoom is one finding for all edges that the cut line does not come to.
func (c *cutter) noRoom(bands []band, edges ...int) {
	i := edges[0]
	name := c.p.Edges[i].Name
	c.add(IDRoom, i, fmt.Sprintf("the allowances at and beside edge %s (%.1f mm on the edge itself) run into each other", name, bands[i].d),
		"room for every allowance outside the sewing line",
		fmt.Sprintf("a smaller allowance there: allowance %s.%s NUMBER, or on the edges beside it", c.p.Name, name))
	for _, k := range edges[1:] {
		at := c.p.Edges[k].Place
		at.Piece, at.Edge = c.p.Name, c.p.Edges[k].Name
		f := &c.found[len(c.found)-1]
		f.Related = append(f.Related, diag.Related{Place: at, Text: fmt.Sprintf("edge %s (%.1f mm) has no room either", at.Edge, bands[k].d)})
	}
}

func (c *cutter) noShape() {
	c.add(IDShape, -1, "no cut line was found that goes once round piece "+c.p.Name,
		"allowances that leave one line to cut along", "smaller allowances, or another join, at the piece's sharpest corners")
}

// verify makes sure of what Outline promises.
func (c *cutter) verify(out *Outline) {
	if len(out.Path.SelfCrossings()) > 0 || !(out.Path.Area() > 0) {
		c.noShape()
		return
	}
	for _, q := range c.p.Outline().Flatten(1) {
		if !out.Path.Contains(q) && out.Path.Nearest(q).Dist > 2*c.tol {
			c.noShape()
			return
		}
	}
}

// notches carries each notch out to the cut line.
func (c *cutter) notches(out *Outline, bands []band) {
	for _, n := range c.p.Notches {
		i := c.p.EdgeIndex(n.Edge.Name)
		if i < 0 {
			continue // said when the file was read
		}
		at, err := c.g.SpotAt(c.p, i, n.On, 1e-6)
		if err != nil {
			c.add(IDNotch, i, "notch "+n.Name+": "+err.Found, err.Expected, err.Hint)
			continue
		}
		way, ok := wayAt(bands[i].sew, at)
		sewn := bands[i].sew.PointAt(at, 1e-6)
		cut, hit := out.straightOut(sewn, way.Left().Mul(-1), bands[i].d)
		if !ok || !hit {
			c.add(IDNotch, i, fmt.Sprintf("notch %s on %s does not reach the cut line", n.Name, n.Edge.Name), "a cut line straight out from the notch", "")
			continue
		}
		depth := min(NotchDepth, sewn.Dist(cut)/2)
		out.Notches = append(out.Notches, CutNotch{Name: n.Name, Edge: n.Edge.Name, Sewing: sewn, At: cut, Depth: depth,
			In: cut.Add(way.Left().Mul(depth))})
	}
}

// wayAt is the unit direction of a path at a distance from its start; at a kink, the
// one halfway between before and after it.
func wayAt(path curve.Path, at float64) (curve.Point, bool) {
	const beside = 1e-3
	u, ok1 := path.TangentAt(at-beside, 1e-6)
	v, ok2 := path.TangentAt(at+beside, 1e-6)
	way, ok := u.Add(v).Unit()
	return way, ok && ok1 && ok2
}

// straightOut finds where the way from a place of the sewing line along the unit
// direction n first meets the cut line.
func (o *Outline) straightOut(from, n curve.Point, d float64) (curve.Point, bool) {
	if d == 0 {
		return from, true
	}
	// From a hair inside, so that a cut line through the place itself is met.
	ray := curve.Line(from.Sub(n.Mul(1e-3)), from.Add(n.Mul(4*d+1)))
	best, at := math.Inf(1), curve.Point{}
	for _, s := range o.Path {
		for _, h := range curve.Intersections(ray, s) {
			if h.TA < best {
				best, at = h.TA, h.Point
			}
		}
	}
	return at, best <= 1
}
