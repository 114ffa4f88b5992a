package check

import (
	"fmt"
	"math"
	"slices"
	"sort"
	"strings"

	"seamkeep/pattern"
	"seamkeep/pattern/diag"
	"seamkeep/pattern/measure"
)

// NotchClear is how far a notch stands from a corner and from the next notch, mm:
// nearer they cannot be told apart, or are cut off with the corner. Common practice, no
// source.
const NotchClear = 5.0

func notches(in Input) diag.List {
	var out diag.List
	for _, p := range in.Garment.Pieces {
		for _, n := range p.Notches {
			i := p.EdgeIndex(n.Edge.Name)
			if i < 0 || !closed(p) {
				continue // the reader has said so
			}
			if _, err := in.Garment.SpotAt(p, i, n.On, in.Tol); err != nil {
				out = append(out, *measure.NotchProblem(p, n, err))
			}
		}
	}
	return out
}

// pairs looks at notches by their names and places: one finding a piece for those that
// stand too near, one a seam for each question about its pairs.
func pairs(in Input) diag.List {
	var out diag.List
	sewn := seamsOfNotches(in)
	for _, p := range in.Garment.Pieces {
		if closed(p) {
			out = append(out, crowded(in, p, sewn)...)
		}
	}
	for _, w := range in.walked.walks {
		if !w.Seam.Mirrored {
			out = append(out, unpaired(in, w)...)
			out = append(out, drifted(in, w)...)
		}
	}
	return out
}

// seamsOfNotches gives the seam that a notch stands on, or one of them.
func seamsOfNotches(in Input) map[*pattern.Notch]string {
	out := map[*pattern.Notch]string{}
	for _, w := range in.walked.walks {
		for _, ticks := range w.Ticks {
			for _, t := range ticks {
				out[t.Notch] = w.Seam.Name
			}
		}
	}
	return out
}

// fault is one of several places where the same is wrong.
type fault struct {
	place  diag.Place
	text   string
	amount float64
	at     string // the name that keeps its place apart from the others: a notch, a level
}

// badness is what the place adds to the finding: 1 where places are only counted.
func (f fault) badness(counted bool) float64 {
	if counted {
		return 1
	}
	return f.amount
}

// notchName gives the notch of a seam's side as PIECE.EDGE.NOTCH.
func notchName(t measure.Tick) string {
	return t.Piece.Name + "." + t.Notch.Edge.Name + "." + t.Notch.Name
}

// worstOf makes one finding of several faults: the worst is told, the others are
// listed beside it. Its amount is the sum of theirs, or their number where they have none,
// so that a further one makes it worse. x brings what is common to all.
func worstOf(x diag.Problem, faults []fault, many string) diag.List {
	if len(faults) == 0 {
		return nil
	}
	sort.SliceStable(faults, func(i, j int) bool { return faults[i].amount > faults[j].amount })
	x.Severity, x.Place = diag.Warning, faults[0].place
	x.Found, x.Amount = faults[0].text, faults[0].amount
	counted := x.Amount == 0 // no place is worse than another
	if len(faults) > 1 {
		which := "the worst"
		if counted {
			which = "one"
		}
		x.Found += fmt.Sprintf(" (%s of %d %s)", which, len(faults), many)
	}
	if counted {
		x.Amount = float64(len(faults))
	}
	for _, f := range faults {
		if f.at != "" {
			x.AddPart(f.at, f.badness(counted))
		}
	}
	for _, f := range faults[1:] {
		x.Amount += f.amount
		x.Related = append(x.Related, diag.Related{Place: f.place, Text: f.text})
	}
	return diag.List{x}
}

// onEdge is where something stands in its file, on its edge, mm, and on the cloth.
func onEdge(place diag.Place, p *pattern.Piece, edge int, at, tol float64) diag.Place {
	place.Piece, place.Edge, place.At, place.OnEdge = p.Name, p.Edges[edge].Name, at, true
	q := p.EdgePath(edge).PointAt(at, tol)
	return place.Point(q.X, q.Y)
}

// placedNotch is a notch and where it stands on its edge, mm.
type placedNotch struct {
	n  *pattern.Notch
	at float64
}

