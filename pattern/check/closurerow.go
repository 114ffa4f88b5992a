package check

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"seamkeep/pattern"
	"seamkeep/pattern/diag"
	"seamkeep/pattern/measure"
)

// NearStrain is how far from the level of the greatest strain the nearest button may
// stand, mm: common practice, no source.
const NearStrain = 5.0

// crossed lists the levels that a row's edge crosses once, where it closes.
func (x fastening) crossed(r measure.Row) []string {
	return slices.DeleteFunc(measure.LevelNames(x.in.Garment), func(level string) bool {
		_, ok := r.Crossing(x.in.Garment, level, x.in.Tol)
		return !ok
	})
}

// overlaid tells buttons or eyelets that would lie over each other: at a pitch that is
// smaller than they are.
func (x fastening) overlaid(r measure.Row) (diag.Problem, bool) {
	across := x.f.Diameter.Value
	if !x.f.Diameter.Set || len(r.At) < 2 {
		return diag.Problem{}, false
	}
	pitch := math.Abs(r.At[len(r.At)-1]-r.At[0]) / float64(len(r.At)-1)
	if pitch >= across-slack {
		return diag.Problem{}, false
	}
	y := x.problem("closure.pitch", across-pitch)
	y.Place = onPiece(y.Place, r.Piece, r.Piece.Edges[r.Edge].Name)
	y.Found = fmt.Sprintf("what closes %s is %g across and stands %.3g apart, one over the other", x.c.Name, across, pitch)
	y.Expected = fmt.Sprintf("a pitch of at least %g", across)
	y.Hint = fmt.Sprintf("write a pitch of at least %g", across)
	if !x.f.Pitch.Set {
		y.Hint = fmt.Sprintf("write count %g or less", spacesIn(pitch*float64(len(r.At)-1), across)+1)
	}
	return y, true
}

// tooFar tells a pitch so large that the edge has room for one button or eyelet only.
func (x fastening) tooFar(r measure.Row) (diag.Problem, bool) {
	left := r.Length() - 2*x.room()
	if len(r.At) < 2 || r.Pitch <= left+slack {
		return diag.Problem{}, false
	}
	y := x.problem("closure.pitch", r.Pitch-left)
	y.Place = onPiece(y.Place, r.Piece, r.Piece.Edges[r.Edge].Name)
	y.Found = fmt.Sprintf("at pitch %g no second one of the %d %s of %s fits on %s, which is %.1f long", pattern.RoundLength(r.Pitch), len(r.At), measure.WordOf(x.c), x.c.Name, r.Name(), r.Length())
	y.Expected = "the distance from one to the next"
	fits := left
	for _, k := range []int{0, len(r.At) - 1} {
		if spaces, reach, ok := x.side(r, k); ok && spaces > 0 {
			fits = min(fits, reach/spaces)
		}
	}
	switch across := x.f.Diameter.Or(0); {
	case fits <= 0:
		y.Hint = "count from a level further from the end of the edge"
	case fits < across:
		y.Hint = fmt.Sprintf("take fewer: on all of the edge fit %g at pitch %g", spacesIn(left, across)+1, across)
	default:
		y.Hint = fmt.Sprintf("write a pitch of at most %.1f", math.Floor(10*fits+slack)/10)
	}
	return y, true
}

// beyond tells a row that would not end on the edge, clear of its ends by half a
// button.
func (x fastening) beyond(r measure.Row) (diag.Problem, bool) {
	room := x.room()
	top, bottom := r.Beyond(room)
	off, word, k := top, "uppermost", 0
	if bottom > off {
		off, word, k = bottom, "lowest", len(r.At)-1
	}
	if off <= slack {
		return diag.Problem{}, false
	}
	y := x.problem("closure.beyond", off)
	at := r.Point(k, 0, x.in.Tol)
	y.Place = onPiece(y.Place, r.Piece, r.Piece.Edges[r.Edge].Name).Point(at.X, at.Y)
	where := fmt.Sprintf("%.1f from the end of %s", room-off, r.Name())
	if off > room {
		where = fmt.Sprintf("%.1f beyond the end of %s", off-room, r.Name())
	}
	y.Found = fmt.Sprintf("the %s of the %s of %s would stand %s", word, measure.WordOf(x.c), x.c.Name, where)
	y.Expected = "on the edge"
	if room > 0 {
		y.Expected = fmt.Sprintf("at least half of one, %g, inside it", room)
	}
	y.Hint = x.shorter(r, k)
	return y, true
}

