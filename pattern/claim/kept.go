package claim

import (
	"math"
	"slices"

	"seamkeep/pattern"
)

// Kept is a measure that a note keeps, followed over the versions from that one on.
type Kept struct {
	Claim   Claim   // as the first note that keeps it writes it
	Dir     string  // of the pattern folder
	Since   string  // the name of that version
	Figures []Moved // one a level, or a side of a seam
	Unknown string  // why it cannot be told; empty where it can
	NoBody  bool    // it cannot be told only because no measures of a body are here
	Until   string  // the name of the version in which it went; empty: it is still there
}

// Moved is one figure of what is kept.
type Moved struct {
	Label    string  // "at bust", the side of a seam, or empty
	By       float64 // what it moved by, beside what notes declared
	Declared float64 // what it moved by in versions whose notes say so
	Shares   []Share // of By, in order
}

// Share is what one version moved.
type Share struct {
	Name string
	By   float64
}

// OK tells whether all figures are within the claim's tolerance of what they were
// and what notes have declared since. What only the measures of a body could tell
// refuses nothing, since bodies are private.
func (k *Kept) OK() bool {
	return (k.Unknown == "" || k.NoBody) && !slices.ContainsFunc(k.Figures, func(m Moved) bool { return k.Off(m) })
}

// Off tells whether a figure moved by more than the claim's tolerance.
func (k *Kept) Off(m Moved) bool { return math.Abs(m.By) > k.Claim.Tolerance()+sumSlack }

// sumSlack is what sums of measured lengths may be off by their accuracy, mm.
const sumSlack = 1e-4

// Least is the smallest share that is told, mm or degrees.
const Least = 0.005

// End tells that a version took away what is kept; what it was until then stands.
func (k *Kept) End(name string) {
	if k.Until == "" {
		k.Until = name
	}
}

// Narrow holds what is kept to the tolerance of another claim, if that is narrower.
func (k *Kept) Narrow(c Claim) {
	if c.Tolerance() < k.Claim.Tolerance() {
		k.Claim.Within = pattern.Some(c.Tolerance())
	}
}

// Move adds what one version did to what is kept.
func (k *Kept) Move(name string, drifts []Drift) {
	if k.Until != "" {
		return
	}
	if len(drifts) > 0 && !slices.ContainsFunc(drifts, func(d Drift) bool { return !d.Gone }) {
		k.End(name)
		return
	}
	for _, d := range drifts {
		i := slices.IndexFunc(k.Figures, func(m Moved) bool { return m.Label == d.Label })
		if i < 0 {
			i, k.Figures = len(k.Figures), append(k.Figures, Moved{Label: d.Label})
		}
		m := &k.Figures[i]
		switch {
		case d.Gone: // one level of several went
		case d.Unknown != "" && (k.Unknown == "" || k.NoBody && !d.NoBody): // what no body would tell is graver
			k.Unknown, k.NoBody = "in "+name+": "+d.Unknown, d.NoBody
		case d.Unknown != "":
		case d.Declared:
			m.Declared += d.By
		default:
			m.By += d.By
			if math.Abs(d.By) >= Least {
				m.Shares = append(m.Shares, Share{name, d.By})
			}
		}
	}
}
