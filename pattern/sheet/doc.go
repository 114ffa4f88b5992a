// Package sheet makes what is cut of what is sewn: the cut line of a piece with
// its allowances, corners and notches. It draws nothing. All in mm, in the
// piece's own frame; what the user's pattern does not allow is a diag.Problem.
package sheet