// side gives how many spaces a row has from where its counting begins towards its
// uppermost (k = 0) or its lowest, and how much of the edge there is for them, mm, clear
// of the end; false where nothing is counted that way.
func (x fastening) side(r measure.Row, k int) (spaces, reach float64, ok bool) {
	start, up := r.Anchor.Value, x.f.Up.Or(0)
	if !r.Anchor.Set {
		start, _ = r.Inside(x.f.Margin.Or(0))
		up = 0
	}
	top, bottom := r.Ends(start)
	if k == 0 {
		return up, top - x.room(), r.Pitch > 0 && r.Anchor.Set && x.f.Pitch.Set
	}
	return float64(len(r.At)-1) - up, bottom - x.room(), r.Pitch > 0 && x.f.Pitch.Set
}

// shorter says by which pitch, or how many fewer, a row comes to end on its edge.
func (x fastening) shorter(r measure.Row, k int) string {
	spaces, reach, ok := x.side(r, k)
	switch {
	case !ok:
		return fmt.Sprintf("write a margin of at least %g", x.room())
	case reach <= 0 || spaces == 0:
		return "count from a level further from the end of the edge"
	}
	fewer := fmt.Sprintf("take %g fewer there", spaces-math.Floor(reach/r.Pitch+slack))
	pitch := math.Floor(10*reach/spaces+slack) / 10
	if pitch < x.f.Diameter.Or(0) {
		return fewer
	}
	return fmt.Sprintf("%s, or write a pitch of at most %.1f", fewer, pitch)
}

// apart tells eyelets or hooks too far from each other.
func (x fastening) apart(r measure.Row, most float64) (diag.Problem, bool) {
	if r.Pitch <= most+slack {
		return diag.Problem{}, false
	}
	y := x.problem("closure.apart", r.Pitch-most)
	y.Place = onPiece(y.Place, r.Piece, r.Piece.Edges[r.Edge].Name)
	y.Found = fmt.Sprintf("the %d %s of %s on %s, %.1f long, stand %.1f apart", len(r.At), measure.WordOf(x.c), x.c.Name, r.Name(), r.Length(), r.Pitch)
	y.Expected = fmt.Sprintf("at most %g", most)
	if x.f.Pitch.Set {
		y.Hint = fmt.Sprintf("write a pitch of at most %g, and so many more that they reach as far", most)
		return y, true
	}
	long := r.Pitch * float64(len(r.At)-1)
	n := math.Ceil(long/most - slack)
	y.Hint = fmt.Sprintf("write count %g: they stand %.1f apart", n+1, long/n)
	return y, true
}

// unstrained tells buttons of which none stands where the closure pulls hardest, and
// the pitches at which both that level and the anchor would have one.
func (x fastening) unstrained(r measure.Row) (diag.Problem, bool) {
	level := r.StrainIn(x.in.Garment, x.in.Body, x.in.rounds.girthAt, x.in.Tol)
	at, ok := r.Crossing(x.in.Garment, level, x.in.Tol)
	told := !x.f.Pitch.Set && x.f.From == level // as one of two anchors
	if level == "" || !ok || told || r.Miss(at) <= NearStrain+slack {
		return diag.Problem{}, false
	}
	y := x.problem("closure.no-button-at-strain", r.Miss(at))
	spot := r.Piece.EdgePath(r.Edge).PointAt(at, x.in.Tol)
	y.Place = onPiece(y.Place, r.Piece, r.Piece.Edges[r.Edge].Name).Point(spot.X, spot.Y)
	y.Found = fmt.Sprintf("the nearest button of %s stands %.1f from %s, where it pulls hardest", x.c.Name, r.Miss(at), level)
	y.Expected = fmt.Sprintf("one within %g", NearStrain)
	y.Hint = fmt.Sprintf("count from there: buttons %s from %s", x.c.Name, level)
	if r.Anchor.Set {
		if list := BothPitches(x.f, math.Abs(at-r.Anchor.Value), r.Pitch); len(list) > 0 {
			y.Hint += fmt.Sprintf("; or keep one at %s and write pitch %s", x.f.From, Pitches(list))
		}
	}
	return y, true
}

// BothPitches gives the pitches next to a record's own that hold two anchors so far apart,
// mm, see measure.BothPitches: those at which its buttons or eyelets do not lie over each
// other.
func BothPitches(f *pattern.Fastening, distance, pitch float64) []float64 {
	return slices.DeleteFunc(measure.BothPitches(distance, pitch), func(p float64) bool { return p < f.Diameter.Or(0) })
}

// Pitches writes pitches for a hint: "22.857 or 26.667", as a file may hold them.
func Pitches(list []float64) string {
	words := make([]string, len(list))
	for i, p := range list {
		words[i] = fmt.Sprintf("%g", pattern.RoundLength(p))
	}
	return strings.Join(words, " or ")
}
