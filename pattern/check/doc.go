// Package check finds what is wrong with a garment: outlines that cross
// themselves, seams whose sides do not match, gaps outside the wanted range.
//
// Findings are diag.Problems with a stable id. An error refuses a commit; a
// warning and a note never do. Each Check declares what it reads; adding one
// is adding an entry to All.
package check
