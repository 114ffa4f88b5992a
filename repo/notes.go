package repo

import (
	"fmt"
	"strings"
)

// NotesRef is where notes in hindsight lie; a name below refs/notes is git's own
// custom (git-notes(1)).
const NotesRef = "refs/notes/alterations"

// HindsightNotes gives the notes that were added to commits after they were
// made, by commit id, as git lists them. None where there are none; ErrNoGit
// where there is no git.
func (r *Repo) HindsightNotes() (map[string]string, error) {
	out, err := r.Git("notes", "--ref="+NotesRef, "list")
	if err != nil {
		return nil, err
	}
	notes := map[string]string{}
	for _, line := range strings.Split(strings.TrimSpace(out), "\n") {
		blob, commit, ok := strings.Cut(line, " ")
		if !ok {
			continue
		}
		text, err := r.Blob(blob)
		if err != nil {
			return nil, fmt.Errorf("note of %s: %w", short(commit), err)
		}
		notes[commit] = string(text)
	}
	return notes, nil
}

// AppendNote adds a paragraph to a commit's note in hindsight, through git. What
// stands there already, whoever wrote it, stays above it.
func (r *Repo) AppendNote(commit, text string) error {
	_, err := r.GitInput(text, "notes", "--ref="+NotesRef, "append", "--file=-", commit)
	return err
}
