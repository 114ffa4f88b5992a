package step

import (
	"cmp"
	"slices"
	"strings"

	"seamkeep/pattern"
	"seamkeep/pattern/measure"
)

// amountsByLevel spreads amounts over the levels of a garment: what is given at
// a level counts there, between two that are given it follows a straight line by
// height, and beyond the outermost given ones it is 0. An amount without a place
// is the same at every level.
func amountsByLevel(g *pattern.Garment, list []Amount) map[string]float64 {
	out := map[string]float64{}
	v, everywhere := whole(list)
	var given []knot
	for _, a := range list {
		if y, ok := g.Level(a.At); ok {
			given = append(given, knot{y, a.MM})
		}
	}
	sortKnots(given)
	for _, l := range g.Levels {
		switch {
		case everywhere:
			out[l.Name] = v
		case len(given) == 0 || l.Y < given[0].y || l.Y > given[len(given)-1].y:
			out[l.Name] = 0
		default:
			out[l.Name] = along(given, l.Y)
		}
	}
	return out
}

// knot is an amount at a height.
type knot struct{ y, mm float64 }

func sortKnots(list []knot) {
	slices.SortFunc(list, func(a, b knot) int { return cmp.Compare(a.y, b.y) })
}

// along follows straight lines between knots; beyond the outermost it stays.
func along(list []knot, y float64) float64 {
	if len(list) == 0 {
		return 0
	}
	for i, k := range list {
		switch {
		case y > k.y:
		case i == 0 || y == k.y || k.y == list[i-1].y:
			return k.mm
		default:
			b := list[i-1]
			return b.mm + float64((k.mm-b.mm)*(y-b.y)/(k.y-b.y))
		}
	}
	return list[len(list)-1].mm
}

// shift is cloth that goes or comes along a seam: at each level the amount times
// the factor of a side is what that side's piece gains there.
type shift struct {
	p       *proof
	seam    *pattern.Seam
	list    []Amount
	amounts map[string]float64
	sides   [2]measure.Side
	factors [2]float64

	// the seam's own edges that move, and the neighbouring ones that end at a
	// corner that moves with them
	own, next []edgeOf
}

// newShift lays the seam out; false where it cannot be.
func (p *proof) newShift(seam string, list []Amount, factors [2]float64) (*shift, bool) {
	s := p.g.Seam(seam)
	if s == nil {
		return nil, false
	}
	w, problem := measure.WalkSeam(p.g, s, measure.Accuracy)
	if problem != nil {
		p.unproven("anything along seam %s, which cannot be laid out: %s", seam, problem.Found)
		return nil, false
	}
	sh := &shift{p: p, seam: s, list: list, amounts: amountsByLevel(p.g, list), factors: factors, sides: [2]measure.Side{w.First, w.Second}}
	if s.Mirrored { // the one drawn side stands for both
		sh.factors = [2]float64{(factors[0] + factors[1]) / 2, 0}
	}
	sh.own, sh.next = sh.moved()
	return sh, true
}

// amountAt is the amount at a height of a piece.
func (sh *shift) amountAt(piece *pattern.Piece, y float64) float64 {
	if v, ok := whole(sh.list); ok {
		return v
	}
	var knots []knot
	for _, l := range sh.p.g.Levels {
		if at, ok := sh.p.g.LevelOn(piece, l.Name); ok {
			knots = append(knots, knot{at, sh.amounts[l.Name]})
		}
	}
	sortKnots(knots)
	return along(knots, y)
}

// edgesIn lists the edges of a side, each once.
func edgesIn(side measure.Side) []edgeOf {
	var out []edgeOf
	for _, part := range side.Parts {
		if e := (edgeOf{part.Piece, part.Edge}); !slices.Contains(out, e) {
			out = append(out, e)
		}
	}
	return out
}

// moved lists what own and next hold.
func (sh *shift) moved() (own, next []edgeOf) {
	for i, side := range sh.sides {
		if sh.factors[i] == 0 {
			continue
		}
		in := edgesIn(side)
		own = append(own, in...)
		for _, part := range side.Parts {
			e := edgeOf{part.Piece, part.Edge}
			path := part.Piece.EdgePath(part.Edge)
			for _, end := range []struct {
				reached bool
				y       float64
				edge    edgeOf
			}{
				{part.From < 1e-3, path.Start().Y, e.before()},
				{path.Length(measure.Accuracy)-part.To < 1e-3, path.End().Y, e.after()},
			} {
				if end.reached && sh.amountAt(part.Piece, end.y) != 0 && !slices.Contains(in, end.edge) && !slices.Contains(next, end.edge) {
					next = append(next, end.edge)
				}
			}
		}
	}
	return own, next
}

// pieces names the pieces of the sides that move.
func (sh *shift) pieces() []*pattern.Piece {
	var out []*pattern.Piece
	for i, side := range sh.sides {
		for _, part := range side.Parts {
			if sh.factors[i] != 0 && !slices.Contains(out, part.Piece) {
				out = append(out, part.Piece)
			}
		}
	}
	return out
}

