package check

import (
	"fmt"
	"strings"

	"seamkeep/pattern"
	"seamkeep/pattern/curve"
	"seamkeep/pattern/diag"
)

// FoldStraight is how far an edge on the fold may lie from straight, mm: common
// practice, no source.
const FoldStraight = 0.5

// cloths looks at how the pieces are cut.
func cloths(in Input) diag.List {
	g := in.Garment
	goesRound := map[string]bool{}
	for _, m := range g.Around {
		goesRound[m.Name] = true
	}
	cutOnce := map[string]bool{}
	for _, o := range g.Options {
		cutOnce[o.Piece] = o.Whole
	}
	sewn := sewnIn(g)
	var out diag.List
	for _, p := range g.Pieces {
		if !closed(p) {
			continue
		}
		if g.Half != pattern.Whole && !p.Folded() && !cutOnce[p.Name] {
			out = append(out, bothHalves(p, goesRound[p.Name])...)
		}
		out = append(out, folds(in, p, sewn)...)
	}
	return append(out, noCloth(g)...)
}

func clothProblem(id string, p *pattern.Piece, c pattern.Cloth) diag.Problem {
	x := pieceProblem(id, p, c.Place, "")
	x.Severity = diag.Warning
	return x
}

// bothHalves tells a piece of a half garment that is not cut for both halves: once
// only though it goes round the body, or twice the same way up though it is not the
// same turned over.
func bothHalves(p *pattern.Piece, round bool) diag.List {
	for _, c := range p.Cloths {
		switch {
		case c.Cut != pattern.Alike:
		case c.Count == 1 && round:
			x := clothProblem("cloth.once", p, c)
			x.Amount = 1
			x.Found = fmt.Sprintf("%s goes round the body on both halves and is cut once from %s", p.Name, c.Name)
			x.Expected = "one for each half"
			x.Hint = fmt.Sprintf("write 1 pair in its file; if it serves both halves, write in the garment file: piece %s whole", p.Name)
			return diag.List{x}
		case c.Count > 1 && !symmetric(p):
			x := clothProblem("cloth.alike", p, c)
			x.Amount = float64(c.Count)
			x.Found = fmt.Sprintf("%s is cut %d times the same way up from %s, and is not the same turned over: all of them fit one half", p.Name, c.Count, c.Name)
			x.Expected = "mirrored pairs for the two halves"
			x.Hint = "write pair instead of alike, with half the number"
			return diag.List{x}
		}
	}
	return nil
}

// folds tells an edge on the fold that is not straight, or that a seam sews though
// every cloth of the piece is folded there.
func folds(in Input, p *pattern.Piece, sewn map[string]*pattern.Seam) diag.List {
	var out diag.List
	told := map[string]bool{}
	for _, c := range p.Cloths {
		i := p.EdgeIndex(c.Fold.Name)
		if c.Cut != pattern.OnFold || i < 0 || told[c.Fold.Name] {
			continue
		}
		told[c.Fold.Name] = true
		path := p.EdgePath(i)
		if far := curve.Directed(path, curve.Path{curve.Line(path.Start(), path.End())}, FoldStraight/10); far.Dist > FoldStraight {
			x := clothProblem("cloth.fold-bent", p, c)
			x.Subject, x.Place.Edge, x.Amount = p.Name+"."+c.Fold.Name, c.Fold.Name, far.Dist
			x.Place = x.Place.Point(far.On.X, far.On.Y)
			x.Found = fmt.Sprintf("edge %s.%s lies on the fold and is %.1f mm off straight", p.Name, c.Fold.Name, far.Dist)
			x.Expected = "a straight edge: a fold is"
			x.Hint = "straighten it, or cut a pair and sew the two halves together with a seam that is mirrored"
			out = append(out, x)
		}
		if s := sewn[p.Name+"."+c.Fold.Name]; s != nil && alwaysFolded(p, c.Fold.Name) {
			x := clothProblem("cloth.fold-sewn", p, c)
			x.Subject, x.Place.Edge = p.Name+"."+c.Fold.Name, c.Fold.Name
			x.Found = fmt.Sprintf("edge %s.%s lies on the fold and is sewn in seam %s", p.Name, c.Fold.Name, s.Name)
			x.Expected = "a fold or a seam"
			x.Hint = "take the seam out, or cut a pair"
			x.Related = []diag.Related{{Place: s.Place, Text: "the seam"}}
			out = append(out, x)
		}
	}
	return out
}

func alwaysFolded(p *pattern.Piece, edge string) bool {
	for _, c := range p.Cloths {
		if c.Cut != pattern.OnFold || c.Fold.Name != edge {
			return false
		}
	}
	return true
}

// sewnIn gives a seam of each edge that lies in one, by PIECE.EDGE.
func sewnIn(g *pattern.Garment) map[string]*pattern.Seam {
	sewn := map[string]*pattern.Seam{}
	for i := range g.Seams {
		s := &g.Seams[i]
		for _, side := range [][]pattern.Ref{s.First, s.Second} {
			for _, r := range side {
				sewn[r.Piece+"."+r.Edge] = s
			}
		}
	}
	return sewn
}

// noCloth notes the pieces that say nothing of their cloth where others do.
func noCloth(g *pattern.Garment) diag.List {
	var names []string
	for _, p := range g.Pieces {
		if len(p.Cloths) == 0 {
			names = append(names, p.Name)
		}
	}
	if len(names) == 0 || len(names) == len(g.Pieces) {
		return nil
	}
	const shown = 6
	list := strings.Join(names[:min(len(names), shown)], ", ")
	if len(names) > shown {
		list += ", ..."
	}
	return diag.List{{
		ID: "cloth.none", Severity: diag.Note, Place: g.Place, Subject: "garment", Amount: float64(len(names)),
		Found: fmt.Sprintf("of %d pieces %d without a word of their cloth: %s", len(g.Pieces), len(names), list),
	}}
}
