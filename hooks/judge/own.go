package judge

import (
	"math"
	"slices"

	"seamkeep/pattern"
	"seamkeep/pattern/alter"
	"seamkeep/pattern/claim"
	"seamkeep/pattern/compare"
	"seamkeep/repo"
)

// parting is a folder that a merge leaves, beside what its sides had and where they
// parted, all in the names that the merge has.
type parting struct {
	base    *compare.Change   // from where the sides parted to the merge; from nothing where that is not known
	sides   []*compare.Change // from each side that has the folder to the merge
	names   []string          // of these sides
	certain bool              // where they parted is known: what each did alone can be told
	since   map[record]bool   // what differs between where they parted and the merge
	touched map[record][]int  // which sides changed a record since they parted
	unlike  map[record][]int  // which sides have a record otherwise than the merge
}

// partingOf compares a merge with its sides. What all sides changed alike they had
// already where they parted, as far as it matters here. Where it is not certain where
// they parted, each of them made all that it has.
func (q *Request) partingOf(f Folder) *parting {
	p := &parting{
		certain: q.Base != nil && !q.Crossed,
		since:   map[record]bool{}, touched: map[record][]int{}, unlike: map[record][]int{},
	}
	var versions []*pattern.Garment
	for _, side := range q.Merge {
		if version := renamed(q.stateIn(side.Snapshot, f), f.After); version != nil { // else it made nothing of the folder
			versions, p.names = append(versions, version), append(p.names, side.Name)
		}
	}
	var base *pattern.Garment
	if q.Base != nil {
		base = alikeInAll(renamed(q.stateIn(q.Base, f), f.After), versions)
	}
	o := compare.Options{Body: f.Body}
	p.base = compare.Garments(base, f.After, o)
	if !p.certain {
		base = nil
	}
	for _, e := range edits(base, f.After) {
		p.since[recordOf(e)] = true
	}
	for i, version := range versions {
		p.sides = append(p.sides, compare.Garments(version, f.After, o))
		for _, e := range edits(version, f.After) {
			p.unlike[recordOf(e)] = append(p.unlike[recordOf(e)], i)
		}
		for _, e := range edits(base, version) {
			p.touched[recordOf(e)] = append(p.touched[recordOf(e)], i)
		}
	}
	return p
}

// alikeInAll gives a base with what all versions made of it alike.
func alikeInAll(base *pattern.Garment, versions []*pattern.Garment) *pattern.Garment {
	if base == nil || len(versions) < 2 {
		return base
	}
	shared := edits(base, versions[0])
	for _, v := range versions[1:] {
		made := map[record]any{}
		for _, e := range edits(base, v) {
			made[recordOf(e)] = e.After
		}
		shared = slices.DeleteFunc(shared, func(e compare.Edit) bool {
			after, changed := made[recordOf(e)]
			return !changed || !pattern.Same(after, e.After)
		})
	}
	return compare.Apply(base, shared)
}

// ownOf gives what a merge changed by itself: the records that it leaves as none of its
// sides has them. Where several of them changed a record, what it leaves may be put
// together of theirs, as far as widths and lengths lie within what they made of
// them, each and all together. figures tells that the girth or a gap does not: it is
// asked where something was put together, or left out of what a side did.
func (q *Request) ownOf(v *view) (own *compare.Change, figures bool) {
	p := q.partingOf(v.folder)
	pieces, garment := map[string]bool{}, map[record]bool{} // that are its own
	byHand := len(p.leftOut()) > 0
	for r := range p.unlike {
		if p.by(p.unlike, r) < len(p.sides) {
			continue
		}
		byHand = true
		together := p.by(p.touched, r) > 1
		switch {
		case r.kind == "piece-file":
			pieces[r.name] = pieces[r.name] || !together
		case r.kind == "corner" || r.kind == "edge":
			pieces[r.piece] = pieces[r.piece] || !together || !p.composed(r.piece)
		case r.piece != "":
			pieces[r.piece] = true
		case r.kind == "around" || r.kind == "run":
			garment[r] = !together || !p.joined(v.folder.After, r)
		default:
			garment[r] = true
		}
	}
	change := *v.change
	change.Records = nil
	change.Edits = slices.DeleteFunc(slices.Clone(v.change.Edits), func(e compare.Edit) bool { return !garment[recordOf(e)] })
	for _, e := range change.Edits {
		if w := e.Words(); w != "" {
			change.Records = append(change.Records, w)
		}
	}
	change.Pieces = slices.DeleteFunc(slices.Clone(v.change.Pieces), func(p compare.PieceChange) bool { return !pieces[p.Name] })
	return &change, byHand && !p.figures()
}

