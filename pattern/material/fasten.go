package material

import (
	"fmt"
	"math"

	"seamkeep/pattern"
	"seamkeep/pattern/measure"
)

// Button is the buttons of a closure, or those that are only marked on a piece.
type Button struct {
	Of       string // closure or piece
	Closure  bool
	Count    int
	Diameter pattern.Opt // mm
	Hole     pattern.Opt // length of a horizontal buttonhole, mm
	Thick    bool        // the hole is diameter + thickness as recorded, else + 1/8 in
}

// buttons lists the buttons of closures that record them, then those that are
// marked on pieces which no such closure touches.
func buttons(g *pattern.Garment) []Button {
	var out []Button
	told := map[string]bool{}
	for _, f := range g.Buttons {
		count := int(measure.CountOf(&f).Or(0))
		if count == 0 {
			continue
		}
		b := Button{Of: f.Closure, Closure: true, Count: count, Diameter: f.Diameter, Thick: f.Thickness.Set}
		if f.Diameter.Set {
			b.Hole = pattern.Some(measure.HoleLength(f.Diameter.Value, f.Thickness))
		}
		if c := g.Closure(f.Closure); c != nil {
			for _, e := range c.Edges {
				told[e.Piece] = true
			}
			b.Count *= lines(g, c)
		}
		out = append(out, b)
	}
	for _, p := range Labelled(g) {
		if !told[p.Name] {
			out = append(out, markedButtons(g, p)...)
		}
	}
	return out
}

func markedButtons(g *pattern.Garment, p *pattern.Piece) []Button {
	var out []Button
next:
	for _, m := range p.Marks {
		if m.Kind != pattern.Button {
			continue
		}
		for i := range out {
			if out[i].Diameter == m.Diameter {
				out[i].Count += times(g, p, m)
				continue next
			}
		}
		b := Button{Of: p.Name, Count: times(g, p, m), Diameter: m.Diameter}
		if m.Diameter.Set {
			b.Hole = pattern.Some(measure.HoleLength(m.Diameter.Value, pattern.Opt{}))
		}
		out = append(out, b)
	}
	return out
}

// uncounted says of which closures the garment file does not record how many buttons,
// eyelets or hooks they have: they are not in the list.
func uncounted(g *pattern.Garment) []string {
	var out []string
	for i := range g.Closures {
		c := &g.Closures[i]
		if f := g.Fastened(c.Name); c.Kind != pattern.Slide && (f == nil || !measure.CountOf(f).Set) {
			out = append(out, fmt.Sprintf("Closure %s: the garment file does not say how many %s it has.", c.Name, measure.WordOf(c)))
		}
	}
	return out
}

// lines is how often a closure is there: twice where a half garment has both its
// edges on each half, which a side lacing has, else once.
func lines(g *pattern.Garment, c *pattern.Closure) int {
	if g.Half == pattern.Whole || len(c.Edges) < 2 {
		return 1
	}
	for _, e := range c.Edges {
		p := g.Piece(e.Piece)
		if p == nil || halves(g, p) != 2 || p.Folded() || len(p.Cloths) > 0 && p.Cloths[0].Cut != pattern.Pair {
			return 1
		}
	}
	return 2
}

// Eyelets is the eyelets of a lacing and the lace that goes through them.
type Eyelets struct {
	Closure string
	Side    int         // on each edge
	Count   int         // in all
	Pitch   pattern.Opt // (length - 2 margins)/(count - 1), mm
	Lace    Lace
	Laces   int // how many such laces
}

// Lace is how long a lace has to be, as a sum, mm: a bar at the one end, two
// crossings from each eyelet pair to the next, and the ends to tie.
//
//	length = w + 2 (n - 1) sqrt(w^2 + p^2) + 2 LaceEnd, w = gap + 2 inset
//
// which is the way of a lace criss-cross through n pairs of eyelets at pitch p.
type Lace struct {
	Length pattern.Opt
	Gap    float64 // that it is laced at, mm: mean of the levels
	Over   int     // levels where the edges overlap, which counts as laced shut
	Inset  float64 // of the eyelets from their edge, mm: as marked, else measure.EyeletInset
	Wanted bool    // it is the middle of the wanted gaps, since no gap is predicted
	Why    string  // why there is no length
}

