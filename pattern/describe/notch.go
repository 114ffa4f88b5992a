package describe

import (
	"fmt"
	"math"
	"slices"
	"sort"
	"strings"

	"seamkeep/pattern"
	"seamkeep/pattern/measure"
)

// tick is a notch on a side of a seam.
type tick struct {
	piece, edge, name string
	at                float64 // mm along the side, from where the seam's walk begins
	ours              bool    // its name was made up and nothing refers to it
}

// crossed is where a side crosses a level, once.
type crossed struct {
	piece, edge string
	at          float64
	inner       bool // not at an end of its edge
}

// flank is one side of a seam with its notches.
type flank struct {
	side  measure.Side
	ticks []tick
}

// pairing proposes the notches of one seam.
type pairing struct {
	d    *draft
	seam *pattern.Seam
	a, b flank
	up   bool // the walk leads upwards
	news []NewNotch
	told []string
}

// proposeNotches proposes pairs of notches for every seam: those of the drawing,
// by the level where both lie, then by their order from the waist; then new ones
// where both sides cross a level of the hints.
func (d *draft) proposeNotches() {
	for i := range d.g.Seams {
		s := &d.g.Seams[i]
		if s.Mirrored {
			continue
		}
		w, problem := measure.WalkSeam(d.g, s, measure.Accuracy)
		if problem != nil {
			continue
		}
		p := &pairing{d: d, seam: s, a: d.flank(w.First), b: d.flank(w.Second)}
		first, last := w.First.Parts[0].SewnPath(measure.Accuracy), w.First.Parts[len(w.First.Parts)-1].SewnPath(measure.Accuracy)
		p.up = last.End().Y >= first.Start().Y
		p.propose()
	}
}

func (d *draft) flank(s measure.Side) flank {
	f := flank{side: s}
	for _, part := range s.Parts {
		for _, n := range part.Piece.Notches {
			if n.Edge.Name != part.Piece.Edges[part.Edge].Name {
				continue
			}
			at, err := d.g.SpotAt(part.Piece, part.Edge, n.On, measure.Accuracy)
			if err != nil || at < part.From-1e-6 || at > part.To+1e-6 {
				continue
			}
			f.ticks = append(f.ticks, tick{
				piece: part.Piece.Name, edge: n.Edge.Name, name: n.Name, at: along(part, at),
				ours: madeUpNotch.MatchString(n.Name) && !d.mentioned(part.Piece.Name, n.Edge.Name, n.Name),
			})
		}
	}
	sort.SliceStable(f.ticks, func(i, j int) bool { return f.ticks[i].at < f.ticks[j].at })
	return f
}

// along turns a distance on an edge into one on its side.
func along(p measure.Part, at float64) float64 {
	if p.Backward {
		return p.Offset + p.To - at
	}
	return p.Offset + at - p.From
}

// mentioned tells whether a seam refers to a notch, for a span or an ease.
func (d *draft) mentioned(piece, edge, name string) bool {
	for _, s := range d.g.Seams {
		for _, side := range [][]pattern.Ref{s.First, s.Second} {
			for _, r := range side {
				if r.Piece != piece || r.Edge != edge {
					continue
				}
				eased := slices.ContainsFunc(s.Eases, func(e pattern.Ease) bool { return e.From == name || e.To == name })
				if r.From == name || r.To == name || eased {
					return true
				}
			}
		}
	}
	return false
}

// crosses finds where a side crosses a level; false unless it does so once.
func (d *draft) crosses(f flank, level string) (crossed, bool) {
	var found []crossed
	for _, part := range f.side.Parts {
		y, ok := d.g.LevelOn(part.Piece, level)
		if !ok {
			continue
		}
		path := part.Piece.EdgePath(part.Edge)
		length := path.Length(measure.Accuracy)
		for _, hit := range path.CrossingsY(y) {
			at := path.LengthTo(hit.Seg, hit.T, measure.Accuracy)
			if at < part.From-1e-6 || at > part.To+1e-6 {
				continue
			}
			const corner = 1.0 // mm: no notch stands at a corner
			found = append(found, crossed{part.Piece.Name, part.Piece.Edges[part.Edge].Name, along(part, at), at > corner && at < length-corner})
		}
	}
	found = slices.CompactFunc(found, func(x, y crossed) bool { return math.Abs(x.at-y.at) < 1e-3 })
	if len(found) != 1 {
		return crossed{}, false
	}
	return found[0], true
}

