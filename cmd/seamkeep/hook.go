package main

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"seamkeep/diffview/report"
	"seamkeep/hooks/judge"
	"seamkeep/pattern/diag"
	"seamkeep/repo"
)

// hookCommand is what the hook scripts call. It is silent where nothing is
// wrong.
func hookCommand(a *app) *cobra.Command {
	return &cobra.Command{
		Use:    "hook NAME [ARG...]",
		Short:  "Carry out a git hook (called by the hook scripts)",
		Hidden: true,
		Args:   cobra.MinimumNArgs(1),
		RunE: func(_ *cobra.Command, args []string) error {
			switch args[0] {
			case "pre-commit", "pre-merge-commit":
				return a.judgeCommit()
			case "prepare-commit-msg":
				return a.offerNote(args[1:])
			case "commit-msg":
				return a.judgeMessage(args[1:])
			case "post-merge":
				return a.warnAfterMerge()
			case "post-rewrite":
				return a.warnRewritten(args[1:])
			case "pre-push":
				return a.judgePush(args[1:])
			case "update":
				return a.judgeUpdate(args[1:])
			case "pre-receive":
				return a.judgeReceived()
			}
			return usage("this seamkeep knows no hook %q; the script is newer: seamkeep hooks install", args[0])
		},
	}
}

func (a *app) judgeCommit() error {
	r, err := repo.Open(a.dir)
	if err != nil {
		return unreadable(err)
	}
	defer r.Close()
	amend, _ := a.amending()
	q, err := commitRequest(r, amend)
	if err != nil {
		return unreadable(fmt.Errorf("cannot judge this commit: %w\nto commit without the check: git commit --no-verify", err))
	}
	if list := a.env("SEAMKEEP_UNFINISHED"); list != "" {
		q.Accept = strings.Split(list, "\n")
	}
	v, err := judge.Commit(q)
	if err != nil {
		return unreadable(err)
	}
	return a.showVerdict(v, len(q.Merge) > 0)
}

// commitRequest describes the commit that git is about to make. An amend is
// judged against the parent of HEAD, since it takes HEAD's place.
func commitRequest(r *repo.Repo, amend bool) (judge.Request, error) {
	var q judge.Request
	index, err := r.Snapshot("index")
	if err != nil {
		return q, err
	}
	if names := index.Unmerged(); len(names) > 0 {
		return q, fmt.Errorf("%s is not merged yet: mend it, then git add", strings.Join(names, ", "))
	}
	head, err := r.HeadSnapshot()
	if err != nil {
		return q, err
	}
	q.Before, q.After, q.Noted, q.Waits = head, index, head, true
	q.SetWarningsApart = true
	q.Undone, q.Earlier, q.Touched = undone(r, "HEAD"), earlier(r), touched(r, "HEAD")
	if c := head.Commit(); amend && c != nil {
		q.Before = r.EmptySnapshot()
		parents, err := parentsOf(r, c)
		if err != nil {
			return q, err
		}
		if len(parents) > 0 {
			q.Before = r.At(parents[0])
		}
		q.Merge, q.Base, q.Crossed = sidesOf(r, parents) // the words of a merge amended
	}
	if work, err := r.Snapshot("work"); err == nil {
		q.Bodies = work
	}
	others, err := r.MergeHeads()
	if err != nil || len(others) == 0 || head.Commit() == nil {
		return q, err
	}
	q.Merge = []judge.Parent{{Name: "ours", Snapshot: head}}
	for _, c := range others {
		q.Merge = append(q.Merge, judge.Parent{Name: "theirs (" + versionName(c) + ")", Snapshot: r.At(c)})
	}
	q.Base, q.Crossed = commonBase(r, head.Commit(), others)
	return q, nil
}

func parentsOf(r *repo.Repo, c *repo.Commit) ([]*repo.Commit, error) {
	var out []*repo.Commit
	for _, id := range c.Parents {
		p, err := r.Resolve(id)
		if err != nil {
			return nil, err
		}
		out = append(out, p)
	}
	return out, nil
}

// sidesOf gives the sides of a merge that is made already, and where they
// parted; none where there is one parent.
func sidesOf(r *repo.Repo, parents []*repo.Commit) (list []judge.Parent, base *repo.Snapshot, crossed bool) {
	if len(parents) < 2 {
		return nil, nil, false
	}
	sides := []judge.Parent{{Name: "ours", Snapshot: r.At(parents[0])}}
	for _, p := range parents[1:] {
		sides = append(sides, judge.Parent{Name: "theirs (" + versionName(p) + ")", Snapshot: r.At(p)})
	}
	base, crossed = commonBase(r, parents[0], parents[1:])
	return sides, base, crossed
}

// commonBase is where all sides of a merge parted; nil where they parted at
// several places, since then nobody's work can be told from another's. crossed tells
// that two of them were merged crosswise before, so that it is one place of several.
func commonBase(r *repo.Repo, head *repo.Commit, others []*repo.Commit) (at *repo.Snapshot, crossed bool) {
	var base *repo.Commit
	for _, o := range others {
		bases, err := r.MergeBases(head.ID, o.ID)
		if err != nil || base != nil && bases[0].ID != base.ID {
			return nil, false
		}
		base, crossed = bases[0], crossed || len(bases) > 1
	}
	return r.At(base), crossed
}

func versionName(c *repo.Commit) string {
	if n := noteOf(c).name; n != "" {
		return n
	}
	return c.Short()
}

// showVerdict writes errors and warnings, and how to go on after a refusal.
func (a *app) showVerdict(v *judge.Verdict, merge bool) error {
	t := a.talk()
	all := v.Problems()
	if !v.Refused() {
		t.Problems(shown(all))
		for _, f := range v.Folders {
			t.Accepted(f.Accepted)
		}
		return nil
	}
	a.onOneScreen(all, seeStaged)
	t.Para("", "")
	t.Para(fmt.Sprintf("seamkeep refused this commit: %s. Your files and what you staged are as they were.", report.Count(all.Only(diag.Error))), "  ")
	if merge {
		t.Para("The merge waits: mend it, git add, git commit; or give it up with git merge --abort; or keep it as it is, said in the note: seamkeep keep NAME --because TEXT --unfinished", "  ")
	} else {
		t.Para("What is staged was judged. Mend it, git add, and commit again; or keep it as it is, said in the note: seamkeep keep NAME --because TEXT --unfinished", "  ")
	}
	return found(exitFindings)
}

// shown leaves the notes out: a hook says only what matters to the commit.
func shown(list diag.List) diag.List {
	var out diag.List
	for _, p := range list {
		if p.Severity != diag.Note {
			out = append(out, p)
		}
	}
	return out
}
