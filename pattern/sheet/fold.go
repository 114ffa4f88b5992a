package sheet

import "seamkeep/pattern/curve"

// fold gives the end of the hem's allowance the mirror image, in the hem's sewing
// line at the corner, of the neighbour's cut line above it. A hem that is not
// straight is mirrored in its tangent at the corner. Where the neighbour is too
// short to mirror, its image is drawn straight on. False where the image does not
// reach the hem's cut line.
func (c *corner) fold(hem *band) bool {
	side, back := c.a, false // the side comes before the hem
	way, out := c.v, c.mb
	if hem == c.a {
		side, back = c.b, true
		way, out = c.u, c.ma
	}
	if hem.d == 0 || c.sin < 0.1 {
		return false
	}
	reach := 4 * (hem.d + side.d) / c.sin
	line := side.cut
	if back {
		line = line.Reverse()
	}
	end, _ := line.EndTangent()
	line = appendLine(line, line.End().Add(end.Mul(reach)))
	foldLine := curve.Line(c.at.Sub(way.Mul(reach)), c.at.Add(way.Mul(reach)))
	kept, q, ok := cutAtLast(line, foldLine)
	if !ok {
		return false
	}
	image := kept.Transform(mirror(c.at, way)).Reverse()
	end, _ = image.EndTangent()
	image = appendLine(image, image.End().Add(end.Mul(reach)))
	bottom := hem.cut // from the corner on, drawn on before it
	if back {
		bottom = bottom.Reverse()
		way = way.Mul(-1)
	}
	bottom = prependLine(out.Sub(way.Mul(reach)), bottom)
	i, hit, ok := firstMeeting(image, bottom)
	if !ok {
		return false
	}
	down := append(image[:i:i], image[i].Sub(0, hit.t))
	rest := append(curve.Path{bottom[hit.seg].Sub(hit.u, 1)}, bottom[hit.seg+1:]...)
	hemCut := append(down, rest...)
	if down[0].P0.Dist(q) > sameSpot {
		return false
	}
	if back {
		hem.cut, side.cut = hemCut.Reverse(), kept.Reverse()
	} else {
		hem.cut, side.cut = hemCut, kept
	}
	return true
}

// meeting is where two paths meet: the parameter on the first one's segment, the
// segment and parameter on the other.
type meeting struct {
	t   float64
	seg int
	u   float64
}

// firstMeeting finds the first place of a that lies on b.
func firstMeeting(a, b curve.Path) (int, meeting, bool) {
	for i := range a {
		best, found := meeting{t: 2}, false
		for k := range b {
			for _, h := range curve.Intersections(a[i], b[k]) {
				if h.TA < best.t && h.TA > 0 && h.TB < 1 {
					best, found = meeting{h.TA, k, h.TB}, true
				}
			}
		}
		if found {
			return i, best, true
		}
	}
	return 0, meeting{}, false
}

// mirror is the mirror image in the line through o along the unit direction u.
func mirror(o, u curve.Point) curve.Affine {
	cos, sin := float64(u.X*u.X)-float64(u.Y*u.Y), 2*float64(u.X*u.Y)
	m := curve.Affine{A: cos, B: sin, C: sin, D: -cos}
	p := m.Apply(o)
	m.E, m.F = o.X-p.X, o.Y-p.Y
	return m
}
