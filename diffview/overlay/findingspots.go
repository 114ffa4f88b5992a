package overlay

import (
	"math"
	"path"
	"slices"
	"strings"

	"seamkeep/pattern"
	"seamkeep/pattern/curve"
	"seamkeep/pattern/diag"
	"seamkeep/pattern/measure"
)

// findingSpot is a place of a finding on a piece, in the piece's own frame, y up.
type findingSpot struct {
	piece, edge string
	at          curve.Point
	exact       bool         // at is the finding's own point, not a middle
	lines       []curve.Path // edges that it is about as a whole
	worst       []curve.Path // of these the stretch where a seam's sides differ most
}

// fineness is the error allowed on a place along an edge, mm.
const fineness = 1e-4

// mostSpots is how many places of one finding are drawn.
const mostSpots = 40

// spotsOf gives the places of a finding: of a seam that does not match both its
// sides, of a run that cannot be followed, where no place of it is known, its first edge, else the finding's own place and the related ones whose point is known;
// where it has no place on a piece of its own, all related ones.
func spotsOf(g *pattern.Garment, p diag.Problem) []findingSpot {
	switch p.ID {
	case "seam.differs", "seam.segment", "seam.near":
		if spots := seamSpots(g, p.Subject); len(spots) > 0 {
			return spots
		}
	case "run.broken", "run.twice", "run.turns-back":
		if spots := firstOfRun(g, p.Subject); len(spots) > 0 && pieceOf(p.Place) == "" {
			return spots
		}
	}
	var out []findingSpot
	if s, ok := spotAt(g, p.Place); ok {
		out = append(out, s)
	}
	own := len(out) > 0
	for _, r := range p.Related {
		if s, ok := spotAt(g, r.Place); ok && (s.exact || !own) && len(out) < mostSpots && !among(out, s) {
			out = append(out, s)
		}
	}
	return out
}

// firstOfRun gives the first edge of a run that is on a piece.
func firstOfRun(g *pattern.Garment, name string) []findingSpot {
	r := g.Run(name)
	if r == nil {
		return nil
	}
	for _, ref := range r.Refs {
		if s, ok := spotAt(g, diag.Place{Piece: ref.Piece, Edge: ref.Edge}); ok {
			return []findingSpot{s}
		}
	}
	return nil
}

// named lists the pieces that a finding speaks of: at its places, in the seam that it
// is about, and as PIECE.EDGE in its words, such as the neighbour in a kink.
func named(g *pattern.Garment, p diag.Problem) []string {
	names := []string{pieceOf(p.Place)}
	for _, r := range p.Related {
		names = append(names, pieceOf(r.Place))
	}
	if s := g.Seam(p.Subject); s != nil {
		for _, ref := range slices.Concat(s.First, s.Second) {
			names = append(names, ref.Piece)
		}
	}
	for _, word := range strings.Fields(p.Found) {
		piece, edge, ok := strings.Cut(strings.Trim(word, ",;:.()"), ".")
		if q := g.Piece(piece); ok && q != nil && q.EdgeIndex(edge) >= 0 {
			names = append(names, piece)
		}
	}
	return names
}

// among tells whether a spot stands in the list already.
func among(list []findingSpot, s findingSpot) bool {
	return slices.ContainsFunc(list, func(t findingSpot) bool { return t.piece == s.piece && t.at.Dist(s.at) < same })
}

// pieceOf names the piece of a place: that which it says, or the one whose file it
// is in.
func pieceOf(p diag.Place) string {
	if p.Piece != "" {
		return p.Piece
	}
	name, ok := strings.CutSuffix(path.Base(p.File), ".piece")
	if !ok {
		return ""
	}
	return name
}

