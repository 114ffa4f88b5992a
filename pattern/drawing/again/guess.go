package again

import (
	"fmt"
	"math"

	"seamkeep/pattern/curve"
	"seamkeep/pattern/diag"
)

// guess lays the ring on the piece where no edge kept its shape: by its place on
// the sheet where that serves about as well as any, else by the corners.
func (s *search) guess(y *laying, o Options) (frame, bool) {
	from, to := s.pairs()
	put, rms, ok := bestOf(from, to)
	if !ok {
		y.add(s.k.piece, "frame", diag.Error, "", "the drawn outline cannot be laid on it", "an outline of about its shape",
			"import the drawing as a piece of its own")
		return frame{}, false
	}
	if o.At != nil {
		page := curve.Rigid{Shift: *o.At}
		off := math.Inf(1)
		for n := range to {
			off = math.Min(off, offBy(page, from, to[n]))
		}
		if off <= 2*rms+s.k.within {
			y.add(s.k.piece, "frame", diag.Note, "", "no edge kept its shape; it was laid on its old outline by its place on the sheet",
				"an edge that kept its shape", "")
			return frameOf(s.lay(page, s.k.within), ByPage), true
		}
	}
	y.add(s.k.piece, "frame", diag.Warning, "", fmt.Sprintf(
		"no edge kept its shape, so that it was laid on its old outline by its corners; they lie %.1f mm off in the mean", rms),
		"an edge that kept its shape", "look at the picture before the new outline is kept: the waist and the grain may have moved")
	return frameOf(s.lay(put, s.k.within), ByCorners), true
}

// pairs gives points of the piece and, for each way to begin, the points of the
// ring that may be theirs: the corners where both have as many, else places the
// same part of the way round.
func (s *search) pairs() (from []curve.Point, to [][]curve.Point) {
	var corners []curve.Point
	for i := range s.l.path {
		if s.l.sharp(i) {
			corners = append(corners, s.l.path[i].P0)
		}
	}
	for i, sharp := range s.k.sharp {
		if sharp {
			from = append(from, s.k.corner(i))
		}
	}
	if n := len(from); n >= 3 && n == len(corners) {
		for first := range min(n, maxStarts) {
			to = append(to, append(corners[first:n:n], corners[:first]...))
		}
		return from, to
	}
	const steps = 64
	from = from[:0]
	ring := newLoop(s.k.piece.Outline())
	for n := range steps {
		from = append(from, ring.point(ring.total()*float64(n)/steps))
	}
	for i := range s.l.path[:min(len(s.l.path), maxStarts)] {
		list := make([]curve.Point, steps)
		for n := range list {
			list[n] = s.l.point(s.l.at[i] + s.l.total()*float64(n)/steps)
		}
		to = append(to, list)
	}
	return from, to
}

// maxStarts bounds the ways to begin that are tried.
const maxStarts = 200

// bestOf is the movement of least squares over all ways to begin, the smaller
// turn where two are as good, and the root of its mean square in mm.
func bestOf(from []curve.Point, to [][]curve.Point) (best curve.Rigid, rms float64, ok bool) {
	rms = math.Inf(1)
	for n := range to {
		fit, r, good := curve.Register(from, to[n])
		if !good {
			continue
		}
		if r < rms-1e-6 || r < rms+1e-6 && math.Abs(fit.Angle) < math.Abs(best.Angle) {
			best, rms, ok = fit, r, true
		}
	}
	return best, rms, ok
}

// offBy is the root of the mean square by which a movement misses, in mm.
func offBy(put curve.Rigid, from, to []curve.Point) float64 {
	m, sum := put.Affine(), 0.0
	for n := range from {
		d := m.Apply(from[n]).Dist(to[n])
		sum += d * d
	}
	return math.Sqrt(sum / float64(len(from)))
}
