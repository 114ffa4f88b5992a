package sheet

import (
	"fmt"
	"strings"

	"seamkeep/pattern"
	"seamkeep/pattern/curve"
	"seamkeep/pattern/sheet/ink"
)

// words are one line of a label at its full size.
type words struct {
	text string
	size float64 // mm
}

// labelOf says what stands on a piece, the first lines the greatest.
func labelOf(g *pattern.Garment, p *pattern.Piece, as guise, v Version, n int, face *ink.Face) []words {
	name := nameOf(p)
	if as.half != "" {
		name += ", " + string(as.half)
	}
	of := len(g.Pieces)
	out := []words{
		{name, 6},
		{v.code(n, of), 6},
		{fmt.Sprintf("%d of %d, %s", n, of, p.Name), 3.4},
		{titleOf(g), 3.4},
	}
	for _, c := range p.Cloths {
		out = append(out, words{clothWords(c, as), 3.4})
	}
	if s := halfWords(p, as); s != "" {
		out = append(out, words{s, 3.4})
	}
	if s := stretchWords(g, p); s != "" {
		out = append(out, words{s, 3.4})
	}
	for _, s := range []string{v.String(), v.keptWords() + ", " + v.Walk} {
		for _, part := range wrap(face, face.Words(s), 3.4, labelWidth) {
			if part != "" {
				out = append(out, words{part, 3.4})
			}
		}
	}
	for i := range out {
		out[i].text = face.Shorten(face.Words(out[i].text), out[i].size, 1.5*labelWidth)
	}
	return out
}

// labelWidth is where long lines of a label are broken, mm at full size.
const labelWidth = 55

// nameOf is what a piece is called in words.
func nameOf(p *pattern.Piece) string {
	if p.Title != "" {
		return p.Title
	}
	return p.Name
}

func titleOf(g *pattern.Garment) string {
	if g.Title != "" {
		return g.Title
	}
	return g.Name
}

// clothWords says how often a piece is cut from a cloth, and which way round.
func clothWords(c pattern.Cloth, as guise) string {
	s := fmt.Sprintf("%s: cut %d ", c.Name, c.Count)
	switch c.Cut {
	case pattern.Pair:
		if c.Count == 1 {
			return s + "pair, mirrored"
		}
		return s + "pairs, mirrored"
	case pattern.OnFold:
		if as.opened != "" {
			return strings.TrimSpace(s) + ", opened out: not on the fold"
		}
		return s + "on the fold " + c.Fold.Name
	case pattern.Alike:
		return s + "alike, not mirrored"
	}
	return strings.TrimSpace(s)
}

// halfWords says of a piece drawn once for both halves which marks only one of them has:
// buttons on one, their holes on the other.
func halfWords(p *pattern.Piece, as guise) string {
	if as.half != "" || as.opened != "" {
		return ""
	}
	var parts []string
	for _, half := range [...]string{string(pattern.LeftHalf), string(pattern.RightHalf)} {
		var kinds []pattern.MarkKind
		count := map[pattern.MarkKind]int{}
		for _, m := range p.Marks {
			if m.Only != half {
				continue
			}
			if count[m.Kind]++; count[m.Kind] == 1 {
				kinds = append(kinds, m.Kind)
			}
		}
		var list []string
		for _, k := range kinds {
			s := fmt.Sprintf("%d %s", count[k], k)
			if count[k] > 1 {
				s += "s"
			}
			list = append(list, s)
		}
		if len(list) > 0 {
			parts = append(parts, half+" only: "+strings.Join(list, ", "))
		}
	}
	return strings.Join(parts, "; ")
}

// stretchWords says which way an elastic piece stretches: round the body, across
// the grain, since that is how its percent counts in a girth.
func stretchWords(g *pattern.Garment, p *pattern.Piece) string {
	o := g.Option(p.Name)
	if !o.Stretch.Set {
		return ""
	}
	s := "stretches across: " + plain(o.Stretch.Value) + " %"
	if o.Of.Set {
		s += " of " + plain(o.Of.Value) + " %"
	}
	if o.Tested != "" {
		s += ", " + o.Tested
	}
	return s
}

// trial is one way for a label to stand: how large, with its lines two by two
// behind each other, and over a level line.
type trial struct {
	scale               float64
	compact, overLevels bool
}

