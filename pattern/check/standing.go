package check

import (
	"fmt"
	"strconv"
	"strings"

	"seamkeep/pattern"
	"seamkeep/pattern/diag"
)

// Standing says whether the seams of a garment match, in the words that sheets, lists
// and status share.
type Standing struct {
	Limit   float64  // the greatest that a seam may be off, mm: the garment's tolerance or a wider one of a seam
	Rough   bool     // it is that of a rough mock-up
	Seams   int      // how many there are
	Off     []string // those that are off by more or cannot be walked, with how far in mm
	Faults  []string // addresses of what else must not be cut
	Purpose []string // seams that are off by more and accepted in the garment file, with how far
}

// StandingOf runs the checks and says how the garment stands.
func StandingOf(in Input) Standing { return StandingIn(in.Garment, Run(in)) }

// StandingIn says the same of findings that are there already.
func StandingIn(g *pattern.Garment, all diag.List) Standing {
	s := Standing{Rough: g.Rough, Seams: len(g.Seams)}
	s.Limit, _ = g.SeamTolerance(nil)
	for i := range g.Seams {
		own, _ := g.SeamTolerance(&g.Seams[i])
		s.Limit = max(s.Limit, own)
	}
	for _, x := range all {
		seam := strings.HasPrefix(x.ID, "seam.")
		switch {
		case x.Severity == diag.Error && seam:
			s.Off = append(s.Off, fmt.Sprintf("%s %.2f", x.Subject, x.Amount))
		case x.Severity == diag.Error:
			s.Faults = append(s.Faults, x.Address())
		case x.Severity == diag.Note && (x.ID == "seam.differs" || x.ID == "seam.segment"):
			s.Purpose = append(s.Purpose, fmt.Sprintf("%s %.2f", x.Subject, x.Amount))
		}
	}
	return s
}

// Walked tells whether there are seams, and all match but those that are off on purpose.
func (s Standing) Walked() bool { return s.Seams > 0 && len(s.Off)+len(s.Faults) == 0 }

// Head is the standing in a few words: WALKED and the tolerance, with how many are off
// on purpose, or NOT WALKED.
func (s Standing) Head() string {
	if !s.Walked() {
		return "NOT WALKED"
	}
	words := "WALKED " + strconv.FormatFloat(s.Limit, 'f', -1, 64)
	if n := len(s.Purpose); n > 0 {
		words += fmt.Sprintf(" BUT %d ON PURPOSE", n)
	}
	return words
}

// Words are the head with the first thing that is off and how many more there are.
func (s Standing) Words() string {
	off := s.Purpose
	switch {
	case s.Seams == 0 && len(s.Faults) == 0:
		return s.Head() + " (no seams described)"
	case !s.Walked():
		off = append(s.Off[:len(s.Off):len(s.Off)], s.Faults...)
	case len(off) == 0:
		return s.Head()
	}
	words := s.Head() + ": " + off[0]
	if n := len(off) - 1; n > 0 {
		words += fmt.Sprintf(" and %d more", n)
	}
	return words
}
