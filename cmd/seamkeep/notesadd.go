package main

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"seamkeep/diffview/report"
	"seamkeep/hooks/judge"
	"seamkeep/pattern/diag"
	"seamkeep/pattern/note"
)

// hindsight is what the command line of notes add says.
type hindsight struct {
	name, because string
	lines         map[string][]string
}

func notesAddCommand(a *app) *cobra.Command {
	h := hindsight{lines: map[string][]string{}}
	c := &cobra.Command{
		Use:   "add VERSION",
		Short: "Add a note in hindsight to a version that is kept already",
		Long: `Add writes a note on a version beside its commit, which stays as it is: what it
was for, or what it turned out to change and keep. Claims are measured first,
and untrue ones refused. Notes that are there already, whoever wrote them, stay.

They lie in refs/notes/alterations. git sends them when it is told:
  git push origin refs/notes/alterations
and fetches them when it is told; seamkeep doctor says how. Where somebody else
sent notes first, fetch, and put both together before the push:
  git notes --ref=alterations merge -s union origin/alterations`,
		Example:           "  seamkeep notes add mock-up-1 --because \"the one worn at the June ringing\"\n  seamkeep notes add HEAD~3 --keeps \"girth waist\"",
		Args:              cobra.ExactArgs(1),
		ValidArgsFunction: a.completeVersions,
		RunE:              func(_ *cobra.Command, args []string) error { return a.addNote(args[0], &h) },
	}
	f := c.Flags()
	f.StringVar(&h.name, "name", "", "name of the alteration")
	f.StringVar(&h.because, "because", "", "why, or what came of it")
	f.Var(lineFlag{h.lines, "Changes"}, "changes", "claim: a measure that changed")
	f.Var(lineFlag{h.lines, "Keeps"}, "keeps", "claim: measures that stayed")
	f.Var(lineFlag{h.lines, "Only"}, "only", "claim: the only pieces that changed")
	return c
}

func (a *app) addNote(version string, h *hindsight) error {
	r, err := a.openRepo(", so there is no version to add a note to")
	if err != nil {
		return err
	}
	defer r.Close()
	c, err := resolved(r, version)
	if err != nil {
		return err
	}
	text, err := h.text()
	if err != nil {
		return err
	}
	ver := newVerifier(r, false)
	q, err := ver.request(c)
	if err != nil {
		return unreadable(err)
	}
	// as a message, so that the lines are read as those of a commit are
	told, err := judge.Note(q, "In hindsight\n\n"+text)
	if err != nil {
		return unreadable(err)
	}
	list := told.Findings()
	var wrong diag.List
	for _, p := range list {
		if p.Severity == diag.Error && p.ID != "claim.unclaimed" {
			wrong = append(wrong, p)
		}
	}
	if len(wrong) > 0 {
		a.talk().Problems(wrong)
		return refused("%s: the note was not added", report.Count(wrong))
	}
	if err := r.AppendNote(c.ID, text); err != nil {
		return refused("the note was not added: %v", err)
	}
	t := a.text()
	t.Para(fmt.Sprintf("noted on %s (%s), in refs/notes/alterations", versionName(c), c.Short()), "  ")
	return t.Err
}

// text gives the lines of the note.
func (h *hindsight) text() (string, error) {
	for label, s := range map[string]string{"--name": h.name, "--because": h.because} {
		if s != report.Clean(s) {
			return "", usage("%s holds control characters or a line end; write plain text on one line", label)
		}
	}
	var lines []string
	if h.name != "" {
		lines = append(lines, "Alteration: "+h.name)
	}
	if h.because != "" {
		lines = append(lines, "Because: "+strings.TrimSpace(h.because))
	}
	for _, word := range note.Keys() {
		for _, text := range h.lines[word] {
			lines = append(lines, word+": "+text)
		}
	}
	if len(lines) == 0 {
		return "", usage("nothing to note: say --because, or a claim with --changes, --keeps or --only")
	}
	return strings.Join(lines, "\n") + "\n", nil
}
