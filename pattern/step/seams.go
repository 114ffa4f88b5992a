package step

import (
	"math"
	"slices"
	"strings"

	"seamkeep/pattern"
	"seamkeep/pattern/measure"
)

func proveTakeIn(p *proof, s Step) { p.takeIn(s, -1) }
func proveLetOut(p *proof, s Step) { p.takeIn(s, 1) }

// takeIn: each side gains its share of the amount, with the sign given; the girth
// changes by the whole on each half.
func (p *proof) takeIn(s Step, sign float64) {
	factors := [2]float64{sign / 2, sign / 2}
	if sum := s.Share[0] + s.Share[1]; sum > 0 {
		factors = [2]float64{sign * s.Share[0] / sum, sign * s.Share[1] / sum}
	}
	if seam := p.g.Seam(s.Seam); seam != nil && s.Piece != "" {
		factors = [2]float64{sign, 0}
		if !onSide(seam.First, s.Piece) {
			factors = [2]float64{0, sign}
		}
	}
	p.widthsMove(s, factors)
}

// widthsMove proves what amounts at a seam do: each side's widths change by its
// factor of the amounts, the girths by the sum, and nothing else.
func (p *proof) widthsMove(s Step, factors [2]float64) {
	sh, ok := p.newShift(s.Seam, s.Amounts, factors)
	if !ok {
		return
	}
	sh.widths()
	sh.girths(nothing)
	sh.rest(true)
	p.betweenLevels(s)
}

func onSide(refs []pattern.Ref, piece string) bool {
	return slices.ContainsFunc(refs, func(r pattern.Ref) bool { return r.Piece == piece })
}

// betweenLevels says what all steps with amounts at levels leave open.
func (p *proof) betweenLevels(s Step) {
	p.unproven("how the edges of %s run between the levels", s.Seam)
	p.unproven("that %s was trued again: the check of the seam tells", s.Seam)
}

// proveMoveSeam: what one side gains the other loses (w_D - d, w_R + d), so that
// the sum of the two widths, and with it the girth, stays.
func proveMoveSeam(p *proof, s Step) {
	seam := p.g.Seam(s.Seam)
	if seam == nil {
		return
	}
	factors := [2]float64{1, -1}
	if !onSide(seam.First, s.Piece) {
		factors = [2]float64{-1, 1}
	}
	if seam.Mirrored {
		p.unproven("anything: %s is sewn to its own mirror image", s.Seam)
		return
	}
	p.widthsMove(s, factors)
}

// proveInset: the two sides lose what is cut away, m, between them, and the new
// piece brings e: the girth changes by e - m on each half, the worn one by
// e (1 + stretch) - m.
func proveInset(p *proof, s Step) {
	p.touch(s.New)
	p.file = true
	sh, ok := p.newShift(s.Seam, s.Amounts, [2]float64{-0.5, -0.5})
	if !ok {
		return
	}
	cut := amountsByLevel(p.g, s.Cut)
	times := 2.0
	if p.g.Half == pattern.Whole || sh.seam.Mirrored {
		times = 1
	}
	sh.girths(func(l string) (rest, worn float64) {
		if sh.amounts[l] == 0 || !sh.reaches(l) {
			return 0, 0
		}
		rest = times * cut[l]
		return rest, rest * (1 + s.Stretch.Or(p.g.Option(s.New).Stretch.Or(0))/100)
	})
	p.insetWidth(s, sh, cut)
	sh.rest(false)
	for _, piece := range sh.pieces() {
		p.loose = append(p.loose, widthOf(piece.Name, ""))
		for _, e := range piece.Edges {
			p.loose = append(p.loose, lengthOf(piece.Name, e.Name))
		}
	}
	p.gone = append(p.gone, "seam "+s.Seam)
	p.unproven("how much of the cloth cut away left each side of %s, only the sum of both, by the girth", s.Seam)
	p.unproven("that the sides of %s are as long as the edges that they are sewn to: the check of the seams tells", s.New)
	if !s.Stretch.Set && !p.g.Option(s.New).Stretch.Set {
		p.dropWorn()
		p.unproven("the girth when worn, since no stretch is given for %s", s.New)
	}
}

// dropWorn takes the claims on the worn girth back.
func (p *proof) dropWorn() {
	kept := p.claims[:0]
	for _, c := range p.claims {
		if c.Measure.Kind != "worn" {
			kept = append(kept, c)
		}
	}
	p.claims = kept
	p.loose = append(p.loose, measure.Measure{Kind: "worn"})
}

// reaches tells whether both sides of the seam pass a level.
func (sh *shift) reaches(level string) bool {
	for i, side := range sh.sides {
		if sh.factors[i] != 0 && !slices.ContainsFunc(side.Parts, func(part measure.Part) bool { return sh.passes(part, level) }) {
			return false
		}
	}
	return true
}

func (sh *shift) passes(part measure.Part, level string) bool {
	y, ok := sh.p.g.LevelOn(part.Piece, level)
	return ok && len(part.Piece.EdgePath(part.Edge).SubPath(part.From, part.To, measure.Accuracy).CrossingsY(y)) > 0
}

