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
	noUndo  string    // why what it says it undoes does not claim the change
	faults  diag.List // of its words, and names that this folder does not know
	results []claim.Result
}

// measure judges the note in each of the folders. A name that one of them knows is
// no fault in another; what an alteration keeps it keeps wherever its names are
// known, what it changes must be so in one of these places.
func (t *Told) measure(q *Request, message string, folders []Folder) {
	for _, f := range folders {
		switch {
		case f.After == nil && f.Partly == nil:
			t.gone(q, message, f)
		case f.After == nil || f.BeforeFaulty:
			t.unmeasured(f)
		}
	}
	if len(folders) == 0 {
		t.add(diag.List{nothingHere(t.Note)})
	}
	if len(t.Note.Groups) == 0 && !slices.ContainsFunc(folders, Folder.requires) {
		return // words that promise nothing, where nothing has to be
	}
	views := viewsOf(t.Note, folders)
	for _, v := range views {
		t.add(v.faults)
		switch {
		case !t.Note.Judged():
			v.claims = nil
		case len(v.claims) == 0 && v.folder.requires() && len(q.Merge) == 0:
			v.claims, v.noUndo = q.undone(message, v)
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
		case len(q.Merge) > 0:
			t.add(v.ofMerge(q))
		default:
			t.add(v.owed())
		}
	}
}

// viewsOf gives the folders that can be compared, with what a note claims of each.
func viewsOf(n *note.Note, folders []Folder) []*view {
	var views []*view
	for _, f := range folders {
		if f.After != nil && !f.BeforeFaulty {
			change := compare.Garments(f.Before, f.After, compare.Options{Body: f.Body})
			views = append(views, &view{folder: f, change: change, note: n})
		}
	}
	if len(views) > 1 {
		share(n, views)
	}
	for _, v := range views {
		v.claims, v.faults = v.note.Claims(v.folder.Before)
		v.faults = append(v.faults, v.unknown()...)
	}
	return views
}

// gone asks for a note where a garment that requires claims is given up, unless the
// commit undoes its coming. What cannot be read at all the checks refuse, whatever a
// note says.
func (t *Told) gone(q *Request, message string, f Folder) {
	if f.Before == nil || !f.Before.RequireClaims || len(t.Note.Names()) > 0 || q.undoesComing(message, f.Was) {
		return
	}
	t.add(diag.List{{
		ID: claim.UnclaimedID, Severity: diag.Error, Place: diag.Place{File: note.File, Garment: f.Before.Name}, Subject: claim.Garment,
		Found: "the pattern in " + f.Was + " goes, and no note says so", Expected: "a note with a name and a reason",
		Hint: "add to the note:\nAlteration: NAME\nBecause: WHY",
	}})
}

// unmeasured says that claims on a folder cannot be measured, since this version or
// the one before cannot be read whole: an error where claims are required. A fault that
// is not accepted the checks refuse already.
func (t *Told) unmeasured(f Folder) {
	required := false
	for _, g := range []*pattern.Garment{f.Before, f.After, f.Partly} {
		required = required || g != nil && g.RequireClaims
	}
	switch {
	case f.After == nil && len(t.Note.Unfinished()) == 0, !required && !promises(t.Note):
		return
	}
	p := diag.Problem{
		ID: "claim.unmeasured", Severity: diag.Warning, Place: diag.Place{File: note.File}, Subject: claim.Garment,
		Found:    "what this note claims was not measured: the version before cannot be read whole",
		Expected: "a version before without faults", Hint: "seamkeep check --rev HEAD~1 says what was wrong with it",
	}
	if f.After == nil {
		p.Found, p.Expected, p.Hint = "what changed cannot be measured: this version cannot be read whole", "a version that can be read, finished or not", ""
	}
	if required {
		p.Severity = diag.Error
	}
	t.add(diag.List{p})
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

// only gives an alteration without what its Only names of other folders; in one of
// several that is new without any.
func (v *view) only(g note.Group, all []*view) note.Group {
	g.Claims = slices.Clone(g.Claims)
	if v.folder.Before == nil { // a folder that is new is no change
		g.Claims = slices.DeleteFunc(g.Claims, func(c claim.Claim) bool { return c.Kind == claim.Only })
	}
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
// rest was measured. What cannot be told names nothing that changed.
func (v *view) settle(all []*view) {
	elsewhere := func(r claim.Result) bool {
		return r.Claim.Kind == claim.Changes && !r.OK && slices.ContainsFunc(all, func(o *view) bool {
			return slices.ContainsFunc(o.results, func(x claim.Result) bool { return x.OK && same(x.Claim, r.Claim) })
		})
	}
	v.results = slices.DeleteFunc(v.results, elsewhere)
	v.claims = nil
	for i := range v.results {
		r := &v.results[i]
		if r.Unknown == "" {
			v.claims = append(v.claims, r.Claim)
		}
		if len(all) > 1 {
			r.Measured = "in " + v.folder.Dir + ": " + r.Measured
		}
	}
}

// same tells whether two claims stand in the same words of the note.
func same(a, b claim.Claim) bool {
	return a.Place == b.Place && a.Source() == b.Source() && a.Line() == b.Line()
}

// requires tells whether what changes has to be claimed; it has to until a version
// without that record is kept.
func (f Folder) requires() bool {
	return f.After != nil && f.After.RequireClaims || f.Before != nil && f.Before.RequireClaims
}

// owed tells what changed that no claim names: an error where claims are required, a
// warning in other notes. A first version has nothing to be measured against, and words
// that are no alteration note promise nothing.
func (v *view) owed() diag.List {
	if v.folder.Before == nil || len(v.folder.Before.Pieces) == 0 || !v.folder.requires() && len(v.note.Groups) == 0 {
		return nil
	}
	way := ""
	if v.noUndo != "" {
		way = v.noUndo + ": "
	}
	if v.note.Waits() {
		way += "fold it into the version that it is for: git rebase -i --autosquash; or "
	}
	return v.asked(claim.Unclaimed(v.change, v.claims), way)
}

// ofMerge tells what a merge changed by itself that no claim names, where claims are
// required: what its sides did they have noted.
func (v *view) ofMerge(q *Request) diag.List {
	if !v.folder.requires() {
		return nil
	}
	own, figures := q.ownOf(v)
	return v.asked(claim.UnclaimedOf(own, v.change, figures, v.claims), "no side of the merge did this, nor all together: make it a version of its own, with its note; or ")
}

// asked puts what is owed into the message's place, with another way out, if there is
// one.
func (v *view) asked(list diag.List, way string) diag.List {
	for i := range list {
		p := &list[i]
		p.Place.File, p.Hint = note.File, way+p.Hint
		if v.folder.requires() {
			p.Severity = diag.Error
		}
	}
	return list
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
