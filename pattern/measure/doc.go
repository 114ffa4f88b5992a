// Package measure answers every question about a quantity of a garment: one
// small language for widths, girths, gaps, lengths and seams, and the figures
// behind it as values without judgement. Lengths are in mm, areas in mm2,
// angles in degrees; package check judges.
//
// Curve lengths are within the tolerance that a caller gives; Accuracy is the
// one that commands use.
package measure

// Accuracy is the error, in mm, that commands allow on a curve's length.
const Accuracy = 1e-6
