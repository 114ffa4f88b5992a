package main

import (
	"cmp"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"seamkeep/diffview/report"
	"seamkeep/hooks/judge"
	"seamkeep/pattern/diag"
	"seamkeep/pattern/note"
	"seamkeep/repo"
)

// The hooks around a commit's message: prepare-commit-msg offers what was
// measured, commit-msg measures what the note claims.

// commentSetting is core.commentString, which git reads from 2.45 on, or its older name
// (git-config(1)). Where both are set the newer one counts.
func commentSetting(r *repo.Repo) string {
	return cmp.Or(strings.TrimSpace(r.Setting("core.commentString")), strings.TrimSpace(r.Setting("core.commentChar")))
}

// commentChar is what begins a comment in a message that git prepares.
func commentChar(r *repo.Repo) string {
	if c := commentSetting(r); c != "" && c != "auto" {
		return c
	}
	return "#"
}

// scissors are what git writes above a diff that it shows with a message.
const scissors = "------------------------ >8 ------------------------"

// aboveScissors gives what of a message git keeps: behind the line it shows the
// change itself.
func aboveScissors(text string) string {
	if at := strings.Index(text, scissors); at >= 0 {
		if line := strings.LastIndexByte(text[:at], '\n') + 1; at-line <= 2 { // a comment begins it
			return text[:line]
		}
	}
	return text
}

// readMessage reads the file that git hands to a hook about messages.
func readMessage(r *repo.Repo, name string) (file, message string, err error) {
	file = name
	if !filepath.IsAbs(file) {
		file = filepath.Join(r.Root(), file) // git calls hooks there
		if _, err := os.Stat(file); err != nil {
			file = name
		}
	}
	const most = 64 << 20
	if info, err := os.Stat(file); err == nil && info.Size() > most {
		return file, "", fmt.Errorf("the message has %d bytes; at most %d are read\nto commit without the check: git commit --no-verify", info.Size(), most)
	}
	data, err := os.ReadFile(file)
	return file, string(data), err
}

// judgeMessage is the hook commit-msg.
func (a *app) judgeMessage(args []string) error {
	if len(args) == 0 {
		return usage("commit-msg is called with the file of the message")
	}
	r, err := repo.Open(a.dir)
	if err != nil {
		return unreadable(err)
	}
	defer r.Close()
	file, message, err := readMessage(r, args[0])
	if err != nil {
		return unreadable(err)
	}
	message = note.Comments(aboveScissors(message), commentChar(r))
	amend, known := a.amending()
	amend = amend || a.env("GIT_REFLOG_ACTION") == "rebase (reword)"
	q, err := commitRequest(r, amend)
	if err != nil {
		return unreadable(fmt.Errorf("cannot measure what this note claims: %w\nto commit without the check: git commit --no-verify", err))
	}
	q.Facts = judge.NewFacts()
	told, err := judge.Note(q, message)
	if err != nil {
		return unreadable(err)
	}
	if !amend && !known && told.Findings().HasErrors() {
		if other, against := trueAgainstParent(r, q, message); other != nil {
			a.say("the note is true against " + against + ", which this commit replaces if it is an amend")
			told = other
		}
	}
	return a.showTold(told, mending(a, r, file, amend), len(q.Merge) > 0 && !amend)
}

// mending is the command that goes on with a message that was refused: git commit -a
// and a commit of some paths stage only for themselves.
func mending(a *app, r *repo.Repo, file string, amend bool) string {
	flags := ""
	if amend {
		flags += " --amend"
	}
	if index := a.env("GIT_INDEX_FILE"); index != "" && filepath.Base(index) != "index" {
		flags += " -a"
	}
	if rel, err := filepath.Rel(r.Root(), file); err == nil && filepath.IsLocal(rel) {
		file = rel
	}
	return fmt.Sprintf("git commit%s -e -F %s", flags, shellWord(report.Clean(file)))
}