// joined tells whether a list that several sides changed has nothing that no side has,
// and all that every side has.
func (p *parting) joined(after *pattern.Garment, r record) bool {
	list := func(g *pattern.Garment) []string {
		var out []string
		if g == nil {
			return nil
		}
		if r.kind == "around" {
			for _, m := range g.Around {
				out = append(out, m.Name)
			}
		} else if run := g.Run(r.name); run != nil {
			for _, ref := range run.Refs {
				out = append(out, ref.Piece+"."+ref.Edge)
			}
		}
		return out
	}
	count := map[string]int{}
	for _, c := range p.sides {
		for _, name := range list(c.Before) {
			count[name]++
		}
	}
	now := list(after)
	for _, name := range now {
		if count[name] == 0 {
			return false
		}
	}
	for name, n := range count {
		if n == len(p.sides) && !slices.Contains(now, name) {
			return false
		}
	}
	return true
}

// by counts the sides of a record; of one in a piece also those that lack the piece.
func (p *parting) by(sides map[record][]int, r record) int {
	file := fileOf(r)
	if file == r || len(sides[file]) == 0 {
		return len(sides[r])
	}
	all := slices.Concat(sides[r], sides[file])
	slices.Sort(all)
	return len(slices.Compact(all))
}

// fileOf gives, for a record in a piece, that of the piece as a whole.
func fileOf(r record) record {
	if r.piece == "" {
		return r
	}
	return record{kind: "piece-file", name: r.piece}
}

// leftOut gives what one side alone changed and the merge has as it was, by the side.
func (p *parting) leftOut() map[int][]record {
	out := map[int][]record{}
	if !p.certain {
		return out
	}
	for r, sides := range p.touched {
		if len(sides) == 1 && !p.since[r] && !p.since[fileOf(r)] {
			out[sides[0]] = append(out[sides[0]], r)
		}
	}
	return out
}

// figures tells whether girth, worn girth and gaps lie at every level within what the
// sides made of them.
func (p *parting) figures() bool {
	ok := p.levels("girth", func(c *compare.Change) []compare.AtLevel { return c.Girths }) &&
		p.levels("worn", func(c *compare.Change) []compare.AtLevel { return c.Worn })
	if len(p.sides) == 0 {
		return ok
	}
	for _, g := range p.sides[0].Gaps {
		ok = ok && p.levels("gap", func(c *compare.Change) []compare.AtLevel {
			for _, x := range c.Gaps {
				if x.Closure == g.Closure {
					return x.Levels
				}
			}
			return nil
		})
	}
	return ok
}

// composed tells whether the widths and edges of a piece do.
func (p *parting) composed(piece string) bool {
	edges := func(c *compare.Change) []compare.AtLevel {
		var out []compare.AtLevel
		for _, e := range pieceOf(c, piece).Edges {
			out = append(out, compare.AtLevel{Level: e.Name, Pair: e.Length})
		}
		return out
	}
	return p.levels("width", func(c *compare.Change) []compare.AtLevel { return pieceOf(c, piece).Widths }) && p.levels("length", edges)
}

// levels tells whether each of some figures of a kind lies within what the sides made
// of it; one that is unknown somewhere does.
func (p *parting) levels(kind string, of func(*compare.Change) []compare.AtLevel) bool {
	before := func(c *compare.Change, name string) pattern.Opt {
		for _, l := range of(c) {
			if l.Level == name {
				return l.Before
			}
		}
		return pattern.Opt{}
	}
	if len(p.sides) == 0 {
		return true
	}
	for _, l := range of(p.sides[0]) {
		var sides []pattern.Opt
		for _, c := range p.sides {
			sides = append(sides, before(c, l.Level))
		}
		if !within(l.After, sides, before(p.base, l.Level), claim.DefaultTolerance(kind)) {
			return false
		}
	}
	return true
}

// within tells whether a figure lies between those of the sides, or between them and
// what their changes since the base add up to, give or take a tolerance.
func within(figure pattern.Opt, sides []pattern.Opt, base pattern.Opt, tol float64) bool {
	low, high, sum := math.Inf(1), math.Inf(-1), base.Value
	for _, s := range sides {
		if !s.Set || !figure.Set {
			return true
		}
		low, high, sum = min(low, s.Value), max(high, s.Value), sum+s.Value-base.Value
	}
	if base.Set {
		low, high = min(low, sum), max(high, sum)
	}
	return figure.Value > low-tol && figure.Value < high+tol
}

func (q *Request) stateIn(s *repo.Snapshot, f Folder) *pattern.Garment {
	return q.Facts.of(s, q.whereIn(s, f), q.Bodies).garment
}

// renamed gives a version with the names that its pieces and edges have in another
// one, so that their records can be told apart by name.
func renamed(g, to *pattern.Garment) *pattern.Garment {
	if g == nil || to == nil {
		return g
	}
	for _, p := range compare.Garments(g, to, compare.Options{}).Pieces {
		if p.Before == nil || p.After == nil {
			continue
		}
		for _, e := range p.Edges {
			if len(e.Was) == 1 && e.Was[0] != e.Name && e.Status != compare.Split {
				if x, problem := alter.RenameEdge(g, p.Before.Name, e.Was[0], e.Name, false); problem == nil {
					g = x
				}
			}
		}
		if p.Before.Name != p.After.Name {
			if x, problem := alter.RenamePiece(g, p.Before.Name, p.After.Name, false); problem == nil {
				g = x
			}
		}
	}
	return g
}
