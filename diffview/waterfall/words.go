package waterfall

import (
	"fmt"
	"strings"
)

// minus is the sign as it is printed, not a hyphen.
const minus = "\u2212"

// mm prints a gap with one decimal.
func mm(v float64) string {
	s := fmt.Sprintf("%.1f", tenth(v))
	if s == "-0.0" {
		return "0.0"
	}
	return strings.Replace(s, "-", minus, 1)
}

// signed prints a change; "=" where there is none.
func signed(v float64) string {
	switch {
	case v == 0:
		return "="
	case v > 0:
		return "+" + mm(v)
	}
	return mm(v)
}

// Label names the step, or the group: "3 notes, a to b".
func (s Step) Label() string {
	text := s.Name()
	if s.Versions > 1 {
		text = fmt.Sprintf("%d versions, %s to %s", s.Versions, s.Name(), s.Until)
	}
	switch {
	case s.Skipped == 1 && s.Versions == 1:
		text += " and 1 version before it"
	case s.Skipped > 1 && s.Versions == 1:
		text += fmt.Sprintf(" and %d versions before it", s.Skipped)
	}
	return text
}

// Sentence tells the step for a reader who does not see it.
func (s Step) Sentence() string {
	switch {
	case !s.Known:
		return s.Label() + ": not known, " + s.Why
	case s.Shown() == 0:
		return s.Label() + ": " + mm(s.After) + " as before"
	case s.Shown() > 0:
		return fmt.Sprintf("%s: %s wider, %s", s.Label(), mm(s.Shown()), mm(s.After))
	}
	return fmt.Sprintf("%s: %s narrower, %s", s.Label(), mm(-s.Shown()), mm(s.After))
}

// Verdict holds the last gap against what is wanted; "" where nothing is recorded.
func (d Data) Verdict() string {
	if d.Wanted == nil {
		return ""
	}
	text := fmt.Sprintf("wanted %s to %s", plainNumber(d.Wanted.Min), plainNumber(d.Wanted.Max))
	gap := tenth(d.End.Value)
	switch {
	case !d.End.Set:
		return text
	case gap < d.Wanted.Min:
		return text + ": " + mm(d.Wanted.Min-gap) + " too narrow"
	case gap > d.Wanted.Max:
		return text + ": " + mm(gap-d.Wanted.Max) + " too wide"
	}
	return text + ": met"
}

func plainNumber(v float64) string { return strings.TrimSuffix(mm(v), ".0") }

// title is the picture's.
func (d Data) title() string { return "Gap " + d.Closure + " at " + d.Level }

// described tells the whole picture in words.
func (d Data) described() string {
	if !d.Start.Set {
		return "The gap is not known: " + d.Why + "."
	}
	parts := []string{fmt.Sprintf("The predicted gap was %s mm (%s) and is %s mm (%s)", mm(d.Start.Value), d.First.Name(), mm(d.End.Value), d.Last.Name())}
	if v := d.Verdict(); v != "" {
		parts = append(parts, v)
	}
	for _, s := range d.Steps {
		parts = append(parts, s.Sentence())
	}
	return strings.Join(parts, ". ") + "."
}
