package repo

import (
	"bufio"
	"bytes"
	"encoding/hex"
	"fmt"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"time"
)

// maxMeta bounds commits, trees and tags, in bytes.
const maxMeta = 64 << 20

// Person is an author or committer.
type Person struct {
	Name, Email string
	When        time.Time // to the second, in the person's own time zone
}

// Commit is one version in the history.
type Commit struct {
	ID        string   // hexadecimal, whole
	Parents   []string // ids; empty for a root and at the edge of a shallow clone
	Author    Person
	Committer Person
	Message   string // as stored; the encoding header is not applied
	Shallow   bool   // it has parents, but this clone holds nothing before it

	tree string
}

// Subject is the first paragraph of the message on one line, as git shows it.
func (c *Commit) Subject() string {
	lines := strings.Split(strings.TrimLeft(c.Message, "\n"), "\n")
	var title []string
	for _, l := range lines {
		l = strings.TrimRight(l, " \t\r")
		if l == "" {
			if len(title) > 0 {
				break
			}
			continue
		}
		title = append(title, strings.TrimLeft(l, " \t"))
	}
	return strings.Join(title, " ")
}

// Short is the first 7 digits of the id.
func (c *Commit) Short() string { return short(c.ID) }

func short(id string) string { return id[:min(len(id), 7)] }

// treeEntry is one line of a tree.
type treeEntry struct {
	name string // raw bytes
	mode uint32
	id   string
}

// commit reads and keeps a commit. The error is errMissing or errNotCommit
// where that is what is wrong.
func (r *Repo) commit(id string) (*Commit, error) {
	r.mu.Lock()
	c := r.commits[id]
	r.mu.Unlock()
	if c != nil {
		return c, nil
	}
	o, err := ask(r, func(rd reader) (object, error) { return rd.object(id, maxMeta) })
	if err != nil {
		return nil, fmt.Errorf("commit %s: %w", short(id), err)
	}
	if o.kind != "commit" {
		return nil, fmt.Errorf("%s is a %s: %w", short(id), o.kind, errNotCommit)
	}
	c, err = parseCommit(id, o.data)
	if err != nil {
		return nil, fmt.Errorf("commit %s: %w", short(id), err)
	}
	edge, err := r.shallowEdge()
	if err != nil {
		return nil, err
	}
	if edge[id] {
		c.Parents, c.Shallow = nil, true
	}
	r.mu.Lock()
	r.commits[id] = c
	r.mu.Unlock()
	return c, nil
}

// shallowEdge is the set of commits at which a shallow clone ends.
func (r *Repo) shallowEdge() (map[string]bool, error) {
	r.mu.Lock()
	defer r.mu.Unlock()
	if r.shallow != nil {
		return r.shallow, nil
	}
	data, err := os.ReadFile(filepath.Join(r.common, "shallow"))
	if err != nil && !os.IsNotExist(err) {
		return nil, fmt.Errorf("read the edge of the shallow clone: %w", err)
	}
	r.shallow = make(map[string]bool)
	for _, id := range strings.Fields(string(data)) {
		r.shallow[id] = true
	}
	return r.shallow, nil
}

// peel follows annotated tags to the commit.
func (r *Repo) peel(id string) (string, error) {
	for range 16 { // a chain of tags this long is no accident
		o, err := ask(r, func(rd reader) (object, error) { return rd.object(id, maxMeta) })
		if err != nil {
			return "", err
		}
		switch o.kind {
		case "commit":
			return id, nil
		case "tag":
			target, ok := bytes.CutPrefix(o.data, []byte("object "))
			line, _, _ := bytes.Cut(target, []byte("\n"))
			if !ok || !isID(string(line)) {
				return "", fmt.Errorf("tag %s has no target", short(id))
			}
			id = string(line)
		default:
			return "", fmt.Errorf("%s is a %s: %w", short(id), o.kind, errNotCommit)
		}
	}
	return "", fmt.Errorf("tag %s: too many tags of tags", short(id))
}

