// Package demo holds a garment and its story: the "Midsummer waistcoat" of a
// village's handbell ringers, kept by two makers over ten versions, from a
// pattern that fits to the final card. The makers, the ringers and all
// measures are invented.
//
// Under versions each folder is one version: note.txt is the whole message of
// its commit, files holds what it adds or changes, and first-try, where there
// is one, the files as they were before a seam was trued. A leading "dot-"
// stands for "." so that git does not take these files for its own.
package demo

import (
	"embed"
	"fmt"
	"io/fs"
	"maps"
	"path"
	"strings"
	"time"
)

//go:embed all:versions
var versions embed.FS

//go:embed bodies/ringer.body
var ringer []byte

// The branches of the story. Versions stand on MainBranch unless they say
// otherwise; HalfMoveBranch is never merged.
const (
	MainBranch     = "main"
	HalfMoveBranch = "half-move"
)

// Version is one commit of the story.
type Version struct {
	Name    string // what it is called in the story, such as "gusset"
	Branch  string
	Parent  string // the Name of the version that it follows; "" for the first
	Author  string
	Email   string
	When    time.Time
	Message string            // the whole message, trailers last
	Files   map[string][]byte // the whole tree after this version, by slash path
	Tag     string            // the tag that it bears, or ""
	Told    string            // what happens in it, in a sentence or two
	Refused *Attempt          // what was tried first and has to be refused; nil mostly
}

// Attempt is a tree whose seam differs by more than its tolerance.
type Attempt struct {
	Files map[string][]byte // the whole tree, by slash path
	Seam  string            // the seam that is off
	Move  string            // the pieces to true: a piece of the seam, or "both"
	Told  string
}

// Versions gives the ten versions in the order in which they were kept; each
// comes after its parent. The maps are the caller's; the texts in them are
// shared and must not be changed. An error means that the program was built
// without one of its files.
func Versions() ([]Version, error) {
	var list []Version
	trees := map[string]map[string][]byte{}
	for i, c := range story() {
		folder := fmt.Sprintf("versions/%02d-%s", i+1, c.name)
		v, err := c.version(folder, trees[c.parent])
		if err != nil {
			return nil, fmt.Errorf("version %q of the demo: %w", c.name, err)
		}
		trees[c.name] = v.Files
		list = append(list, v)
	}
	return list, nil
}

// Body gives the measures of the person that the waistcoat is made for, and
// the path where they lie in the working tree. They belong to no version.
func Body() (path string, src []byte) {
	return "bodies/ringer.body", append([]byte(nil), ringer...)
}

// version reads one folder and lays its files over the parent's tree.
func (c chapter) version(folder string, parent map[string][]byte) (Version, error) {
	note, err := versions.ReadFile(path.Join(folder, "note.txt"))
	if err != nil {
		return Version{}, fmt.Errorf("read the note: %w", err)
	}
	files, err := overlaid(parent, path.Join(folder, "files"))
	if err != nil {
		return Version{}, err
	}
	v := Version{
		Name: c.name, Branch: c.branch, Parent: c.parent,
		Author: c.maker.name, Email: c.maker.email, When: c.when,
		Message: string(note), Files: files, Tag: c.tag, Told: c.told,
	}
	if c.firstTry.told != "" {
		tried, err := overlaid(files, path.Join(folder, "first-try"))
		if err != nil {
			return Version{}, err
		}
		v.Refused = &Attempt{Files: tried, Seam: c.firstTry.seam, Move: c.firstTry.move, Told: c.firstTry.told}
	}
	return v, nil
}

// overlaid gives a copy of a tree with the files of a folder in it.
func overlaid(tree map[string][]byte, folder string) (map[string][]byte, error) {
	out := maps.Clone(tree)
	if out == nil {
		out = map[string][]byte{}
	}
	err := fs.WalkDir(versions, folder, func(file string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		src, err := versions.ReadFile(file)
		if err != nil {
			return err
		}
		name := strings.TrimPrefix(file, folder+"/")
		if dotted, ok := strings.CutPrefix(name, "dot-"); ok {
			name = "." + dotted
		}
		out[name] = src
		return nil
	})
	if err != nil {
		return nil, fmt.Errorf("read the files: %w", err)
	}
	return out, nil
}
