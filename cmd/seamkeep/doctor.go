package main

import (
	"errors"
	"fmt"
	"os/exec"
	"path"
	"strings"

	"github.com/spf13/cobra"

	"seamkeep/diffview/report"
	"seamkeep/hooks"
	"seamkeep/hooks/judge"
	"seamkeep/pattern/text"
	"seamkeep/repo"
)

func doctorCommand(a *app) *cobra.Command {
	return &cobra.Command{
		Use:   "doctor",
		Short: "Tell what really protects this clone, and what does not",
		Long: `Doctor looks at what stands between a wrong seam and a commit in this clone:
git, the hooks and the program that they call, the folder where git looks for
hooks, line ends, the privacy of body measures, and whether notes in hindsight
travel. It changes nothing. A promise that is broken ends it with 1; what is
only missing is said.`,
		Example: "  seamkeep doctor",
		Args:    cobra.NoArgs,
		RunE:    func(*cobra.Command, []string) error { return a.doctor() },
	}
}

// finding of doctor: how a thing stands, and what to do about it.
type standing struct {
	mark string // ok, note or BROKEN
	text string
	cure string
}

func sound(format string, args ...any) standing {
	return standing{"ok", fmt.Sprintf(format, args...), ""}
}

func noted(cure, format string, args ...any) standing {
	return standing{"note", fmt.Sprintf(format, args...), cure}
}

func broken(cure, format string, args ...any) standing {
	return standing{"BROKEN", fmt.Sprintf(format, args...), cure}
}

func (a *app) doctor() error {
	var all []standing
	_, version, ok := repo.GitAvailable()
	if !ok {
		return unreadable(errors.New("git is not on PATH: nothing here is kept or guarded\ninstall git"))
	}
	all = append(all, sound("git %s", version))
	r, err := a.openRepo(": nothing is kept or guarded\nstart one with: seamkeep new NAME, or git init")
	if err != nil {
		return err
	}
	defer r.Close()
	all = append(all, a.program())
	all = append(all, hookStandings(r)...)
	all = append(all, patternStandings(r)...)
	all = append(all, remoteStandings(r)...)
	t := a.text()
	code := exitFine
	for _, s := range all {
		t.Para(s.mark+": "+s.text, "  ")
		for l := range strings.Lines(s.cure) { // commands are not broken
			fmt.Fprintln(a.out, "  "+strings.TrimSuffix(report.Clean(l), "\n"))
		}
		if s.mark == "BROKEN" {
			code = exitFindings
		}
	}
	if t.Err != nil {
		return t.Err
	}
	return found(code)
}

// program tells whether git can find this program by its name.
func (a *app) program() standing {
	if _, err := exec.LookPath("seamkeep"); err != nil {
		return noted("go install ./cmd/seamkeep puts it there; until then hooks use the path recorded at their installation",
			"the program seamkeep is not on PATH")
	}
	return sound("the program seamkeep is on PATH")
}

func hookStandings(r *repo.Repo) []standing {
	at, err := hookFolderOf(r)
	if err != nil {
		return []standing{broken("see: git config core.hooksPath", "the hooks folder cannot be told: %v", err)}
	}
	var out []standing
	switch {
	case at.set == "":
	case at.missing:
		return append(out, broken("make it, or: git config --unset core.hooksPath; then seamkeep hooks install",
			"core.hooksPath names %s, which is not there: git runs no hook", at.set))
	default:
		out = append(out, noted("", "core.hooksPath names %s: hooks are looked for there", at.set))
	}
	results, err := hooks.Status(at.dir, at.names...)
	if err != nil {
		return append(out, broken("see the folder "+at.dir, "the hooks cannot be read: %v", err))
	}
	byState := map[hooks.State][]string{}
	var states []hooks.State
	for _, h := range results {
		if byState[h.State] == nil {
			states = append(states, h.State)
		}
		byState[h.State] = append(byState[h.State], h.Name)
	}
	for _, state := range states {
		out = append(out, hooksAre(state, byState[state], r.Bare()))
	}
	return out
}

// hooksAre tells how some hooks stand, all alike.
func hooksAre(state hooks.State, names []string, server bool) standing {
	which := "hook " + names[0]
	if len(names) > 1 {
		which = "hooks " + strings.Join(names, ", ")
	}
	cure := "seamkeep hooks install"
	switch {
	case state.Protects():
		return sound("%s: %s", which, state)
	case server && state == hooks.Absent: // a server may judge elsewhere, or not at all
		return noted(cure+" here refuses what is pushed and fails", "%s: %s, so what is pushed here is not checked", which, state)
	case state == hooks.Foreign:
		cure = "seamkeep hooks install --chain runs it first and then ours"
	case state == hooks.Edited:
		cure = "it was changed by hand: delete it, then seamkeep hooks install"
	}
	return broken(cure, "%s: %s, so nothing is checked there", which, state)
}

