package check

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"seamkeep/pattern"
	"seamkeep/pattern/diag"
	"seamkeep/pattern/measure"
)

// around warns of each piece that goes round the body and lacks a level: girth,
// gap and compression cannot be told there.
func around(in Input) diag.List {
	g := in.Garment
	var out diag.List
	for _, m := range g.Around {
		p := g.Piece(m.Name)
		if p == nil {
			continue // the reader has said so
		}
		var lacks []string
		for _, level := range measure.LevelNames(g) {
			if _, ok := g.LevelOn(p, level); !ok {
				lacks = append(lacks, level)
			}
		}
		if len(lacks) == 0 {
			continue
		}
		x := pieceProblem("around.no-level", p, p.Place, "")
		x.Severity, x.Amount = diag.Warning, float64(len(lacks))
		x.Found = fmt.Sprintf("piece %s goes round the body but has no level %s, so girth and gap there are not known", p.Name, strings.Join(lacks, ", "))
		x.Expected = "every level of the garment on a piece of around"
		x.Hint = fmt.Sprintf("give it the level in its file: level %s Y, also where it ends below or above it; or bring it in again with --waist; or take it out of around", lacks[0])
		out = append(out, x)
	}
	return append(out, shorts(g)...)
}

// shorts warns of each level at which a gap is wanted and the cloth does not go all
// round: what is added up there is no girth.
func shorts(g *pattern.Garment) diag.List {
	var out diag.List
	told := map[string]bool{}
	for _, w := range g.Wanted {
		if told[w.Level] || g.Closure(w.Closure) == nil {
			continue
		}
		told[w.Level] = true
		sum := measure.GirthAt(g, w.Level)
		x := diag.Problem{
			ID: "around.short", Severity: diag.Warning, Place: w.Place, Subject: w.Level,
			Expected: fmt.Sprintf("cloth all round at %s, where the gap of %s is wanted", w.Level, w.Closure),
		}
		short := shortAt(g, w.Level)
		var names []string
		for _, s := range short {
			names = append(names, s.piece.Name)
			x.Amount = max(x.Amount, math.Abs(s.by))
			x.Related = append(x.Related, diag.Related{Place: pieceProblem("", s.piece, s.piece.Place, "").Place, Text: s.words(w.Level)})
		}
		switch {
		case len(sum.Missing) > 0:
			continue // around.no-level says so
		case !sum.Reached:
			x.Found = sum.Why()
			x.Hint = fmt.Sprintf("set the level where the garment has cloth, level %s Y; or take out wanted gap %s at %s", w.Level, w.Closure, w.Level)
		case len(short) == 0:
			continue
		case len(short) == 1:
			x.Found = fmt.Sprintf("piece %s, which others reach", short[0].words(w.Level))
			x.Hint = fmt.Sprintf("lengthen %s, or set the level where all pieces reach it; girth and gap at %s are not known until then", names[0], w.Level)
		default:
			x.Found = fmt.Sprintf("pieces %s do not reach level %s, though others do", strings.Join(names, ", "), w.Level)
			x.Hint = fmt.Sprintf("lengthen them, or set the level where all pieces reach it; girth and gap at %s are not known until then", w.Level)
		}
		out = append(out, x)
	}
	return out
}

// unreached is a piece that ends before a level that it should reach.
type unreached struct {
	piece *pattern.Piece
	by    float64 // mm up from the level to the piece's end; negative: it ends below
	end   float64 // height of that end in the piece's own frame, mm
}

// words says where it ends.
func (s unreached) words(level string) string {
	way := "above"
	if s.by < 0 {
		way = "below"
	}
	return fmt.Sprintf("%s ends at height %.1f, %.1f %s %s", s.piece.Name, s.end, math.Abs(s.by), way, level)
}

// shortAt lists the pieces of around that end before a level which others reach,
// where they leave a hole in the round: what is sewn, along an edge that crosses the
// level, to a piece that reaches it, what is sewn beside that, and what is sewn to
// nothing. A piece that lies in a tier above or below is none of them. Where no piece
// reaches the level all are.
func shortAt(g *pattern.Garment, level string) []unreached {
	ends := map[string]unreached{}
	var order, open []string
	for _, m := range g.Around {
		p := g.Piece(m.Name)
		if p == nil || !closed(p) {
			continue
		}
		y, ok := g.LevelOn(p, level)
		if !ok {
			continue
		}
		outline := p.Outline()
		if outline.WidthAt(y) > 0 {
			open = append(open, p.Name)
			continue
		}
		box := outline.Bounds()
		s := unreached{piece: p, by: box.Min.Y - y, end: box.Min.Y}
		if box.Min.Y < y {
			s.by, s.end = box.Max.Y-y, box.Max.Y
		}
		ends[p.Name] = s
		order = append(order, p.Name)
	}
	holes, sewn := map[string]bool{}, sidesByPiece(g)
	if len(open) == 0 {
		open = order
		for _, name := range order {
			holes[name] = true
		}
	}
	for _, name := range order {
		if len(sewn[name]) == 0 {
			holes[name] = true
		}
	}
	for i := 0; i < len(open); i++ {
		for _, next := range sewnBeside(g, sewn[open[i]], open[i], level, ends) {
			if _, isShort := ends[next]; isShort && !holes[next] {
				holes[next] = true
				open = append(open, next)
			}
		}
	}
	var out []unreached
	for _, name := range order {
		if holes[name] {
			out = append(out, ends[name])
		}
	}
	return out
}

// seamSides is a side of a seam and the one that it is sewn to.
type seamSides struct{ own, other []pattern.Ref }

// sidesByPiece gives, for each piece, the sides of seams that it is part of.
func sidesByPiece(g *pattern.Garment) map[string][]seamSides {
	out := map[string][]seamSides{}
	for i := range g.Seams {
		s := &g.Seams[i]
		for _, x := range []seamSides{{s.First, s.Second}, {s.Second, s.First}} {
			for k, r := range x.own {
				if !slices.ContainsFunc(x.own[:k], func(q pattern.Ref) bool { return q.Piece == r.Piece }) {
					out[r.Piece] = append(out[r.Piece], x)
				}
			}
		}
	}
	return out
}

// sewnBeside lists the pieces that are sewn to the sides of a piece: to its edges that
// cross the level, or half its height where it is short of the level.
func sewnBeside(g *pattern.Garment, sides []seamSides, piece, level string, ends map[string]unreached) []string {
	p := g.Piece(piece)
	y, _ := g.LevelOn(p, level)
	if _, isShort := ends[piece]; isShort {
		box := p.Outline().Bounds()
		y = (box.Min.Y + box.Max.Y) / 2
	}
	side := func(r pattern.Ref) bool {
		i := p.EdgeIndex(r.Edge)
		if r.Piece != piece || i < 0 || len(p.Corners) != len(p.Edges) {
			return false
		}
		a, b := p.Corners[i].At.Y, p.Corners[(i+1)%len(p.Corners)].At.Y
		return min(a, b) <= y && y < max(a, b)
	}
	var out []string
	for _, x := range sides {
		if slices.ContainsFunc(x.own, side) {
			for _, r := range x.other {
				out = append(out, r.Piece)
			}
		}
	}
	return out
}
