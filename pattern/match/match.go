package match

import "seamkeep/pattern"

// Fate says what became of a part.
type Fate string

// The fates. Of edges, Same and Renamed mean that the curve lies where it lay
// (after Register's movement) and Changed that it does not, whatever its name.
// Of the other parts, Same means that it is there in both versions under one
// name; they are never Changed.
const (
	Same    Fate = "same"
	Renamed Fate = "renamed"
	Changed Fate = "changed"
	Split   Fate = "split"
	Joined  Fate = "joined"
	Added   Fate = "added"
	Removed Fate = "removed"
)

// How says by what a part was recognised.
type How string

// The ways to recognise a part; empty for what was added or removed.
const (
	ByName    How = "name"
	ByWas     How = "was"     // the record of a former name
	ByShape   How = "shape"   // it lies, or is shaped, as it was
	ByCorners How = "corners" // an edge between the same corners, a corner between the same edges
	ByOverlap How = "overlap" // part of the edge lies as it lay
)

// DefaultWithin is the step of the numbers in a file, in mm: what lies nearer
// than that has not moved.
const DefaultWithin = pattern.Grid

// DefaultLimit is the number of unmatched pieces of both versions together up
// to which splits and joins are looked for by shape. The idea, and the figure,
// are those of git's diff.renameLimit (git-config(1): a cheap search finds what
// is exactly equal, the exhaustive one runs only up to the limit, 1000).
const DefaultLimit = 1000

// Options say how closely to look. The zero value takes the defaults.
type Options struct {
	Within float64 // mm within which two places are the same; 0 means DefaultWithin
	Limit  int     // see DefaultLimit; 0 means that
}

// hair is what floating point and the search for nearest places may add to a
// distance, in mm, so that a difference of exactly one step is not above it.
const hair = 1e-6

// lengthTol is the accuracy of lengths that are only compared, in mm.
const lengthTol = 1e-6

func (o Options) filled() Options {
	if !(o.Within > 0) {
		o.Within = DefaultWithin
	}
	o.Within += hair
	if o.Limit <= 0 {
		o.Limit = DefaultLimit
	}
	return o
}

// PartMatch says which corner, notch or mark is which: indices into the lists
// of the two pieces, -1 where that version lacks it. Its Fate is Same, Renamed,
// Added or Removed.
type PartMatch struct {
	Fate          Fate
	Before, After int
	How           How
}

// pairing collects the matches of a list of single parts.
type pairing struct {
	before, after []int // the partner of each, -1 while it has none
	how           []How // of each later part
}

func newPairing(a, b int) *pairing {
	p := &pairing{before: make([]int, a), after: make([]int, b), how: make([]How, b)}
	for i := range p.before {
		p.before[i] = -1
	}
	for j := range p.after {
		p.after[j] = -1
	}
	return p
}

func (p *pairing) free(i, j int) bool { return p.before[i] < 0 && p.after[j] < 0 }

func (p *pairing) pair(i, j int, how How) {
	p.before[i], p.after[j], p.how[j] = j, i, how
}

// pairWhere pairs each open later part with the first open earlier one of the
// same key. An empty key pairs with nothing.
func (p *pairing) pairWhere(how How, before, after func(int) string) {
	open := map[string][]int{}
	for i := range p.before {
		if k := before(i); p.before[i] < 0 && k != "" {
			open[k] = append(open[k], i)
		}
	}
	for j := range p.after {
		if k := after(j); p.after[j] < 0 && len(open[k]) > 0 {
			p.pair(open[k][0], j, how)
			open[k] = open[k][1:]
		}
	}
}

// matches lists the pairs in the later order, then what was removed.
func (p *pairing) matches(sameName func(i, j int) bool) []PartMatch {
	var out []PartMatch
	for j, i := range p.after {
		m := PartMatch{Fate: Added, Before: i, After: j, How: p.how[j]}
		if i >= 0 {
			m.Fate = Renamed
			if sameName(i, j) {
				m.Fate = Same
			}
		}
		out = append(out, m)
	}
	for i, j := range p.before {
		if j < 0 {
			out = append(out, PartMatch{Fate: Removed, Before: i, After: -1})
		}
	}
	return out
}