// labelTrials are tried one after the other: words too small to read from a
// standing height come last.
var labelTrials = [...]trial{
	{1, false, false}, {0.8, false, false}, {0.65, false, false}, {0.8, true, false}, {0.65, true, false},
	{0.8, false, true}, {0.65, false, true}, {0.65, true, true},
	{0.52, false, false}, {0.52, true, false}, {0.52, true, true}, {0.45, true, true},
}

// label writes the label inside the piece and off its marks, if need be over a
// level line, turned along the grain or smaller; beside the piece where nothing
// fits.
func (f *figure) label() {
	inside := f.outerBox()
	middle := inside.Min.Lerp(inside.Max, 0.5)
	offLevels := f.room.copied()
	for _, l := range f.levelLines() {
		offLevels.line(curve.Path{curve.Line(l.from, l.to)}, 0.5)
	}
	full, compact := f.words, compacted(f.words)
	for _, t := range labelTrials {
		lines, r := full, offLevels
		if t.compact {
			lines = compact
		}
		if t.overLevels {
			r = f.room
		}
		width, height := f.labelSize(lines)
		w, h := width*t.scale+1, height*t.scale+1
		if box, ok := r.find(w, h, middle); ok {
			f.writeLabel(lines, box.Grow(-0.5), t.scale, false)
			return
		}
		if box, ok := r.find(h, w, middle); ok {
			f.writeLabel(lines, box.Grow(-0.5), t.scale, true)
			return
		}
	}
	f.labelBeside(inside)
}

// compacted puts two lines of one size behind each other.
func compacted(lines []words) []words {
	var out []words
	for i := 0; i < len(lines); i++ {
		l := lines[i]
		if i+1 < len(lines) && lines[i+1].size == l.size {
			i++
			l.text += ", " + lines[i].text
		}
		out = append(out, l)
	}
	return out
}

// labelBeside writes the label to the right of the piece, with a line to it.
func (f *figure) labelBeside(inside curve.Box) {
	const scale, away = 0.65, 12
	width, height := f.labelSize(f.words)
	y := (inside.Min.Y + inside.Max.Y) / 2
	box := curve.Box{Min: curve.Pt(inside.Max.X+away, y-height*scale/2)}
	box.Max = box.Min.Add(curve.Pt(width*scale, height*scale))
	f.writeLabel(f.words, box, scale, false)
	to := f.insideAt(y, inside)
	f.drawing.Line(ink.Labels, 0.2, 0, curve.Pt(box.Min.X-1, y), to)
	f.drawing.Circle(ink.Labels, 0.3, 0, to, 0.8)
}

// insideAt is a place inside the outline at a height.
func (f *figure) insideAt(y float64, inside curve.Box) curve.Point {
	for _, p := range f.outer {
		if c := p.CrossingsY(y); len(c) >= 2 {
			right, next := c[0].Point.X, c[1].Point.X
			return curve.Pt((right+next)/2, y)
		}
	}
	return curve.Pt(inside.Max.X, y)
}

const leading = 1.35 // of a line of the label, in sizes

func (f *figure) labelSize(lines []words) (w, h float64) {
	for _, l := range lines {
		w = max(w, f.face.Width(l.text, l.size))
		h += l.size * leading
	}
	return w, h
}

// writeLabel writes the lines into a box; turned, they read from the right.
func (f *figure) writeLabel(lines []words, box curve.Box, scale float64, turned bool) {
	f.room.box(box)
	down := 0.0
	for _, l := range lines {
		size := l.size * scale
		t := ink.Text{Layer: ink.Labels, Size: size, Words: l.text}
		down += size
		if turned {
			t.At, t.Turn = curve.Pt(box.Min.X+down, box.Min.Y), 90
		} else {
			t.At = curve.Pt(box.Min.X, box.Max.Y-down)
		}
		f.drawing.Write(t)
		down += size * (leading - 1)
	}
}

// names writes the small words: levels first, then edges, marks, grain.
func (f *figure) names() {
	for _, l := range f.levelLines() {
		f.levelWords(l)
	}
	for i := range f.piece.Edges {
		f.edgeWords(i)
	}
	for _, places := range f.later {
		f.put(places...)
	}
	f.grainWords()
	f.eachHalf(func() {
		for _, m := range f.piece.Marks {
			if f.shown(m) {
				f.markWords(m)
			}
		}
	})
}
