package claim

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"seamkeep/pattern"
	"seamkeep/pattern/compare"
	"seamkeep/pattern/measure"
)

// reason is a sentence, and how many mm of a difference it accounts for.
type reason struct {
	mm   float64
	text string
}

// where tells what made an untrue claim untrue, most telling first. wrong are the
// figures that lie outside the tolerance.
func (b bench) where(c Claim, wrong []figure) []string {
	levels := worstFirst(c, wrong)
	var reasons []reason
	m := c.Measure
	switch m.Kind {
	case "girth", "worn", "gap":
		reasons = b.round(levels, m.Kind)
	case "width":
		reasons = append(b.movedLevels(levels), b.pieceAt(m.Piece, levels)...)
	case "area":
		if p := b.piece(m.Piece); p != nil && p.Status != compare.Unchanged {
			reasons = []reason{{0, p.Sentence()}}
		}
	case "length":
		reasons = b.edges(pattern.Ref{Piece: m.Piece, Edge: m.Edge})
	case "seam", "walk":
		reasons = b.edges(b.sides(m.Seam)...)
	case "turn", "reach":
		reasons = b.edges(b.runEdges(m.Run, m.Seam)...)
	case "spread":
		for _, seam := range b.seamsOf(m.Run) {
			reasons = append(reasons, b.edges(b.sides(seam)...)...)
		}
	default:
		reasons = b.fasteners(m.Closure)
	}
	slices.SortStableFunc(reasons, func(x, y reason) int { return cmp.Compare(y.mm, x.mm) })
	var out []string
	for _, r := range reasons {
		if len(out) < MaxWhere && !slices.Contains(out, r.text) {
			out = append(out, r.text)
		}
	}
	return out
}

// worstFirst lists the levels of the figures, the one furthest off first.
func worstFirst(c Claim, wrong []figure) []string {
	sorted := slices.Clone(wrong)
	slices.SortStableFunc(sorted, func(x, y figure) int {
		return cmp.Compare(math.Abs(y.off(c)), math.Abs(x.off(c)))
	})
	var out []string
	for _, f := range sorted {
		out = append(out, f.level)
	}
	return out
}

// round gives what changed the way round the body at the levels.
func (b bench) round(levels []string, measureKind string) []reason {
	out := append(b.movedLevels(levels), b.settings(levels, measureKind)...)
	closed := len(out) == 0
	var wider, narrower int
	var pieces []reason
	for i := range b.change.Pieces {
		p := &b.change.Pieces[i]
		if !b.goesRound(p) {
			continue
		}
		switch d := widthDelta(p, levels[0]); {
		case p.Before == nil || p.After == nil:
			closed = false
		case d >= compare.Seen:
			wider++
		case d <= -compare.Seen:
			narrower++
		}
		pieces = append(pieces, b.pieceAt(p.Name, levels)...)
	}
	slices.SortStableFunc(pieces, func(x, y reason) int { return cmp.Compare(y.mm, x.mm) })
	if closed && len(pieces) > 0 {
		switch {
		case wider == 1 && narrower == 0:
			pieces[0].text += "; nothing was taken from another piece"
		case wider == 0 && narrower == 1:
			pieces[0].text += "; nothing was given to another piece"
		}
	}
	return append(out, pieces...)
}

// goesRound tells whether a piece counts in the girth of either version.
func (b bench) goesRound(p *compare.PieceChange) bool {
	for _, g := range []*pattern.Garment{b.after, b.before} {
		if g == nil {
			continue
		}
		for _, m := range g.Around {
			if m.Name == p.Name || p.Before != nil && m.Name == p.Before.Name {
				return true
			}
		}
	}
	return false
}

// widthDelta is what a piece's width gained at a level, mm; a piece that came or
// went counts whole.
func widthDelta(p *compare.PieceChange, level string) float64 {
	for _, w := range p.Widths {
		if w.Level == level {
			return w.After.Or(0) - w.Before.Or(0)
		}
	}
	return 0
}

