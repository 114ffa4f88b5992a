// Package diag says what is wrong with a pattern, and where.
//
// A Problem is data: views print it, hooks count it, notes accept it by its
// address. Nothing in this package prints or exits.
package diag

import (
	"fmt"
	"math"
	"sort"
	"strings"
)

// Severity orders problems by what they do to a commit.
type Severity int

const (
	// Note informs: a caution or a figure that belongs beside a result.
	Note Severity = iota
	// Warning is shown and never refuses a commit.
	Warning
	// Error refuses a commit and makes a command exit with 1.
	Error
)

// String gives the word that reports and JSON use.
func (s Severity) String() string {
	switch s {
	case Error:
		return "error"
	case Warning:
		return "warning"
	default:
		return "note"
	}
}

// Place is where something stands, in the text and on the cloth. The zero
// value of each field means unknown.
type Place struct {
	Garment  string  // name of the garment
	File     string  // path from the root of the repository or folder, with slashes
	Line     int     // from 1
	Column   int     // from 1, in characters
	Piece    string  // name of the piece
	Edge     string  // name of the edge
	At       float64 // mm along the edge from its first corner, where OnEdge is set
	OnEdge   bool    // At holds a distance
	X, Y     float64 // a point of the piece's own frame, mm, where HasPoint is set
	HasPoint bool    // X and Y hold a point
}

// Point gives the place with a point of the piece's own frame, mm. A point that
// is no number (NaN, infinite) is not set.
func (p Place) Point(x, y float64) Place {
	if math.IsNaN(x-x) || math.IsNaN(y-y) {
		return p
	}
	p.X, p.Y, p.HasPoint = x, y, true
	return p
}

// String gives file:line:column, as far as known, else piece.edge.
func (p Place) String() string {
	var b strings.Builder
	if p.File != "" {
		b.WriteString(p.File)
		if p.Line > 0 {
			fmt.Fprintf(&b, ":%d", p.Line)
			if p.Column > 0 {
				fmt.Fprintf(&b, ":%d", p.Column)
			}
		}
		return b.String()
	}
	b.WriteString(p.Piece)
	if p.Edge != "" {
		b.WriteString("." + p.Edge)
	}
	return b.String()
}

// Related is a further place that a problem is about: the other side of a
// seam, the first use of a name.
type Related struct {
	Place Place
	Text  string
}

// Problem is one finding.
type Problem struct {
	ID       string // stable, dotted: "seam.differs"
	Severity Severity
	Place    Place
	Subject  string  // what it is about: a seam, PIECE or PIECE.EDGE; with ID its address
	Amount   float64 // how bad it is, in the finding's own unit; 0 where that has no meaning
	Found    string
	Expected string
	Hint     string // what to do; may hold several lines
	Related  []Related
	Parts    []Part // how bad it is at each of its places, by At; empty: it has only one
}

// Address is how a note names the finding: "ID" or "ID SUBJECT".
func (p Problem) Address() string {
	if p.Subject == "" {
		return p.ID
	}
	return p.ID + " " + p.Subject
}

// Message is "found; expected" without a place.
func (p Problem) Message() string {
	if p.Expected == "" {
		return p.Found
	}
	return p.Found + "; " + p.Expected
}

// List is the problems of one run.
type List []Problem

// Sort orders by file, line, column, then by severity, id and subject, so that
// the same input gives the same report.
func (l List) Sort() {
	sort.SliceStable(l, func(i, j int) bool {
		a, b := l[i], l[j]
		if a.Place.File != b.Place.File {
			return a.Place.File < b.Place.File
		}
		if a.Place.Line != b.Place.Line {
			return a.Place.Line < b.Place.Line
		}
		if a.Place.Column != b.Place.Column {
			return a.Place.Column < b.Place.Column
		}
		if a.Severity != b.Severity {
			return a.Severity > b.Severity
		}
		if a.ID != b.ID {
			return a.ID < b.ID
		}
		return a.Subject < b.Subject
	})
}

// Only gives the problems of one severity, in order.
func (l List) Only(s Severity) List {
	var out List
	for _, p := range l {
		if p.Severity == s {
			out = append(out, p)
		}
	}
	return out
}

// HasErrors tells whether at least one problem is an Error.
func (l List) HasErrors() bool {
	for _, p := range l {
		if p.Severity == Error {
			return true
		}
	}
	return false
}
