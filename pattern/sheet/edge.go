package sheet

import (
	"strings"

	"seamkeep/pattern"
	"seamkeep/pattern/sheet/ink"
)

// edgeOff is how far from its edge the name stands, mm.
const edgeOff = 2.6

// edgeWords writes along an edge, inside the piece, what it is called, what it is
// sewn to, and what it is where no seam says so: a fold, a closure.
func (f *figure) edgeWords(i int) {
	words := f.face.Words(strings.Join(f.edgeParts(i), ", "))
	path := f.piece.EdgePath(i).Transform(f.view)
	short := f.face.Words(f.piece.Edges[i].Name)
	if f.allowed && !f.onFold(f.piece.Edges[i].Name) {
		mm := plain(AllowanceOf(f.garment, f.piece, i))
		words, short = words+", allowance "+mm, short+", "+mm
	}
	var places []ink.Text
	for _, t := range [...]struct {
		words     string
		size, off float64
	}{
		{words, 1, 0}, {words, 1, 1.5}, {words, 0.75, 0}, {words, 0.75, 1.5}, {words, 0.75, 4},
		{short, 1, 0}, {short, 0.75, 0}, {short, 0.75, 1.5},
	} {
		places = append(places, f.along(path, t.words, t.size*smallSize, edgeOff+t.off, ink.Labels)...)
	}
	f.put(places...)
}

// edgeParts says what belongs to an edge.
func (f *figure) edgeParts(i int) []string {
	name := f.piece.Edges[i].Name
	out := []string{name}
	switch {
	case name == f.opened:
		out = append(out, "centre, opened out")
	case f.onFold(name):
		out = append(out, "place on fold")
	}
	for k := range f.garment.Seams {
		if other := f.sewnTo(&f.garment.Seams[k], name); other != "" {
			out = append(out, "to "+other)
		}
	}
	for _, c := range f.garment.Closures {
		if f.in(c.Edges, name) {
			out = append(out, "closure "+c.Name)
		}
	}
	return out
}

func (f *figure) in(refs []pattern.Ref, edge string) bool {
	for _, r := range refs {
		if r.Piece == f.piece.Name && r.Edge == edge {
			return true
		}
	}
	return false
}

// sewnTo gives the other side of a seam at one of the piece's edges; empty where
// the seam does not touch it.
func (f *figure) sewnTo(s *pattern.Seam, edge string) string {
	side := func(refs []pattern.Ref) string {
		var names []string
		for _, r := range refs {
			names = append(names, r.Piece+"."+r.Edge)
		}
		return strings.Join(names, " + ")
	}
	switch {
	case f.in(s.First, edge) && s.Mirrored:
		return "its mirror image"
	case f.in(s.First, edge):
		return side(s.Second)
	case f.in(s.Second, edge):
		return side(s.First)
	}
	return ""
}
