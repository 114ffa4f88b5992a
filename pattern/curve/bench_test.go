package curve

import (
	"math/rand/v2"
	"testing"
)

func benchCubics(kind func(*rand.Rand) Segment, n int) []Segment {
	r := rand.New(rand.NewPCG(1, 2))
	list := make([]Segment, n)
	for i := range list {
		list[i] = kind(r)
	}
	return list
}

func benchLength(b *testing.B, kind func(*rand.Rand) Segment, tol float64) {
	list := benchCubics(kind, 256)
	sum := 0.0
	for i := 0; b.Loop(); i++ {
		sum += list[i&255].Length(tol)
	}
	_ = sum
}

func BenchmarkLengthGentle(b *testing.B) { benchLength(b, gentleCubic, 1e-6) }
func BenchmarkLengthWild(b *testing.B)   { benchLength(b, wildCubic, 1e-6) }
func BenchmarkLengthCusp(b *testing.B)   { benchLength(b, cuspCubic, 1e-6) }

func BenchmarkPointAt(b *testing.B) {
	list := benchCubics(gentleCubic, 256)
	paths := make([]Path, len(list))
	for i, s := range list {
		paths[i] = Path{s}
	}
	for i := 0; b.Loop(); i++ {
		paths[i&255].PointAt(20, 1e-6)
	}
}

func BenchmarkPointAtWild(b *testing.B) {
	list := benchCubics(wildCubic, 256)
	paths := make([]Path, len(list))
	for i, s := range list {
		paths[i] = Path{s}
	}
	for i := 0; b.Loop(); i++ {
		paths[i&255].PointAt(100, 1e-6)
	}
}

func benchOutlines(rough float64) []Path {
	r := rand.New(rand.NewPCG(3, 4))
	list := make([]Path, 64)
	for i := range list {
		for len(list[i]) != 20 {
			list[i] = randomOutline(r, rough)
		}
	}
	return list
}

func BenchmarkSelfCrossings(b *testing.B) {
	list := benchOutlines(0.2)
	for i := 0; b.Loop(); i++ {
		list[i&63].SelfCrossings()
	}
}

func BenchmarkWidthAt(b *testing.B) {
	list := benchOutlines(0.2)
	for i := 0; b.Loop(); i++ {
		list[i&63].WidthAt(12.5)
	}
}

func BenchmarkNearest(b *testing.B) {
	list := benchOutlines(0.2)
	for i := 0; b.Loop(); i++ {
		list[i&63].Nearest(Pt(100, 120))
	}
}

func BenchmarkSideways(b *testing.B) {
	r := rand.New(rand.NewPCG(5, 6))
	list := benchCubics(gentleCubic, 64)
	moved := make([]Path, 64)
	for i, s := range list {
		k := s
		k.P1 = k.P1.Add(Pt(r.Float64()*5, r.Float64()*5))
		k.P3 = k.P3.Add(Pt(r.Float64()*5, r.Float64()*5))
		moved[i] = Path{k}
	}
	for i := 0; b.Loop(); i++ {
		Sideways(Path{list[i&63]}, moved[i&63], 0.001)
	}
}
