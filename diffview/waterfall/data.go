package waterfall

import (
	"math"

	"seamkeep/pattern"
	"seamkeep/pattern/measure"
)

// Version is one version of a garment and what its note says. All words may come
// from strangers.
type Version struct {
	Note    string           // name of its alteration note; empty: it has none
	Subject string           // first line of its message
	Short   string           // short id, or empty
	Garment *pattern.Garment // nil: it has no pattern that can be read
}

// Data is how the gap of a closure at a level came about.
type Data struct {
	Closure, Level string
	First, Last    Version         // the first version whose gap is known, else the first; and the last one
	Start, End     pattern.Opt     // the first gap that is known and the last one, mm
	Steps          []Step          // one for each version after the first, in their order
	Wanted         *pattern.Wanted // what the last version aims at; nil: nothing recorded
	ByNotes        float64         // what the versions with a note changed, mm
	Outside        float64         // what the others changed; ByNotes + Outside = End - Start
	Why            string          // why no gap is known at all; empty where one is
}

// Step is what one version, or a group of them, did to the gap.
type Step struct {
	Version
	Until         string         // of a group: the last one's name; empty for a single version
	Versions      int            // how many it stands for, from 1
	Known         bool           // false: the gap cannot be told in this version
	Why           string         // why it is not known
	Before, After float64        // gap, mm, to 1e-6; where it is not known both are the last known one
	Skipped       int            // versions just before it whose gap is not known: their change is in this one
	Parts         []measure.Term // which terms of the gap changed, over all lacings, mm
}

// Change is by how much the gap grew, mm.
func (s Step) Change() float64 { return micro(s.After - s.Before) }

// Shown is the change as it is printed: the difference of the gaps rounded to 0.1
// mm, up to 0.1 off Change.
func (s Step) Shown() float64 { return tenth(tenth(s.After) - tenth(s.Before)) }

// Printed is what the versions with a note and those without one changed, as sums
// of the printed steps: both together are the printed change of the gap. A group
// counts as its first version does: take it before grouping.
func (d Data) Printed() (byNotes, outside float64) {
	for _, s := range d.Steps {
		if s.Note != "" {
			byNotes += s.Shown()
		} else {
			outside += s.Shown()
		}
	}
	return tenth(byNotes), tenth(outside)
}

// AnyOutside tells whether a version without a note has a known gap among the steps.
func (d Data) AnyOutside() bool {
	for _, s := range d.Steps {
		if s.Note == "" && s.Known {
			return true
		}
	}
	return false
}

func micro(v float64) float64 { return math.Round(v*1e6) / 1e6 }
func tenth(v float64) float64 { return math.Round(v*10) / 10 }

// Name is the note's name, or the id where there is no note.
func (v Version) Name() string {
	switch {
	case v.Note != "":
		return v.Note
	case v.Short != "":
		return "no note (" + v.Short + ")"
	}
	return "no note"
}

// Of follows the gap of a closure at a level through versions, oldest first. The body
// is the same for all; nil: no gap is known. A version whose gap cannot be told
// passes its change on to the next one that can. Fewer than two versions have no
// steps.
func Of(versions []Version, body *pattern.Body, closure, level string) Data {
	d := Data{Closure: closure, Level: level}
	if len(versions) == 0 {
		d.Why = "there is no version"
		return d
	}
	d.First, d.Last = versions[0], versions[len(versions)-1]
	var last *measure.Gap
	skipped := 0
	for i, v := range versions {
		gap, why := gapOf(v.Garment, body, closure, level)
		step := Step{Version: v, Versions: 1, Known: why == "", Why: why}
		switch {
		case why != "":
			d.Why = why
			step.Before, step.After = d.End.Value, d.End.Value
			if last != nil {
				skipped++
			}
		case last == nil:
			d.Start = pattern.Some(micro(gap.Value()))
			d.End = d.Start
			step.Before, step.After = d.Start.Value, d.Start.Value
			last, d.First = &gap, v
			for j := range d.Steps { // before the gap was first known
				d.Steps[j].Before, d.Steps[j].After = d.Start.Value, d.Start.Value
			}
		default:
			step.Before, step.After = d.End.Value, micro(gap.Value())
			step.Parts, step.Skipped = parts(*last, gap), skipped
			d.End, last, skipped = pattern.Some(step.After), &gap, 0
			d.add(step)
		}
		if i > 0 {
			d.Steps = append(d.Steps, step)
		}
	}
	if last != nil {
		d.Why = ""
	}
	d.Wanted = wantedOf(d.Last.Garment, closure, level)
	return d
}

func (d *Data) add(s Step) {
	if s.Note == "" {
		d.Outside = micro(d.Outside + s.Change())
	} else {
		d.ByNotes = micro(d.ByNotes + s.Change())
	}
}

func gapOf(g *pattern.Garment, body *pattern.Body, closure, level string) (measure.Gap, string) {
	if g == nil {
		return measure.Gap{}, "that version has no pattern that can be read"
	}
	c := g.Closure(closure)
	if c == nil {
		return measure.Gap{}, "that version has no closure " + closure
	}
	if _, ok := g.Level(level); !ok {
		return measure.Gap{}, "that version has no level " + level
	}
	if gap, ok := measure.GapAt(g, body, c, level); ok {
		return gap, ""
	}
	m := measure.Measure{Kind: "gap", Closure: closure, Level: level}
	list, err := m.Eval(measure.Input{Garment: g, Body: body})
	if err != nil || len(list) != 1 || list[0].Why == "" {
		return measure.Gap{}, "the gap cannot be told"
	}
	return measure.Gap{}, list[0].Why
}

// parts lists the terms that differ, by what they changed.
func parts(before, after measure.Gap) []measure.Term {
	var out []measure.Term
	a, b := before.Terms(), after.Terms()
	for i := range a {
		if d := micro(b[i].Value - a[i].Value); d != 0 {
			out = append(out, measure.Term{Name: a[i].Name, Value: d})
		}
	}
	return out
}

func wantedOf(g *pattern.Garment, closure, level string) *pattern.Wanted {
	if g == nil {
		return nil
	}
	for _, w := range g.Wanted {
		if w.Closure == closure && w.Level == level {
			return &w
		}
	}
	return nil
}
