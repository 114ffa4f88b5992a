package main

import (
	"bytes"
	"errors"
	"fmt"
	"path"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"seamkeep/diffview/report"
	"seamkeep/hooks/judge"
	"seamkeep/pattern/note"
	"seamkeep/repo"
)

// verifying is what the command line of verify says.
type verifying struct {
	json, sarif, strict bool
	since               string
}

func verifyCommand(a *app) *cobra.Command {
	var v verifying
	c := &cobra.Command{
		Use:   "verify [RANGE]",
		Short: "Judge the commits of a range: checks, claims, merges",
		Long: `Verify judges every commit of a range against its parent: what it made wrong,
and whether what its note claims is true. One line a commit, the newest last,
and details where one fails. RANGE is A..B or A...B, of commits, branches, tags
or names of notes; one of these alone is that commit, and without any it is
HEAD: then its warnings are shown as well. Findings that a parent had already
are not held against a commit, unless --strict asks for it. A merge and a revert
need no claims of their own: they are measured by what they merge and undo.

git runs no checking hook for a clean rebase, cherry-pick or revert, and hosting
runs none of yours: this is for after those, for a push and for a server.

--since TAG follows what the notes since a version keep, each from the first
note that keeps it on, over all versions together: twenty times 1 mm is 20 mm.
What a later note declares to change is set aside.`,
		Example: "  seamkeep verify\n  seamkeep verify main..HEAD\n  seamkeep verify origin/main.. --sarif\n  seamkeep verify --since mock-up-1",
		Args:    cobra.MaximumNArgs(1),
		RunE: func(_ *cobra.Command, args []string) error {
			rang := ""
			if len(args) > 0 {
				rang = args[0]
			}
			return a.verify(rang, &v)
		},
	}
	f := c.Flags()
	f.BoolVar(&v.json, "json", false, "write seamkeep.verify/1")
	f.BoolVar(&v.sarif, "sarif", false, "write SARIF 2.1.0")
	f.BoolVar(&v.strict, "strict", false, "hold against each commit also what its parent had")
	f.StringVar(&v.since, "since", "", "measure what is kept since this version over all notes together")
	c.MarkFlagsMutuallyExclusive("json", "sarif")
	return c
}

func (a *app) verify(rang string, v *verifying) error {
	r, err := a.openRepo(", so there are no commits to verify")
	if err != nil {
		return err
	}
	defer r.Close()
	if v.since != "" {
		return a.verifySince(r, rang, v)
	}
	commits, err := commitsOf(r, rang)
	if err != nil {
		return err
	}
	a.sayOther(r, rang)
	if from, dots, to := ends(rang); len(commits) == 0 && dots != "" {
		if other, err := commitsOf(r, to+".."+from); err == nil && len(other) > 0 {
			a.say(fmt.Sprintf("%s came before %s: seamkeep verify %s..%s", to, from, to, from))
		}
	}
	list, err := a.judged(newVerifier(r, v.strict), commits)
	if err != nil {
		return unreadable(err)
	}
	return a.showVerified(list, v)
}

// sayOther tells where a name is that of a branch, a tag or a commit, and of another
// version's note too.
func (a *app) sayOther(r *repo.Repo, name string) {
	c, err := r.Resolve(name)
	if name == "" || err != nil {
		return
	}
	const far = 500 // versions
	list, err := r.Log(c.ID, nil, far)
	if err != nil {
		return
	}
	for _, noted := range list {
		if slices.Contains(noteOf(noted).names, name) {
			if noted.ID != c.ID {
				a.say(fmt.Sprintf("%s is a branch or a tag, which is taken, and the name of a note too: that is %s", name, noted.Short()))
			}
			return
		}
	}
}

// commitsOf gives the commits of a range, the oldest first; one revision is that
// commit alone.
func commitsOf(r *repo.Repo, rang string) ([]*repo.Commit, error) {
	limit := 0
	if !strings.Contains(rang, "..") {
		limit = 1
	}
	list, err := r.Log(rangeOf(r, rang), nil, limit)
	if errors.Is(err, repo.ErrUnknownRevision) {
		return nil, lacking(r, noRange(r, rang))
	}
	if err != nil {
		return nil, unreadable(err)
	}
	out := make([]*repo.Commit, 0, len(list))
	for i := len(list) - 1; i >= 0; i-- {
		out = append(out, list[i])
	}
	return out, nil
}

func (a *app) showVerified(list []report.Verified, v *verifying) error {
	var err error
	switch {
	case v.json:
		err = report.WriteJSON(a.out, report.VerifyJSON(list))
	case v.sarif:
		var buf bytes.Buffer
		if err = report.SARIF(&buf, list, report.ToolInfo{Version: version()}); err == nil {
			_, err = a.out.Write(buf.Bytes())
		}
	default:
		t := a.text()
		t.Verified(list, true)
		err = t.Err
	}
	if err != nil {
		return err
	}
	return found(verifiedCode(list))
}

// verifiedCode is 1 where a commit fails, 3 where one cannot be judged.
func verifiedCode(list []report.Verified) int {
	code := exitFine
	for _, v := range list {
		switch {
		case v.Unjudged != "":
			code = max(code, exitUnreadable)
		case !v.OK():
			code = max(code, exitFindings)
		}
	}
	return code
}

// verifier judges commits and keeps what it found of each state of a folder.
type verifier struct {
	repo   *repo.Repo
	strict bool
	waits  bool // what waits to be folded is not asked for claims yet
	facts  *judge.Facts
	bodies *repo.Snapshot // the working tree; nil in a bare repository
}

