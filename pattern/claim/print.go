package claim

import (
	"fmt"
	"strings"
)

// String gives the claim as Parse reads it, without the key: "girth waist +24
// within 2". Numbers have at most three decimals.
func (c Claim) String() string {
	if c.Kind == Only {
		return strings.Join(c.Pieces, ", ")
	}
	s := c.Measure.String()
	switch {
	case c.Kind != Changes:
	case c.To.Set:
		s += " to " + FormatNumber(c.To.Value)
	default:
		s += " " + signed(c.By.Value)
	}
	if c.Within.Set {
		s += " within " + FormatNumber(c.Within.Value)
	}
	return s
}

// Line gives the claim as a line of a note: "Changes: girth waist +24".
func (c Claim) Line() string { return string(c.Kind) + ": " + c.String() }

// claimed says in words what the claim says, and where in the note, if it does
// not say so itself.
func (c Claim) claimed() string {
	if c.Follows == "" {
		return c.promise()
	}
	return c.promise() + ", which follows from " + c.Follows
}

func (c Claim) promise() string {
	switch {
	case c.Kind == Only && len(c.Pieces) == 0:
		return "nothing changed"
	case c.Kind == Only:
		return "nothing changed but " + strings.Join(c.Pieces, ", ")
	}
	s := c.inWords()
	switch {
	case c.Kind == Keeps:
		s += " unchanged"
	case c.To.Set:
		s += " to be " + FormatNumber(c.To.Value)
	default:
		s += " " + signed(c.By.Value)
	}
	return fmt.Sprintf("%s, within %s", s, FormatNumber(c.Tolerance()))
}

// inWords names the measure as one speaks of it: "girth at bust".
func (c Claim) inWords() string {
	m := c.Measure
	at := m.Level
	m.Level = ""
	switch {
	case !perLevel(m.Kind):
		return c.Measure.String()
	case at == "":
		return m.String() + " at every level"
	}
	return m.String() + " at " + at
}

// perLevel tells whether a measure of the kind has a figure at each level.
func perLevel(measureKind string) bool {
	switch measureKind {
	case "girth", "worn", "gap", "width":
		return true
	}
	return false
}
