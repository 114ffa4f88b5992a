package measure

import (
	"fmt"
	"math"

	"seamkeep/pattern"
	"seamkeep/pattern/curve"
	"seamkeep/pattern/diag"
)

// MostInRow is how many buttons or eyelets one row may hold: far more than any
// garment has, and few enough to place in no time.
const MostInRow = 1000

// Row is where the buttons, the eyelets or the hooks of a closure stand along one of
// its edges. All distances are mm along the sewing line, not heights: on a straight
// upright edge the two are the same, on a curved one the edges of both halves meet
// only by the cloth.
type Row struct {
	Ref      pattern.Ref
	Piece    *pattern.Piece
	Edge     int
	From, To float64     // the stretch of the edge that closes, from its first corner
	Anchor   pattern.Opt // where the edge crosses the level that the counting begins at
	Pitch    float64     // from one to the next; 0 where there is only one
	At       []float64   // from the edge's first corner, the uppermost first
}

// RowFault says why a row cannot be laid out, in the terms of a finding.
type RowFault struct {
	ID                    string // "" where the records only say too little
	Amount                float64
	Found, Expected, Hint string
}

// Error gives found and expected in one line.
func (f *RowFault) Error() string {
	return diag.Problem{Found: f.Found, Expected: f.Expected}.Message()
}

// RowOn lays out the buttons, eyelets or hooks f of closure c along its edge number i.
//
// From a level at a pitch they stand at y* + k p, counted along the edge from where it
// crosses the level: up towards its upper end, down towards the lower one. All others are divided evenly between two margins, p = (L - 2m)/(n - 1); with a
// pitch and no level they begin at the upper margin. Places may lie beyond the edge:
// see Beyond. Each is within tol. A fault comes back where that gives no places; the row
// has its edge then, where that is known.
func RowOn(g *pattern.Garment, c *pattern.Closure, f *pattern.Fastening, i int, tol float64) (Row, *RowFault) {
	count, fault := countOf(c, f)
	r, problem := Row{}, &diag.Problem{Found: "closure " + c.Name + " names no edge"}
	if i < len(c.Edges) {
		r, problem = BareRow(g, c.Edges[i], tol)
	}
	switch {
	case fault != nil:
		return r, fault
	case problem != nil:
		return r, &RowFault{Found: problem.Message()}
	}
	if f.From != "" {
		at, fault := r.anchor(g, f.From, tol)
		if fault != nil {
			return r, fault
		}
		r.Anchor = pattern.Some(at)
	}
	if f.From != "" && f.Pitch.Set {
		return r, r.countFrom(r.Anchor.Value, upOf(f), count, f.Pitch.Value)
	}
	return r, r.divide(f, count)
}

// BareRow gives the stretch of an edge that a closure or a seam takes, with nothing on
// it; its ends are within tol. A problem comes back where edge or notch is unknown.
func BareRow(g *pattern.Garment, ref pattern.Ref, tol float64) (Row, *diag.Problem) {
	part, problem := partOf(g, ref, tol)
	if problem != nil {
		return Row{}, problem
	}
	return Row{Ref: ref, Piece: part.Piece, Edge: part.Edge, From: part.From, To: part.To}, nil
}

// CountOf gives how many buttons or eyelets the records ask for; unknown where they
// do not say.
func CountOf(f *pattern.Fastening) pattern.Opt {
	switch {
	case f.Count.Set:
		return f.Count
	case f.Up.Set || f.Down.Set:
		return pattern.Some(f.Up.Or(0) + f.Down.Or(0) + 1)
	}
	return pattern.Opt{}
}

// upOf is how many stand above the level that the counting begins at.
func upOf(f *pattern.Fastening) int { return int(min(f.Up.Or(0), MostInRow)) }

