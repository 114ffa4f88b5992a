package curve

import (
	"math/rand/v2"
	"testing"
)

// benchPairs are outlines of 20 edges with one edge changed by its handles.
func benchPairs() [][2]Path {
	r := rand.New(rand.NewPCG(8, 9))
	var list [][2]Path
	for _, p := range benchOutlines(0.2) {
		q := clonePath(p)
		k := r.IntN(len(q))
		s := q[k]
		d := func() Point { return Pt(20*r.Float64()-10, 20*r.Float64()-10) }
		q[k] = Cubic(s.P0, s.P1.Add(d()), s.P2.Add(d()), s.P3)
		list = append(list, [2]Path{p, q})
	}
	return list
}

// Aim: at most 50 us a pair.
func BenchmarkHausdorff(b *testing.B) {
	list := benchPairs()
	for i := 0; b.Loop(); i++ {
		p := &list[i&63]
		Hausdorff(p[0], p[1], 1e-3)
	}
}

// Aim: at most 10 us where the answer is no, 30 where it is yes.
func BenchmarkLies(b *testing.B) {
	list := benchPairs()
	for i := 0; b.Loop(); i++ {
		p := &list[i&63]
		Lies(p[0], p[1], 1e-3)
	}
}

// Aim: at most 120 us for one changed edge.
func BenchmarkAreas(b *testing.B) {
	list := benchPairs()
	for i := 0; b.Loop(); i++ {
		p := &list[i&63]
		Areas(p[0], p[1], 1e-4)
	}
}

// Aim: at most 1700 us where every edge is a little elsewhere.
func BenchmarkAreasRounded(b *testing.B) {
	list := benchOutlines(0.2)
	other := make([]Path, len(list))
	for i, p := range list {
		for _, s := range p {
			other[i] = append(other[i], rounded(s))
		}
	}
	for i := 0; b.Loop(); i++ {
		Areas(list[i&63], other[i&63], 1e-4)
	}
}

// Aim: at most 300 ns for 20 points, the residual included.
func BenchmarkRegister(b *testing.B) {
	var from, to []Point
	for i := range 20 {
		p := Pt(float64(i*i), float64(i))
		from, to = append(from, p), append(to, Rotate(0.3).Apply(p))
	}
	for b.Loop() {
		Register(from, to)
	}
}
