package check

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"seamkeep/pattern"
	"seamkeep/pattern/curve"
	"seamkeep/pattern/diag"
	"seamkeep/pattern/measure"
)

// MeantToMeet is how far apart two channels may end at a seam and still be meant to
// meet there, and ChannelReach how far before the seam a bone may stop and its channel
// still run on to it, mm: common practice, no source.
const (
	MeantToMeet  = 20.0
	ChannelReach = 30.0
)

// channelEnd is where a channel comes to an edge.
type channelEnd struct {
	p    *pattern.Piece
	m    *pattern.Mark
	edge int
	at   float64 // mm along the edge
	spot curve.Point
}

// name gives the mark as it is spoken of.
func (e channelEnd) name() string { return fmt.Sprintf("%s %s of %s", e.m.Kind, e.m.Name, e.p.Name) }

// meetings tells channels of neighbours that end at one seam, but beside each other
// by more than a notch may be off: one finding a seam.
func meetings(in Input) diag.List {
	ends := map[string][]channelEnd{}
	for _, p := range in.Garment.Pieces {
		if closed(p) {
			for _, e := range channelEnds(p, in.Tol) {
				key := e.p.Name + "." + p.Edges[e.edge].Name
				ends[key] = append(ends[key], e)
			}
		}
	}
	var out diag.List
	if len(ends) == 0 {
		return nil
	}
	for i := range in.Garment.Seams {
		s := &in.Garment.Seams[i]
		if s.Mirrored || !anyEnd(ends, s.First) || !anyEnd(ends, s.Second) {
			continue
		}
		w, problem := measure.WalkSeam(in.Garment, s, in.Tol)
		if problem != nil {
			continue // the walk reports it
		}
		if x, bad := meeting(in, w, ends); bad {
			out = append(out, x)
		}
	}
	return out
}

func anyEnd(ends map[string][]channelEnd, refs []pattern.Ref) bool {
	return slices.ContainsFunc(refs, func(r pattern.Ref) bool { return len(ends[r.Piece+"."+r.Edge]) > 0 })
}

// channelEnds lists where the channels of a piece run on to its edges.
func channelEnds(p *pattern.Piece, tol float64) []channelEnd {
	var out []channelEnd
	var ring curve.Path
	var edges []int
	for i := range p.Marks {
		m := &p.Marks[i]
		if m.Kind != pattern.Bone && m.Kind != pattern.Cord {
			continue
		}
		if ring == nil {
			ring, edges = p.Outline(), edgeOfSegment(p)
		}
		c, ok := measure.ChannelOf(ring, m.Path(), tol)
		if !ok {
			continue
		}
		for _, e := range c.Ends {
			if e.Free > ChannelReach {
				continue
			}
			edge := edges[e.Seg]
			first := slices.Index(edges, edge)
			at := p.EdgePath(edge).LengthTo(e.Seg-first, e.T, tol)
			out = append(out, channelEnd{p, m, edge, at, e.At})
		}
	}
	return out
}

// onSide is a channel's end, and how far along a side of the seam it stands.
type onSide struct {
	channelEnd
	along float64
}

func endsOn(ends map[string][]channelEnd, side measure.Side) []onSide {
	var out []onSide
	for _, part := range side.Parts {
		for _, e := range ends[part.Ref.Piece+"."+part.Ref.Edge] {
			if d, ok := side.Along(e.p.Name, e.edge, e.at); ok {
				out = append(out, onSide{e, d})
			}
		}
	}
	slices.SortStableFunc(out, func(a, b onSide) int { return cmp.Compare(a.along, b.along) })
	return out
}

// meeting looks at one seam. The places of the second side are laid on the first from
// notch to notch, so that ease and what the sides differ by do not count.
func meeting(in Input, w *measure.Walk, ends map[string][]channelEnd) (diag.Problem, bool) {
	first, second := endsOn(ends, w.First), endsOn(ends, w.Second)
	limit := in.Garment.ToleranceOf("notch")
	var worst diag.Problem
	var related []diag.Related
	k := 0
	for _, e := range second {
		at := onFirst(w, e.along)
		for k+1 < len(first) && math.Abs(first[k+1].along-at) <= math.Abs(first[k].along-at) {
			k++
		}
		if len(first) == 0 || first[k].m.Kind != e.m.Kind {
			continue
		}
		off := math.Abs(first[k].along - at)
		if off <= limit+slack || off > MeantToMeet {
			continue
		}
		x := missed(w.Seam, first[k].channelEnd, e.channelEnd, off)
		if off > worst.Amount {
			x, worst = worst, x
		}
		if x.Found != "" {
			related = append(related, diag.Related{Place: x.Place, Text: x.Found})
		}
	}
	if worst.Found == "" {
		return diag.Problem{}, false
	}
	worst.Expected = fmt.Sprintf("at most %g, as for notches, or more than %g where they are not meant to meet", limit, MeantToMeet)
	worst.Related = append(worst.Related, related...)
	return worst, true
}

func missed(s *pattern.Seam, a, b channelEnd, off float64) diag.Problem {
	x := diag.Problem{ID: "channel.misses", Severity: diag.Warning, Subject: s.Name, Amount: off}
	x.Place = onPiece(b.m.Place, b.p, b.p.Edges[b.edge].Name).Point(b.spot.X, b.spot.Y)
	x.Found = fmt.Sprintf("at seam %s %s and %s miss each other by %.1f", s.Name, a.name(), b.name(), off)
	x.Hint = fmt.Sprintf("move the end of one of them by %.1f along the seam", off)
	other := onPiece(a.m.Place, a.p, a.p.Edges[a.edge].Name).Point(a.spot.X, a.spot.Y)
	x.Related = []diag.Related{{Place: other, Text: "the other one ends here"}}
	return x
}

// onFirst carries a distance on the second side over to the first.
func onFirst(w *measure.Walk, at float64) float64 {
	for i, s := range w.Segments {
		if at > s.End[1] && i < len(w.Segments)-1 {
			continue
		}
		a, b := s.Lengths()
		if !(b > 0) {
			return s.Start[0]
		}
		return s.Start[0] + (at-s.Start[1])*a/b
	}
	return at
}