// parseCommit reads the stored form; unknown headers are passed over.
func parseCommit(id string, data []byte) (*Commit, error) {
	c := &Commit{ID: id}
	headers, message, _ := strings.Cut(string(data), "\n\n")
	c.Message = message
	sc := bufio.NewScanner(strings.NewReader(headers))
	sc.Buffer(nil, len(headers)+1)
	for sc.Scan() {
		key, value, _ := strings.Cut(sc.Text(), " ")
		switch key {
		case "tree":
			c.tree = value
		case "parent":
			c.Parents = append(c.Parents, value)
		case "author":
			c.Author = parsePerson(value)
		case "committer":
			c.Committer = parsePerson(value)
		}
	}
	if !isID(c.tree) {
		return nil, fmt.Errorf("no tree in it")
	}
	for _, p := range c.Parents {
		if !isID(p) {
			return nil, fmt.Errorf("bad parent %q", p)
		}
	}
	return c, nil
}

// parsePerson reads "Name <email> 1700000000 +0100". A bad date is the zero time.
func parsePerson(s string) Person {
	var p Person
	open, shut := strings.IndexByte(s, '<'), strings.LastIndexByte(s, '>')
	if open < 0 || shut < open {
		p.Name = strings.TrimSpace(s)
		return p
	}
	p.Name = strings.TrimSpace(s[:open])
	p.Email = s[open+1 : shut]
	f := strings.Fields(s[shut+1:])
	if len(f) == 0 {
		return p
	}
	sec, err := strconv.ParseInt(f[0], 10, 64)
	if err != nil {
		return p
	}
	p.When = time.Unix(sec, 0).UTC()
	if len(f) > 1 {
		if zone, err := strconv.Atoi(f[1]); err == nil && zone > -10000 && zone < 10000 {
			p.When = p.When.In(time.FixedZone("", (zone/100*60+zone%100)*60))
		}
	}
	return p
}

// tree reads the lines of a tree, in git's own order.
func (r *Repo) tree(id string) ([]treeEntry, error) {
	if id == "" {
		return nil, nil
	}
	r.mu.Lock()
	t, ok := r.trees[id]
	r.mu.Unlock()
	if ok {
		return t, nil
	}
	o, err := ask(r, func(rd reader) (object, error) { return rd.object(id, maxMeta) })
	if err != nil {
		return nil, fmt.Errorf("tree %s: %w", short(id), err)
	}
	if o.kind != "tree" {
		return nil, fmt.Errorf("%s is a %s, not a tree", short(id), o.kind)
	}
	if t, err = parseTree(o.data, len(id)/2); err != nil {
		return nil, fmt.Errorf("tree %s: %w", short(id), err)
	}
	r.mu.Lock()
	if len(r.trees) >= 4096 { // a walk over a long history must not keep them all
		clear(r.trees)
	}
	r.trees[id] = t
	r.mu.Unlock()
	return t, nil
}

// parseTree reads "mode SP name NUL id" lines; ids have idLen bytes.
func parseTree(data []byte, idLen int) ([]treeEntry, error) {
	var out []treeEntry
	for len(data) > 0 {
		sp, nul := bytes.IndexByte(data, ' '), bytes.IndexByte(data, 0)
		if sp < 0 || nul < sp || len(data) < nul+1+idLen {
			return nil, fmt.Errorf("damaged after %d entries", len(out))
		}
		mode, err := strconv.ParseUint(string(data[:sp]), 8, 32)
		if err != nil {
			return nil, fmt.Errorf("bad mode %q", data[:sp])
		}
		out = append(out, treeEntry{
			name: string(data[sp+1 : nul]),
			mode: uint32(mode),
			id:   hex.EncodeToString(data[nul+1 : nul+1+idLen]),
		})
		data = data[nul+1+idLen:]
	}
	return out, nil
}

// isID says whether s is a whole object id, SHA-1 or SHA-256, in lower case.
func isID(s string) bool {
	return (len(s) == 40 || len(s) == 64) && isHex(s)
}

func isHex(s string) bool {
	for i := range len(s) {
		if c := s[i]; (c < '0' || c > '9') && (c < 'a' || c > 'f') {
			return false
		}
	}
	return true
}