// pieceAt tells what changed a piece's width at the levels: its edges, or that it
// came or went. Edges that no level line crosses twice show there as they are.
func (b bench) pieceAt(name string, levels []string) []reason {
	p := b.piece(name)
	if p == nil || p.Status == compare.Unchanged || len(levels) == 0 {
		return nil
	}
	weight := 2 * math.Abs(widthDelta(p, levels[0])) // both halves, so that it sorts beside settings
	if p.Before == nil || p.After == nil {
		text := p.Sentence()
		if weight > 0 {
			text += fmt.Sprintf(", %.1f wide at %s", weight/2, levels[0])
		}
		return []reason{{weight, text}}
	}
	var out []reason
	for _, e := range p.Edges {
		text, most := sideways(e, levels)
		if text != "" {
			out = append(out, reason{2 * most, p.Name + "." + e.Name + " " + text})
		}
	}
	if len(out) == 0 && weight/2 >= compare.Seen {
		word := "wider"
		if widthDelta(p, levels[0]) < 0 {
			word = "narrower"
		}
		out = append(out, reason{weight, fmt.Sprintf("%s %.1f %s at %s", p.Name, weight/2, word, levels[0])})
	}
	return out
}

// sideways tells how an edge moved at the levels: "let out 14.0 at bust, 6.0 at
// waist". most is the largest movement, mm.
func sideways(e compare.EdgeChange, levels []string) (text string, most float64) {
	var parts []string
	for _, way := range []struct {
		sign float64
		word string
	}{{1, "let out"}, {-1, "taken in"}} {
		var amounts []string
		alike := map[string]bool{}
		for _, l := range e.AtLevels {
			if d := l.Distance * way.sign; d >= compare.Seen && slices.Contains(levels, l.Level) {
				amount := fmt.Sprintf("%.1f", d)
				alike[amount] = true
				amounts = append(amounts, amount+" at "+l.Level)
				most = max(most, d)
			}
		}
		if len(alike) == 1 && len(amounts) == len(e.AtLevels) && len(amounts) > 2 {
			amounts = []string{fmt.Sprintf("%.1f at every level", most)}
		}
		if len(amounts) > 0 {
			parts = append(parts, way.word+" "+strings.Join(amounts, ", "))
		}
	}
	return strings.Join(parts, ", "), most
}

// edges tells what became of edges.
func (b bench) edges(refs ...pattern.Ref) []reason {
	var out []reason
	for _, r := range refs {
		p := b.piece(r.Piece)
		if p == nil {
			continue
		}
		if p.Before == nil || p.After == nil {
			out = append(out, reason{math.MaxFloat64, p.Sentence()})
			continue
		}
		for _, e := range p.Edges {
			if phrase := e.Phrase(); e.Name == r.Edge && phrase != "" {
				d, _ := e.Length.Delta()
				out = append(out, reason{math.Abs(d), p.Name + "." + e.Name + " " + phrase})
			}
		}
	}
	return out
}

// sides gives the edges of a seam.
func (b bench) sides(seam string) []pattern.Ref {
	for _, g := range []*pattern.Garment{b.after, b.before} {
		if g == nil {
			continue
		}
		if s := g.Seam(seam); s != nil {
			return append(slices.Clone(s.First), s.Second...)
		}
	}
	return nil
}

// seamsOf names the seams that a run crosses in the later version.
func (b bench) seamsOf(run string) []string {
	if b.after == nil {
		return nil
	}
	return measure.Crossed(b.after, run)
}

// runEdges gives the edges of a run that belong to the pieces of a seam, and
// those of the seam, which tilt the corner too.
func (b bench) runEdges(run, seam string) []pattern.Ref {
	sides := b.sides(seam)
	var out []pattern.Ref
	if b.after == nil {
		return nil
	}
	if r := b.after.Run(run); r != nil {
		for _, ref := range r.Refs {
			if slices.ContainsFunc(sides, func(s pattern.Ref) bool { return s.Piece == ref.Piece }) {
				out = append(out, ref)
			}
		}
	}
	return append(out, sides...)
}
