package handoff

import (
	"bytes"
	"fmt"
	"slices"
	"sort"

	"seamkeep/pattern"
	"seamkeep/pattern/curve"
	"seamkeep/pattern/diag"
	"seamkeep/pattern/drawing/vector"
)

// IntoOptions says how pieces are written into a drawing.
type IntoOptions struct {
	// File is the drawing's name, for messages.
	File string
	// Read says how its true size is known, as when it is imported.
	Read vector.Options
	// Base is as in Options.
	Base func(piece string) string
	// IDs gives the id of the element that is a piece's outline, for drawings
	// that bear no attributes of ours; an attribute stands above it.
	IDs map[string]string
	// Frame gives where a piece lies on the page: the map from its own plane, y
	// up, to page mm, y down, that lays the piece as it was on the drawn outline.
	// Where it is nil or answers false, the group's "at" is believed as long as
	// two corners of the piece still lie on the drawn outline's.
	Frame func(piece string) (curve.Affine, bool)
}

// Into writes the pieces' sewing lines over those of an existing drawing, where
// they lie and however they were moved or turned since, at the page's own scale.
// Only the values of "d" of those paths change and the "base" of their groups,
// and marks that say "mark KIND NAME"; every other byte stays. A path that shows
// the line already, within 0.0004 mm, keeps its text. Notches, levels, grain and
// words are not touched.
//
// Numbers have three decimals where that is exact, else so many that no point
// is off by more than 0.000001 mm.
//
// Errors, and then no bytes are given: a drawing that cannot be read or has no
// true size, an outline that is missing, there twice, hidden, not a path or of
// several lines, a place on the page that is not known or not of true size.
func Into(src []byte, g *pattern.Garment, pieces []*pattern.Piece, o IntoOptions) ([]byte, diag.List) {
	in := &into{garment: g, options: o, src: src, matrices: make(map[diag.Place]curve.Affine)}
	if in.open() {
		for _, p := range pieces {
			in.find(p)
		}
	}
	if !in.probs.HasErrors() {
		in.probe()
		for _, t := range in.targets {
			in.rewrite(t)
		}
	}
	in.probs.Sort()
	if in.probs.HasErrors() {
		return nil, in.probs
	}
	return in.edited(), in.probs
}

// into is a drawing while pieces are written into it.
type into struct {
	garment  *pattern.Garment
	options  IntoOptions
	src      []byte // without a byte order mark
	mark     []byte // the byte order mark
	probs    diag.List
	drawn    *vector.Drawing
	items    map[diag.Place][]vector.Item // that are no clones
	elements []*element
	targets  []*target
	matrices map[diag.Place]curve.Affine // of each element, to page mm
	edits    []edit
}

// target is what is rewritten of one piece.
type target struct {
	piece   *pattern.Piece
	outline *element
	marks   []*element
}

// edit puts other bytes in the place of some.
type edit struct {
	from, to int
	text     string
}

func (in *into) problem(sev diag.Severity, at diag.Place, id, piece, found, expected, hint string) {
	at.Piece = piece
	in.probs = append(in.probs, diag.Problem{
		ID: id, Severity: sev, Place: at, Subject: piece, Found: found, Expected: expected, Hint: hint,
	})
}

// open reads the drawing; false where that cannot be.
func (in *into) open() bool {
	if rest, ok := bytes.CutPrefix(in.src, []byte("\xef\xbb\xbf")); ok {
		in.mark, in.src = in.src[:3], rest
	}
	drawn, probs := vector.Read(in.options.File, in.src, in.options.Read)
	if len(drawn.Items) == 0 {
		in.probs = probs
		if !probs.HasErrors() {
			in.problem(diag.Error, diag.Place{File: in.options.File}, "drawing.missing", "", "the drawing has no line", "a drawing of the pieces", "")
		}
		return false
	}
	for _, p := range probs {
		p.Severity = min(p.Severity, diag.Warning) // a line that cannot be read may be none of ours; if it is, it is missed below
		in.probs = append(in.probs, p)
	}
	in.drawn, in.items = drawn, make(map[diag.Place][]vector.Item)
	for _, it := range drawn.Items {
		if !it.Clone {
			in.items[it.Place] = append(in.items[it.Place], it)
		}
	}
	if bytes.IndexByte(in.src, 0) >= 0 {
		in.problem(diag.Error, diag.Place{File: in.options.File, Line: 1, Column: 1}, "drawing.encoding", "", "the drawing is written in UTF-16",
			"UTF-8, or an encoding of one byte a character", "save it again from the drawing program as plain SVG")
		return false
	}
	wanted := make(map[string]bool)
	for _, id := range in.options.IDs {
		wanted[id] = true
	}
	var err error
	if in.elements, err = scan(in.options.File, in.src, wanted); err != nil {
		in.problem(diag.Error, diag.Place{File: in.options.File}, "drawing.xml", "", err.Error(), "an SVG drawing", "")
		return false
	}
	return true
}

