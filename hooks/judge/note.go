package judge

import (
	"fmt"
	"slices"
	"strings"

	"seamkeep/pattern/claim"
	"seamkeep/pattern/compare"
	"seamkeep/pattern/diag"
	"seamkeep/pattern/note"
	"seamkeep/pattern/step"
	"seamkeep/pattern/text"
	"seamkeep/repo"
)

// Told is what a commit's message says, measured against what the commit does.
type Told struct {
	Note   *note.Note
	Claims []claim.Result // of every folder that changed
	// Problems are faults of the note, and what changed that no claim names: an
	// error where the garment requires claims. Untrue claims stand in Claims.
	Problems diag.List
}

// Findings gives the problems and what is wrong with the claims, sorted.
func (t *Told) Findings() diag.List {
	out := append(diag.List(nil), t.Problems...)
	for _, r := range t.Claims {
		if p, wrong := r.Problem(); wrong {
			out = append(out, p)
		}
	}
	out.Sort()
	return out
}

// Read reads a message whose comments begin with "#".
func Read(message string) (*note.Note, diag.List) {
	var seen []note.Trailer
	for _, t := range repo.Trailers(message) {
		seen = append(seen, note.Trailer{Key: t.Key, Value: t.Value})
	}
	return note.Parse(message, note.Locate(message, seen))
}

// Note measures what a message claims of a commit that is not yet made, or was.
// A merge, a revert and a commit that waits to be folded owe no claims of their
// own; those that they make are measured all the same.
func Note(q Request, message string) (*Told, error) {
	if len(message) > mostMessage || strings.Count(message, ": ") > mostLines {
		return tooLong(message), nil
	}
	n, problems := Read(message)
	out := &Told{Note: n, Problems: problems}
	folders, err := Folders(q)
	if err != nil {
		return nil, err
	}
	for _, f := range folders {
		out.folder(f, len(q.Merge) == 0 && n.Owes() && !undoes(n.Subject))
	}
	out.Problems.Sort()
	return out, nil
}

// A note is words of people: what is longer was made to keep a judge busy.
const mostMessage, mostLines = 1 << 20, 1000

// tooLong refuses a message that nobody could mean as a note.
func tooLong(message string) *Told {
	return &Told{Note: &note.Note{}, Problems: diag.List{{
		ID: "note.long", Severity: diag.Error, Place: diag.Place{File: note.File}, Subject: "garment",
		Found:    fmt.Sprintf("a message of %d bytes with %d lines that could be trailers", len(message), strings.Count(message, ": ")),
		Expected: fmt.Sprintf("at most %d bytes and %d such lines", mostMessage, mostLines), Hint: "say it shorter, or several commits' worth in several commits",
	}}}
}

// undoes tells a message that git writes for a revert: what it undoes had its
// note.
func undoes(subject string) bool {
	return strings.HasPrefix(subject, `Revert "`) || strings.HasPrefix(subject, `Reapply "`)
}

func (t *Told) folder(f Folder, owes bool) {
	if f.After == nil || f.BeforeFaulty {
		return // the checks refuse the first; nothing can be measured against the second
	}
	claims, faults := t.Note.Claims(f.Before)
	t.add(faults)
	change := compare.Garments(f.Before, f.After, compare.Options{Body: f.Body})
	t.add(claim.Check(change, claims))
	for _, g := range t.Note.Groups {
		for _, d := range g.Does {
			if d.Known {
				t.add(step.Check(d.Step, f.Before, f.After))
			}
		}
	}
	if t.Note.Judged() {
		t.Claims = append(t.Claims, claim.Judge(change, claims)...)
	}
	if f.Before == nil || len(f.Before.Pieces) == 0 || !owes {
		return // a first version has nothing to be measured against
	}
	if len(t.Note.Groups) == 0 && !f.After.RequireClaims {
		return // words that are no alteration note promise nothing
	}
	for _, p := range claim.Unclaimed(change, claims) {
		if f.After.RequireClaims {
			p.Severity = diag.Error
		}
		p.Place.File = note.File
		t.add(diag.List{p})
	}
}

// add adds problems that are not there yet: several folders may find the same.
func (t *Told) add(list diag.List) {
	for _, p := range list {
		there := false
		for _, o := range t.Problems {
			there = there || o.ID == p.ID && o.Place == p.Place && o.Found == p.Found
		}
		if !there {
			t.Problems = append(t.Problems, p)
		}
	}
}

// Folders gives the pattern folders that a commit changes, before and after,
// without judging them.
func Folders(q Request) ([]Folder, error) {
	if q.Facts == nil {
		q.Facts = NewFacts()
	}
	dirs, err := text.Find(q.After)
	if err != nil {
		return nil, err
	}
	var out []Folder
	for _, dir := range dirs {
		changed, err := differs(q.Before, q.After, dir)
		if err != nil {
			return nil, err
		}
		if changed {
			now, before := q.Facts.of(q.After, dir, q.Bodies), q.Facts.of(q.Before, dir, q.Bodies)
			f := Folder{Dir: dir, Before: before.garment, After: now.garment, Body: now.body}
			f.BeforeFaulty = before.garment != nil && before.faulty
			if now.faulty {
				f.After = nil
			}
			out = append(out, f)
		}
	}
	return out, nil
}

// KeptSince measures what several notes keep, the oldest first, over all that
// was done since: what one of them changes is no longer kept, what none of them
// does must still be what it was. Only claims of the kind Keeps are measured.
func KeptSince(q Request, messages []string) (*Told, error) {
	all := &note.Note{}
	for _, m := range messages {
		n, _ := Read(m)
		all.Groups = append(all.Groups, n.Groups...)
	}
	for i := range all.Groups {
		all.Groups[i].Claims = slices.DeleteFunc(slices.Clone(all.Groups[i].Claims), func(c claim.Claim) bool { return c.Kind == claim.Only })
	}
	out := &Told{Note: all}
	folders, err := Folders(q)
	if err != nil {
		return nil, err
	}
	for _, f := range folders {
		if f.Before == nil || f.After == nil || f.BeforeFaulty {
			continue
		}
		claims, faults := all.Claims(f.Before)
		out.add(faults)
		claims = slices.DeleteFunc(claims, func(c claim.Claim) bool { return c.Kind != claim.Keeps })
		change := compare.Garments(f.Before, f.After, compare.Options{Body: f.Body})
		out.Claims = append(out.Claims, claim.Judge(change, claims)...)
	}
	return out, nil
}
