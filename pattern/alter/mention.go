package alter

import (
	"slices"
	"strings"

	"seamkeep/pattern"
)

// eachRef visits every reference of a garment to an edge.
func eachRef(g *pattern.Garment, visit func(*pattern.Ref)) {
	all := func(refs []pattern.Ref) {
		for i := range refs {
			visit(&refs[i])
		}
	}
	for i := range g.Seams {
		all(g.Seams[i].First)
		all(g.Seams[i].Second)
	}
	for i := range g.Runs {
		all(g.Runs[i].Refs)
	}
	for i := range g.Closures {
		all(g.Closures[i].Edges)
	}
}

// eachTarget visits what every allowance and join is for.
func eachTarget(g *pattern.Garment, visit func(*pattern.Target)) {
	for i := range g.Allowances {
		visit(&g.Allowances[i].Target)
	}
	for i := range g.Joins {
		visit(&g.Joins[i].Target)
	}
}

// eachPieceName visits every name of a piece in a garment file.
func eachPieceName(g *pattern.Garment, visit func(*string)) {
	for i := range g.Around {
		visit(&g.Around[i].Name)
	}
	for i := range g.Options {
		visit(&g.Options[i].Piece)
	}
	eachRef(g, func(r *pattern.Ref) { visit(&r.Piece) })
	eachTarget(g, func(t *pattern.Target) {
		if t.Edge != "" || g.Run(t.Name) == nil {
			visit(&t.Name)
		}
	})
	eachSubject(g, func(name []string, _ string) { visit(&name[0]) })
	eachAcceptedPlace(g, func(name []string, _ string) { visit(&name[0]) })
}

// eachSubject visits the subject of every accepted finding that is about a piece, as
// its names: PIECE, PIECE.EDGE or PIECE.EDGE.NOTCH. family is the first word of the
// finding's id.
func eachSubject(g *pattern.Garment, visit func(name []string, family string)) {
	for i := range g.Accepted {
		a := &g.Accepted[i]
		family, _, _ := strings.Cut(a.ID, ".")
		name := strings.Split(a.Subject, ".")
		if len(name) == 1 && slices.Contains([]string{"seam", "run", "closure", "buttons", "eyelets", "gap"}, family) {
			continue // it is about what has that name, whatever pieces are called
		}
		visit(name, family)
		a.Subject = strings.Join(name, ".")
	}
}

// eachAcceptedPlace visits every place of an accepted finding that is on a piece, as its
// names: PIECE.CORNER of a run, PIECE.MARK of a bone or a cord, else PIECE.EDGE or
// PIECE.EDGE.NOTCH. One name alone is a notch or a level.
func eachAcceptedPlace(g *pattern.Garment, visit func(name []string, family string)) {
	for i := range g.Accepted {
		family, _, _ := strings.Cut(g.Accepted[i].ID, ".")
		for k := range g.Accepted[i].Parts {
			p := &g.Accepted[i].Parts[k]
			if name := strings.Split(p.At, "."); len(name) > 1 {
				visit(name, family)
				p.At = strings.Join(name, ".")
			}
		}
	}
}

func pieceNames(g *pattern.Garment) []string {
	names := make([]string, len(g.Pieces))
	for i, p := range g.Pieces {
		names[i] = p.Name
	}
	return names
}
