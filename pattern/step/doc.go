// Package step is the one grammar of alterations, in the words of the trade:
//
//	take-in side-front-underarm 10 at waist, 4 at high-hip
//	move-seam side-back-back 14 at bust, 6 at waist to side-back
//	trim neckline 6 at side-back-back, 10 at back-button-stand
//
// A note says in these words what was done, and the commands that alter a
// pattern read the same ones. Parse reads a step, Check looks its names up,
// Claims gives what must be true of the altered garment if the step was made
// and nothing else, and Unproven says in words what those claims leave open.
// STEPS.md is the page for makers; its examples are read by the tests.
//
// One table (table.go) serves the reader, the printer, the page and the fuzz
// tests. Amounts are in mm, measured along a level line or along a seam,
// pivots in degrees.
package step