func (p *pairing) propose() {
	p.dropPairs()
	p.byLevel()
	p.byOrder()
	levels := p.d.hints.NotchLevels
	if levels == nil {
		levels = []string{waist}
	}
	for _, l := range levels {
		p.create(l)
	}
	if len(p.news) == 0 {
		return
	}
	pr := Proposal{Kind: OfNotches, Sentence: fmt.Sprintf("notches of seam %s: %s", p.seam.Name, strings.Join(p.told, "; ")), Change: Change{Notches: p.news}}
	for _, n := range p.news {
		r := pattern.Ref{Piece: n.Piece, Edge: n.Edge}
		if !holds(pr.Edges, r) {
			pr.Edges = append(pr.Edges, r)
		}
	}
	p.d.add(pr)
}

// dropPairs takes out the notches that have a partner of their name. Names that a
// program made up are equal by chance, unless the places agree.
func (p *pairing) dropPairs() {
	paired := map[string]bool{}
	originA, originB, _ := p.origin()
	for _, a := range p.a.ticks {
		for _, b := range p.b.ticks {
			chance := a.ours && b.ours && math.Abs((a.at-originA)-(b.at-originB)) > Agree
			if a.name == b.name && !chance {
				paired[a.name] = true
			}
		}
	}
	for _, f := range []*flank{&p.a, &p.b} {
		f.ticks = slices.DeleteFunc(f.ticks, func(t tick) bool { return paired[t.name] })
	}
}

// origin is from where both sides are measured: the waist where both cross it
// once, else the lower end of the walk.
func (p *pairing) origin() (a, b float64, isWaist bool) {
	ca, okA := p.d.crosses(p.a, waist)
	cb, okB := p.d.crosses(p.b, waist)
	switch {
	case okA && okB:
		return ca.at, cb.at, true
	case p.up:
		return 0, 0, false
	}
	return p.a.side.Length, p.b.side.Length, false
}

// byLevel pairs the notches that lie at a level on both sides.
func (p *pairing) byLevel() {
	names := measure.LevelNames(p.d.g)
	slices.SortStableFunc(names, func(x, y string) int { return rank(x) - rank(y) })
	for _, level := range names {
		ca, okA := p.d.crosses(p.a, level)
		cb, okB := p.d.crosses(p.b, level)
		if !okA || !okB {
			continue
		}
		near := p.d.g.ToleranceOf("notch")
		i, j := nearest(p.a.ticks, ca.at, near), nearest(p.b.ticks, cb.at, near)
		if i >= 0 && j >= 0 && p.pair(p.a.ticks[i], p.b.ticks[j], level, true) {
			p.a.ticks = slices.Delete(p.a.ticks, i, i+1)
			p.b.ticks = slices.Delete(p.b.ticks, j, j+1)
		}
	}
}

// rank puts the waist first.
func rank(level string) int {
	if level == waist {
		return 0
	}
	return 1
}

// nearest finds the notch next to a place, within a distance; -1 for none.
func nearest(list []tick, at, within float64) int {
	best := -1
	for i, t := range list {
		if off := math.Abs(t.at - at); off <= within && (best < 0 || off < math.Abs(list[best].at-at)) {
			best = i
		}
	}
	return best
}

// byOrder pairs the others by their order from the waist, above it and below,
// where both sides have as many and all their places agree.
func (p *pairing) byOrder() {
	originA, originB, isWaist := p.origin()
	for _, up := range []bool{true, false} {
		word := "mark"
		if isWaist {
			word = map[bool]string{true: "above", false: "below"}[up]
		}
		a, b := p.beyond(p.a.ticks, originA, up), p.beyond(p.b.ticks, originB, up)
		agree := len(a) == len(b)
		for i := 0; agree && i < len(a); i++ {
			agree = math.Abs((a[i].at-originA)-(b[i].at-originB)) <= Agree
		}
		for i := 0; agree && i < len(a); i++ {
			p.pair(a[i], b[i], fmt.Sprintf("%s-%d", word, i+1), false)
		}
	}
}

