package measure

import "seamkeep/pattern"

// Width gives the cloth inside a piece's outline along a level, in mm, summed
// over several crossings. A level along a horizontal edge counts only for the
// piece above it. It is 0 where the piece does not reach the level; ok is
// false where the piece has no such level.
func Width(g *pattern.Garment, p *pattern.Piece, level string) (mm float64, ok bool) {
	y, ok := g.LevelOn(p, level)
	if !ok {
		return 0, false
	}
	return p.Outline().WidthAt(y), true
}

// Area gives the cloth inside a piece's sewing line, in mm2, exactly for lines
// and cubics (Green's theorem).
func Area(p *pattern.Piece) float64 { return p.Outline().Area() }

// LevelNames lists the garment's levels as the file has them.
func LevelNames(g *pattern.Garment) []string {
	names := make([]string, len(g.Levels))
	for i, l := range g.Levels {
		names[i] = l.Name
	}
	return names
}
