// Package pattern is the model of a garment's flat pattern: pieces with named
// corners and edges, and a garment that says how they are sewn, where they
// fasten and where they lie on the body.
//
// Lengths are in mm, angles in degrees, stretch in percent. A piece is drawn
// on its sewing line, as seen on the right side of the cloth: y up, x towards
// the wearer's back, the waist at y = 0, its outline anticlockwise. Each part
// carries the Place where its text stands, so that every finding can name it.
//
// The model knows nothing about text, git or pictures. Reading gives parts
// that may refer to names that do not exist; the methods that follow a name
// say so with an ok value and never panic.
package pattern
