package judge

import (
	"slices"

	"seamkeep/pattern"
	"seamkeep/pattern/claim"
	"seamkeep/pattern/compare"
	"seamkeep/pattern/diag"
	"seamkeep/pattern/note"
	"seamkeep/pattern/step"
)

// view is a note as it speaks of one folder.
type view struct {
	folder  Folder
	change  *compare.Change
	note    *note.Note // the alterations whose names this folder knows
	claims  []claim.Claim
	results []claim.Result
}

// measure judges the note in each of the folders. A name that one of them knows is
// no fault in another; what an alteration keeps it keeps wherever its names are
// known, what it changes must be so in one of these places.
func (t *Told) measure(q *Request, message string, folders []Folder) {
	var views []*view
	for _, f := range folders {
		switch {
		case f.After == nil: // the checks refuse it
		case f.BeforeFaulty:
			t.unmeasured(f)
		default:
			change := compare.Garments(f.Before, f.After, compare.Options{Body: f.Body})
			views = append(views, &view{folder: f, change: change, note: t.Note})
		}
	}
	if len(folders) == 0 {
		t.add(diag.List{nothingHere(t.Note)})
	}
	if len(views) > 1 {
		share(t.Note, views)
	}
	for _, v := range views {
		var faults diag.List
		v.claims, faults = v.note.Claims(v.folder.Before)
		t.add(append(faults, v.unknown()...))
		switch {
		case !t.Note.Judged():
			v.claims = nil
		case len(v.claims) == 0 && v.requires() && len(q.Merge) == 0:
			v.claims = q.undone(message, v.folder)
		}
	}
	if t.Problems.HasErrors() {
		return
	}
	for _, v := range views {
		v.results = claim.Judge(v.change, v.claims)
	}
	for _, v := range views {
		v.settle(views)
		t.Claims = append(t.Claims, v.results...)
		switch {
		case q.Waits && t.Note.Waits():
		case len(q.Merge) == 0:
			way := ""
			if v.note.Waits() {
				way = "fold it into the version that it is for: git rebase -i --autosquash; or "
			}
			t.add(v.owed(v.change, way))
		case v.requires():
			t.add(v.owed(q.itself(v), "no side of the merge changed this: make it a version of its own, with its note; or "))
		}
	}
}

// unmeasured says that claims on a folder cannot be measured against a version
// that its files do not tell whole.
func (t *Told) unmeasured(f Folder) {
	if !promises(t.Note) && !(f.After.RequireClaims || f.Before.RequireClaims) {
		return
	}
	t.add(diag.List{{
		ID: "claim.unmeasured", Severity: diag.Warning, Place: diag.Place{File: note.File, Garment: f.After.Name}, Subject: "garment",
		Found:    "what this note claims was not measured: the version before cannot be read whole",
		Expected: "a version before without faults", Hint: "seamkeep check --rev HEAD~1 says what was wrong with it",
	}})
}

// promises tells whether a note says anything that can be measured.
func promises(n *note.Note) bool {
	return slices.ContainsFunc(n.Groups, func(g note.Group) bool { return len(g.Claims)+len(g.Does) > 0 })
}

func nothingHere(n *note.Note) diag.Problem {
	p := diag.Problem{
		ID: claim.Untold, Severity: diag.Error, Place: diag.Place{File: note.File}, Subject: "garment",
		Found: "there is no pattern here that this note could speak of", Expected: "a garment file in this version",
	}
	if !promises(n) {
		p.Severity = diag.Warning
	}
	return p
}

// share gives each folder the alterations that speak of it.
func share(n *note.Note, views []*view) {
	for _, v := range views {
		own := *n
		own.Groups = nil
		v.note = &own
	}
	for _, g := range n.Groups {
		at := homes(n, g, views)
		for _, v := range views {
			own := v.only(g, views)
			if !slices.Contains(at, v) { // what it says of no other piece it says of those here
				own.Does, own.Claims = nil, slices.DeleteFunc(own.Claims, func(c claim.Claim) bool { return c.Kind != claim.Only })
			}
			v.note.Groups = append(v.note.Groups, own)
		}
	}
}

// homes lists the folders that know all the names of an alteration, leaving its
// Only aside; the one that lacks the fewest where none does.
func homes(n *note.Note, g note.Group, views []*view) []*view {
	measured := g
	measured.Claims = slices.DeleteFunc(slices.Clone(g.Claims), func(c claim.Claim) bool { return c.Kind == claim.Only })
	var out []*view
	var best *view
	fewest := 0
	for _, v := range views {
		alone := *n
		alone.Groups = []note.Group{measured}
		try := view{folder: v.folder, change: v.change, note: &alone}
		try.claims, _ = alone.Claims(v.folder.Before)
		lacks := len(try.unknown())
		if lacks == 0 {
			out = append(out, v)
		}
		if best == nil || lacks < fewest {
			best, fewest = v, lacks
		}
	}
	if len(out) == 0 {
		return []*view{best}
	}
	return out
}

// only gives an alteration without what its Only names of other folders.
func (v *view) only(g note.Group, all []*view) note.Group {
	g.Claims = slices.Clone(g.Claims)
	for i, c := range g.Claims {
		if c.Kind != claim.Only {
			continue
		}
		g.Claims[i].Pieces = slices.DeleteFunc(slices.Clone(c.Pieces), func(p string) bool {
			return !v.knows(p) && slices.ContainsFunc(all, func(o *view) bool { return o.knows(p) })
		})
	}
	return g
}

