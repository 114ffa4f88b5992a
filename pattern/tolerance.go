package pattern

// Tolerances where the garment file says nothing. Seams: 1/16 in (1.6 mm) is
// kept by careful makers (Threads no. 200, 2018/19); the others are common
// practice, no source.
const (
	DefaultSeam     = 1.5 // mm
	DefaultSeamWarn = 1.0 // mm
	DefaultNotch    = 2.0 // mm
	DefaultTurn     = 4.0 // degrees
	DefaultStep     = 1.0 // mm
	RoughSeam       = 3.0 // mm, whatever stands in the file
)

// SeamTolerance gives how far the two sides of a seam may differ, in mm, and
// from where on it is said: what the seam says for itself, else the garment's; nil
// asks for the garment's. In a rough mock-up a seam with a wider tolerance of its own
// keeps it.
func (g *Garment) SeamTolerance(s *Seam) (limit, warn float64) {
	limit, warn = DefaultSeam, DefaultSeamWarn
	if t, ok := g.tolerance("seam"); ok {
		limit, warn = t.Value, t.Warn.Or(min(DefaultSeamWarn, t.Value))
	}
	if g.Rough {
		limit = RoughSeam
	}
	if s != nil && s.Within.Set {
		own := s.Within.Value
		if g.Rough {
			own = max(own, RoughSeam)
		}
		limit, warn = own, s.Warn.Or(warn)
	}
	return limit, min(warn, limit)
}

// ToleranceOf gives the tolerance of a kind other than seams: notch and step
// in mm, turn in degrees.
func (g *Garment) ToleranceOf(kind string) float64 {
	if t, ok := g.tolerance(kind); ok {
		return t.Value
	}
	switch kind {
	case "notch":
		return DefaultNotch
	case "turn":
		return DefaultTurn
	case "step":
		return DefaultStep
	default:
		limit, _ := g.SeamTolerance(nil)
		return limit
	}
}

func (g *Garment) tolerance(kind string) (Tolerance, bool) {
	for _, t := range g.Tolerances {
		if t.Kind == kind {
			return t, true
		}
	}
	return Tolerance{}, false
}