// trueAgainstParent measures the note against what HEAD was made from: git does
// not say to a hook that a commit is an amend.
func trueAgainstParent(r *repo.Repo, q judge.Request, message string) (*judge.Told, string) {
	head, err := r.Head()
	if err != nil || head == nil || len(head.Parents) == 0 || len(q.Merge) > 0 {
		return nil, ""
	}
	before, err := r.Snapshot(head.Parents[0])
	if err != nil {
		return nil, ""
	}
	q.Before = before
	told, err := judge.Note(q, message)
	if err != nil || len(told.Claims) == 0 || told.Findings().HasErrors() {
		return nil, ""
	}
	return told, "the version before " + versionName(head)
}

// showTold writes what is wrong with a note, and refuses it.
func (a *app) showTold(told *judge.Told, mend string, merge bool) error {
	list := shown(told.Findings())
	if !list.HasErrors() {
		a.talk().Problems(list)
		return nil
	}
	a.onOneScreen(list, "")
	t := a.talk()
	t.Para("", "")
	t.Para(fmt.Sprintf("seamkeep refused this note: %s. Your files and what you staged are as they were.", report.Count(list.Only(diag.Error))), "  ")
	if merge {
		t.Para("The merge waits: mend its note with git commit; or give it up with git merge --abort.", "  ")
	} else {
		t.Para("Mend the note, which git keeps:", "  ")
		fmt.Fprintln(a.err, "  "+mend)
	}
	return found(exitFindings)
}

// offerNote is the hook prepare-commit-msg: where an editor will open it offers
// what was measured as lines to take. It never stops a commit.
func (a *app) offerNote(args []string) error {
	if len(args) == 0 || a.env("GIT_EDITOR") == ":" {
		return nil
	}
	source := ""
	if len(args) > 1 {
		source = args[1]
	}
	folding := func() bool { // of -m and a rebase only the second hands over several messages
		_, err := os.Stat(filepath.Join(filepath.Dir(args[0]), "rebase-merge"))
		return err == nil
	}
	if source != "" && source != "template" && source != "squash" && (source != "message" || !folding()) {
		return nil // the words are there already
	}
	if err := a.offer(args[0], source); err != nil {
		a.say("no lines are offered for the note: " + err.Error())
	}
	return nil
}

func (a *app) offer(name, source string) error {
	r, err := repo.Open(a.dir)
	if err != nil {
		return err
	}
	defer r.Close()
	file, message, err := readMessage(r, name)
	if err != nil {
		return err
	}
	// where git keeps comments, what is offered would become part of the message
	if c := strings.TrimSpace(r.Setting("commit.cleanup")); c != "" && c != "default" && c != "strip" || commentSetting(r) == "auto" {
		return nil
	}
	comment := commentChar(r)
	if source == "squash" || source == "message" {
		if parts, ok := note.Squashed(message, comment); ok {
			return writeFile(file, []byte(composed(parts)))
		}
		return nil
	}
	if hasOurs(note.Comments(message, comment)) {
		return nil
	}
	q, err := commitRequest(r, false)
	if err != nil {
		return err
	}
	folders, err := judge.Folders(q)
	if err != nil {
		return err
	}
	template := note.Template("", "", suggested(folders), comment)
	if template == "" {
		return nil
	}
	return writeFile(file, []byte(note.Offer(message, template, comment)))
}

// hasOurs tells whether a message has lines of ours already.
func hasOurs(message string) bool {
	n, _ := judge.Read(message)
	return len(n.Groups) > 0
}

// takeBack takes the claims out of notes that reverts in the same squash undo: together
// they did nothing.
func takeBack(notes []*note.Note, undone []string) {
	for _, revert := range undone {
		for _, n := range slices.Backward(notes) {
			if revert == `Revert "`+n.Subject+`"` {
				n.Groups = nil
				break
			}
		}
	}
}

// composed makes one message of the messages of a squash.
func composed(parts []string) string {
	var notes []*note.Note
	var undone []string
	for _, p := range parts {
		n, _ := judge.Read(note.Mend(p)) // lines that git did not see there count all the same
		if len(n.Groups) == 0 && len(note.UndosOf(p)) > 0 {
			undone = append(undone, n.Subject)
		}
		notes = append(notes, n)
	}
	takeBack(notes, undone)
	return note.Compose(notes)
}