// beyond gives the notches above or below a place, the nearest first.
func (p *pairing) beyond(list []tick, origin float64, up bool) []tick {
	var out []tick
	for _, t := range list {
		if (t.at >= origin) == (up == p.up) {
			out = append(out, t)
		}
	}
	if up != p.up {
		slices.Reverse(out)
	}
	return out
}

// pair names two notches alike; false where both have names of the maker's. A
// name of the maker's on one side is that of the pair.
func (p *pairing) pair(a, b tick, name string, exact bool) bool {
	switch {
	case !a.ours && !b.ours:
		return false
	case !a.ours:
		name, exact = a.name, true
	case !b.ours:
		name, exact = b.name, true
	}
	taken := func(n string) bool { return p.used(p.a.side, a, n) || p.used(p.b.side, b, n) }
	if !exact {
		name = free(name, taken)
	} else if taken(name) {
		return false
	}
	for _, t := range []tick{a, b} {
		if t.name != name {
			p.news = append(p.news, NewNotch{Piece: t.piece, Edge: t.edge, Old: t.name, Name: name})
		}
	}
	p.told = append(p.told, fmt.Sprintf("%s is %s.%s %s with %s.%s %s, %s", name, a.piece, a.edge, a.name, b.piece, b.edge, b.name, p.apartness(a.at, b.at)))
	return true
}

// apartness tells how far two places are from equal, seen from the origin.
func (p *pairing) apartness(a, b float64) string {
	originA, originB, _ := p.origin()
	return apart(a-originA, b-originB)
}

// used tells whether another notch of a side has a name, or will have: a pair is
// known by its name, so one name stands once on a side, whatever its edges.
func (p *pairing) used(s measure.Side, of tick, name string) bool {
	for _, part := range s.Parts {
		edge := part.Piece.Edges[part.Edge].Name
		itself := part.Piece.Name == of.piece && edge == of.edge && name == of.name
		if !itself && part.Piece.NotchIndex(edge, name) >= 0 {
			return true
		}
		if slices.ContainsFunc(p.news, func(n NewNotch) bool { return n.Piece == part.Piece.Name && n.Edge == edge && n.Name == name }) {
			return true
		}
	}
	return false
}

// create proposes a pair at a level that both sides cross, or the missing one of
// a pair, unless a notch stands near by.
func (p *pairing) create(level string) {
	ca, okA := p.d.crosses(p.a, level)
	cb, okB := p.d.crosses(p.b, level)
	if !okA || !okB || !ca.inner || !cb.inner {
		return
	}
	hasA, nearA := p.stands(p.a, ca, level)
	hasB, nearB := p.stands(p.b, cb, level)
	if hasA && hasB || nearA && !hasA || nearB && !hasB {
		return
	}
	for _, c := range []struct {
		crossed
		has bool
	}{{ca, hasA}, {cb, hasB}} {
		if !c.has {
			p.news = append(p.news, NewNotch{Piece: c.piece, Edge: c.edge, Name: level, On: pattern.Spot{Kind: pattern.AtLevel, Level: level}})
		}
	}
	p.told = append(p.told, fmt.Sprintf("%s where both sides cross it", level))
}

// stands tells whether a side has a notch of the level's name, and whether one
// stands at its crossing, or is named to be.
func (p *pairing) stands(f flank, c crossed, level string) (has, near bool) {
	for _, t := range p.d.flank(f.side).ticks {
		has = has || t.name == level
		near = near || math.Abs(t.at-c.at) <= p.d.g.ToleranceOf("notch")
	}
	for _, n := range p.news {
		has = has || n.Name == level && n.Piece == c.piece && n.Edge == c.edge
	}
	return has, near
}