// gain is what a piece gains in width at a level. ok is false where that does
// not follow from the amounts: the seam passes the level more than once there,
// or an edge crosses it that moves at one end.
func (sh *shift) gain(piece *pattern.Piece, level string) (mm float64, ok bool) {
	y, has := sh.p.g.LevelOn(piece, level)
	if !has || piece.Outline().WidthAt(y) == 0 {
		return 0, false
	}
	for _, e := range sh.next {
		if e.piece == piece && len(piece.EdgePath(e.edge).CrossingsY(y)) > 0 {
			return 0, false
		}
	}
	for i, side := range sh.sides {
		hits := 0
		for _, part := range side.Parts {
			if part.Piece == piece {
				hits += len(piece.EdgePath(part.Edge).SubPath(part.From, part.To, measure.Accuracy).CrossingsY(y))
			}
		}
		if hits > 1 && sh.factors[i] != 0 {
			return 0, false
		}
		mm += float64(float64(hits) * sh.factors[i] * sh.amounts[level])
	}
	return mm, true
}

// widths claims what each piece gains, per level.
func (sh *shift) widths() {
	for _, piece := range sh.pieces() {
		by := map[string]float64{}
		var told, unclear []string
		for _, l := range sh.p.g.Levels {
			if y, has := sh.p.g.LevelOn(piece, l.Name); !has {
				continue
			} else if piece.Outline().WidthAt(y) > 0 {
				if mm, ok := sh.gain(piece, l.Name); ok {
					by[l.Name] = mm
				} else {
					unclear = append(unclear, l.Name)
					sh.p.loose = append(sh.p.loose, widthOf(piece.Name, l.Name))
				}
			}
			told = append(told, l.Name)
		}
		sh.p.perLevel(widthOf(piece.Name, ""), by, told)
		if len(unclear) > 0 {
			sh.p.unproven("the width of %s at %s", piece.Name, strings.Join(unclear, ", "))
		}
	}
}

// girths claims what the girth, and the worn girth where cloth stretches, gain:
// at each level what the pieces gain, each as often as it counts, and what extra
// gives beside them. Where nothing goes round the body nothing is claimed.
func (sh *shift) girths(extra func(level string) (rest, worn float64)) {
	var counted []*pattern.Piece
	for _, piece := range sh.pieces() {
		if sh.p.around(piece.Name) {
			counted = append(counted, piece)
		}
	}
	told := sh.p.girthTold()
	if len(counted) == 0 || len(told) == 0 {
		return
	}
	rest, worn := map[string]float64{}, map[string]float64{}
	differ := false
	var unclear []string
	for _, l := range told {
		r, w, ok := sh.round(counted, l)
		if !ok {
			unclear = append(unclear, l)
			sh.p.loose = append(sh.p.loose, girthAt(l), measure.Measure{Kind: "worn", Level: l})
			continue
		}
		r2, w2 := extra(l)
		rest[l], worn[l] = r+r2, w+w2
		differ = differ || rounded(rest[l]) != rounded(worn[l])
	}
	sh.p.perLevel(girthAt(""), rest, told)
	if differ {
		sh.p.perLevel(measure.Measure{Kind: "worn"}, worn, told)
	}
	if len(unclear) > 0 {
		sh.p.unproven("the girth at %s", strings.Join(unclear, ", "))
	}
}

// round adds up what pieces gain at a level, at rest and worn.
func (sh *shift) round(counted []*pattern.Piece, level string) (rest, worn float64, ok bool) {
	g := sh.p.g
	for _, piece := range counted {
		y, _ := g.LevelOn(piece, level)
		if piece.Outline().WidthAt(y) == 0 {
			continue // it does not reach so far
		}
		mm, known := sh.gain(piece, level)
		if !known {
			return 0, 0, false
		}
		mm *= measure.Times(g, piece)
		rest += mm
		worn += float64(mm * (1 + inUse(g, piece.Name)/100))
	}
	return rest, worn, true
}

// inUse is by how many percent the cloth of a piece is longer when worn.
func inUse(g *pattern.Garment, piece string) float64 {
	if s := g.Option(piece).Stretch; s.Set {
		return s.Value
	}
	return g.Give.Or(0)
}

// nothing is gained beside the pieces of the seam.
func nothing(string) (rest, worn float64) { return 0, 0 }

// rest names the pieces that may change and claims that the other seams of these
// pieces stay; those whose edges end at a corner that moves cannot be told.
func (sh *shift) rest(keepSeams bool) {
	p := sh.p
	own, next := sh.own, sh.next
	for _, piece := range sh.pieces() {
		p.touch(piece.Name)
	}
	var open []string
	for i := range p.g.Seams {
		s := &p.g.Seams[i]
		edges := p.edgesOf(refsOf(s))
		touches := func(list []edgeOf) bool {
			return slices.ContainsFunc(edges, func(e edgeOf) bool { return slices.Contains(list, e) })
		}
		switch {
		case touches(next) && s != sh.seam:
			p.touch(partners(s)...)
			open = append(open, s.Name)
			fallthrough
		case s == sh.seam || touches(own):
			p.loose = append(p.loose, seamNamed("seam", s.Name), seamNamed("walk", s.Name))
		case keepSeams && slices.ContainsFunc(partners(s), func(n string) bool { return slices.Contains(p.pieces, n) }):
			p.keeps(seamNamed("seam", s.Name))
		}
	}
	for _, e := range slices.Concat(own, next) {
		p.loose = append(p.loose, e.length())
	}
	if len(open) > 0 {
		p.unproven("the lengths of %s, which end at corners that move", strings.Join(open, ", "))
	}
}
