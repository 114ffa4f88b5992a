package alter

import "seamkeep/pattern"

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
}

func pieceNames(g *pattern.Garment) []string {
	names := make([]string, len(g.Pieces))
	for i, p := range g.Pieces {
		names[i] = p.Name
	}
	return names
}
