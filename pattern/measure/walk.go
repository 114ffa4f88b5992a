package measure

import (
	"fmt"
	"slices"
	"sort"

	"seamkeep/pattern"
	"seamkeep/pattern/diag"
)

// Walk is both sides of a seam laid against each other.
type Walk struct {
	Seam       *pattern.Seam
	First      Side
	Second     Side
	Ease       float64 // how much longer the first side is meant to be, mm
	Difference float64 // first less second less ease, mm
	Segments   []Segment
	Ticks      [2][]Tick // the notches on the first and the second side; none where it is mirrored
	Agreed     [2]bool   // a station lies at the start, at the end, of both sides: no corner is to slide there
}

// Segment is the part of a seam between two stations: matching notches, the
// waist where there are none, or the seam's ends.
type Segment struct {
	From, To   string
	Start, End [2]float64 // mm along the first and the second side
	Ease       float64    // mm
	Difference float64    // first less second less ease, mm
}

// Lengths gives the segment's length on the first and the second side, mm.
func (s Segment) Lengths() (first, second float64) {
	return s.End[0] - s.Start[0], s.End[1] - s.Start[1]
}

// WalkSeam measures both sides of a seam, whole and between its stations. The
// walk begins where the first side begins in the direction of its outline; the
// second side is walked against its own outline unless the seam says same-way.
// Lengths are within tol. A seam that names what does not exist, and a mirrored
// one with ease, gives a problem instead.
func WalkSeam(g *pattern.Garment, s *pattern.Seam, tol float64) (*Walk, *diag.Problem) {
	if len(s.First) == 0 || !s.Mirrored && len(s.Second) == 0 {
		return nil, &diag.Problem{
			ID: "seam.broken-side", Severity: diag.Error, Place: s.Place, Subject: s.Name,
			Found: fmt.Sprintf("seam %s has a side without an edge", s.Name), Expected: "an edge on each side",
		}
	}
	w := &Walk{Seam: s}
	var problem *diag.Problem
	if w.First, problem = layOut(g, s.First, false, tol/4); problem != nil {
		return nil, problem
	}
	if s.Mirrored {
		if len(s.Eases) > 0 {
			return nil, easedMirror(s)
		}
		w.Second = w.First
		w.Segments = []Segment{{
			From: w.First.StartName(), To: w.First.EndName(),
			End: [2]float64{w.First.Length, w.First.Length},
		}}
		return w, nil
	}
	if w.Second, problem = layOut(g, s.Second, !s.SameWay, tol/4); problem != nil {
		return nil, problem
	}
	w.Segments = cutAt(w, commonStations(g, w, tol))
	if problem = w.spread(s); problem != nil {
		return nil, problem
	}
	for i := range w.Segments {
		a, b := w.Segments[i].Lengths()
		w.Segments[i].Difference = a - b - w.Segments[i].Ease
	}
	w.Difference = w.First.Length - w.Second.Length - w.Ease
	return w, nil
}

func easedMirror(s *pattern.Seam) *diag.Problem {
	return &diag.Problem{
		ID: "seam.ease-mirrored", Severity: diag.Error, Place: s.Eases[0].Place, Subject: s.Name,
		Found:    "seam " + s.Name + " has an ease, but a mirrored seam has one side only, so it has no ease",
		Expected: "a mirrored seam without ease",
		Hint:     "take out the ease, or name both sides of the seam",
	}
}

type station struct {
	name string
	at   [2]float64
}