// insetWidth claims how wide the new piece is at the levels that it must reach.
func (p *proof) insetWidth(s Step, sh *shift, cut map[string]float64) {
	if sh.seam.Mirrored {
		p.unproven("the width of %s, which may be cut on the fold", s.New)
		return
	}
	at := map[string]float64{}
	for _, l := range p.g.Levels {
		if sh.amounts[l.Name] != 0 && cut[l.Name] != 0 && sh.reaches(l.Name) {
			at[l.Name] = cut[l.Name]
		}
	}
	if v, ok := whole(s.Cut); ok && len(at) == len(p.g.Levels) && len(at) > 0 {
		p.becomes(widthOf(s.New, ""), v, pattern.Opt{})
		return
	}
	for _, l := range p.g.Levels {
		if v, ok := at[l.Name]; ok {
			p.becomes(widthOf(s.New, l.Name), v, pattern.Opt{})
		}
	}
}

// proveTrue: the sides agree, and nothing goes round the body that did not
// before. Only corners slide, so that nothing but the ends of the neighbouring
// edges can come near a level.
func proveTrue(p *proof, s Step) {
	p.becomes(seamNamed("walk", s.Seam), 0, pattern.Opt{})
	seam := p.g.Seam(s.Seam)
	if seam == nil {
		return
	}
	margin, _ := p.g.SeamTolerance(seam)
	if w, problem := measure.WalkSeam(p.g, seam, measure.Accuracy); problem == nil {
		margin = math.Max(margin, math.Abs(w.Difference)) + 1
	}
	var swinging []edgeOf
	for _, e := range p.edgesOf(refsOf(seam)) {
		if s.Piece != "" && e.piece.Name != s.Piece {
			p.keeps(e.length())
			continue
		}
		p.touch(e.piece.Name)
		swinging = append(swinging, e.before(), e.after())
		p.loose = append(p.loose, e.length(), e.before().length(), e.after().length())
		for _, sewn := range slices.Concat(p.seamsAt(e), p.seamsAt(e.before()), p.seamsAt(e.after())) {
			p.loose = append(p.loose, seamNamed("seam", sewn.Name))
		}
	}
	p.keepsGirth(swinging, margin)
	p.unproven("that %s agrees between its notches too, not only in all: the check of the seam tells", s.Seam)
	p.unproven("that the corners moved along %s and not beside it, as far as no level shows", s.Seam)
}

// proveOverlap: widening by e on both halves brings 2 e to the widths and 2 e to
// the overlap, so that girth, worn girth and gap stay.
func proveOverlap(p *proof, s Step) {
	p.becomes(measure.Measure{Kind: "overlap", Closure: s.Closure}, s.Number.Value, pattern.Opt{})
	p.file = true
	c := p.g.Closure(s.Closure)
	if c == nil {
		return
	}
	edges := p.edgesOf(c.Edges)
	for _, e := range edges {
		p.touch(e.piece.Name)
		p.loose = append(p.loose, e.length(), e.before().length(), e.after().length())
	}
	p.loose = append(p.loose, measure.Measure{Kind: "count", Closure: s.Closure}, measure.Measure{Kind: "pitch", Closure: s.Closure})
	p.unproven("where buttons and buttonholes, or hooks, of %s lie", s.Closure)
	if len(edges) != 1 || len(c.Edges) != 1 || p.g.Half == pattern.Whole {
		p.unproven("how much each edge of %s moved, only the sum, by the girth", s.Closure)
		p.keepGirthAt(p.girthTold())
		return
	}
	p.oneEdge(edges[0], s.Number.Value-c.Overlap.Or(0))
}

// oneEdge claims the width that the one drawn edge of a closure gains, half of
// what the overlap does, and that the girth stays where it does.
func (p *proof) oneEdge(e edgeOf, more float64) {
	mm := more / 2
	by := map[string]float64{}
	var told, open []string
	for _, l := range p.g.Levels {
		y, ok := p.g.LevelOn(e.piece, l.Name)
		if !ok {
			continue
		}
		told = append(told, l.Name)
		crossed := func(x edgeOf) int { return len(x.piece.EdgePath(x.edge).CrossingsY(y)) }
		if crossed(e) == 1 && crossed(e.before())+crossed(e.after()) == 0 && e.piece.Outline().WidthAt(y) > 0 {
			by[l.Name] = mm
		} else {
			open = append(open, l.Name)
			p.loose = append(p.loose, girthAt(l.Name), widthOf(e.piece.Name, l.Name))
		}
	}
	p.perLevel(widthOf(e.piece.Name, ""), by, told)
	rest, worn := map[string]float64{}, map[string]float64{}
	for _, l := range p.girthTold() {
		if mm, ok := by[l]; ok && p.around(e.piece.Name) {
			times := measure.Times(p.g, e.piece)
			rest[l] = times*mm - more
			worn[l] = rest[l] + float64(times*mm*inUse(p.g, e.piece.Name)/100)
		}
	}
	p.perLevel(girthAt(""), rest, p.girthTold())
	p.perLevel(measure.Measure{Kind: "worn"}, worn, p.girthTold())
	if len(open) > 0 {
		p.unproven("the width of %s and the girth at %s", e.piece.Name, strings.Join(open, ", "))
	}
}

// keepGirthAt claims that girth and worn girth stay at levels.
func (p *proof) keepGirthAt(levels []string) {
	by := map[string]float64{}
	for _, l := range levels {
		by[l] = 0
	}
	p.perLevel(girthAt(""), by, p.girthTold())
	p.perLevel(measure.Measure{Kind: "worn"}, by, p.girthTold())
}
