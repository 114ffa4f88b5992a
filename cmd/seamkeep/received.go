package main

import (
	"bufio"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"seamkeep/diffview/report"
	"seamkeep/hooks/judge"
	"seamkeep/pattern/diag"
	"seamkeep/repo"
)

// The hooks that judge commits which exist already: after a merge or a rewrite,
// where they warn, and before a push leaves or a server takes it, where they
// refuse.

// ref is one line of what git feeds to such a hook.
type ref struct{ name, old, new string }

// zero tells git's id for nothing.
func zero(id string) bool { return strings.Trim(id, "0") == "" }

// fed reads what git feeds on stdin, bounded.
func (a *app) fed() ([][]string, error) {
	const most = 16 << 20
	var out [][]string
	from := &io.LimitedReader{R: a.in, N: most}
	in := bufio.NewScanner(from)
	for in.Scan() {
		out = append(out, strings.Fields(in.Text()))
	}
	if from.N == 0 { // what comes after would pass unjudged
		return nil, fmt.Errorf("git names more refs at once than %d MiB hold", most>>20)
	}
	return out, in.Err()
}

// warnAfterMerge tells what a merge or a pull brought that is wrong now, and was
// not before: git asks no hook about a fast-forward. Commits on the way there are
// somebody else's, and count only by where they led.
func (a *app) warnAfterMerge() error {
	r, err := repo.Open(a.dir)
	if err != nil {
		return nil // nothing can be stopped here, and nothing told
	}
	defer r.Close()
	before, err := r.Snapshot("ORIG_HEAD")
	if err != nil {
		return nil
	}
	after, err := r.Snapshot("HEAD")
	if err != nil {
		return nil
	}
	q := judge.Request{Before: before, After: after, SetKnownApart: true}
	if work, err := r.Snapshot("work"); err == nil {
		q.Bodies = work
	}
	if c := after.Commit(); c != nil {
		q.Accept = noteOf(c).unfinished
	}
	v, err := judge.Commit(q)
	if err != nil || !v.Refused() {
		return nil
	}
	a.onOneScreen(v.Problems().Only(diag.Error), "seamkeep check")
	a.say("", "this came in with the merge, and is there already: mend it in the next version, or go back with git reset --keep ORIG_HEAD")
	return nil
}

// warnRewritten reads the old and new ids that git gives after an amend or a
// rebase, during which no hook checked anything.
func (a *app) warnRewritten(args []string) error {
	lines, err := a.fed()
	if err != nil {
		return nil
	}
	r, err := repo.Open(a.dir)
	if err != nil {
		return nil
	}
	defer r.Close()
	if _, err := os.Stat(filepath.Join(r.GitDir(), "rebase-merge")); err == nil && len(args) > 0 && args[0] == "amend" {
		return nil // a step of a rebase, which is judged when it is through
	}
	var commits []*repo.Commit
	seen := map[string]bool{}
	for _, l := range lines {
		if len(l) < 2 || seen[l[1]] {
			continue
		}
		seen[l[1]] = true
		if c, err := r.Resolve(l[1]); err == nil {
			commits = append(commits, c)
		}
	}
	a.warn(r, commits)
	return nil
}

func (a *app) warn(r *repo.Repo, commits []*repo.Commit) {
	ver := newVerifier(r, false)
	ver.waits = true
	list, err := a.judged(ver, commits)
	if err != nil {
		a.say("these commits could not be judged: " + err.Error())
		return
	}
	var bad []report.Verified
	for _, v := range list {
		if !v.OK() && v.Unjudged == "" {
			bad = append(bad, v)
		}
	}
	if len(bad) == 0 {
		return
	}
	a.talk().Verified(bad, true)
	a.say("they are there already: git asks nobody before a clean rebase; mend these with git commit --amend or git rebase -i before they are pushed")
}

