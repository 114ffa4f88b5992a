package note

import (
	"slices"
	"strings"

	"seamkeep/pattern"
)

// Squashed recognises the message that git prepares where several commits become
// one, and gives their messages, the oldest first, without git's comments and
// without those that git will skip (fixup!). comment is what begins a comment,
// core.commentChar; empty means "#". Two layouts are known: that of `git merge
// --squash`, in which the messages are indented (the trailers count for nothing
// there) and the newest stands first, and that of a rebase, in which comments part
// them; the words of the second are known in English only, as git writes them under
// LC_ALL=C. Other text gives false.
func Squashed(message, comment string) ([]string, bool) {
	if comment == "" {
		comment = "#"
	}
	message, _, _ = strings.Cut(message, "\x00")
	lines := strings.Split(strings.ReplaceAll(message, "\r\n", "\n"), "\n")
	if messages := merged(lines, comment); len(messages) > 0 {
		return messages, true
	}
	messages := rebased(lines, comment)
	return messages, len(messages) > 0
}

// merged reads what `git merge --squash` writes.
func merged(lines []string, comment string) []string {
	const indent = "    "
	start := slices.Index(lines, "Squashed commit of the following:")
	if start < 0 || slices.ContainsFunc(lines[:start], func(s string) bool { return s != "" && !strings.HasPrefix(s, comment) }) {
		return nil
	}
	var out []string
	var text []string
	open := false
	flush := func() {
		if s := paragraphs(text); open && s != "" {
			out = append(out, s)
		}
		text = nil
	}
	for _, line := range lines[start+1:] {
		switch {
		case isCommitLine(line):
			flush()
			open = true
		case strings.HasPrefix(line, indent):
			text = append(text, line[len(indent):])
		case strings.Trim(line, spaces) == "":
			text = append(text, "")
		}
	}
	flush()
	slices.Reverse(out)
	return out
}

func isCommitLine(line string) bool {
	id, ok := strings.CutPrefix(line, "commit ")
	return ok && len(id) >= 40 && strings.Trim(id, "0123456789abcdef") == ""
}

// rebased reads what a rebase writes.
func rebased(lines []string, comment string) []string {
	var out []string
	var text []string
	open, combination := false, false
	flush := func() {
		if s := paragraphs(text); open && s != "" {
			out = append(out, s)
		}
		text = nil
	}
	for _, line := range lines {
		said, is := strings.CutPrefix(line, comment)
		said = strings.TrimSpace(said)
		switch {
		case !is:
			text = append(text, line)
		case strings.HasPrefix(said, "This is a combination of "):
			combination = true
		case said == "This is the 1st commit message:", strings.HasPrefix(said, "This is the commit message #"):
			flush()
			open = combination
		case strings.HasPrefix(said, "The 1st commit message will be skipped:"), strings.HasPrefix(said, "The commit message #") && strings.HasSuffix(said, "will be skipped:"):
			flush()
			open = false
		case FoldOf(said).Kind != "" && paragraphs(text) == "":
			text = []string{said} // git comments the subject out; it names the target
		}
	}
	flush()
	return out
}

// paragraphs joins lines and drops blank ones at both ends.
func paragraphs(lines []string) string {
	s := strings.Trim(strings.Join(lines, "\n"), "\n")
	if strings.Trim(s, spaces) == "" {
		return ""
	}
	return s + "\n"
}

// Compose makes one message of several notes, the oldest first, as a squash
// needs it: the first subject, the bodies with the later subjects above them,
// all groups in order, each under its name, and other people's trailers each once.
// The claims stay in their groups; Claims adds them when the whole is judged.
//
// Of a commit that waited to be folded git's rules hold: a fixup! gives nothing,
// a squash! its body and its lines but no subject, an amend! takes the place of its
// target's message. A group without a name gets one made of its subject, or its
// target's. No notes give an empty message.
func Compose(notes []*Note) string {
	kept := folded(notes)
	if len(kept) == 0 {
		return ""
	}
	var all Note
	var bodies []string
	for i, n := range kept {
		if i > 0 && n.Subject != "" {
			bodies = append(bodies, n.Subject)
		}
		if n.Body != "" {
			bodies = append(bodies, n.Body)
		}
		all.Groups = append(all.Groups, n.Groups...)
		for _, t := range n.Others {
			if !slices.ContainsFunc(all.Others, func(o Trailer) bool { return strings.EqualFold(o.Key, t.Key) && o.Value == t.Value }) {
				all.Others = append(all.Others, t)
			}
		}
	}
	return Write(kept[0].Subject, strings.Join(bodies, "\n\n"), &all)
}

// folded gives the notes that count, in order, every group under a name. Those
// that waited to be folded lie at their targets; without a target they are like
// others.
func folded(notes []*Note) []*Note {
	var out []*Note
	var subjects []string // of the commits themselves, which an amend! does not change
	for _, n := range notes {
		if n == nil {
			continue
		}
		target := -1
		if n.Fold.Kind != "" {
			target = slices.Index(subjects, n.Fold.Target)
		}
		switch {
		case target < 0 && n.Fold.Kind == "amend!":
			out, subjects = append(out, n.amended()), append(subjects, n.Fold.Target)
		case target < 0:
			out, subjects = append(out, n.withNames(nameOf(n.Subject))), append(subjects, n.Subject)
		case n.Fold.Kind == "squash!":
			more := n.withNames(nameOf(n.Fold.Target, out[target].Names()...))
			more.Subject = ""
			out, subjects = slices.Insert(out, target+1, more), slices.Insert(subjects, target+1, "")
		case n.Fold.Kind == "amend!":
			out[target] = n.amended()
		}
	}
	return out
}

// withNames is the note with a name for each group that has none.
func (n *Note) withNames(name string) *Note {
	out := *n
	out.Groups = slices.Clone(n.Groups)
	for i := range out.Groups {
		if out.Groups[i].Name == "" {
			out.Groups[i].Name = name
		}
	}
	return &out
}

// amended is the note that an amend! commit carries below its own subject.
func (n *Note) amended() *Note {
	subject, body, _ := strings.Cut(n.Body, "\n\n")
	out := n.withNames(nameOf(subject))
	out.Subject, out.Body, out.Fold = strings.Join(strings.Fields(subject), " "), strings.Trim(body, "\n"), FoldOf(subject)
	return out
}

// nameOf makes a name of the last of the given names, or else of a subject.
func nameOf(subject string, names ...string) string {
	if len(names) > 0 {
		return names[len(names)-1]
	}
	words := strings.FieldsFunc(strings.ToLower(subject), func(r rune) bool {
		return (r < 'a' || r > 'z') && (r < '0' || r > '9')
	})
	for len(words) > 0 && words[0][0] <= '9' {
		words = words[1:]
	}
	for len(words) > 0 {
		if name := strings.Join(words, "-"); pattern.NameFault(name) == "" {
			return name
		}
		words = words[:len(words)-1]
	}
	return "unnamed"
}