func countOf(c *pattern.Closure, f *pattern.Fastening) (int, *RowFault) {
	n := CountOf(f)
	sum := f.Up.Or(0) + f.Down.Or(0) + 1
	switch {
	case !n.Set:
		return 0, &RowFault{ID: "closure.count", Amount: 1, Found: fmt.Sprintf("the %s of closure %s record no count", WordOf(c), c.Name), Expected: "a count, or up and down from a level",
			Hint: fmt.Sprintf("write how many there are: %s %s count 12, or up 1 down 10", WordOf(c), c.Name)}
	case n.Value > MostInRow:
		return 0, &RowFault{ID: "closure.count", Amount: n.Value - MostInRow, Found: fmt.Sprintf("closure %s has %g %s", c.Name, n.Value, WordOf(c)),
			Expected: fmt.Sprintf("at most %d", MostInRow), Hint: "write how many there are"}
	case f.Count.Set && (f.Up.Set && f.Down.Set && sum != n.Value || sum > n.Value):
		return 0, &RowFault{ID: "closure.count", Amount: math.Abs(sum - n.Value),
			Found:    fmt.Sprintf("the %s of closure %s are %g by their count and %g up and down from their level", WordOf(c), c.Name, n.Value, sum),
			Expected: "the same number", Hint: fmt.Sprintf("take the count out, or write count %g", sum)}
	case c.Kind == pattern.Lacing && n.Value < 2:
		return 0, &RowFault{ID: "closure.count", Amount: 2 - n.Value, Found: "closure " + c.Name + " has a single eyelet, which has no pitch",
			Expected: "at least 2 on each half", Hint: "a lace runs from one to the next: write count 2 or more"}
	case f.Pitch.Set && f.Pitch.Value <= 0 && n.Value > 1:
		return 0, &RowFault{ID: "closure.pitch", Amount: n.Value - 1, Found: fmt.Sprintf("the %s of closure %s have pitch 0: all %g stand at one place", WordOf(c), c.Name, n.Value),
			Expected: "a pitch of more than 0", Hint: "write the distance from one to the next: pitch 25"}
	}
	return int(n.Value), nil
}

// WordOf is what a closure is fastened with.
func WordOf(c *pattern.Closure) string {
	switch c.Kind {
	case pattern.Lacing:
		return "eyelets"
	case pattern.HookClosure:
		return "hooks"
	}
	return "buttons"
}

// countFrom lays out so many at a pitch, the first of them up places above a start.
func (r *Row) countFrom(start float64, up, count int, pitch float64) *RowFault {
	if count > 1 {
		r.Pitch = pitch
	}
	for k := range count {
		r.At = append(r.At, start+r.down()*pitch*float64(k-up))
	}
	return nil
}

// divide lays out so many between two margins.
func (r *Row) divide(f *pattern.Fastening, count int) *RowFault {
	margin := f.Margin.Or(0)
	left := r.Length() - 2*margin
	if left < 0 || left == 0 && count > 1 {
		return &RowFault{ID: "closure.margin", Amount: -left, Found: fmt.Sprintf("two margins of %g leave nothing of %s, which is %.1f long", margin, r.Name(), r.Length()),
			Expected: "margins that leave room", Hint: fmt.Sprintf("write a margin of less than %.1f", r.Length()/2)}
	}
	top, _ := r.Inside(margin)
	switch {
	case f.Pitch.Set:
		return r.countFrom(top, 0, count, f.Pitch.Value)
	case count == 1:
		return r.countFrom((r.From+r.To)/2, 0, 1, 0)
	}
	return r.countFrom(top, 0, count, left/float64(count-1))
}

// Length is the length of what closes, mm.
func (r Row) Length() float64 { return r.To - r.From }

// Name gives the edge as it is written, PIECE.EDGE.
func (r Row) Name() string { return r.Piece.Name + "." + r.Piece.Edges[r.Edge].Name }

// down is 1 where the edge runs downwards and -1 where it runs upwards; by its ends,
// so that a small wave makes no difference. A level edge counts as running down.
func (r Row) down() float64 {
	path := r.path()
	if path.End().Y > path.Start().Y {
		return -1
	}
	return 1
}

func (r Row) path() curve.Path { return r.Piece.EdgePath(r.Edge) }

// upper is where what closes ends at the top, mm along the edge.
func (r Row) upper() float64 {
	if r.down() < 0 {
		return r.To
	}
	return r.From
}

func (r Row) anchor(g *pattern.Garment, level string, tol float64) (float64, *RowFault) {
	at, err := g.SpotAt(r.Piece, r.Edge, pattern.Spot{Level: level}, tol)
	if err != nil {
		return 0, &RowFault{ID: "closure.anchor", Amount: 1, Found: "the counting cannot begin at " + level + " on " + r.Name() + ": " + err.Found,
			Expected: err.Expected, Hint: "count from a level that the edge crosses once"}
	}
	return at, nil
}