// judgePush is the hook pre-push: the lines are LOCAL-REF LOCAL-ID REMOTE-REF
// REMOTE-ID.
func (a *app) judgePush(args []string) error {
	lines, err := a.fed()
	if err != nil {
		return unreadable(err)
	}
	remote := ""
	if len(args) > 0 {
		remote = args[0]
	}
	var refs []ref
	for _, l := range lines {
		if len(l) == 4 {
			refs = append(refs, ref{name: l[2], old: l[3], new: l[1]})
		}
	}
	known := "--remotes" // pushed to an address: what any remote has was judged before
	if r, err := repo.Open(a.dir); err == nil {
		if out, err := r.Git("remote"); err == nil && slices.Contains(strings.Fields(out), remote) {
			known = "--remotes=" + remote
		}
		r.Close()
	}
	return a.judgeRefs(refs, "--not", known)
}

// judgeUpdate is the hook update of a server: REF OLD NEW.
func (a *app) judgeUpdate(args []string) error {
	if len(args) < 3 {
		return usage("update is called with a ref and two ids")
	}
	a.narrower = len("remote: ")
	return a.judgeRefs([]ref{{args[0], args[1], args[2]}}, "--not", "--branches", "--tags")
}

// judgeReceived is the hook pre-receive of a server: lines OLD NEW REF.
func (a *app) judgeReceived() error {
	lines, err := a.fed()
	if err != nil {
		return unreadable(err)
	}
	var refs []ref
	for _, l := range lines {
		if len(l) == 3 {
			refs = append(refs, ref{name: l[2], old: l[0], new: l[1]})
		}
	}
	a.narrower = len("remote: ")
	return a.judgeRefs(refs, "--not", "--branches", "--tags")
}

// judgeRefs judges the commits that refs would gain and that are reachable from
// nothing of notNew: only branches and tags, since no other ref was judged.
func (a *app) judgeRefs(refs []ref, notNew ...string) error {
	r, err := repo.Open(a.dir)
	if err != nil {
		return unreadable(err)
	}
	defer r.Close()
	ver := newVerifier(r, false)
	code := exitFine
	var refusedRefs, fine []string
	for _, one := range refs {
		if zero(one.new) || !strings.HasPrefix(one.name, "refs/heads/") && !strings.HasPrefix(one.name, "refs/tags/") {
			continue // a deletion; notes and the like bring no pattern
		}
		commits, err := gained(r, one, notNew)
		if err != nil {
			return unreadable(fmt.Errorf("cannot tell what %s gains: %w", report.Clean(one.name), err))
		}
		list, err := a.judged(ver, commits)
		if err != nil {
			return unreadable(err)
		}
		short := strings.TrimPrefix(strings.TrimPrefix(report.Clean(one.name), "refs/heads/"), "refs/tags/")
		if got := verifiedCode(list); got != exitFine {
			code = max(code, got)
			refusedRefs = append(refusedRefs, short)
			a.talk().Verified(list, true)
		} else {
			fine = append(fine, short)
		}
	}
	if code != exitFine {
		a.say("", "seamkeep refused this push: mend each commit that FAILED and push again; the newest with git commit --amend, an older one with git rebase -i ID^ and the word edit")
		if len(fine) > 0 {
			a.say("nothing of this push was taken, for " + strings.Join(refusedRefs, ", ") + "; alone these would be: " + strings.Join(fine, ", "))
		}
	}
	return found(code)
}

// gained lists the commits that a ref would gain, the oldest first: not what
// its old end has, nor what notNew names.
func gained(r *repo.Repo, one ref, notNew []string) ([]*repo.Commit, error) {
	args := []string{"rev-list", "--reverse", "--topo-order", one.new}
	if _, err := r.Resolve(one.old); !zero(one.old) && err == nil {
		args = append(args, "^"+one.old)
	}
	args = append(args, notNew...)
	out, err := r.Git(args...)
	if err != nil {
		return nil, err
	}
	var commits []*repo.Commit
	for _, id := range strings.Fields(out) {
		c, err := r.Resolve(id)
		if err != nil {
			return nil, err
		}
		commits = append(commits, c)
	}
	return commits, nil
}
