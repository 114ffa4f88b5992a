package material

import (
	"sort"

	"seamkeep/pattern"
	"seamkeep/pattern/measure"
)

// Strip is a bone or a cord: one line of the list for all that are alike.
type Strip struct {
	Pieces  []string // whose channels they are for, each once
	Width   pattern.Opt
	Channel float64 // the shortest of theirs, from sewing line to sewing line as measure.ChannelOf; the drawn line where that finds none, mm
	Length  float64 // to cut, mm
	Record  bool    // the mark says the length itself
	Count   int
}

// strips gathers the marks of one kind. A bone or a cord is as long as its mark
// records; else as its line, and no longer than its channel leaves it:
// bone = finished channel - 2 * clearance. It is never below 0.
func strips(g *pattern.Garment, kind pattern.MarkKind) []Strip {
	clear := g.Clearance(kind)
	var out []Strip
	for _, p := range Labelled(g) {
		for _, m := range p.Marks {
			if m.Kind != kind {
				continue
			}
			line := m.Path()
			drawn := line.Length(measure.Accuracy)
			s := Strip{Pieces: []string{p.Name}, Width: m.Width, Channel: round(drawn), Record: m.Length.Set, Count: times(g, p, m)}
			if c, ok := measure.ChannelOf(p.Outline(), line, measure.Accuracy); ok {
				s.Channel = round(c.Length)
			}
			s.Length = round(m.Length.Or(min(drawn, max(0, s.Channel-2*clear))))
			out = addStrip(out, s)
		}
	}
	sort.SliceStable(out, func(i, j int) bool {
		a, b := out[i], out[j]
		return a.Width.Or(0) > b.Width.Or(0) || a.Width.Or(0) == b.Width.Or(0) && a.Length > b.Length
	})
	return out
}

func addStrip(list []Strip, s Strip) []Strip {
	for i := range list {
		l := &list[i]
		if l.Width == s.Width && l.Length == s.Length && l.Record == s.Record {
			l.Channel = min(l.Channel, s.Channel)
			l.Count += s.Count
			if l.Pieces[len(l.Pieces)-1] != s.Pieces[0] {
				l.Pieces = append(l.Pieces, s.Pieces[0])
			}
			return list
		}
	}
	return append(list, s)
}

// round puts a length to 0.001 mm, so that equal ones count together.
func round(mm float64) float64 { return pattern.RoundLength(mm) }

// Elastic is a piece that stretches.
type Elastic struct {
	Piece      string
	Cloths     []string
	Narrowest  float64 // cut width at rest on the sewing lines, over the garment's levels, mm
	Widest     float64
	Length     float64 // from its lowest to its highest point, mm
	InUse      float64 // percent
	Of         pattern.Opt
	Tested     string // date, YYYY-MM-DD, or empty
	Count      int    // how often it is there
	HasWidth   bool   // some level crosses it
	Allowances bool   // cloth is added to these measures
}

// Worn is how wide the widest level is when it is stretched as it is in use, mm.
func (e Elastic) Worn() float64 { return e.Widest * (1 + e.InUse/100) }

// elastics lists every piece that records a stretch, in the order of labels.
func elastics(g *pattern.Garment) []Elastic {
	var out []Elastic
	for _, p := range Labelled(g) {
		o := g.Option(p.Name)
		if !o.Stretch.Set {
			continue
		}
		e := Elastic{Piece: p.Name, InUse: o.Stretch.Value, Of: o.Of, Tested: o.Tested, Count: elasticCount(g, p), Length: p.Outline().Bounds().Height()}
		for _, c := range p.Cloths {
			e.Cloths = append(e.Cloths, c.Name)
		}
		for _, level := range measure.LevelNames(g) {
			w, ok := measure.Width(g, p, level)
			if !ok || !(w > 0) {
				continue
			}
			if p.Folded() {
				w *= 2
			}
			if !e.HasWidth || w < e.Narrowest {
				e.Narrowest = w
			}
			e.Widest, e.HasWidth = max(e.Widest, w), true
		}
		for i := range p.Edges {
			if mm, _ := AllowanceOn(g, p.Name, p.Edges[i].Name); mm > 0 {
				e.Allowances = true
			}
		}
		out = append(out, e)
	}
	return out
}

// elasticCount is how many are cut: what is on the fold is one.
func elasticCount(g *pattern.Garment, p *pattern.Piece) int {
	if p.Folded() {
		return 1
	}
	return halves(g, p)
}
