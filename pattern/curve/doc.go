// Package curve is plane geometry in mm: straight lines and cubic Bezier curves,
// and the chains of them that make the outline of a flat piece. It knows nothing
// about clothes. Wherever a result is not exact, the accuracy is an argument.
//
// Exact but for the rounding of doubles (about 1e-15 of the size): points,
// splitting, reversing, bounds, areas, images under an affine map, the best rigid
// motion between points.
//
// With a bound that is guaranteed: lengths and places at a length (Length,
// Locate, ParamAt, PointAt, SplitAt), flattening, the distance of the nearest
// place (1e-7 mm), how far one path strays from another (Directed, Hausdorff,
// Lies), areas gained and lost (Areas). Lengths come from Gauss-Legendre rules whose error is bounded
// beforehand from the roots of the derivative (L. N. Trefethen, Approximation
// Theory and Approximation Practice, theorem 19.3, from memory); the halving
// where no rule suffices rests on chord <= length <= control polygon. Behind
// nearest places, boxes and crossings stands that a curve lies in the hull of
// its control points, and that its polynomials have no more turns than their
// Bernstein coefficients (R. T. Farouki, The Bernstein polynomial basis: a
// centennial retrospective, 2012, from memory).
//
// With a tolerance for "the same place": crossings (1e-6 mm), touches of two
// curves (1e-9 mm).
//
// Measured at feet, and between them bounded by the cubic through values and slopes:
// parallel curves (Parallel, Offset; see there for what that leaves out).
//
// Sampled, then bounded between the samples and refined: the extremes of Sideways
// (1e-4 mm, see there for what is left out). Sampled: RegisterPaths.
//
// Sums of products are rounded one by one by explicit conversions, so that
// machines with and without a fused multiply-add give the same bits. Rotate
// alone takes the sine of the machine's library.
//
// Coordinates are meant to be finite and up to 1e5 in size. Then nothing gives
// NaN or fails to end, and degenerate input (handles without length, points that
// coincide, cusps, segments that fold back) is answered as each function says.
package curve