// patternStandings looks at the pattern folders: line ends and private measures.
func patternStandings(r *repo.Repo) []standing {
	spec := "work"
	if r.Bare() {
		spec = "HEAD"
	}
	snap, err := r.Snapshot(spec)
	if err != nil {
		return []standing{noted("", "no version to look at yet")}
	}
	dirs, err := text.Find(snap)
	if err != nil || len(dirs) == 0 {
		return []standing{noted("start one with: seamkeep new NAME", "no pattern folder here")}
	}
	var out []standing
	for _, dir := range dirs {
		folder, _ := text.Load(snap, dir)
		out = append(out, lineEnds(r, dir), privacy(r, dir))
		g := folder.Garment
		if g == nil || g.Body == "" || r.Bare() {
			continue
		}
		if body, problems := judge.LoadBody(snap, dir, g); body == nil || problems.HasErrors() {
			out = append(out, noted("measures of a body are private and do not travel with git; write "+path.Join(dir, "bodies", g.Body+".body")+" to see gaps",
				"%s: the body %s is not in this clone", dir, g.Body))
		} else {
			out = append(out, sound("%s: the body %s is here", dir, g.Body))
		}
	}
	return out
}

// lineEnds asks git how pattern files are written to the disk.
func lineEnds(r *repo.Repo, dir string) standing {
	if r.Bare() {
		return sound("%s: nothing is written to a disk here", dir)
	}
	file := path.Join(dir, "pieces", "x.piece")
	out, err := r.Git("check-attr", "eol", "--", file)
	crlf, _ := r.Git("config", "--get", "core.autocrlf")
	switch {
	case err == nil && strings.HasSuffix(strings.TrimSpace(out), ": lf"):
		return sound("%s: pattern files keep their line ends", dir)
	case strings.TrimSpace(crlf) == "true":
		return broken("add to .gitattributes: *.piece text eol=lf, and the same for *.garment",
			"%s: git rewrites line ends of pattern files here (core.autocrlf)", dir)
	}
	return noted("add to .gitattributes: *.piece text eol=lf, and the same for *.garment",
		"%s: no attribute keeps the line ends of pattern files on every machine", dir)
}

// privacy tells whether git would take a body's measures along.
func privacy(r *repo.Repo, dir string) standing {
	if r.Bare() {
		return noted("", "%s: a bare repository holds what was pushed", dir)
	}
	bodies := path.Join(dir, "bodies")
	if out, err := r.Git("ls-files", "--", bodies); err == nil && strings.TrimSpace(out) != "" {
		return noted("history keeps what was once pushed; to stop: git rm --cached FILE", "%s: measures of a body are kept in git", dir)
	}
	if _, err := r.Git("check-ignore", "-q", "--", path.Join(bodies, "x.body")); err != nil {
		return broken("add to .gitignore: bodies/", "%s: measures of a body are not ignored by git", dir)
	}
	return sound("%s: measures of a body are ignored by git", dir)
}

// remoteStandings tells whether notes in hindsight come along with a fetch.
func remoteStandings(r *repo.Repo) []standing {
	out, err := r.Git("remote")
	if err != nil {
		return nil
	}
	var all []standing
	for _, remote := range strings.Fields(out) {
		specs, _ := r.Git("config", "--get-all", "remote."+remote+".fetch")
		name := report.Clean(remote)
		switch {
		case strings.Contains(specs, "+"+repo.NotesRef+":"+repo.NotesRef) || strings.Contains(specs, "+refs/notes/*:refs/notes/*"):
			all = append(all, broken(fmt.Sprintf("take that line out of the settings, and instead:\ngit config --add remote.%s.fetch +%s:%s", name, repo.NotesRef, repo.RemoteNotesRef(name)),
				"a fetch from %s throws away notes in hindsight that were not sent yet", name))
		case strings.Contains(specs, "refs/notes/"):
			all = append(all, sound("notes in hindsight are fetched from %s", name))
		default:
			all = append(all, noted(fmt.Sprintf("git config --add remote.%s.fetch +%s:%s\nto send them:\ngit push %s %s", name, repo.NotesRef, repo.RemoteNotesRef(name), name, repo.NotesRef),
				"notes in hindsight are not fetched from %s", name))
		}
	}
	return all
}
