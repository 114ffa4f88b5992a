// Package compare tells what changed between two versions of a garment: which
// pieces and edges, how far each edge moved sideways and where, and what that
// did to widths, girths, gaps and seams.
//
// A Change is a value that every view reads; views compute nothing of their
// own. Pieces and edges are matched by name and compared in the pieces' own
// frames. Lengths are in mm, areas in mm2.
package compare
