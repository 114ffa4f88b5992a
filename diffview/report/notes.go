package report

import "fmt"

// Note is the alteration note of one version.
type Note struct {
	Name    string // empty where the version has no note
	Subject string // first line of the commit's message
	Because string // empty where no reason is given
	Short   string // the version's short id
}

// mostNotes is how many notes a page shows.
const mostNotes = 12

// between gives the notes that a page shows, the newest last, and says how many
// older ones it leaves out. A single version's note stands at the page's head
// already.
func (p Page) between() (notes []Note, more string) {
	notes = p.Notes
	if len(notes) == 1 && len(p.Note) > 0 {
		return nil, ""
	}
	if n := len(notes) - mostNotes; n > 0 {
		return notes[n:], fmt.Sprintf("and %d more before these", n)
	}
	return notes, ""
}

// head names the version: its note and its id.
func (n Note) head() string {
	switch {
	case n.Name == "":
		return n.Short
	case n.Short == "":
		return n.Name
	}
	return n.Name + " (" + n.Short + ")"
}