// crowded tells the notches of a piece that stand too near a corner or another notch; sewn
// are the seams of notches.
func crowded(in Input, p *pattern.Piece, sewn map[*pattern.Notch]string) diag.List {
	byEdge := make([][]placedNotch, len(p.Edges))
	for k := range p.Notches {
		n := &p.Notches[k]
		edge := p.EdgeIndex(n.Edge.Name)
		if edge < 0 {
			continue
		}
		if at, err := in.Garment.SpotAt(p, edge, n.On, in.Tol); err == nil {
			byEdge[edge] = append(byEdge[edge], placedNotch{n, at})
		}
	}
	var faults []fault
	const hint = "move it together with its partner on the other side of the seam, or take both out"
	most, command := 0.0, "" // of the worst
	for edge, list := range byEdge {
		if len(list) == 0 {
			continue
		}
		sort.SliceStable(list, func(i, j int) bool { return list[i].at < list[j].at })
		length := p.EdgePath(edge).Length(in.Tol)
		for i, x := range list {
			near, what := x.at, "corner "+p.Corners[edge].Name
			if length-x.at < near {
				near, what = length-x.at, "corner "+p.Corners[p.After(edge)].Name
			}
			if i > 0 && x.at-list[i-1].at < near {
				near, what = x.at-list[i-1].at, "notch "+list[i-1].n.Name
			}
			if near < NotchClear-slack {
				faults = append(faults, fault{onEdge(x.n.Place, p, edge, x.at, in.Tol),
					fmt.Sprintf("notch %s on %s.%s stands %.1f mm from %s", x.n.Name, p.Name, x.n.Edge.Name, near, what), NotchClear - near, p.Name + "." + x.n.Edge.Name + "." + x.n.Name})
				if seam := sewn[x.n]; NotchClear-near > most {
					most, command = NotchClear-near, ""
					if seam != "" {
						command = fmt.Sprintf("\nseamkeep notches drop %s %s   (or notches move %s %s MM above LEVEL)", seam, x.n.Name, seam, x.n.Name)
					}
				}
			}
		}
	}
	return worstOf(diag.Problem{ID: "notch.crowded", Subject: p.Name,
		Expected: fmt.Sprintf("at least %g", NotchClear), Hint: hint + command}, faults, "notches")
}

// NotchNear says what a notch of a name would stand too near to at a place of an edge, mm
// from its start: "4.0 mm from corner top-back". It is empty where there is room.
func NotchNear(g *pattern.Garment, p *pattern.Piece, edge int, at float64, name string, tol float64) string {
	ends := [2]float64{at, p.EdgePath(edge).Length(tol) - at}
	for i, corner := range []string{p.Corners[edge].Name, p.Corners[p.After(edge)].Name} {
		if ends[i] < NotchClear {
			return fmt.Sprintf("%.1f mm from corner %s", ends[i], corner)
		}
	}
	for _, other := range p.Notches {
		if other.Edge.Name != p.Edges[edge].Name || other.Name == name {
			continue
		}
		if d, err := g.SpotAt(p, edge, other.On, tol); err == nil && math.Abs(d-at) < NotchClear {
			return fmt.Sprintf("%.1f mm from notch %s", math.Abs(d-at), other.Name)
		}
	}
	return ""
}

// unpaired tells the notches of a seam that have no partner, or more than one of their
// name, on the other side; a lone notch of the waist needs none. A notch at an end of
// its side is no part of this seam alone: spans end there.
func unpaired(in Input, w *measure.Walk) diag.List {
	sides := [2]measure.Side{w.First, w.Second}
	ticks := [2][]measure.Tick{inner(w, 0), inner(w, 1)}
	if len(ticks[0]) == 0 && onlyWaist(ticks[1]) || len(ticks[1]) == 0 && onlyWaist(ticks[0]) {
		return nil // where the edge crosses the waist stands for its notch
	}
	count := [2]map[string]int{countNames(ticks[0]), countNames(ticks[1])}
	var single, twice []fault
	var hints []string
	for side, list := range ticks {
		for _, t := range list {
			place := onEdge(t.Notch.Place, t.Piece, t.Piece.EdgeIndex(t.Notch.Edge.Name), t.On, in.Tol)
			name := t.Notch.Name
			switch {
			case count[side][name] > 1:
				twice = append(twice, fault{place, fmt.Sprintf("notch %s stands %d times on %s, one side of seam %s", name, count[side][name], measure.SideName(sides[side].Refs), w.Seam.Name), 0, notchName(t)})
			case count[1-side][name] == 0 && !placeless(in, sides[1-side], name):
				single = append(single, fault{place, fmt.Sprintf("notch %s on %s.%s has no partner on the other side of seam %s", name, t.Piece.Name, t.Notch.Edge.Name, w.Seam.Name), 0, notchName(t)})
				hints = append(hints, partnerHint(in, w, side, t))
			}
		}
	}
	out := worstOf(diag.Problem{ID: "notch.single", Subject: w.Seam.Name, Expected: "one of the same name there, at the same distance along the seam", Hint: strings.Join(hints, "\n")}, single, "notches")
	return append(out, worstOf(diag.Problem{ID: "notch.twice", Subject: w.Seam.Name, Expected: "a name of its own for each pair",
		Hint: "give one of them, and its partner, another name"}, twice, "notches")...)
}

// partnerHint says how the notch that stands alone on a side of a seam gets its partner, or
// goes.
func partnerHint(in Input, w *measure.Walk, side int, t measure.Tick) string {
	other := [2]measure.Side{w.First, w.Second}[1-side]
	part, at := other.EdgeAt(w.Across(side, t.At))
	edge := part.Piece.Name + "." + part.Piece.Edges[part.Edge].Name
	if near := NotchNear(in.Garment, part.Piece, part.Edge, at, t.Notch.Name, in.Tol); near != "" {
		return fmt.Sprintf("its partner would stand on %s %s, so take it out: seamkeep notches drop %s %s", edge, near, w.Seam.Name, t.Notch.Name)
	}
	return fmt.Sprintf("seamkeep notches add %s --name %s   (on %s, %s); or take it out: seamkeep notches drop %s %s",
		w.Seam.Name, t.Notch.Name, edge, fromCorner(part, at), w.Seam.Name, t.Notch.Name)
}

