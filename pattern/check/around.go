package check

import (
	"fmt"
	"math"
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
	return append(out, shorts(in)...)
}

// shorts warns of each level at which a gap is wanted and the cloth does not go all
// round: what is added up there is no girth.
func shorts(in Input) diag.List {
	g := in.Garment
	var out diag.List
	told := map[string]bool{}
	for _, w := range g.Wanted {
		if told[w.Level] || g.Closure(w.Closure) == nil {
			continue
		}
		told[w.Level] = true
		sum := in.rounds.girthAt(w.Level)
		x := diag.Problem{
			ID: "around.short", Severity: diag.Warning, Place: w.Place, Subject: w.Level,
			Expected: fmt.Sprintf("cloth all round at %s, where the gap of %s is wanted", w.Level, w.Closure),
		}
		short := in.rounds.shortAt(w.Level)
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

// rounds answers how far it is round a garment, and which pieces leave a hole there, for
// each level once.
type rounds struct {
	garment *pattern.Garment
	sewn    map[string][]sewnEdge // by piece; nil until it is asked for
	short   map[string][]unreached
	girths  map[string]measure.Girth
}

// sewnEdge is an edge of a piece in a seam, and what lies on the seam's other side.
type sewnEdge struct {
	edge  string
	other []pattern.Ref
}

func newRounds(g *pattern.Garment) *rounds {
	return &rounds{garment: g, short: map[string][]unreached{}, girths: map[string]measure.Girth{}}
}

func (r *rounds) girthAt(level string) measure.Girth {
	sum, known := r.girths[level]
	if !known {
		sum = measure.GirthAt(r.garment, level)
		r.girths[level] = sum
	}
	return sum
}

// seams enters every seam under its pieces.
func (r *rounds) seams() map[string][]sewnEdge {
	if r.sewn != nil {
		return r.sewn
	}
	r.sewn = map[string][]sewnEdge{}
	for _, s := range r.garment.Seams {
		for _, sides := range [][2][]pattern.Ref{{s.First, s.Second}, {s.Second, s.First}} {
			for _, ref := range sides[0] {
				r.sewn[ref.Piece] = append(r.sewn[ref.Piece], sewnEdge{ref.Edge, sides[1]})
			}
		}
	}
	return r.sewn
}

// shortAt lists the pieces of around that end before a level which others reach,
// where they leave a hole in the round: what is sewn, along an edge that crosses the
// level, to a piece that reaches it, what is sewn beside that, and what is sewn to
// nothing. A piece that lies in a tier above or below is none of them. Where no piece
// reaches the level all are.
func (r *rounds) shortAt(level string) []unreached {
	if list, known := r.short[level]; known {
		return list
	}
	list := r.find(level)
	r.short[level] = list
	return list
}

func (r *rounds) find(level string) []unreached {
	g := r.garment
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
	holes := map[string]bool{}
	if len(open) == 0 {
		open = order
		for _, name := range order {
			holes[name] = true
		}
	}
	for _, name := range order {
		if len(r.seams()[name]) == 0 {
			holes[name] = true
		}
	}
	if len(order) == 0 {
		return nil // all reach it
	}
	for i := 0; i < len(open); i++ {
		for _, next := range r.beside(open[i], level, ends) {
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

// beside lists the pieces that are sewn to the sides of a piece: to its edges that
// cross the level, or half its height where it is short of the level.
func (r *rounds) beside(piece, level string, ends map[string]unreached) []string {
	p := r.garment.Piece(piece)
	y, _ := r.garment.LevelOn(p, level)
	if _, isShort := ends[piece]; isShort {
		box := p.Outline().Bounds()
		y = (box.Min.Y + box.Max.Y) / 2
	}
	var out []string
	for _, s := range r.seams()[piece] {
		i := p.EdgeIndex(s.edge)
		if i < 0 || len(p.Corners) != len(p.Edges) {
			continue
		}
		a, b := p.Corners[i].At.Y, p.Corners[(i+1)%len(p.Corners)].At.Y
		if min(a, b) <= y && y < max(a, b) {
			for _, ref := range s.other {
				out = append(out, ref.Piece)
			}
		}
	}
	return out
}
