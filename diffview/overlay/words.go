package overlay

import (
	"fmt"
	"math"
	"strings"

	"seamkeep/pattern"
	"seamkeep/pattern/compare"
)

// minus is the sign as it is printed, not a hyphen.
const minus = "\u2212"

// seen is from where a figure with one decimal shows a change, mm.
const seen = 0.05

func mm(v float64) string {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return "\u2013"
	}
	if math.Abs(v) >= 1e9 {
		return "over 1000 km"
	}
	if math.Abs(v) >= 1e5 { // a slip of the point: too long for a table
		return strings.Replace(fmt.Sprintf("%.0f m", v/1000), "-", minus, 1)
	}
	s := fmt.Sprintf("%.1f", v)
	if s == "-0.0" {
		return "0.0"
	}
	return strings.Replace(s, "-", minus, 1)
}

func optional(o pattern.Opt) string {
	if !o.Set {
		return "\u2013"
	}
	return mm(o.Value)
}

// signed gives a difference; "=" where one decimal shows none.
func signed(v float64) string {
	switch {
	case math.Abs(v) < seen:
		return "="
	case v > 0:
		return "+" + mm(v)
	}
	return mm(v)
}

func difference(p compare.Pair) string {
	if d, ok := p.Delta(); ok {
		return signed(d)
	}
	return ""
}

// moved says how far an edge went sideways.
func moved(e compare.EdgeChange) string {
	switch {
	case e.Status == compare.Unchanged:
		return "="
	case e.Lies():
		return "= " + e.Phrase()
	case !e.Redrawn():
		return string(e.Status)
	case e.Largest.Direction == "":
		return "only its ends"
	}
	s := e.Largest.Direction + " " + amount(e.Largest.Distance)
	if e.Largest.At != "" {
		s += " at " + e.Largest.At
	}
	if o := e.Other; o.Distance >= seen {
		s += ", " + o.Direction + " " + mm(o.Distance)
		if o.At != "" {
			s += " at " + o.At
		}
	}
	return s
}

// amount gives a movement, which is never none.
func amount(v float64) string {
	if v < seen {
		return "under 0.1"
	}
	return mm(v)
}

// sentence says what became of an edge, for readers who do not see it.
func sentence(piece string, e compare.EdgeChange) string {
	name := piece + "." + e.Name
	switch e.Status {
	case compare.Unchanged:
		return name + ": did not change, " + optional(e.Length.After) + " mm"
	case compare.Added:
		return name + ": added, " + optional(e.Length.After) + " mm"
	case compare.Removed:
		return name + ": removed, was " + optional(e.Length.Before) + " mm"
	}
	return fmt.Sprintf("%s: moved %s; length %s to %s mm", name, moved(e), optional(e.Length.Before), optional(e.Length.After))
}

// squares gives an area: in mm2 where it is small; below 1 mm2 it is none, which
// is what rounding the points of a whole outline to 0.001 mm can come to.
func squares(v float64) string {
	switch {
	case math.IsNaN(v) || math.IsInf(v, 0):
		return "\u2013"
	case math.Abs(v) < 1:
		return "none"
	case math.Abs(v) < 99.5:
		return strings.Replace(fmt.Sprintf("%.0f mm\u00b2", v), "-", minus, 1)
	}
	return mm(v/100) + " cm\u00b2"
}

func plural(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}
