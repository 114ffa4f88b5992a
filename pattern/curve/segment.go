package curve

// Segment is a straight line or a cubic Bezier curve, walked from P0 to P3.
// A line keeps its handles P1 and P2 at the thirds, so that every formula for
// cubics holds for it too; Straight says that it is meant to be a line.
type Segment struct {
	P0, P1, P2, P3 Point
	Straight       bool
}

// Line is the straight segment from a to b.
func Line(a, b Point) Segment {
	return Segment{P0: a, P1: a.Lerp(b, 1.0/3), P2: a.Lerp(b, 2.0/3), P3: b, Straight: true}
}

// Cubic is the Bezier curve from a to b with the handles h and k.
func Cubic(a, h, k, b Point) Segment { return Segment{P0: a, P1: h, P2: k, P3: b} }

// Path is a chain of segments, each beginning where the last one ended. A
// closed path (a ring) ends where it began. An empty path has no length and no
// points.
type Path []Segment
