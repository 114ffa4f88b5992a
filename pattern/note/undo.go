package note

import (
	"regexp"
	"strings"

	"seamkeep/pattern/diag"
)

// Undo is what git writes into the message of a revert.
type Undo struct {
	Place   diag.Place // of its sentence
	Commit  string     // the id of what is undone, perhaps shortened
	Against string     // of a merge that is undone: the id of the parent that is gone back to; else empty
}

// undoing is git's sentence, with what it puts behind the id where
// revert.reference is set (git-revert, "Options").
var undoing = regexp.MustCompile(`(?m)^This reverts commit ([0-9a-f]{4,64})(?: \(.*\))?(?:, reversing\nchanges made to ([0-9a-f]{4,64})(?: \(.*\))?)?\.?[ \t\r]*$`)

// UndosOf reads which commits a message says that it undoes, several where reverts were
// squashed. The subject does not count: anybody may write Revert there.
func UndosOf(message string) []Undo {
	var out []Undo
	for _, at := range undoing.FindAllStringSubmatchIndex(message, 100) {
		u := Undo{Commit: message[at[2]:at[3]], Place: diag.Place{File: File, Line: 1 + strings.Count(message[:at[0]], "\n"), Column: 1}}
		if at[4] >= 0 {
			u.Against = message[at[4]:at[5]]
		}
		out = append(out, u)
	}
	return out
}

// Source names the sentence, for claims that follow from it.
func (u Undo) Source() string { return "This reverts commit " + u.Commit[:min(len(u.Commit), 10)] }
