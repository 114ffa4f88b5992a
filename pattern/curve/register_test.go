package curve

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

const degree = math.Pi / 180

// Reference figures: NumPy's singular value decomposition (the method of Kabsch,
// with the determinant held at +1) on a rectangle of 10 by 20. SciPy's example for
// scipy.spatial.procrustes, disparity 0, is no check here: it scales and mirrors,
// which cloth must not.
func TestRegisterARectangle(t *testing.T) {
	rect := []Point{{0, 0}, {10, 0}, {10, 20}, {0, 20}}
	m := Rotate(30 * degree).Then(Translate(5, -3))
	to := make([]Point, 4)
	for i, p := range rect {
		to[i] = m.Apply(p)
	}
	r, rms, ok := Register(rect, to)
	require.True(t, ok)
	assert.InDelta(t, 30*degree, r.Angle, 1e-15)
	assert.InDelta(t, 0, r.Shift.Dist(Pt(5, -3)), 1e-14)
	assert.InDelta(t, 0, rms, 1e-14)

	to[2] = to[2].Add(Pt(1, 0)) // the third corner moved
	r, rms, ok = Register(rect, to)
	require.True(t, ok)
	assert.InDelta(t, 28.7196266, r.Angle/degree, 1e-6)
	assert.InDelta(t, 5.0004583, r.Shift.X, 1e-6)
	assert.InDelta(t, -3.0121818, r.Shift.Y, 1e-6)
	assert.InDelta(t, 0.3537635, rms, 1e-7)
	for i, want := range []float64{0.0121904, 0.2343708, 0.5006065, 0.4414853} {
		assert.InDelta(t, want, r.Affine().Apply(rect[i]).Dist(to[i]), 1e-7)
	}
	// The pair of SciPy's example is not laid on each other without mirroring.
	_, rms, ok = Register([]Point{{1, 3}, {1, 2}, {1, 1}, {2, 1}}, []Point{{4, -2}, {4, -4}, {4, -6}, {2, -6}})
	assert.True(t, ok)
	assert.Greater(t, rms, 0.5)
}

func TestRegisterOfTooLittle(t *testing.T) {
	o, p := Pt(1e4, 7), Pt(2, 2)
	for name, c := range map[string][2][]Point{
		"nothing":                       {nil, nil},
		"one point":                     {{o}, {p}},
		"one point twice":               {{o, o, o}, {p, o, p}},
		"onto one point":                {{p, o, p}, {o, o, o}},
		"other numbers":                 {{o, p}, {o, p, p}},
		"no turn better than another":   {{Pt(1, 0), Pt(-1, 0), Pt(0, 1), Pt(0, -1)}, {Pt(1, 0), Pt(-1, 0), Pt(0, -1), Pt(0, 1)}},
		"a third of a point's rounding": {{Pt(0.1, 0.3), Pt(0.1, 0.3), Pt(0.1, 0.3)}, {o, p, o}},
		"no numbers":                    {{Pt(math.NaN(), 0), p}, {o, p}},
	} {
		r, rms, ok := Register(c[0], c[1])
		assert.False(t, ok, name)
		assert.Equal(t, Rigid{}, r, name)
		assert.Zero(t, rms, name)
	}
	r, _, ok := Register([]Point{{0, 0}, {3, 4}}, []Point{{1, 1}, {1, 99}})
	assert.True(t, ok, "two points give a direction")
	assert.InDelta(t, math.Pi/2-math.Atan2(4, 3), r.Angle, 1e-14)
}

// No other motion may be better: small turns and shifts are tried.
func TestRegisterIsTheLeastSquare(t *testing.T) {
	r := rand.New(rand.NewPCG(401, 402))
	for range 50 {
		var from, to []Point
		m := Rotate(6 * r.Float64()).Then(Translate(100*r.Float64(), -50))
		for range 2 + r.IntN(20) {
			p := Pt(500*r.Float64(), 500*r.Float64())
			from = append(from, p)
			to = append(to, m.Apply(p).Add(shift(r)))
		}
		best, rms, ok := Register(from, to)
		require.True(t, ok)
		off := func(x Rigid) float64 {
			sum := 0.0
			for i := range from {
				d := x.Affine().Apply(from[i]).Sub(to[i])
				sum += d.Dot(d)
			}
			return math.Sqrt(sum / float64(len(from)))
		}
		assert.InDelta(t, rms, off(best), 1e-10)
		for range 20 {
			other := Rigid{best.Angle + 0.01*(r.Float64()-0.5), best.Shift.Add(shift(r).Mul(0.1))}
			assert.GreaterOrEqual(t, off(other), rms-1e-9)
		}
	}
}

func TestRegisterPathsThatMoved(t *testing.T) {
	r := rand.New(rand.NewPCG(411, 412))
	for range 30 {
		p := randomOutline(r, 0.4)
		m := Rigid{6*r.Float64() - 3, Pt(200*r.Float64(), 300*r.Float64())}
		var from, to []Path
		for i, s := range p {
			from = append(from, Path{s})
			moved := s.Transform(m.Affine())
			a, b := moved.Split(0.3) // cut elsewhere: the way along is the same
			if i%2 == 0 {
				to = append(to, Path{a, b})
			} else {
				to = append(to, Path{moved})
			}
		}
		got, rms, ok := RegisterPaths(from, to, 1e-6)
		require.True(t, ok)
		assert.InDelta(t, m.Angle, got.Angle, 1e-8)
		assert.InDelta(t, 0, got.Shift.Dist(m.Shift), 2e-6)
		assert.Less(t, rms, 1e-6)
	}
	// One straight edge of 100 against one of 104 with the same middle: the places
	// are off by 4 (u - 1/2), whose mean square is 16/12.
	a, b := chain(Pt(0, 0), Pt(100, 0)), chain(Pt(-2, 9), Pt(102, 9))
	got, rms, ok := RegisterPaths([]Path{a}, []Path{b}, 1e-6)
	require.True(t, ok)
	assert.InDelta(t, 0, got.Angle, 1e-12)
	assert.InDelta(t, 0, got.Shift.Dist(Pt(0, 9)), 1e-6)
	assert.InDelta(t, math.Sqrt(16.0/12), rms, 1e-6)

	dot := Path{Line(Pt(1, 1), Pt(1, 1))}
	_, _, ok = RegisterPaths([]Path{a, dot, nil}, []Path{b, dot, nil}, 1e-6)
	assert.True(t, ok, "pairs without length are passed over")
	for _, c := range [][2][]Path{{nil, nil}, {{a}, nil}, {{dot}, {dot}}, {{a, dot}, {b, a}}, {{nil}, {a}}} {
		_, _, ok = RegisterPaths(c[0], c[1], 1e-6)
		assert.False(t, ok)
	}
}

func TestRegisterUndoesAMotion(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		from := []Point{anyPoint(t, "p"), anyPoint(t, "q"), anyPoint(t, "r")}
		if from[0].Dist(from[1]) < 0.01 {
			return
		}
		m := anyMotion(t)
		var to []Point
		for _, p := range from {
			to = append(to, m.Apply(p))
		}
		r, rms, ok := Register(from, to)
		back, _, _ := Register(to, from)
		if !ok {
			t.Fatalf("no motion from %v to %v", from, to)
		}
		agree(t, 0, rms, 1e-9, "rms")
		for i, p := range from {
			agree(t, 0, r.Affine().Apply(p).Dist(to[i]), 1e-9, "there")
			agree(t, 0, back.Affine().Apply(to[i]).Dist(p), 1e-9, "and back")
		}
	})
}
