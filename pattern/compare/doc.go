// Package compare tells what changed between two versions of a garment: which
// pieces and edges, how far each edge moved sideways and where, and what that
// did to widths, girths, gaps and seams.
//
// A Change is a value that every view reads. It has two layers: Edits, the
// records that differ, exactly, so that Apply carries one version into the
// other; and the movement of outlines, empty where no point moved by more than
// Still. Package match says which part is which, by shape before names. Pieces
// are compared in their own frames; one that moved or turned as a whole is laid
// on its edges that did not change, unless levels hold on it. Lengths are in
// mm, areas in mm2.
package compare
