package alter

import (
	"math"

	"seamkeep/pattern"
	"seamkeep/pattern/check"
	"seamkeep/pattern/curve"
	"seamkeep/pattern/measure"
)

// FittedBone is a bone, or a cord, that was looked at in its channel; lengths in mm.
type FittedBone struct {
	Piece, Mark string
	Channel     float64    // from sewing line to sewing line
	Was, Now    float64    // length to cut: as recorded, else as drawn
	Ends        [2]float64 // by how much each end of its line moved, at its beginning and its end: positive towards the sewing line
	Names       [2]string  // of these ends: "lower" and "upper", or "front" and "back"
	Kept        string     // why it stays as it is though it does not fit; empty where it fits now
}

// Changed tells whether anything was written.
func (f FittedBone) Changed() bool { return f.Kept == "" && (f.Was != f.Now || f.Ends != [2]float64{}) }

// FitBones gives a copy of the garment in which the bones of its pieces, or the cords, stop
// short of their sewing lines by the clearance that the garment file says, and what was
// found of each, piece by piece. pieces names those that are meant; none means all. An end
// that is drawn more than check.ChannelReach before the sewing line is meant to stop there
// and stays, unless its recorded length asks otherwise. A line that is drawn as the channel,
// longer than its recorded length by both clearances, is drawn so again. Lengths are
// written where they were, to 0.1 mm, and measured within tol. What is off by no more than
// check.TooLong stays as it is.
func FitBones(g *pattern.Garment, kind pattern.MarkKind, pieces map[string]bool, tol float64) (*pattern.Garment, []FittedBone) {
	out := pattern.Clone(g)
	var list []FittedBone
	for _, p := range out.Pieces {
		if len(pieces) > 0 && !pieces[p.Name] || len(p.Corners) < 2 || len(p.Corners) != len(p.Edges) {
			continue
		}
		for i := range p.Marks {
			if p.Marks[i].Kind == kind {
				list = append(list, fitBone(p, &p.Marks[i], g.Clearance(kind), tol))
			}
		}
	}
	return out, list
}

// fitBone alters one mark.
func fitBone(p *pattern.Piece, m *pattern.Mark, clear, tol float64) FittedBone {
	line := m.Path()
	drawn := line.Length(tol)
	f := FittedBone{Piece: p.Name, Mark: m.Name, Was: m.Length.Or(drawn)}
	f.Now, f.Names = f.Was, endNames(line)
	if drawn < pattern.Grid {
		f.Kept = "it has no length"
		return f
	}
	ring := p.Outline()
	part, ok := measure.Within(ring, line, tol)
	if !ok {
		f.Kept = "it lies outside, or leaves the piece and comes back: move it"
		return f
	}
	channel, ok := measure.ChannelOf(ring, part, tol)
	if !ok {
		f.Kept = "its line meets no sewing line"
		return f
	}
	f.Channel = channel.Length
	if channel.Length-2*clear < pattern.Grid {
		f.Kept = "its channel leaves nothing of it: take it out, or write a smaller clearance"
		return f
	}
	f.draw(m, channel, part, clear, tol)
	return f
}

// endNames tells a line's beginning and end apart: x runs towards the back.
func endNames(line curve.Path) [2]string {
	way := line.End().Sub(line.Start())
	names := [2]string{"lower", "upper"}
	along := way.Y
	if math.Abs(way.X) > math.Abs(way.Y) {
		names, along = [2]string{"front", "back"}, way.X
	}
	if along < 0 {
		names[0], names[1] = names[1], names[0]
	}
	return names
}

// draw puts both ends of a mark where they belong in its channel, of which part is the
// mark's own, and gives it its length.
func (f *FittedBone) draw(m *pattern.Mark, channel measure.Channel, part curve.Path, clear, tol float64) {
	const settled = 0.05 // mm: nearer than any bone is cut
	drawn := m.Path().Length(tol)
	asChannel := clear > 0 && m.Length.Set && math.Abs(drawn-m.Length.Value-2*clear) <= check.TooLong
	margin := clear
	if asChannel {
		margin = 0
	}
	lost := [2]float64{part.Start().Dist(m.Path().Start()), part.End().Dist(m.Path().End())} // outside
	at := [2]float64{channel.Ends[0].Free, channel.Ends[1].Free}
	fits := channel.Length - 2*clear
	off := f.Was > fits+check.TooLong
	var moves [2]float64
	for i, free := range at {
		if free <= check.ChannelReach {
			moves[i] = free - margin - lost[i]
			off = off || math.Abs(moves[i]) > check.TooLong || lost[i] > measure.OnLine
		}
	}
	if !off {
		return
	}
	for i, by := range moves {
		if math.Abs(by) > settled {
			f.Ends[i], at[i] = by, margin
		}
	}
	if f.Ends == [2]float64{} {
		f.Now = cutLength(fits)
		m.Length = pattern.Some(f.Now)
		return
	}
	path := channel.Line(part).SubPath(at[0], channel.Length-at[1], tol)
	m.At, m.Segs = pattern.Round(path.Start()), pattern.LineSegsOf(path)
	long := m.Path().Length(tol)
	switch {
	case !m.Length.Set:
		f.Now = long
		return
	case asChannel:
		f.Now = long - 2*clear
	case math.Abs(m.Length.Value-drawn) <= check.TooLong:
		f.Now = long
	default:
		f.Now = min(m.Length.Value, fits)
	}
	f.Now = cutLength(f.Now)
	m.Length = pattern.Some(f.Now)
}

// cutLength rounds a length to what can be cut, mm.
func cutLength(mm float64) float64 { return math.Round(mm*10) / 10 }