// spotAt gives the spot of a place; false where it is on no piece of the garment.
func spotAt(g *pattern.Garment, at diag.Place) (findingSpot, bool) {
	p := g.Piece(pieceOf(at))
	if p == nil {
		return findingSpot{}, false
	}
	s := findingSpot{piece: p.Name, edge: at.Edge}
	if cannotDraw(p) != "" {
		return s, true
	}
	i := p.EdgeIndex(at.Edge)
	switch {
	case at.HasPoint && !math.IsNaN(at.X) && !math.IsNaN(at.Y):
		s.at, s.exact = curve.Pt(bound(at.X), bound(at.Y)), true
	case i >= 0 && at.OnEdge:
		s.at, s.exact = p.EdgePath(i).PointAt(at.At, fineness), true
	case i >= 0:
		line := p.EdgePath(i)
		s.at, s.lines = middleOf(line), []curve.Path{line}
	default:
		s.at = heart(p)
	}
	return s, true
}

// bound brings a coordinate near enough to be reckoned with; what lies so far out
// is pointed at, not drawn.
func bound(v float64) float64 { return min(max(v, -farthestOut), farthestOut) }

func middleOf(line curve.Path) curve.Point {
	return line.PointAt(line.Length(fineness)/2, fineness)
}

// heart gives a point at half the height of a piece, in the middle of the cloth
// there.
func heart(p *pattern.Piece) curve.Point {
	box := p.Outline().Bounds()
	y := (box.Min.Y + box.Max.Y) / 2
	if x0, x1, ok := chord(p, y); ok {
		return curve.Pt((x0+x1)/2, y)
	}
	return curve.Pt((box.Min.X+box.Max.X)/2, y)
}

// seamSpots gives a spot on each piece of a seam: its edges there, the stretch
// where the sides differ most, and the middle of that.
func seamSpots(g *pattern.Garment, name string) []findingSpot {
	seam := g.Seam(name)
	if seam == nil {
		return nil
	}
	w, problem := measure.WalkSeam(g, seam, fineness)
	if problem != nil {
		return nil
	}
	worst := w.Worst()
	out := sideSpots(w.First, worst.Start[0], worst.End[0])
	if !seam.Mirrored {
		out = append(out, sideSpots(w.Second, worst.Start[1], worst.End[1])...)
	}
	return out
}

// sideSpots gives the spots of one side, whose worst stretch lies between two
// distances along it.
func sideSpots(side measure.Side, from, to float64) []findingSpot {
	var out []findingSpot
	for _, part := range side.Parts {
		if cannotDraw(part.Piece) != "" {
			continue
		}
		line := part.SewnPath(fineness)
		i := slices.IndexFunc(out, func(s findingSpot) bool { return s.piece == part.Piece.Name })
		if i < 0 {
			i, out = len(out), append(out, findingSpot{piece: part.Piece.Name, edge: part.Ref.Edge, at: middleOf(line)})
		}
		s := &out[i]
		s.lines = append(s.lines, line)
		if bad := line.SubPath(from-part.Offset, to-part.Offset, fineness); len(bad) > 0 {
			if len(s.worst) == 0 {
				s.at, s.edge = middleOf(bad), part.Ref.Edge
			}
			s.worst = append(s.worst, bad)
		}
		if middle := (from+to)/2 - part.Offset; middle >= 0 && middle <= part.Length() {
			s.at, s.exact, s.edge = line.PointAt(middle, fineness), true, part.Ref.Edge
		}
	}
	return out
}

// where names the places of a finding: pieces and edges, the point where there is
// but one, and the line of the file.
func (f finding) where() string {
	var names []string
	for _, s := range f.spots {
		name := s.piece
		if s.edge != "" {
			name += "." + s.edge
		}
		if !slices.Contains(names, name) {
			names = append(names, name)
		}
	}
	more := len(names) - 8
	if more > 0 {
		names = append(names[:8], plural(more, "other", "others"))
	}
	words := strings.Join(names, ", ")
	if f.Place.HasPoint && len(f.spots) == 1 {
		words += " at " + mm(f.Place.X) + " " + mm(f.Place.Y)
	}
	file := diag.Place{File: f.Place.File, Line: f.Place.Line}.String()
	if words != "" && file != "" {
		words += "; "
	}
	return words + file
}
