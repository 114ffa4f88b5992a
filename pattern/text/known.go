package text

import (
	"seamkeep/pattern"
	"seamkeep/pattern/diag"
)

// known is every name of a garment that something may refer to, as sets: a
// garment from somewhere else may have very many.
type known struct {
	g        *pattern.Garment
	levels   map[string]bool
	runs     map[string]bool
	closures map[string]*pattern.Closure
	apart    map[string]diag.Place // where a piece is said to be apart
	inPiece  map[*pattern.Piece]map[partName]bool
}

// partName is something in a piece: an edge, a corner, a level or, with its edge,
// a notch.
type partName struct{ kind, name, edge string }

func newKnown(g *pattern.Garment) *known {
	k := &known{
		g: g, levels: map[string]bool{}, runs: map[string]bool{}, closures: map[string]*pattern.Closure{},
		apart: map[string]diag.Place{}, inPiece: map[*pattern.Piece]map[partName]bool{},
	}
	for _, l := range g.Levels {
		k.levels[l.Name] = true
	}
	for _, r := range g.Runs {
		k.runs[r.Name] = true
	}
	for i := range g.Closures {
		k.closures[g.Closures[i].Name] = &g.Closures[i]
	}
	for _, o := range g.Options {
		if o.Apart {
			k.apart[o.Piece] = o.Place
		}
	}
	return k
}

func (k *known) has(p *pattern.Piece, what partName) bool {
	set := k.inPiece[p]
	if set == nil {
		set = map[partName]bool{}
		for _, e := range p.Edges {
			set[partName{kind: "edge", name: e.Name}] = true
		}
		for _, c := range p.Corners {
			set[partName{kind: "corner", name: c.Name}] = true
		}
		for _, l := range p.Levels {
			set[partName{kind: "level", name: l.Name}] = true
		}
		for _, n := range p.Notches {
			set[partName{"notch", n.Name, n.Edge.Name}] = true
		}
		k.inPiece[p] = set
	}
	return set[what]
}

func (k *known) edge(p *pattern.Piece, name string) bool {
	return k.has(p, partName{kind: "edge", name: name})
}

func (k *known) corner(p *pattern.Piece, name string) bool {
	return k.has(p, partName{kind: "corner", name: name})
}

func (k *known) notch(p *pattern.Piece, edge, name string) bool {
	return k.has(p, partName{"notch", name, edge})
}

// levelOn tells whether a level lies on a piece, as pattern.Garment.LevelOn.
func (k *known) levelOn(p *pattern.Piece, name string) bool {
	return k.has(p, partName{kind: "level", name: name}) || !p.NoLevels && k.levels[name]
}

func (k *known) pieceNames() []string {
	return namesOf(k.g.Pieces, func(p *pattern.Piece) string { return p.Name })
}

// maxNearest bounds how many names a mistyped one is compared with.
const maxNearest = 2000

func nearest(name string, known []string) string {
	return diag.Nearest(name, known[:min(len(known), maxNearest)])
}

func namesOf[T any](list []T, name func(T) string) []string {
	names := make([]string, len(list))
	for i, v := range list {
		names[i] = name(v)
	}
	return names
}

func cornerNames(p *pattern.Piece) []string {
	return namesOf(p.Corners, func(k pattern.Corner) string { return k.Name })
}

func edgeNames(p *pattern.Piece) []string {
	return namesOf(p.Edges, func(e pattern.Edge) string { return e.Name })
}

// dottedEdges lists the edges as PIECE.EDGE.
func dottedEdges(p *pattern.Piece) []string {
	return namesOf(p.Edges, func(e pattern.Edge) string { return p.Name + "." + e.Name })
}

func levelNames(levels []pattern.Level) []string {
	return namesOf(levels, func(l pattern.Level) string { return l.Name })
}

func notchNames(p *pattern.Piece, edge string) []string {
	var names []string
	for _, n := range p.Notches {
		if n.Edge.Name == edge {
			names = append(names, n.Name)
		}
	}
	return names
}
