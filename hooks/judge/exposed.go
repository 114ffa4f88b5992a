package judge

import (
	"io/fs"
	"path"

	"seamkeep/pattern/check"
	"seamkeep/pattern/diag"
	"seamkeep/pattern/text"
)

// exposed warns of measures of a body that become part of a version: those that none of
// its parents has. One that was there before is no news, such as that of a dress form.
func (q Request) exposed(f *Folder) diag.List {
	entries, err := fs.ReadDir(q.After, path.Join(f.Dir, "bodies"))
	if err != nil {
		return nil // none is there
	}
	var out diag.List
	for _, e := range entries {
		name := path.Join(f.Dir, "bodies", e.Name())
		if text.KindOf(name) != text.BodyFile || q.had(f, e.Name()) {
			continue
		}
		out = append(out, diag.Problem{
			ID: "body.kept", Severity: diag.Warning, Place: diag.Place{File: name}, Subject: name,
			Found: "the measures of a body become part of this version", Expected: "bodies that stay on this machine",
			Hint: check.PrivateCaution + "\nbefore it is pushed: git rm --cached -- " + name + ", then git commit --amend",
		})
	}
	return out
}

// had tells whether a parent has a body.
func (q Request) had(f *Folder, file string) bool {
	if _, err := fs.Stat(q.Before, path.Join(f.Was, "bodies", file)); err == nil {
		return true
	}
	for _, p := range q.Merge {
		if _, err := fs.Stat(p.Snapshot, path.Join(f.Dir, "bodies", file)); err == nil {
			return true
		}
	}
	return false
}
