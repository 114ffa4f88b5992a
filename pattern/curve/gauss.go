package curve

import "math"

// gaussNode is one pair of nodes, at x and -x, of a Gauss-Legendre rule.
type gaussNode struct{ x, xx, weight float64 }

// gaussRule is a Gauss-Legendre rule on [-1,1] with an even number of nodes:
// the positive ones stand for both signs.
type gaussRule []gaussNode

// The rules that length picks from, written once here and never again.
var (
	gauss4  = newGaussRule(4)
	gauss8  = newGaussRule(8)
	gauss12 = newGaussRule(12)
	gauss16 = newGaussRule(16)
	gauss24 = newGaussRule(24)
	gauss32 = newGaussRule(32)
)

// newGaussRule finds the nodes, the roots of the Legendre polynomial of degree
// n (even), by Newton's method from the usual first guess, and the weights
// 2 / ((1 - x^2) P'(x)^2) (Abramowitz & Stegun 25.4.29, from memory).
func newGaussRule(n int) gaussRule {
	rule := make(gaussRule, n/2)
	for i := range rule {
		x := math.Cos(math.Pi * (float64(i) + 0.75) / (float64(n) + 0.5))
		for range 8 {
			p, dp := legendre(n, x)
			x -= p / dp
		}
		_, dp := legendre(n, x)
		w := 2 / (float64((1-x)*(1+x)) * float64(dp*dp))
		rule[i] = gaussNode{x: x, xx: x * x, weight: w}
	}
	return rule
}

// legendre gives the Legendre polynomial of degree n and its derivative at x.
func legendre(n int, x float64) (p, dp float64) {
	p0, p1 := 1.0, x
	for k := 2; k <= n; k++ {
		f := float64(k)
		p0, p1 = p1, (float64(float64((2*f-1)*x)*p1)-float64((f-1)*p0))/f
	}
	return p1, float64(n) * (float64(x*p1) - p0) / (float64(x*x) - 1)
}
