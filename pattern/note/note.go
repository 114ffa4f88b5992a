package note

import (
	"strings"

	"seamkeep/pattern/claim"
	"seamkeep/pattern/diag"
)

// File is the file that places in a message name.
const File = "message"

// Trailer is one "Key: value" line at the end of a message, as git sees it.
type Trailer struct {
	Key    string
	Value  string // on one line; a continued one is joined by single spaces
	Line   int    // of the key in the message, from 1; 0: not known
	Column int    // of the value, in characters from 1; 0: not known
}

// Entry is the text of a line of a note.
type Entry struct {
	Place diag.Place // of the text
	Text  string
}

// Unread is a line of ours that could not be read; Parse has said why.
type Unread struct {
	Entry
	Key string
}

// Group is one alteration: what stands between one "Alteration:" line and the
// next.
type Group struct {
	Place      diag.Place // of its name, or of its first line where it has none
	Name       string     // empty only where the whole note names no alteration
	Because    []Entry
	Does       []Doing
	Claims     []claim.Claim // Changes, Keeps and Only, as written
	Answers    []Entry
	Unfinished []Entry
	Unread     []Unread
}

// Note is what a message says.
type Note struct {
	Subject string // the first paragraph, on one line
	Body    string // the rest without trailers and comments, no blank lines around it
	Fold    Fold   // whether the commit waits to be folded into another
	Groups  []Group
	Others  []Trailer // other people's: Signed-off-by and the like; no Key: a line "(cherry picked from ..."
}

// Names gives the names of the alterations, in order, each once.
func (n *Note) Names() []string {
	var out []string
	seen := map[string]bool{}
	for _, g := range n.Groups {
		if g.Name != "" && !seen[g.Name] {
			seen[g.Name] = true
			out = append(out, g.Name)
		}
	}
	return out
}

// Because gives the reasons of all groups, in order.
func (n *Note) Because() []string {
	return n.texts(func(g Group) []Entry { return g.Because })
}

// Unfinished gives the findings that the note accepts, each by its address.
func (n *Note) Unfinished() []string {
	return n.texts(func(g Group) []Entry { return g.Unfinished })
}

// Answers gives the fittings that the note answers.
func (n *Note) Answers() []string {
	return n.texts(func(g Group) []Entry { return g.Answers })
}

func (n *Note) texts(of func(Group) []Entry) []string {
	var out []string
	for _, g := range n.Groups {
		for _, e := range of(g) {
			out = append(out, e.Text)
		}
	}
	return out
}

// Fold is the kind of a commit that git's autosquash will fold into an earlier
// one, told by its subject.
type Fold struct {
	Kind   string // "fixup!", "squash!", "amend!", or empty
	Target string // subject of the commit that it is for
}

// FoldOf reads a subject. Of a chain, "fixup! fixup! x", the first word says what
// becomes of the message and the last name is the target.
func FoldOf(subject string) Fold {
	var f Fold
	for {
		kind, rest, ok := strings.Cut(subject, " ")
		if kind != "fixup!" && kind != "squash!" && kind != "amend!" || !ok {
			f.Target = subject
			if f.Kind == "" {
				return Fold{}
			}
			return f
		}
		if f.Kind == "" {
			f.Kind = kind
		}
		subject = strings.TrimLeft(rest, " ")
	}
}

// Judged tells whether the claims speak of the commit's own change. Those of an
// amend! commit do not: its message is the one that its target will have, over
// the target's change and its own together.
func (n *Note) Judged() bool { return n.Fold.Kind != "amend!" }

// Waits tells whether the commit waits to be folded into another one: the note that
// counts is its target's, and that one is judged when the two are one.
func (n *Note) Waits() bool { return n.Fold.Kind != "" }
