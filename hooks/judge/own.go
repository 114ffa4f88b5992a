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
	base    *compare.Change   // from where the sides parted to the merge
	sides   []*compare.Change // from each side that has the folder to the merge
	since   map[record]bool   // what differs between where they parted and the merge
	touched map[record][]int  // which sides changed a record since they parted
	unlike  map[record][]int  // which sides have a record otherwise than the merge
}

// partingOf compares a merge with its sides. Where it is not known where they parted,
// each of them made all that it has.
func (q *Request) partingOf(f Folder) *parting {
	p := &parting{since: map[record]bool{}, touched: map[record][]int{}, unlike: map[record][]int{}}
	var base *pattern.Garment
	if q.Base != nil {
		base = renamed(q.stateIn(q.Base, f), f.After)
	}
	p.base = compare.Garments(base, f.After, compare.Options{})
	for _, e := range edits(base, f.After) {
		p.since[recordOf(e)] = true
	}
	for i, side := range q.Merge {
		version := renamed(q.stateIn(side.Snapshot, f), f.After)
		if version == nil {
			continue // it made nothing of the folder
		}
		p.sides = append(p.sides, compare.Garments(version, f.After, compare.Options{}))
		for _, e := range edits(version, f.After) {
			p.unlike[recordOf(e)] = append(p.unlike[recordOf(e)], i)
		}
		for _, e := range edits(base, version) {
			p.touched[recordOf(e)] = append(p.touched[recordOf(e)], i)
		}
	}
	return p
}

// ownOf gives what a merge changed by itself: the records that it leaves as none of its
// sides has them. Where several of them changed a record, what it leaves may be put
// together of theirs, as far as widths and lengths lie within what they made of
// them, each and all together. girth tells that the girth does not.
func (q *Request) ownOf(v *view) (own *compare.Change, girth bool) {
	p := q.partingOf(v.folder)
	change := *v.change
	change.Records, change.Edits = nil, nil
	pieces := map[string]bool{}
	for _, e := range edits(renamed(v.folder.Before, v.folder.After), v.folder.After) {
		r := recordOf(e)
		together := p.by(p.touched, r) > 1
		switch {
		case p.by(p.unlike, r) < len(p.sides):
		case r.kind == "piece-file":
			pieces[r.name] = pieces[r.name] || !together
		case r.kind == "corner" || r.kind == "edge":
			pieces[r.piece] = pieces[r.piece] || !together || !p.composed(r.piece)
		case r.piece != "":
			pieces[r.piece] = true
		case together && (r.kind == "around" || r.kind == "run"): // lists, to which each side added
		default:
			change.Edits = append(change.Edits, e)
		}
	}
	for _, e := range change.Edits {
		if w := e.Words(); w != "" {
			change.Records = append(change.Records, w)
		}
	}
	change.Pieces = slices.DeleteFunc(slices.Clone(v.change.Pieces), func(p compare.PieceChange) bool { return !pieces[p.Name] })
	return &change, !p.girths()
}

// by counts the sides of a record; of one in a piece also those that lack the piece.
func (p *parting) by(sides map[record][]int, r record) int {
	file := record{kind: "piece-file", name: r.piece}
	if r.piece == "" || len(sides[file]) == 0 {
		return len(sides[r])
	}
	all := slices.Concat(sides[r], sides[file])
	slices.Sort(all)
	return len(slices.Compact(all))
}

// girths tells whether the girth lies at every level within what the sides made of it.
func (p *parting) girths() bool {
	return p.levels("girth", func(c *compare.Change) []compare.AtLevel { return c.Girths })
}

// composed tells whether the widths and edges of a piece do.
func (p *parting) composed(piece string) bool {
	of := func(c *compare.Change) *compare.PieceChange {
		i := slices.IndexFunc(c.Pieces, func(x compare.PieceChange) bool { return x.Name == piece })
		if i < 0 {
			return &compare.PieceChange{}
		}
		return &c.Pieces[i]
	}
	edges := func(c *compare.Change) []compare.AtLevel {
		var out []compare.AtLevel
		for _, e := range of(c).Edges {
			out = append(out, compare.AtLevel{Level: e.Name, Pair: e.Length})
		}
		return out
	}
	return p.levels("width", func(c *compare.Change) []compare.AtLevel { return of(c).Widths }) && p.levels("length", edges)
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
