// Package note reads the alteration note that a commit's message is: subject,
// free text, and trailers in groups, one group an alteration.
//
//	Release the hip
//
//	Alteration: hip-release
//	Because: fitting 2 pulled at the hip when seated
//	Changes: girth low-hip +24
//	Keeps: girth waist, girth bust
//	Only: side-front, underarm
//
// parse.go reads a message whose trailers git has found, unseen.go finds lines of
// ours that git does not see and mend.go moves them to where it does;
// compose.go puts the claims of several groups together, squash.go several
// messages; write.go prints; offer.go suggests what was measured.
//
// The package knows messages as text and never asks git: what git takes for
// trailers is an argument, with the lines (Locate finds them).
package note
