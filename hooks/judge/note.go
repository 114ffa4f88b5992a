package judge

import (
	"fmt"
	"slices"
	"strings"

	"seamkeep/pattern/claim"
	"seamkeep/pattern/diag"
	"seamkeep/pattern/note"
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

// Findings gives what is wrong with the claims, then the problems: what was said
// wrongly comes before what was not said.
func (t *Told) Findings() diag.List {
	var out diag.List
	for _, r := range t.Claims {
		if p, wrong := r.Problem(); wrong {
			out = append(out, p)
		}
	}
	out.Sort()
	return append(out, t.Problems...)
}

// Read reads a message whose comments begin with "#". One that is longer than anybody
// could mean is not read.
func Read(message string) (*note.Note, diag.List) {
	if problem := tooLong(message); problem != nil {
		return &note.Note{}, diag.List{*problem}
	}
	var seen []note.Trailer
	for _, t := range repo.Trailers(message) {
		seen = append(seen, note.Trailer{Key: t.Key, Value: t.Value})
	}
	return note.Parse(message, note.Locate(message, seen))
}

// Note measures what a message claims of a commit that is not yet made, or was.
// What is wrong with its words comes alone: nothing is measured of a note that
// cannot be read. Where nothing of a pattern changed, a note with a name is
// measured against what stands there, and other messages are somebody else's. A
// merge owes no claims of its own; those that it makes are measured all the same.
func Note(q Request, message string) (*Told, error) {
	if q.Facts == nil {
		q.Facts = NewFacts()
	}
	n, problems := Read(message)
	folders, err := Folders(q)
	if err != nil {
		return nil, err
	}
	if len(folders) == 0 {
		if len(n.Names()) == 0 {
			return &Told{Note: n}, nil
		}
		if folders, err = q.standing(); err != nil {
			return nil, err
		}
	}
	out := &Told{Note: n, Problems: slices.Concat(problems, left(n), q.answered(n, folders))}
	if !out.Problems.HasErrors() {
		out.measure(&q, message, folders)
	}
	out.Problems.Sort()
	return out, nil
}

// left tells the words of an offered note that were left as they stood there.
func left(n *note.Note) diag.List {
	var out diag.List
	for _, g := range n.Groups {
		lines := append([]note.Entry{{Place: g.Place, Text: g.Name}}, g.Because...)
		for _, e := range lines {
			if e.Text == note.NoName || e.Text == note.NoReason {
				out = append(out, diag.Problem{
					ID: "note.offered", Severity: diag.Error, Place: e.Place, Subject: claim.Garment,
					Found: fmt.Sprintf("found %q, as it was offered", e.Text), Expected: "expected a name of your own, and why",
				})
			}
		}
	}
	return out
}

// A note is words of people: what is longer was made to keep a judge busy.
const mostMessage, mostItems = 1 << 20, 1000

// tooLong refuses a message that nobody could mean as a note: by its bytes, or by how
// many lines begin with a word of ours and how many items they list.
func tooLong(message string) *diag.Problem {
	items := 0
	for line := range strings.Lines(message) {
		key, value, ok := strings.Cut(line, ":")
		if ok && slices.ContainsFunc(note.Keys(), func(k string) bool { return strings.EqualFold(k, strings.TrimSpace(key)) }) {
			items += 1 + strings.Count(value, ",")
		}
	}
	if len(message) <= mostMessage && items <= mostItems {
		return nil
	}
	return &diag.Problem{
		ID: "note.long", Severity: diag.Error, Place: diag.Place{File: note.File}, Subject: "garment",
		Found:    fmt.Sprintf("a message of %d bytes with %d things that a note could say", len(message), items),
		Expected: fmt.Sprintf("at most %d bytes and %d such things", mostMessage, mostItems), Hint: "say it shorter, or several commits' worth in several commits",
	}
}
