package measure

// Across gives the place on the other side of a seam that meets a place when it is
// sewn: mm along that side from where the walk begins. from is the side that the place
// lies on, 0 for the first, 1 for the second. The distance is counted from the nearest
// station, so that a difference of the sides further along does not move it; without a
// station from the nearer end of the seam. Ease is taken in proportion. The result is
// kept within the side.
func (w *Walk) Across(from int, at float64) float64 {
	other := 1 - from
	i := 0
	for i < len(w.Segments)-1 && at > w.Segments[i].End[from] {
		i++
	}
	seg := w.Segments[i]
	ratio := seg.ratio(from)
	atStart, atEnd := i > 0 || w.Agreed[0], i < len(w.Segments)-1 || w.Agreed[1]
	before, after := at-seg.Start[from], seg.End[from]-at
	byEnd := after < before
	if atStart != atEnd {
		byEnd = atEnd
	}
	place := seg.Start[other] + before*ratio
	if byEnd {
		place = seg.End[other] - after*ratio
	}
	return min(max(place, 0), w.sides()[other].Length)
}

func (w *Walk) sides() [2]Side { return [2]Side{w.First, w.Second} }

// ratio gives how much of the other side is meant to meet 1 mm of this one: 1 where
// nothing is eased.
func (s Segment) ratio(from int) float64 {
	_, second := s.Lengths()
	first := second + s.Ease
	if first <= 0 || second <= 0 {
		return 1
	}
	if from == 0 {
		return second / first
	}
	return first / second
}

// Drift is how far the two notches of a pair miss each other when the seam is sewn from
// where its walk is matched: the waist, else its beginning.
type Drift struct {
	Name string
	By   float64    // mm, positive where the first side's notch lies further on
	At   [2]float64 // mm along the first and the second side
}

// Drifts gives the drift of every pair inside the seam, in walking order. That of the
// pair from which the seam is walked is 0.
func (w *Walk) Drifts() []Drift {
	out := make([]Drift, 0, len(w.Segments))
	sum, zero := 0.0, 0.0
	for i, s := range w.Segments[:len(w.Segments)-1] {
		sum += s.Difference
		if s.To == "waist" {
			zero = sum
		}
		out = append(out, Drift{Name: s.To, By: sum, At: w.Segments[i].End})
	}
	for i := range out {
		out[i].By -= zero
	}
	return out
}