func newVerifier(r *repo.Repo, strict bool) *verifier {
	v := &verifier{repo: r, strict: strict, facts: judge.NewFacts()}
	if work, err := r.Snapshot("work"); err == nil && !r.Bare() {
		v.bodies = work
	}
	return v
}

// judged judges commits, and tells on a terminal how far it is.
func (a *app) judged(v *verifier, commits []*repo.Commit) ([]report.Verified, error) {
	bar := a.progress("judging commits", len(commits))
	defer bar.end()
	out := make([]report.Verified, 0, len(commits))
	for _, c := range commits {
		one, err := v.commit(c)
		if err != nil {
			return nil, fmt.Errorf("commit %s: %w", c.Short(), err)
		}
		out = append(out, one)
		bar.step()
	}
	return out, nil
}

// commit judges one commit against its first parent; a merge also against what
// its sides did.
func (v *verifier) commit(c *repo.Commit) (report.Verified, error) {
	out := report.Verified{ID: c.ID, Name: noteOf(c).name, Subject: c.Subject()}
	if c.Shallow {
		out.Unjudged = "its parent is not in this shallow clone; fetch it: git fetch --deepen 1"
		return out, nil
	}
	q, err := v.request(c)
	if err != nil {
		return out, err
	}
	verdict, err := judge.Commit(q)
	if err != nil {
		return out, err
	}
	for _, f := range verdict.Folders {
		out.Problems = append(out.Problems, f.Problems...)
		out.Known = append(out.Known, f.Known...)
		out.Accepted = append(out.Accepted, f.Accepted...)
		if f.After != nil && out.File == "" {
			out.File = path.Join(f.Dir, f.After.Name+".garment")
		}
	}
	told, err := judge.Note(q, c.Message)
	if err != nil {
		return out, err
	}
	if shallow(v.repo) && len(note.UndosOf(c.Message)) > len(q.Undone(c.Message)) && told.Problems.HasErrors() {
		out.Unjudged = "what it undoes is not in this shallow clone; fetch it: git fetch --unshallow"
		return out, nil
	}
	out.Problems = append(out.Problems, told.Problems...)
	out.Claims = told.Claims
	out.Problems.Sort()
	return out, nil
}

func (v *verifier) request(c *repo.Commit) (judge.Request, error) {
	r := v.repo
	q := judge.Request{
		Before: r.EmptySnapshot(), After: r.At(c), Facts: v.facts,
		SetKnownApart: !v.strict, Accept: noteOf(c).unfinished,
		Undone: undone(r, c.ID+"^"), Earlier: earlier(r), Touched: touched(r, c.ID+"^"), Waits: v.waits,
	}
	if v.bodies != nil {
		q.Bodies = v.bodies
	}
	parents, err := parentsOf(r, c)
	if err != nil {
		return q, err
	}
	if len(parents) > 0 {
		q.Before = r.At(parents[0])
	}
	q.Merge, q.Base, q.Crossed = sidesOf(r, parents)
	return q, nil
}

// verifySince measures what the notes since a version keep, over all versions of the
// line together.
func (a *app) verifySince(r *repo.Repo, rang string, v *verifying) error {
	if _, dots, _ := ends(rang); v.sarif || v.strict || dots != "" {
		return usage("--since takes one version to look back from, and writes text or --json: seamkeep verify --since mock-up-1")
	}
	from, err := resolved(r, v.since)
	if err != nil {
		return err
	}
	to, err := resolved(r, rang)
	if err != nil {
		return err
	}
	line, brought, err := mainLine(r, from.ID+".."+to.ID, nil)
	if err != nil {
		return unreadable(err)
	}
	ver := newVerifier(r, v.strict)
	bar := a.progress("following versions", len(line))
	defer bar.end()
	var steps []judge.Step
	for _, c := range line {
		bar.step()
		s, err := ver.step(c)
		if err != nil {
			return unreadable(err)
		}
		for _, b := range brought[c.ID] {
			beside, err := ver.step(b)
			if err != nil {
				return unreadable(err)
			}
			s.Brought = append(s.Brought, beside)
		}
		steps = append(steps, s)
	}
	list, err := judge.KeptSince(steps)
	bar.end()
	if err != nil {
		return unreadable(err)
	}
	code := exitFine
	for _, k := range list {
		if !k.OK() {
			code = exitFindings
		}
	}
	if v.json {
		if err := report.WriteJSON(a.out, report.SinceJSON(versionName(from), len(line), list)); err != nil {
			return err
		}
		return found(code)
	}
	t := a.text()
	t.Para(fmt.Sprintf("kept since %s, over %s:", versionName(from), report.Plural(len(line), "version")), "  ")
	t.Kept(list)
	if t.Err != nil {
		return t.Err
	}
	return found(code)
}

func (v *verifier) step(c *repo.Commit) (judge.Step, error) {
	q, err := v.request(c)
	if err != nil {
		return judge.Step{}, fmt.Errorf("commit %s: %w", c.Short(), err)
	}
	return judge.Step{Name: calledIn(c), Request: q, Message: c.Message}, nil
}

// calledIn names a version among others, of which two may have notes of one name.
func calledIn(c *repo.Commit) string {
	if name := noteOf(c).name; name != "" {
		return name + " (" + c.Short() + ")"
	}
	return c.Short()
}

func resolved(r *repo.Repo, spec string) (*repo.Commit, error) {
	c, err := r.Resolve(revision(r, spec))
	if errors.Is(err, repo.ErrUnknownRevision) {
		return nil, lacking(r, noVersion(spec))
	}
	if err != nil {
		return nil, unreadable(err)
	}
	return c, nil
}
