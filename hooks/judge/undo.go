package judge

import (
	"seamkeep/pattern"
	"seamkeep/pattern/claim"
	"seamkeep/pattern/compare"
)

// record is one record of a garment or of a piece, by its place.
type record struct{ piece, kind, name string }

func recordOf(e compare.Edit) record { return record{e.Piece, e.Kind, e.Name} }

// undoing gives the claims of a message that says which commits it undoes. Where each
// record that changed got back what one of those commits took from it, the change is
// what a revert does, and claims what was measured. Else it claims what they did, the
// other way round, in the names of today. None where they did nothing here or are not
// at hand; the message then owes claims like any other.
func (q *Request) undoing(message string, v *view) []claim.Claim {
	if q.Undone == nil {
		return nil
	}
	list := q.Undone(message)
	back := map[record][]any{} // what each record had before
	var claims []claim.Claim
	for _, u := range list {
		was, is := q.Facts.of(u.Before, q.whereIn(u.Before, v.folder), q.Bodies), q.Facts.of(u.After, q.whereIn(u.After, v.folder), q.Bodies)
		if was.faulty || is.faulty || was.garment == nil || is.garment == nil {
			continue
		}
		then := renamed(was.garment, v.folder.After)
		for _, e := range compare.Edits(then, renamed(is.garment, then)) {
			back[recordOf(e)] = append(back[recordOf(e)], e.Before)
		}
		if len(list) == 1 {
			claims = claim.Suggest(compare.Garments(renamed(is.garment, v.folder.After), then, compare.Options{Body: v.folder.Body}))
		}
	}
	if len(back) > 0 && undoes(v.change.Edits, back) {
		claims = claim.Suggest(v.change)
	}
	for i := range claims {
		claims[i].Place, claims[i].Follows = list[0].Undo.Place, list[0].Undo.Source()
	}
	return claims
}

// undoes tells whether every record that changed now is what it was before one of the
// changes that are undone.
func undoes(edits []compare.Edit, back map[record][]any) bool {
	for _, e := range edits {
		found := false
		for _, old := range back[recordOf(e)] {
			found = found || pattern.Same(old, e.After)
		}
		if !found {
			return false
		}
	}
	return true
}