// commonStations pairs the notches of equal name, or the waist crossings where
// no notch has a partner, in the order of the first side.
func commonStations(g *pattern.Garment, w *Walk, tol float64) []station {
	w.Ticks = [2][]Tick{w.First.ticks(g, tol), w.Second.ticks(g, tol)}
	first, second := stations(w.Ticks[0]), stations(w.Ticks[1])
	var list []station
	for name, a := range first {
		if b, ok := second[name]; ok {
			list = append(list, station{name, [2]float64{a, b}})
		}
	}
	if len(list) == 0 {
		a, okA := w.First.waist(g, tol)
		b, okB := w.Second.waist(g, tol)
		if okA && okB {
			list = append(list, station{"waist", [2]float64{a, b}})
		}
	}
	sort.Slice(list, func(i, j int) bool {
		if list[i].at[0] != list[j].at[0] {
			return list[i].at[0] < list[j].at[0]
		}
		return list[i].name < list[j].name
	})
	return list
}

// cutAt makes the segments between the stations and the seam's ends. A station
// at an end of both sides is the end itself, gives the end its name and marks
// it as agreed.
func cutAt(w *Walk, stations []station) []Segment {
	const atEnd = 1e-3
	ends := [2]float64{w.First.Length, w.Second.Length}
	from := station{name: w.First.StartName()}
	last := station{name: w.First.EndName(), at: ends}
	var out []Segment
	for _, s := range stations {
		if s.at[0] < atEnd && s.at[1] < atEnd {
			from.name, w.Agreed[0] = s.name, true
			continue
		}
		if ends[0]-s.at[0] < atEnd && ends[1]-s.at[1] < atEnd {
			last.name, w.Agreed[1] = s.name, true
			continue
		}
		out = append(out, Segment{From: from.name, To: s.name, Start: from.at, End: s.at})
		from = s
	}
	return append(out, Segment{From: from.name, To: last.name, Start: from.at, End: last.at})
}

// spread gives each segment its part of the ease, in proportion to the second
// side: over the whole seam, or inside a zone.
func (w *Walk) spread(s *pattern.Seam) *diag.Problem {
	for _, e := range s.Eases {
		from, to := 0, len(w.Segments)
		if e.From != "" {
			from, to = w.between(e.From, e.To)
			if from < 0 {
				return &diag.Problem{
					ID: "seam.ease-zone", Severity: diag.Error, Place: e.Place, Subject: s.Name,
					Found:    "the ease is between " + e.From + " and " + e.To + ", which are not both notches of both sides",
					Expected: "two notches that stand on both sides of the seam",
				}
			}
		}
		total := 0.0
		for _, seg := range w.Segments[from:to] {
			_, b := seg.Lengths()
			total += b
		}
		for i := from; i < to; i++ {
			_, b := w.Segments[i].Lengths()
			if total != 0 {
				w.Segments[i].Ease += e.Amount * b / total
			} else {
				w.Segments[i].Ease += e.Amount / float64(to-from)
			}
		}
		w.Ease += e.Amount
	}
	return nil
}

// between gives the range of segments from one station to another, -1 where
// one of them is not a station of the walk.
func (w *Walk) between(a, b string) (from, to int) {
	find := func(name string) int {
		for i, s := range w.Segments {
			if s.From == name {
				return i
			}
		}
		if w.Segments[len(w.Segments)-1].To == name {
			return len(w.Segments)
		}
		return -1
	}
	from, to = find(a), find(b)
	if from < 0 || to < 0 || from == to {
		return -1, -1
	}
	return min(from, to), max(from, to)
}

// Worst gives the segment whose sides differ most.
func (w *Walk) Worst() Segment {
	worst := w.Segments[0]
	for _, s := range w.Segments[1:] {
		if abs(s.Difference) > abs(worst.Difference) {
			worst = s
		}
	}
	return worst
}

// Shifted gives the walk as it would be with the notch of the first side where segment i
// begins moved along by so many mm; what is measured of the notches themselves stays.
// i is at least 1 and at most the last segment.
func (w *Walk) Shifted(i int, by float64) *Walk {
	moved := *w
	moved.Segments = slices.Clone(w.Segments)
	before, after := &moved.Segments[i-1], &moved.Segments[i]
	before.End[0] += by
	before.Difference += by
	after.Start[0] += by
	after.Difference -= by
	return &moved
}

func abs(x float64) float64 { return max(x, -x) }
