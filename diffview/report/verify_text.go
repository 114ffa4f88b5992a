package report

import (
	"bytes"
	"fmt"
	"strings"
	"unicode/utf8"

	"seamkeep/pattern/claim"
	"seamkeep/pattern/diag"
)

// Verified writes a line for each commit, in the order of the list (the newest
// last), and a line that counts them. Why a commit cannot be judged stands under
// its line. With details, what refuses a commit stands there too: its problems,
// then the claims that are untrue, with what was claimed, what was measured and
// where the difference sits. Of one commit alone the warnings stand there too.
func (t *Text) Verified(list []Verified, details bool) {
	col := 6
	for _, v := range list {
		col = max(col, len(v.verdict()))
	}
	for _, v := range list {
		t.commit(v, col)
		if v.Unjudged != "" {
			t.Para("    "+v.Unjudged, "    ")
		}
		switch {
		case details && v.fails():
			t.indented(func(in *Text) { in.failure(v) })
		case details && len(list) == 1 && v.Unjudged == "":
			t.indented(func(in *Text) {
				in.failure(v)
				in.Accepted(v.Accepted)
				in.proven(v.Claims)
			})
		}
	}
	t.Para(countVerified(list), "")
}

// verdict is the word for what became of a commit.
func (v Verified) verdict() string {
	switch {
	case v.Unjudged != "":
		return "cannot judge"
	case v.OK():
		return "ok"
	}
	return "FAILED"
}

// leastTitle is the room that a title is given before what was found moves to a
// line of its own.
const leastTitle = 16

// commit writes the line of a commit: verdict, id, note, and what was found. A
// title that is too long for it is cut.
func (t *Text) commit(v Verified, col int) {
	verdict, colour := v.verdict(), green
	switch {
	case v.Unjudged != "":
		colour = yellow
	case v.fails():
		colour = red
	}
	head := pad(shortID(v.ID), 7) + "  "
	tail, under := v.told(), ""
	room := t.width() - col - 1 - utf8.RuneCountInString(head)
	switch needed := utf8.RuneCountInString(tail) + 2; {
	case tail == "":
	case room-needed < leastTitle:
		tail, under = "", tail
	default:
		tail, room = "  "+tail, room-needed
	}
	t.line(t.paint(colour, verdict) + strings.Repeat(" ", col+1-len(verdict)) + head + shortened(v.title(), room) + tail)
	if under != "" {
		t.Para("    "+under, "    ")
	}
}

// title is the note's name and the subject, or whichever there is.
func (v Verified) title() string {
	name, subject := Clean(v.Name), Clean(v.Subject)
	switch {
	case name == "":
		return subject
	case subject == "" || subject == name:
		return name
	}
	return name + ": " + subject
}

// told counts what was found in a commit, in a few words.
func (v Verified) told() string {
	var parts []string
	if len(v.Problems) > 0 {
		parts = append(parts, Count(v.Problems))
	}
	untrue, untold := 0, 0
	for _, r := range v.Claims {
		switch {
		case r.OK:
		case r.Unknown != "":
			untold++
		default:
			untrue++
		}
	}
	if len(v.Accepted) > 0 {
		parts = append(parts, fmt.Sprintf("%d unfinished", len(v.Accepted)))
	}
	if untrue > 0 {
		parts = append(parts, Plural(untrue, "claim")+" untrue")
	}
	if untold > 0 {
		parts = append(parts, Plural(untold, "claim")+" untold")
	}
	return strings.Join(parts, ", ")
}

// failure writes what refuses a commit.
func (t *Text) failure(v Verified) {
	t.Problems(v.Problems)
	first := len(v.Problems) == 0
	for _, r := range v.Claims {
		if p, wrong := r.Problem(); wrong {
			if !first {
				t.line("")
			}
			first = false
			t.untrue(r, p)
		}
	}
}

// proven writes the claims that are true, as they were measured.
func (t *Text) proven(claims []claim.Result) {
	for _, r := range claims {
		if r.OK {
			t.Para("true: "+r.Claim.Source()+": "+r.Measured, "      ")
		}
	}
}

// untrue writes a claim that is untrue or cannot be told.
func (t *Text) untrue(r claim.Result, p diag.Problem) {
	head := r.Claim.Source() + "  [" + p.ID + "]"
	if place := p.Place.String(); place != "" {
		head = place + ": " + head
	}
	t.Para(head, "    ")
	t.labelled("claimed", r.Claimed)
	if r.Unknown != "" {
		t.labelled("measured", "cannot be told: "+r.Unknown)
	} else {
		t.labelled("measured", r.Measured)
	}
	label := "where"
	for _, where := range r.Where {
		t.labelled(label, where)
		label = ""
	}
}

// labelled writes a text beside its label, wrapped in its own column.
func (t *Text) labelled(label, s string) {
	const col = 12
	if s = strings.TrimSpace(Clean(s)); s == "" {
		return
	}
	for _, l := range Wrap(s, t.width()-col, "") {
		t.line(pad("  "+label, col-1) + " " + l)
		label = ""
	}
}

// indented writes what f writes four columns further in.
func (t *Text) indented(f func(*Text)) {
	var b bytes.Buffer
	f(&Text{W: &b, Width: max(t.width()-4, 40), Colour: t.Colour})
	for l := range strings.Lines(b.String()) {
		t.line("    " + strings.TrimSuffix(l, "\n"))
	}
}

func countVerified(list []Verified) string {
	ok, failing, unjudged, known := 0, 0, 0, 0
	for _, v := range list {
		known += len(v.Known)
		switch {
		case v.Unjudged != "":
			unjudged++
		case v.OK():
			ok++
		default:
			failing++
		}
	}
	if len(list) == 0 {
		return "no commit to judge"
	}
	parts := []string{fmt.Sprintf("%d ok", ok)}
	if failing > 0 {
		parts = append(parts, fmt.Sprintf("%d failed", failing))
	}
	if unjudged > 0 {
		parts = append(parts, fmt.Sprintf("%d not judged", unjudged))
	}
	s := Plural(len(list), "commit") + ": " + strings.Join(parts, ", ")
	if known > 0 {
		s += "; " + Plural(known, "finding") + " that a parent had already"
	}
	return s
}

// shortID is the beginning of a commit's id.
func shortID(id string) string {
	r := []rune(Clean(id))
	return string(r[:min(len(r), 7)])
}

// shortened cuts a text that is longer than a number of characters.
func shortened(s string, room int) string {
	r := []rune(s)
	if len(r) <= room {
		return s
	}
	return strings.TrimRight(string(r[:room-1]), " ") + "…"
}
