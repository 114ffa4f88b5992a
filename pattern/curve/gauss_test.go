package curve

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"gonum.org/v1/gonum/integrate/quad"
)

// Reference: gonum's own Gauss-Legendre nodes and weights.
func TestGaussRulesAgreeWithGonum(t *testing.T) {
	for n, rule := range map[int]gaussRule{4: gauss4, 8: gauss8, 12: gauss12, 16: gauss16, 24: gauss24, 32: gauss32} {
		x, w := make([]float64, n), make([]float64, n)
		quad.Legendre{}.FixedLocations(x, w, -1, 1)
		assert.Len(t, rule, n/2)
		for i, g := range rule {
			assert.InDelta(t, math.Abs(x[i]), g.x, 4e-16, "node %d of %d", i, n)
			assert.InDelta(t, w[i], g.weight, 4e-16, "weight %d of %d", i, n)
			assert.Equal(t, g.x*g.x, g.xx)
		}
	}
}

// A rule with n nodes integrates x^k exactly for k < 2n: 2/(k+1) for even k.
func TestGaussRulesAreExactForPolynomials(t *testing.T) {
	for n, rule := range map[int]gaussRule{4: gauss4, 8: gauss8, 12: gauss12, 16: gauss16, 24: gauss24, 32: gauss32} {
		for k := 0; k < 2*n; k += 2 {
			sum := 0.0
			for _, g := range rule {
				sum += 2 * g.weight * math.Pow(g.x, float64(k))
			}
			assert.InDelta(t, 2/float64(k+1), sum, 1e-14, "n %d, k %d", n, k)
		}
	}
}
