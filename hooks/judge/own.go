package judge

import (
	"slices"

	"seamkeep/pattern"
	"seamkeep/pattern/alter"
	"seamkeep/pattern/compare"
	"seamkeep/repo"
)

// ownOf gives what a merge changed by itself, record by record: what it leaves as none
// of its sides has it, though no two of them changed it. Where the sides parted has to
// be known.
func (q *Request) ownOf(v *view) *compare.Change {
	own := *v.change
	own.Records, own.Edits, own.Pieces = nil, nil, nil
	if q.Base == nil {
		return &own
	}
	base := renamed(q.stateIn(q.Base, v.folder), v.folder.After)
	unlike, touched := map[record]int{}, map[record]int{} // by how many sides
	var edits []compare.Edit
	for i, side := range q.Merge {
		version := renamed(q.stateIn(side.Snapshot, v.folder), v.folder.After)
		list := compare.Edits(version, v.folder.After)
		if i == 0 {
			edits = list
		}
		for _, e := range list {
			unlike[recordOf(e)]++
		}
		for _, e := range compare.Edits(base, version) {
			touched[recordOf(e)]++
		}
	}
	pieces := map[string]bool{}
	for _, e := range edits {
		r := recordOf(e)
		if unlike[r] < len(q.Merge) || touched[r] > 1 || r.kind == "was" || r.kind == "order" {
			continue
		}
		switch {
		case r.kind == "piece-file":
			pieces[r.name] = true
		case r.piece != "":
			pieces[r.piece] = true
		default:
			own.Edits = append(own.Edits, e)
		}
	}
	for _, e := range own.Edits {
		if w := e.Words(); w != "" {
			own.Records = append(own.Records, w)
		}
	}
	own.Pieces = slices.DeleteFunc(slices.Clone(v.change.Pieces), func(p compare.PieceChange) bool { return !pieces[p.Name] })
	return &own
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
			if len(e.Was) == 1 && e.Was[0] != e.Name {
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
