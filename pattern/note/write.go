package note

import (
	"strings"

	"seamkeep/pattern/claim"
)

// lineWidth is the number of characters after which Write parts a Keeps into several lines.
const lineWidth = 76

// Write gives the message of a note: the subject on one line, the body, and as
// the last paragraph the groups and then other people's trailers. n may be nil;
// its own subject and body are not looked at. In a group the keys stand in the
// order of Keys; measures that are kept share lines. Lines that could not be read are written
// as they were.
//
// Parse reads the groups back, and git sees each line of them: lines of the body
// that begin with one of our words, or that end the text for git ("---", scissors),
// are indented by a blank, and in a subject that begins so the colon goes. An empty
// subject becomes the name of the first alteration. Without groups and trailers
// the message has no last paragraph of its own.
func Write(subject, body string, n *Note) string {
	if n == nil {
		n = &Note{}
	}
	subject = subjectLine(subject)
	if subject == "" {
		subject = noSubject
		if names := n.Names(); len(names) > 0 {
			subject = subjectLine(names[0])
		}
	}
	var b strings.Builder
	b.WriteString(subject + "\n")
	if body = plainBody(body); body != "" {
		b.WriteString("\n" + body + "\n")
	}
	if lines := n.trailers(); len(lines) > 0 {
		b.WriteString("\n" + strings.Join(lines, "\n") + "\n")
	}
	return b.String()
}

// subjectLine puts a subject on one line that is none of ours.
func subjectLine(s string) string {
	s = strings.Join(strings.Fields(strings.ReplaceAll(s, "\x00", "")), " ")
	for {
		key, rest, ok := keyOf(s)
		if _, is := ours(key); !ok || !is {
			return guarded(s)
		}
		s = strings.TrimSpace(key + " " + strings.TrimSpace(rest))
	}
}

// plainBody trims a body and indents lines that would be more than text.
func plainBody(s string) string {
	var b strings.Builder
	for line := range strings.Lines(strings.ReplaceAll(s, "\x00", "")) {
		line = strings.TrimRight(line, spaces)
		key, _, _ := keyOf(line)
		if _, is := ours(key); is {
			line = " " + line
		}
		b.WriteString(guarded(line) + "\n")
	}
	return strings.Trim(b.String(), "\n")
}

// guarded indents a line that would end the text for git.
func guarded(line string) string {
	if s := line + "\n"; s == scissors || strings.HasPrefix(s, "---") && isSpace(s[3]) {
		return " " + line
	}
	return line
}

// trailers gives the lines of the last paragraph.
func (n *Note) trailers() []string {
	var out []string
	for _, g := range n.Groups {
		out = append(out, g.Lines()...)
	}
	for _, t := range n.Others {
		switch value := oneLine(t.Value); {
		case t.Key == "":
			out = append(out, value)
		case value == "" && t.Key == "Conflicts":
			out = append(out, "Conflicts: ") // bare, it would begin a list of conflicts
		default:
			out = append(out, strings.TrimRight(t.Key+": "+value, " "))
		}
	}
	return out
}

// Lines gives the lines of a group as they stand in a message, in the order of
// Keys. An alteration without a name begins without its line.
func (g Group) Lines() []string {
	var out []string
	add := func(key, value string) {
		if value = oneLine(value); value != "" {
			out = append(out, key+": "+value)
		}
	}
	entries := func(key string, list []Entry) {
		for _, e := range list {
			add(key, e.Text)
		}
	}
	add(keyAlteration, g.Name)
	entries(keyBecause, g.Because)
	for _, d := range g.Does {
		add(keyDoes, d.String())
	}
	for _, kind := range claim.Kinds() {
		for _, value := range values(kind, g.Claims) {
			add(string(kind), value)
		}
		for _, u := range g.Unread {
			if u.Key == string(kind) {
				add(u.Key, u.Text)
			}
		}
	}
	entries(keyAnswers, g.Answers)
	entries(keyUnfinished, g.Unfinished)
	return out
}

// values gives the values of the lines of a kind. Those of Keeps are joined by
// commas while a line is not too long.
func values(kind claim.Kind, claims []claim.Claim) []string {
	var out []string
	for _, c := range claims {
		if c.Kind != kind {
			continue
		}
		s, last := c.String(), len(out)-1
		if kind == claim.Keeps && last >= 0 && len(kind)+len(out[last])+len(s)+4 <= lineWidth {
			out[last] += ", " + s
			continue
		}
		out = append(out, s)
	}
	return out
}

func oneLine(s string) string { return joined(strings.ReplaceAll(s, "\x00", "")) }
