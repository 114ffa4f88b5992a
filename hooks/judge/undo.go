package judge

import (
	"slices"

	"seamkeep/pattern"
	"seamkeep/pattern/claim"
	"seamkeep/pattern/compare"
	"seamkeep/pattern/note"
)

// record is one record of a garment or of a piece, by its place.
type record struct{ piece, kind, name string }

func recordOf(e compare.Edit) record { return record{e.Piece, e.Kind, e.Name} }

// where names the piece of a record, or the garment file.
func (r record) where() string {
	switch {
	case r.kind == "piece-file":
		return r.name
	case r.piece != "":
		return r.piece
	}
	return "the garment file"
}

// edits lists what differs between two versions, leaving aside what names records had
// and in which order they stand.
func edits(a, b *pattern.Garment) []compare.Edit {
	return slices.DeleteFunc(compare.Edits(orEmpty(a), orEmpty(b)), func(e compare.Edit) bool { return e.Kind == "was" || e.Kind == "order" })
}

func orEmpty(g *pattern.Garment) *pattern.Garment {
	if g == nil {
		return &pattern.Garment{}
	}
	return g
}

// undoing gives the claims of a message that says which commits it undoes. A revert
// changes no record that they did not, and leaves none that still stands as they made
// it. Where each record got back what one of them took from it, the change claims what
// was measured; else what they did, the other way round, in the names of today. Where
// it is no revert, or what it undoes did nothing here or is not at hand, there are none:
// the message owes claims like any other, and why says what it lacks.
func (q *Request) undoing(message string, v *view) (claims []claim.Claim, why string) {
	undos := note.UndosOf(message)
	if q.Undone == nil || len(undos) == 0 {
		return nil, ""
	}
	list := q.Undone(message)
	if len(list) == 0 {
		return nil, "what it says it undoes is not among the versions before it"
	}
	now := v.folder.After
	before := renamed(v.folder.Before, now)
	changes := edits(before, now)
	changed := map[record]bool{}
	for _, e := range changes {
		changed[recordOf(e)] = true
	}
	back := map[record][]any{} // what each record had before
	for _, u := range list {
		was, is := q.Facts.of(u.Before, q.whereIn(u.Before, v.folder), q.Bodies), q.Facts.of(u.After, q.whereIn(u.After, v.folder), q.Bodies)
		if was.faulty || is.faulty || was.garment == nil || is.garment == nil {
			continue
		}
		then := renamed(was.garment, now)
		done := renamed(is.garment, now)
		since := map[record]bool{} // records that changed again since
		for _, e := range edits(done, before) {
			since[recordOf(e)] = true
		}
		for _, e := range edits(then, done) {
			r := recordOf(e)
			back[r] = append(back[r], e.Before)
			if !changed[r] && !since[r] {
				return nil, "some of what it says it undoes still stands in " + r.where()
			}
		}
		if len(list) == 1 {
			claims = claim.Suggest(compare.Garments(done, then, compare.Options{Body: v.folder.Body}))
		}
	}
	exactly := true
	for _, e := range changes {
		r := recordOf(e)
		if len(back[r]) == 0 {
			return nil, "what it says it undoes was not done in " + r.where()
		}
		exactly = exactly && slices.ContainsFunc(back[r], func(old any) bool { return pattern.Same(old, e.After) })
	}
	if exactly {
		claims = claim.Suggest(v.change)
	}
	for i := range claims {
		claims[i].Place, claims[i].Follows = list[0].Undo.Place, list[0].Undo.Source()
	}
	return claims, ""
}

// undoesComing tells whether a message says that it undoes the commit in which a
// folder came as it now goes.
func (q *Request) undoesComing(message, dir string) bool {
	if q.Undone == nil {
		return false
	}
	standing, err := ids(q.Before, dir)
	return err == nil && slices.ContainsFunc(q.Undone(message), func(u Undone) bool {
		came, err := ids(u.After, dir)
		return err == nil && came == standing && q.Facts.of(u.Before, dir, q.Bodies).garment == nil
	})
}
