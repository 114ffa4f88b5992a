package repo

import (
	"fmt"
	"strings"
)

// NotesRef is where notes in hindsight lie; a name below refs/notes is git's own
// custom (git-notes(1)).
const NotesRef = "refs/notes/alterations"

// RemoteNotesRef is where the notes of another repository are fetched to, beside our
// own: a fetch onto these would throw away what was not sent yet.
func RemoteNotesRef(remote string) string { return "refs/notes/" + remote + "/alterations" }

// HindsightNotes gives the notes that were added to commits after they were made, by
// commit id, as git lists them: our own, then what others' say besides. None where
// there are none; ErrNoGit where there is no git.
func (r *Repo) HindsightNotes() (map[string]string, error) {
	out, err := r.Git("for-each-ref", "--format=%(refname)", RemoteNotesRef("*"))
	if err != nil {
		return nil, err
	}
	notes := map[string]string{}
	for _, ref := range append([]string{NotesRef}, strings.Fields(out)...) {
		list, err := r.Git("notes", "--ref="+ref, "list")
		if err != nil {
			return nil, err
		}
		for _, line := range strings.Split(strings.TrimSpace(list), "\n") {
			blob, commit, ok := strings.Cut(line, " ")
			if !ok {
				continue
			}
			text, err := r.Blob(blob)
			if err != nil {
				return nil, fmt.Errorf("note of %s: %w", short(commit), err)
			}
			notes[commit] = joinNotes(notes[commit], string(text))
		}
	}
	return notes, nil
}

// joinNotes adds the paragraphs of a note that another one lacks.
func joinNotes(notes, more string) string {
	for _, paragraph := range strings.Split(more, "\n\n") {
		if p := strings.TrimSpace(paragraph); p != "" && !strings.Contains(notes, p) {
			notes = strings.TrimPrefix(strings.TrimRight(notes, "\n")+"\n\n"+p+"\n", "\n\n")
		}
	}
	return notes
}

// AppendNote adds a paragraph to a commit's note in hindsight, through git. What
// stands there already, whoever wrote it, stays above it.
func (r *Repo) AppendNote(commit, text string) error {
	_, err := r.GitInput(text, "notes", "--ref="+NotesRef, "append", "--file=-", commit)
	return err
}