// find looks for a piece's outline: by our attributes, else by the id that the
// options give, else by the id that Write gives, where ungrouping took the group.
func (in *into) find(p *pattern.Piece) {
	t := &target{piece: p}
	ways := []func(*element) bool{
		func(e *element) bool { return e.own("line") == "outline" && e.pieceName() == p.Name },
		func(e *element) bool { id := in.options.IDs[p.Name]; return id != "" && e.get("", "id") == id },
		func(e *element) bool {
			return e.own("line") == "outline" && e.piece == nil && e.get("", "id") == plain(p.Name)+"-outline"
		},
	}
	var found []*element
	for _, is := range ways {
		for _, e := range in.elements {
			if is(e) {
				found = append(found, e)
			}
		}
		if len(found) > 0 {
			break
		}
	}
	if !in.one(p, found) {
		return
	}
	t.outline = found[0]
	for _, e := range in.elements {
		if e.pieceName() == p.Name && len(markWords(e)) == 3 {
			t.marks = append(t.marks, e)
		}
	}
	in.targets = append(in.targets, t)
}

// one says what is wrong unless exactly one path was found.
func (in *into) one(p *pattern.Piece, found []*element) bool {
	if len(found) == 0 {
		in.problem(diag.Error, diag.Place{File: in.options.File}, "drawing.missing", p.Name,
			fmt.Sprintf("the drawing has no outline of %s", p.Name), "a path that says which piece it is",
			"export the piece as a drawing of its own and copy its layer into this one")
		return false
	}
	if len(found) > 1 {
		in.problem(diag.Error, found[1].place, "drawing.twice", p.Name, fmt.Sprintf("%d elements are the outline of %s: %s and %s",
			len(found), p.Name, found[0].title(), found[1].title()), "one outline for a piece", "delete the copy in the drawing program")
		last := &in.probs[len(in.probs)-1]
		last.Related = []diag.Related{{Place: found[0].place, Text: "the first one"}}
		return false
	}
	e := found[0]
	if e.kind != "path" {
		in.problem(diag.Error, e.place, "drawing.shape", p.Name, fmt.Sprintf("the outline of %s is not a path: %s", p.Name, e.title()), "a path",
			"turn it into a path in the drawing program (unlink it first if it is a clone)")
		return false
	}
	d := e.attr("", "d")
	if in.item(e) != nil && d != nil && d.to-d.from >= len(probeData) {
		return true
	}
	in.problem(diag.Error, e.place, "drawing.shape", p.Name, fmt.Sprintf("the outline of %s (%s) %s", p.Name, e.title(), in.why(e)),
		"one closed line that is seen", "")
	return false
}

// why says why an element is no outline.
func (in *into) why(e *element) string {
	for _, s := range in.drawn.Skipped {
		if s.Place == e.place {
			return s.Why
		}
	}
	if n := len(in.items[e.place]); n > 1 {
		return fmt.Sprintf("holds %d lines", n)
	}
	return "shows no line"
}

// edited gives the file with all edits made.
func (in *into) edited() []byte {
	sort.Slice(in.edits, func(i, j int) bool { return in.edits[i].from < in.edits[j].from })
	out := slices.Clone(in.mark)
	at := 0
	for _, e := range in.edits {
		out = append(append(out, in.src[at:e.from]...), e.text...)
		at = e.to
	}
	return append(out, in.src[at:]...)
}