// Crossing gives where what closes crosses a level, mm along the edge; false unless
// it does so once.
func (r Row) Crossing(g *pattern.Garment, level string, tol float64) (float64, bool) {
	at, err := g.SpotAt(r.Piece, r.Edge, pattern.Spot{Level: level}, tol)
	return at, err == nil && at >= r.From && at <= r.To
}

// Inside gives the two places that stand so far inside the ends of what closes, the
// upper one first, mm along the edge.
func (r Row) Inside(margin float64) (upper, lower float64) {
	upper = r.upper()
	return upper + r.down()*margin, r.From + r.To - upper - r.down()*margin
}

// Ends gives how far a place on the edge, mm along it, is from the upper and the lower
// end of what closes.
func (r Row) Ends(at float64) (top, bottom float64) {
	if r.down() < 0 {
		at = r.From + r.To - at
	}
	return at - r.From, r.To - at
}

// Point gives place k, moved into the piece by inset mm, square to the edge; a place
// beyond the edge lies on its straight continuation. Within tol.
func (r Row) Point(k int, inset, tol float64) curve.Point {
	path := r.path()
	at := r.At[k]
	on := min(max(at, 0), path.Length(tol))
	way, _ := path.TangentAt(on, tol)
	return path.PointAt(on, tol).Add(way.Mul(at - on)).Add(way.Left().Mul(inset))
}

// Inward gives the direction from place k into the piece, of length 1; the outline
// runs anticlockwise. The zero Point where the edge has no direction.
func (r Row) Inward(k int, tol float64) curve.Point {
	way, _ := r.path().TangentAt(r.At[k], tol)
	return way.Left()
}

// Depth gives how much cloth lies inside place k, square to the edge, mm, up to where
// the piece ends; false where the place lies beyond the edge or the cloth runs along it.
func (r Row) Depth(k int, tol float64) (float64, bool) {
	const hair = 0.1 // mm inside, clear of the edge itself
	in := r.Inward(k, tol)
	if r.At[k] < 0 || r.At[k] > r.path().Length(tol) || in == (curve.Point{}) {
		return 0, false
	}
	ring, start := r.Piece.Outline(), r.Point(k, hair, tol)
	if !ring.Contains(start) {
		return 0, false
	}
	end, ok := reach(ring, start, in)
	return hair + end.Free, ok
}

// Beyond gives by how much the uppermost and the lowest come nearer to the ends of
// what closes than room mm; negative where they stay clear of them.
func (r Row) Beyond(room float64) (top, bottom float64) {
	top, _ = r.Ends(r.At[0])
	_, bottom = r.Ends(r.At[len(r.At)-1])
	return room - top, room - bottom
}

// Miss gives how far the nearest of the row is from a place on the edge, mm.
func (r Row) Miss(at float64) float64 {
	near := math.Inf(1)
	for _, s := range r.At {
		near = min(near, math.Abs(s-at))
	}
	return near
}

// BothPitches gives the pitches next to one that put a button at each of two anchors:
// their distance divided by a whole number. One where the pitch does so already, or
// is wider than the distance; none where either is not above 0.
func BothPitches(distance, pitch float64) []float64 {
	if !(distance > 0 && pitch > 0) {
		return nil
	}
	const hair = 1e-6
	n := math.Floor(distance/pitch + hair)
	if n < 1 {
		return []float64{distance}
	}
	if math.Abs(distance-n*pitch) < hair*distance {
		return []float64{distance / n}
	}
	return []float64{distance / (n + 1), distance / n}
}

// Mirrored tells whether what is drawn of a piece stands for both halves: in a half
// garment unless it is cut whole, and wherever it is cut in pairs or on a fold.
func Mirrored(g *pattern.Garment, p *pattern.Piece) bool {
	if g.Half != pattern.Whole && !g.Option(p.Name).Whole {
		return true
	}
	for _, c := range p.Cloths {
		if c.Cut != pattern.Alike {
			return true
		}
	}
	return false
}
