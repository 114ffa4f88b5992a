package note

import (
	"fmt"
	"slices"
	"strings"
	"unicode/utf8"

	"seamkeep/pattern/claim"
	"seamkeep/pattern/compare"
)

// Suggest gives the lines that a note on some changes could hold, true as measured:
// "Changes: girth bust +28". Measures that stayed share lines. Of several folders that
// changed together a measure that stayed in one and changed in another is not told to
// stay, and the pieces share one Only. Nothing changed, or no version to compare with:
// none.
func Suggest(changes ...*compare.Change) []string {
	var claims []claim.Claim
	only := claim.Claim{Kind: claim.Only}
	for _, c := range changes {
		for _, x := range claim.Suggest(c) {
			same := func(o claim.Claim) bool { return o.Line() == x.Line() }
			switch {
			case x.Kind == claim.Only:
				only.Pieces = append(only.Pieces, x.Pieces...)
			case !slices.ContainsFunc(claims, same):
				claims = append(claims, x)
			}
		}
	}
	claims = slices.DeleteFunc(claims, func(c claim.Claim) bool {
		return c.Kind == claim.Keeps && slices.ContainsFunc(claims, func(o claim.Claim) bool {
			return o.Kind == claim.Changes && anyLevel(o.Measure) == anyLevel(c.Measure)
		}) && len(changes) > 1
	})
	if len(only.Pieces) > 0 {
		slices.SortStableFunc(only.Pieces, func(a, b string) int { // the garment file once, last
			return btoi(a == claim.Garment) - btoi(b == claim.Garment)
		})
		only.Pieces = slices.Compact(only.Pieces)
		claims = append(claims, only)
	}
	var out []string
	for _, kind := range claim.Kinds() {
		for _, value := range values(kind, claims) {
			out = append(out, string(kind)+": "+value)
		}
	}
	return out
}

func btoi(b bool) int {
	if b {
		return 1
	}
	return 0
}

// NoName and NoReason stand in a template where a maker is to write.
const NoName, NoReason = "NAME", "WHY"

// TemplateLines is the greatest number of lines of a template.
const TemplateLines = 30

// Template is what a message is offered when an editor opens: a name, a reason
// and the suggested lines, all commented out, at most TemplateLines lines. name and
// because may be empty. comment is what begins a comment, core.commentChar; empty
// means "#". A suggestion that would not fit is counted in the last line. Without
// suggestions there is nothing to offer, and the text is empty.
func Template(name, because string, suggestions []string, comment string) string {
	if len(suggestions) == 0 {
		return ""
	}
	comment = commentOr(comment)
	if name == "" {
		name = NoName
	}
	if because == "" {
		because = NoReason
	}
	head := []string{
		"What changed, as measured. Take the " + fmt.Sprintf("%q", comment+" ") + " away before each line",
		"that the note is to hold. They stay together, as the last paragraph.",
	}
	lines := append([]string{keyAlteration + ": " + name, keyBecause + ": " + because}, suggestions...)
	if room := TemplateLines - len(head); len(lines) > room {
		left := len(lines) - room + 1
		lines = append(lines[:room-1:room-1], fmt.Sprintf("... and %d more lines", left))
	}
	var b strings.Builder
	for _, line := range append(head, lines...) {
		b.WriteString(comment + " " + oneLine(line) + "\n")
	}
	return b.String()
}

// Offer puts a template into a message that git has prepared: behind the text,
// before git's own comments and scissors. Where the message ends with trailers the
// template follows them at once, so that a line freed of its comment joins them;
// else a blank line stands between. The message's own bytes stay.
func Offer(message, template, comment string) string {
	if template == "" {
		return message
	}
	comment = commentOr(comment)
	l := layOut(asHash(message, comment))
	at := 0
	for _, line := range strings.SplitAfter(message, "\n")[:l.end] {
		at += len(line)
	}
	head, tail := message[:at], message[at:]
	if head != "" && !strings.HasSuffix(head, "\n") {
		head += "\n"
	}
	_, trailers := l.block()
	if !anyText(l.lines[:l.end]) {
		head += "\n" // for the subject
	}
	if !trailers {
		head += "\n"
	}
	if tail != "" && tail[0] != '\n' {
		template += "\n"
	}
	return head + template + tail
}

func commentOr(comment string) string {
	if comment == "" {
		return "#"
	}
	return comment
}

// asHash turns comments of another character into lines that begin with "#", each
// in its place, and other lines with "#" into text.
func asHash(message, comment string) string {
	if comment == "#" {
		return message
	}
	var b strings.Builder
	for line := range strings.Lines(message) {
		switch rest, is := strings.CutPrefix(line, comment); {
		case is:
			line = "#" + rest
		case strings.HasPrefix(line, "#"):
			line = "." + line[1:]
		}
		b.WriteString(line)
	}
	return b.String()
}

// Comments makes a message that git has prepared one that Parse and git's rules for
// trailers understand whatever core.commentChar is: each comment line becomes one
// that begins with "#", with nothing behind it, so that all line numbers stay. With "#", or an empty
// comment, the message is returned as it is.
func Comments(message, comment string) string {
	if comment == "" || comment == "#" || !utf8.ValidString(comment) {
		return message
	}
	var b strings.Builder
	for line := range strings.Lines(message) {
		rest, is := strings.CutPrefix(line, comment)
		switch {
		case is && "#"+rest == scissors:
			line = scissors
		case is && strings.HasSuffix(line, "\n"):
			line = "#\n"
		case is:
			line = "#"
		}
		b.WriteString(line)
	}
	return b.String()
}
