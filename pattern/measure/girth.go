package measure

import (
	"slices"
	"strings"

	"seamkeep/pattern"
)

// Girth is what goes round the body at a level, term by term, in mm over both
// halves.
type Girth struct {
	Level     string
	Rigid     float64 // widths of pieces without stretch, at rest
	Elastic   float64 // widths of pieces with stretch, at rest
	Give      float64 // what Rigid gains in use
	Stretched float64 // what Elastic gains in use
	Overlap   float64 // the whole overlap of all closures
	Cords     float64
	Missing   []string // pieces of around that have no such level: the sum lacks them
	Reached   bool     // at least one piece of around has cloth at the level

	lacings int // of the garment, which share what is left
}

// Why says why the girth cannot be told; "" where it can.
func (g Girth) Why() string {
	switch {
	case len(g.Missing) == 1:
		return "piece " + g.Missing[0] + " goes round but has no level " + g.Level
	case len(g.Missing) > 1:
		return "pieces " + strings.Join(g.Missing, ", ") + " go round but have no level " + g.Level
	case !g.Reached:
		return "no piece of around reaches level " + g.Level
	}
	return ""
}

// Rest is the girth with nothing stretched: widths less the overlap.
func (g Girth) Rest() float64 { return g.Rigid + g.Elastic - g.Overlap }

// Worn is the girth in use: with give and stretch, less overlap and cords.
func (g Girth) Worn() float64 {
	return g.Rigid + g.Give + g.Elastic + g.Stretched - g.Overlap - g.Cords
}

// GirthAt adds up the pieces that go round the body at a level. In a half
// garment a piece counts twice; a piece that is cut whole counts once, and one
// on the fold twice its drawn width, whatever the garment draws. The sum means
// something only where Why says nothing.
func GirthAt(g *pattern.Garment, level string) Girth {
	sum := Girth{Level: level, Cords: g.CordsAt(level)}
	give := g.Give.Or(0) / 100
	options := optionsOf(g)
	for _, m := range g.Around {
		p := g.Piece(m.Name)
		if p == nil {
			sum.Missing = append(sum.Missing, m.Name)
			continue
		}
		w, ok := Width(g, p, level)
		if !ok {
			sum.Missing = append(sum.Missing, m.Name)
			continue
		}
		sum.Reached = sum.Reached || w > 0
		opt := options[p.Name]
		w *= times(g, p, opt.Whole)
		if opt.Stretch.Set {
			sum.Elastic += w
			sum.Stretched += w * opt.Stretch.Value / 100
		} else {
			sum.Rigid += w
			sum.Give += w * give
		}
	}
	for _, c := range g.Closures {
		sum.Overlap += c.Overlap.Or(0)
		if c.Kind == pattern.Lacing {
			sum.lacings++
		}
	}
	return sum
}

// Times tells how often a piece's drawn width counts in a girth. What is cut on
// the fold is drawn by half, also where it is cut whole.
func Times(g *pattern.Garment, p *pattern.Piece) float64 {
	return times(g, p, g.Option(p.Name).Whole)
}

func times(g *pattern.Garment, p *pattern.Piece, whole bool) float64 {
	switch {
	case p.Folded():
		return 2
	case whole, g.Half == pattern.Whole:
		return 1
	}
	return 2
}

// optionsOf gives what the garment says of its pieces, by piece, as Garment.Option does for
// one: of all pieces that costs the square of their number.
func optionsOf(g *pattern.Garment) map[string]pattern.PieceOption {
	out := make(map[string]pattern.PieceOption, len(g.Options))
	for _, o := range slices.Backward(g.Options) {
		out[o.Piece] = o // the first of several stays
	}
	return out
}

// Gap is how far the two edges of a lacing stand apart at a level, with the
// terms that it comes from, in mm.
type Gap struct {
	Closure   string
	Level     string
	Body      float64
	Reduce    float64
	Thickness float64
	Girth     Girth
	Lacings   int
}

// Value is the gap itself: body less reduction plus thickness less worn girth,
// shared equally by the lacings. Negative: the edges overlap.
func (g Gap) Value() float64 {
	return (g.Body - g.Reduce + g.Thickness - g.Girth.Worn()) / float64(g.Lacings)
}

// AsWorn gives how much smaller than the body the garment is worn, in percent:
// -4.3 means that it takes in 4.3 %.
func (g Gap) AsWorn() float64 { return Percent(-g.Reduce, g.Body) }

// LacedShut gives the girth inside the garment with its edges touching,
// against the body, in percent.
func (g Gap) LacedShut() float64 {
	return Percent(g.Girth.Worn()-g.Thickness-g.Body, g.Body)
}

// Percent gives part of whole in percent; 0 of nothing is 0.
func Percent(part, whole float64) float64 {
	if whole == 0 {
		return 0
	}
	return part / whole * 100
}

// GapAt predicts the gap of a lacing at a level. ok is false for a closure
// that is no lacing and where the girth there of the body or of the garment is
// not known.
func GapAt(g *pattern.Garment, b *pattern.Body, c *pattern.Closure, level string) (gap Gap, ok bool) {
	if _, known := b.Girth(level); !known || c.Kind != pattern.Lacing {
		return Gap{}, false
	}
	return GapOf(g, b, c, GirthAt(g, level))
}

// GapOf is GapAt where GirthAt was asked already; its level is that of the gap.
func GapOf(g *pattern.Garment, b *pattern.Body, c *pattern.Closure, sum Girth) (gap Gap, ok bool) {
	girth, known := b.Girth(sum.Level)
	if !known || c.Kind != pattern.Lacing {
		return Gap{}, false
	}
	gap = Gap{
		Closure: c.Name, Level: sum.Level, Body: girth,
		Reduce: g.ReduceAt(sum.Level), Thickness: g.Thickness.Or(0), Girth: sum, Lacings: sum.lacings,
	}
	return gap, gap.Girth.Why() == ""
}
