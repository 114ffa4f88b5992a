package main

import (
	"fmt"
	"math"
	"path"

	"seamkeep/pattern"
	"seamkeep/pattern/diag"
	"seamkeep/pattern/drawing"
	"seamkeep/pattern/drawing/again"
)

// identify tells which piece of the pattern each arrival is: by our own
// attribute, by what this clone remembers of the drawing, by its name, by its
// shape; and that no piece arrives twice.
func (b *bringing) identify() {
	taken := map[string]*arrival{}
	claim := func(x *arrival, name, by string) {
		if other := taken[name]; other != nil {
			b.problems = append(b.problems, diag.Problem{
				ID: "drawing.claimed", Severity: diag.Error, Place: x.drawn.Place, Subject: name,
				Found:    fmt.Sprintf("a second outline for the piece %s", name),
				Expected: "one outline for each piece",
				Hint:     "a copied layer or path keeps its label: give it another in the drawing program, or import one drawing only",
				Related:  []diag.Related{{Place: other.drawn.Place, Text: "the first"}},
			})
			return
		}
		taken[name] = x
		x.name, x.by, x.now = name, by, b.l.folder.Garment.Piece(name)
	}
	var open []*arrival
	for _, x := range b.arrivals {
		switch name, by := b.known(x); {
		case name != "":
			claim(x, name, by)
		default:
			open = append(open, x)
		}
	}
	for _, x := range open {
		name := b.alike(x, taken)
		switch {
		case name == "":
			claim(x, x.drawn.Name, "")
		case x.drawn.How == drawing.ByNumber: // the drawing has no word for it
			claim(x, name, "by its shape")
		default:
			// a lining may have the very shape of its outside
			claim(x, x.drawn.Name, "")
			b.problems = append(b.problems, diag.Problem{
				ID: "drawing.alike", Severity: diag.Warning, Place: x.drawn.Place, Subject: x.drawn.Name,
				Found:    fmt.Sprintf("%s has the shape of the piece %s, and is taken as a new piece", x.drawn.Name, name),
				Expected: "the name of a piece that is there, or another shape",
				Hint:     fmt.Sprintf("if it is %s, call it so in the drawing, or rename the piece: seamkeep rename %s %s", name, name, x.drawn.Name),
			})
		}
	}
}

// known finds the piece that an arrival is said to be: its name stands above the
// id that this clone remembers, since programs number ids anew.
func (b *bringing) known(x *arrival) (name, by string) {
	g := b.l.folder.Garment
	if g.Piece(x.drawn.Name) != nil {
		return x.drawn.Name, ""
	}
	if x.drawn.How != drawing.ByOwn && x.drawn.ID != "" {
		pieces := b.memory.Drawings[b.p.drawingKey(x.file)]
		for _, p := range g.Pieces {
			states := pieces[path.Join(b.p.dir, p.Name)]
			if len(states) > 0 && states[0].ID == x.drawn.ID && !b.saidToBe(p.Name) {
				return p.Name, fmt.Sprintf("as imported before; the drawing calls it %s", x.drawn.Name)
			}
		}
	}
	for _, p := range g.Pieces {
		if p.Was == x.drawn.Name {
			return p.Name, fmt.Sprintf("by its former name %s", p.Was)
		}
	}
	return "", ""
}

// alike finds a piece that nothing claimed and that the outline shows as it is.
func (b *bringing) alike(x *arrival, taken map[string]*arrival) string {
	for _, p := range b.l.folder.Garment.Pieces {
		if taken[p.Name] != nil || b.saidToBe(p.Name) || !near(p, x) {
			continue
		}
		_, report, problems := again.Lay(p, again.Drawn{Ring: x.drawn.Ring}, again.Options{})
		if !problems.HasErrors() && report.Same() {
			return p.Name
		}
	}
	return ""
}

// saidToBe tells whether some arrival bears a name.
func (b *bringing) saidToBe(name string) bool {
	for _, x := range b.arrivals {
		if x.drawn.Name == name {
			return true
		}
	}
	return false
}

// near passes over outlines that cannot be the same.
func near(p *pattern.Piece, x *arrival) bool {
	if len(p.Corners) != len(p.Edges) {
		return false
	}
	area := math.Abs(p.Outline().Area())
	return math.Abs(area-x.drawn.Area) <= 0.001*area+1
}
