// Package vector reads the lines of a vector drawing (SVG) in true mm. It knows
// nothing about clothes.
//
// Read gives every line that is seen, closed or open, large or small, as the
// file draws it: the direction of drawing is kept, a mirrored group mirrors.
// What cannot be read truly is refused or listed as skipped, with the way out;
// nothing is left out in silence, and nothing outside the file is fetched.
//
// The data flows one way: bytes -> text (encoding.go) -> elements (tree.go,
// entity.go, element.go) -> rules of the style sheets (css.go, selector.go,
// style.go) -> the size of the page (size.go, viewport.go) -> lines (walk.go,
// use.go, shape.go, pathdata.go, arc.go, transform.go) -> the scale checked
// against lengths that are known (known.go).
//
// Accuracy: lines and curves are exact but for the rounding of doubles; arcs,
// circles, ellipses and round corners become cubics within 0.0005 mm.
package vector
