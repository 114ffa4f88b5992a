package waterfall

import (
	"math"

	"seamkeep/pattern/measure"
)

// MostSteps is how many steps a picture shows; beyond that they are grouped.
const MostSteps = 30

// Grouped gives the data with at most that many steps, at least 1: neighbours that
// changed least are put together, those with a note and those without apart as long
// as that is possible. The sums stay.
func (d Data) Grouped(most int) Data {
	steps := append([]Step(nil), d.Steps...)
	for len(steps) > max(most, 1) {
		at, least := 0, math.Inf(1)
		for i := 0; i+1 < len(steps); i++ {
			if c := cost(steps[i], steps[i+1]); c < least {
				at, least = i, c
			}
		}
		steps[at] = join(steps[at], steps[at+1])
		steps = append(steps[:at+1], steps[at+2:]...)
	}
	d.Steps = steps
	return d
}

// cost is what two steps moved together, in mm; much more where one has a note and
// the other has none. Groups that stand for many weigh a little, so that the groups
// become alike.
func cost(a, b Step) float64 {
	c := math.Abs(a.Change()) + math.Abs(b.Change()) + 1e-6*float64(a.Versions+b.Versions)
	if (a.Note == "") != (b.Note == "") {
		c += 1e9
	}
	return c
}

func join(a, b Step) Step {
	out := a
	out.Until = b.Name()
	if b.Until != "" {
		out.Until = b.Until
	}
	out.Versions = a.Versions + b.Versions
	out.Known = a.Known || b.Known
	out.Before, out.After = a.Before, b.After
	if !a.Known {
		out.Before = b.Before
	}
	out.Skipped = a.Skipped + b.Skipped
	out.Parts = sumParts(a.Parts, b.Parts)
	return out
}

// sumParts adds terms of the same name.
func sumParts(a, b []measure.Term) []measure.Term {
	out := append([]measure.Term(nil), a...)
next:
	for _, t := range b {
		for i := range out {
			if out[i].Name == t.Name {
				out[i].Value = micro(out[i].Value + t.Value)
				continue next
			}
		}
		out = append(out, t)
	}
	return out
}
