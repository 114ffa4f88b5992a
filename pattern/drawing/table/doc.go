// Package table makes pieces of a table of widths: what a maker who has the
// pattern on paper only can measure with a tape. Each row of the CSV file is one
// height of one piece and its width there; the pieces that come out have
// straight sides between those heights, to start from.
package table