// LaceEnd is what is left at each end of a lace to tie, mm: common practice, no source.
const LaceEnd = 400.0

func eyelets(g *pattern.Garment, body *pattern.Body) []Eyelets {
	var out []Eyelets
	for _, f := range g.Eyelets {
		c, n := g.Closure(f.Closure), int(measure.CountOf(&f).Or(0))
		if c == nil || n == 0 {
			continue
		}
		e := Eyelets{Closure: c.Name, Side: n, Laces: lines(g, c)}
		e.Count = 2 * n * e.Laces
		e.Pitch = pitchOf(g, c)
		e.Lace = laceOf(g, body, c, n, e.Pitch)
		out = append(out, e)
	}
	return out
}

// pitchOf is the distance from one to the next of what a closure has, mm; unknown where
// the records do not say.
func pitchOf(g *pattern.Garment, c *pattern.Closure) pattern.Opt {
	pitch := measure.Measure{Kind: "pitch", Closure: c.Name}
	if v, err := pitch.Eval(measure.Input{Garment: g}); err == nil && len(v) == 1 && v[0].Known {
		return pattern.Some(v[0].Value)
	}
	return pattern.Opt{}
}

func laceOf(g *pattern.Garment, body *pattern.Body, c *pattern.Closure, n int, pitch pattern.Opt) Lace {
	l := Lace{}
	if !pitch.Set {
		l.Why = "the pitch of the eyelets is not known"
		return l
	}
	var ok bool
	if l.Gap, l.Over, ok = meanGap(g, body, c); !ok {
		l.Gap, l.Wanted, ok = meanWanted(g, c)
	}
	if !ok {
		l.Why = "no gap is predicted or wanted"
		return l
	}
	l.Inset = insetOf(g, c)
	l.Length = pattern.Some(LaceLength(n, pitch.Value, l.Gap, l.Inset))
	return l
}

// insetOf is the mean distance of the marked eyelets of a lacing from its edges, those
// within twice measure.EyeletReach; measure.EyeletInset where there is none.
func insetOf(g *pattern.Garment, c *pattern.Closure) float64 {
	sum, n := 0.0, 0
	for _, ref := range c.Edges {
		p, i, ok := g.Edge(ref)
		if !ok {
			continue
		}
		for _, m := range p.Marks {
			if m.Kind != pattern.Eyelet {
				continue
			}
			if d := p.EdgePath(i).Nearest(m.At).Dist; d <= 2*measure.EyeletReach {
				sum, n = sum+d, n+1
			}
		}
	}
	if n == 0 {
		return measure.EyeletInset
	}
	return sum / float64(n)
}

// LaceLength is the sum that Lace describes, for n pairs of eyelets, mm. A gap
// below -2 inset counts as that.
func LaceLength(n int, pitch, gap, inset float64) float64 {
	w := max(0, gap+2*inset)
	return w + 2*float64(n-1)*math.Hypot(w, pitch) + 2*LaceEnd
}

// meanGap is the mean of the predicted gaps over the levels where one is known; edges
// that overlap, at so many levels, are laced shut there.
func meanGap(g *pattern.Garment, body *pattern.Body, c *pattern.Closure) (mean float64, over int, ok bool) {
	sum, n := 0.0, 0
	for _, level := range measure.LevelNames(g) {
		if gap, ok := measure.GapAt(g, body, c, level); ok {
			sum, n = sum+max(gap.Value(), 0), n+1
			if gap.Value() < 0 {
				over++
			}
		}
	}
	if n == 0 {
		return 0, 0, false
	}
	return sum / float64(n), over, true
}

func meanWanted(g *pattern.Garment, c *pattern.Closure) (gap float64, wanted, ok bool) {
	sum, n := 0.0, 0
	for _, w := range g.Wanted {
		if w.Closure == c.Name {
			sum, n = sum+(w.Min+w.Max)/2, n+1
		}
	}
	if n == 0 {
		return 0, false, false
	}
	return sum / float64(n), true, true
}
