package curve

import "math"

// maxPieces bounds the points that flattening makes of one segment.
const maxPieces = 1 << 20

// Flatten gives points on the curve, both ends among them exactly, whose
// polyline stays within tol mm of it. The number of pieces follows from the
// second differences of the control points: a chord over the parameter step h
// strays at most h^2/8 of the largest second derivative. At most 2^20 pieces;
// a tol that is not positive is taken as a billionth of the size.
func (s Segment) Flatten(tol float64) []Point {
	n := s.pieces(tol)
	pts := make([]Point, 0, n+1)
	return append(s.appendFlat(pts, n), s.P3)
}

// Flatten does the same for a path; joints appear once. Nil for an empty path.
func (p Path) Flatten(tol float64) []Point {
	if len(p) == 0 {
		return nil
	}
	total := 1
	for i := range p {
		total += p[i].pieces(tol)
	}
	pts := make([]Point, 0, total)
	for i := range p {
		pts = p[i].appendFlat(pts, p[i].pieces(tol))
	}
	return append(pts, p.End())
}

// appendFlat adds the points of n equal steps of the parameter without the last.
func (s *Segment) appendFlat(pts []Point, n int) []Point {
	pts = append(pts, s.P0)
	for i := 1; i < n; i++ {
		pts = append(pts, s.At(float64(i)/float64(n)))
	}
	return pts
}

// pieces is how many equal steps of the parameter keep the polyline within tol.
func (s *Segment) pieces(tol float64) int {
	if s.Straight {
		return 1
	}
	if !(tol > 0) {
		tol = max(s.size()*1e-9, 1e-300)
	}
	a := s.P2.Sub(s.P1).Sub(s.P1.Sub(s.P0)).Len()
	b := s.P3.Sub(s.P2).Sub(s.P2.Sub(s.P1)).Len()
	n := math.Ceil(math.Sqrt(0.75 * max(a, b) / tol))
	if !(n < maxPieces) {
		return maxPieces
	}
	return max(1, int(n))
}