// onlyWaist tells whether no other notch than that of the waist is in a list.
func onlyWaist(ticks []measure.Tick) bool {
	return !slices.ContainsFunc(ticks, func(t measure.Tick) bool { return t.Notch.Name != "waist" })
}

// inner gives the notches of a side that do not stand at its very ends.
func inner(w *measure.Walk, side int) []measure.Tick {
	const hair = 1e-3
	length := [2]float64{w.First.Length, w.Second.Length}[side]
	var out []measure.Tick
	for _, t := range w.Ticks[side] {
		if t.At > hair && t.At < length-hair {
			out = append(out, t)
		}
	}
	return out
}

// placeless tells whether a side has a notch of the name that has no place: that is a
// finding of its own.
func placeless(in Input, s measure.Side, name string) bool {
	for _, part := range s.Parts {
		p := part.Piece
		if i := p.NotchIndex(p.Edges[part.Edge].Name, name); i >= 0 {
			if _, err := in.Garment.SpotAt(p, part.Edge, p.Notches[i].On, in.Tol); err != nil {
				return true
			}
		}
	}
	return false
}

// countNames tells on how many edges of a side each name stands; twice on one edge is
// found by the reader.
func countNames(ticks []measure.Tick) map[string]int {
	type edgeNotch struct {
		piece      *pattern.Piece
		edge, name string
	}
	count, seen := map[string]int{}, map[edgeNotch]bool{}
	for _, t := range ticks {
		if k := (edgeNotch{t.Piece, t.Notch.Edge.Name, t.Notch.Name}); !seen[k] {
			seen[k] = true
			count[t.Notch.Name]++
		}
	}
	return count
}

// fromCorner words a place on an edge: "40.0 mm from corner hem-back".
func fromCorner(part measure.Part, at float64) string {
	p := part.Piece
	length := p.EdgePath(part.Edge).Length(measure.Accuracy)
	if at <= length/2 {
		return fmt.Sprintf("%.1f mm from corner %s", at, p.Corners[part.Edge].Name)
	}
	return fmt.Sprintf("%.1f mm from corner %s", length-at, p.Corners[p.After(part.Edge)].Name)
}

// drifted tells the pairs of a seam that miss each other, walked from the waist, by more
// than notches may; a seam of which the walk tells anything has said so already.
func drifted(in Input, w *measure.Walk) diag.List {
	if v := Judge(in.Garment, w); !v.OK || v.Near {
		return nil
	}
	limit := in.Garment.ToleranceOf("notch")
	var faults []fault
	var hints []string
	for _, d := range w.Drifts() {
		if math.Abs(d.By) <= limit+slack {
			continue
		}
		part, at := w.Second.EdgeAt(d.At[1])
		place := part.Piece.Edges[part.Edge].Place
		if k := part.Piece.NotchIndex(part.Piece.Edges[part.Edge].Name, d.Name); k >= 0 {
			place = part.Piece.Notches[k].Place
		}
		hints = append(hints, meetHint(in, w, d))
		faults = append(faults, fault{onEdge(place, part.Piece, part.Edge, at, in.Tol), fmt.Sprintf("seam %s: notch %s of %s lies %s mm %s along the seam than that of %s", w.Seam.Name, d.Name,
			measure.SideName(w.Seam.First), over(d.By, limit), further(d.By), measure.SideName(w.Seam.Second)), math.Abs(d.By), d.Name})
	}
	return worstOf(diag.Problem{ID: "notch.drift", Subject: w.Seam.Name, Expected: "at most " + figure(limit),
		Hint: strings.Join(hints, "\n")}, faults, "pairs")
}

// meetHint says how a pair that drifted is brought together: by moving the notch of one
// side, where the seam still matches then and the notch has room.
func meetHint(in Input, w *measure.Walk, d measure.Drift) string {
	i := slices.IndexFunc(w.Segments, func(s measure.Segment) bool { return s.From == d.Name })
	part, at := w.Second.EdgeAt(d.At[1] + d.By)
	if !Judge(in.Garment, w.Shifted(i, -d.By)).OK || NotchNear(in.Garment, part.Piece, part.Edge, at, d.Name, in.Tol) != "" {
		return fmt.Sprintf("redraw an edge between the notches: no move of notch %s alone mends it; seamkeep walk %s shows each part", d.Name, w.Seam.Name)
	}
	return moveCommand(w, d.Name)
}

// moveCommand is the command that brings a pair of notches together.
func moveCommand(w *measure.Walk, name string) string {
	a, okA := notched(w.First, name)
	b, okB := notched(w.Second, name)
	line := "seamkeep notches move " + w.Seam.Name + " " + name
	if !okA || !okB || a.Piece == b.Piece {
		return line
	}
	return fmt.Sprintf("%s --move %s   (or --move %s, --move both)", line, b.Piece.Name, a.Piece.Name)
}

func further(by float64) string {
	if by < 0 {
		return "less far"
	}
	return "further"
}