// knows tells whether a piece is in either version.
func (v *view) knows(piece string) bool {
	return piece == claim.Garment || v.folder.After.Piece(piece) != nil || v.folder.Before != nil && v.folder.Before.Piece(piece) != nil
}

// unknown tells the names of claims and steps that are in neither version.
func (v *view) unknown() diag.List {
	out := claim.Check(v.change, v.claims)
	for _, g := range v.note.Groups {
		for _, d := range g.Does {
			if d.Known {
				out = append(out, step.Check(d.Step, v.folder.Before, v.folder.After)...)
			}
		}
	}
	return out
}

// settle drops what is untrue here and true in another folder, and says where the
// rest was measured.
func (v *view) settle(all []*view) {
	if len(all) == 1 {
		return
	}
	elsewhere := func(r claim.Result) bool {
		return r.Claim.Kind == claim.Changes && !r.OK && slices.ContainsFunc(all, func(o *view) bool {
			return slices.ContainsFunc(o.results, func(x claim.Result) bool { return x.OK && same(x.Claim, r.Claim) })
		})
	}
	var left []claim.Result
	v.claims = nil
	for _, r := range v.results {
		if elsewhere(r) {
			continue
		}
		left, v.claims = append(left, r), append(v.claims, r.Claim)
	}
	v.results = left
	for i := range v.results {
		v.results[i].Measured = "in " + v.folder.Dir + ": " + v.results[i].Measured
	}
}

// same tells whether two claims stand in the same words of the note.
func same(a, b claim.Claim) bool {
	return a.Place == b.Place && a.Source() == b.Source() && a.Line() == b.Line()
}

// requires tells whether what changes has to be claimed; it has to until a version
// without that record is kept.
func (v *view) requires() bool {
	f := v.folder
	return f.After.RequireClaims || f.Before != nil && f.Before.RequireClaims
}

// owed tells what of a change no claim names: an error where claims are required, a
// warning in other notes. A first version has nothing to be measured against, and
// words that are no alteration note promise nothing. way is another way out, if there
// is one.
func (v *view) owed(change *compare.Change, way string) diag.List {
	if v.folder.Before == nil || len(v.folder.Before.Pieces) == 0 || !v.requires() && len(v.note.Groups) == 0 {
		return nil
	}
	list := claim.Unclaimed(change, v.claims)
	for i := range list {
		p := &list[i]
		p.Place.File = note.File
		if v.requires() {
			p.Severity = diag.Error
		}
		p.Hint = way + p.Hint
	}
	return list
}

// itself gives the pieces that a merge changed and none of its sides, or not as one
// of them did: what is neither a side's version nor put together from several.
func (q *Request) itself(v *view) *compare.Change {
	changed := func(a, b *pattern.Garment) map[string]bool {
		names := map[string]bool{}
		if a != nil && b != nil {
			for _, p := range compare.Garments(a, b, compare.Options{}).ChangedPieces() {
				names[p.Name] = true
			}
		}
		return names
	}
	own := *v.change
	own.Girths, own.Gaps, own.Records, own.Pieces = nil, nil, nil, nil
	if q.Base == nil {
		return &own // where the sides parted is unknown, and so what each of them did
	}
	base := q.Facts.of(q.Base, v.folder.Dir, q.Bodies).garment
	unlike, touched := map[string]int{}, map[string]int{} // by how many sides
	for _, side := range q.Merge {
		version := q.Facts.of(side.Snapshot, v.folder.Dir, q.Bodies).garment
		for name := range changed(version, v.folder.After) {
			unlike[name]++
		}
		for name := range changed(base, version) {
			touched[name]++
		}
	}
	for _, p := range v.change.Pieces {
		if unlike[p.Name] == len(q.Merge) && touched[p.Name] < 2 {
			own.Pieces = append(own.Pieces, p)
		}
	}
	return &own
}

// undone gives the claims of a message that says which commit it undoes: what that
// one did, the other way round. None where it did nothing here or is not at hand;
// the message then owes claims like any other.
func (q *Request) undone(message string, f Folder) []claim.Claim {
	u, ok := note.UndoOf(message)
	if !ok || q.Undone == nil {
		return nil
	}
	before, after := q.Undone(u)
	if before == nil || after == nil {
		return nil
	}
	was, is := q.Facts.of(before, f.Was, q.Bodies), q.Facts.of(after, f.Was, q.Bodies)
	if was.faulty || is.faulty {
		return nil
	}
	claims := claim.Suggest(compare.Garments(is.garment, was.garment, compare.Options{Body: f.Body}))
	for i := range claims {
		claims[i].Place, claims[i].Follows = u.Place, u.Source()
	}
	return claims
}

// add adds problems that are not there yet: several folders may find the same.
func (t *Told) add(list diag.List) {
	for _, p := range list {
		there := slices.ContainsFunc(t.Problems, func(o diag.Problem) bool {
			return o.ID == p.ID && o.Place == p.Place && o.Found == p.Found
		})
		if !there {
			t.Problems = append(t.Problems, p)
		}
	}
}
