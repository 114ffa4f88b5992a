package judge

import (
	"cmp"
	"maps"
	"math"
	"slices"

	"seamkeep/pattern"
	"seamkeep/pattern/claim"
	"seamkeep/pattern/compare"
	"seamkeep/pattern/note"
)

// record is one record of a garment or of a piece, by its place.
type record struct{ piece, kind, name string }

func compareRecords(a, b record) int {
	return cmp.Or(cmp.Compare(a.piece, b.piece), cmp.Compare(a.kind, b.kind), cmp.Compare(a.name, b.name))
}

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

// edits lists what differs between two versions, leaving aside what names records had,
// in which order they stand, and lengths, which follow from the rest.
func edits(a, b *pattern.Garment) []compare.Edit {
	return slices.DeleteFunc(compare.Edits(orEmpty(a), orEmpty(b)), func(e compare.Edit) bool {
		return e.Kind == "was" || e.Kind == "order" || onlyLength(e)
	})
}

func onlyLength(e compare.Edit) bool {
	a, ok1 := e.Before.(pattern.Edge)
	b, ok2 := e.After.(pattern.Edge)
	a.Length, b.Length = pattern.Opt{}, pattern.Opt{}
	return ok1 && ok2 && pattern.Same(a, b)
}

func orEmpty(g *pattern.Garment) *pattern.Garment {
	if g == nil {
		return &pattern.Garment{}
	}
	return g
}

// undone gives the claims of a message that says which commits it undoes: what was
// measured, where that is what undoing does. A revert changes no record that they did
// not, and leaves none that still stands as they made it; records of the garment file
// get back what one of them took; and girth, and the widths of pieces that were mended
// by hand, go back as far as they went. Where it is no revert, or what it undoes
// did nothing here or is not at hand, there are no claims: the message owes them like
// any other, and why says what it lacks.
func (q *Request) undone(message string, v *view) (claims []claim.Claim, why string) {
	undos := note.UndosOf(message)
	if q.Undone == nil || len(undos) == 0 {
		return nil, ""
	}
	u := undoing{now: v.folder.After, back: map[record][]any{}, stands: map[record]bool{}}
	u.before = renamed(v.folder.Before, u.now)
	list := q.Undone(message)
	for _, one := range list {
		was, is := q.Facts.of(one.Before, q.whereIn(one.Before, v.folder), q.Bodies), q.Facts.of(one.After, q.whereIn(one.After, v.folder), q.Bodies)
		if !was.faulty && !is.faulty && was.garment != nil && is.garment != nil {
			u.undo(renamed(was.garment, u.now), renamed(is.garment, u.now))
		}
	}
	if len(u.reverse) == 0 {
		return nil, "what it says it undoes is not among the versions before it"
	}
	if why := u.fault(); why != "" {
		return nil, why
	}
	claims = claim.Suggest(v.change)
	for i := range claims {
		claims[i].Place, claims[i].Follows = list[0].Undo.Place, list[0].Undo.Source()
	}
	return claims, ""
}

// undoing is a change that is to undo others, all in the names of the later version.
type undoing struct {
	before, now *pattern.Garment
	back        map[record][]any  // what each record had before one of the others
	stands      map[record]bool   // records that are still as one of them made them
	reverse     []*compare.Change // the others, backwards
}

// undo adds a change that is to be undone, from one version to another.
func (u *undoing) undo(from, to *pattern.Garment) {
	since := map[record]bool{}
	for _, e := range edits(to, u.before) {
		since[recordOf(e)] = true
	}
	for _, e := range edits(from, to) {
		r := recordOf(e)
		u.back[r] = append(u.back[r], e.Before)
		u.stands[r] = u.stands[r] || !since[r]
	}
	u.reverse = append(u.reverse, compare.Garments(to, from, compare.Options{}))
}

// fault says why the change is not what undoes the others; empty where it is.
func (u *undoing) fault() string {
	changes := edits(u.before, u.now)
	changed, mended := map[record]bool{}, map[string]bool{} // mended: pieces with a record that none of them had
	for _, e := range changes {
		r := recordOf(e)
		changed[r] = true
		exact := slices.ContainsFunc(u.back[r], func(old any) bool { return pattern.Same(old, e.After) })
		switch {
		case len(u.back[r]) == 0 || !exact && r.piece == "":
			return "what it says it undoes was not done so in " + r.where()
		case !exact:
			mended[r.piece] = true
		}
	}
	for _, r := range slices.SortedFunc(maps.Keys(u.stands), compareRecords) {
		if u.stands[r] && !changed[r] {
			return "some of what it says it undoes still stands in " + r.where()
		}
	}
	now := compare.Garments(u.before, u.now, compare.Options{})
	if !goesBack(now, u.reverse, "girth", func(c *compare.Change) []compare.AtLevel { return c.Girths }) {
		return "the girth does not go back as far as it went"
	}
	for _, piece := range slices.Sorted(maps.Keys(mended)) {
		if !goesBack(now, u.reverse, "width", func(c *compare.Change) []compare.AtLevel { return pieceOf(c, piece).Widths }) {
			return "the width of " + piece + " does not go back as far as it went"
		}
	}
	return ""
}

// goesBack tells whether figures change by what some changes add up to, give or take
// the tolerance of their kind; what is unknown somewhere does.
func goesBack(now *compare.Change, reverse []*compare.Change, kind string, of func(*compare.Change) []compare.AtLevel) bool {
	for _, l := range of(now) {
		left, known := l.Delta()
		for _, c := range reverse {
			for _, x := range of(c) {
				if x.Level == l.Level {
					d, ok := x.Delta()
					left, known = left-d, known && ok
				}
			}
		}
		if known && math.Abs(left) > claim.DefaultTolerance(kind) {
			return false
		}
	}
	return true
}

// pieceOf gives what became of a piece; nothing where it is in neither version.
func pieceOf(c *compare.Change, name string) compare.PieceChange {
	for _, p := range c.Pieces {
		if p.Name == name {
			return p
		}
	}
	return compare.PieceChange{}
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
