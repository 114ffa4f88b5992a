package describe

import (
	"fmt"
	"math"
	"strings"

	"seamkeep/pattern"
)

// proposeSeam proposes the seam between two neighbours where both sides are free
// and agree.
func (d *draft) proposeSeam(l link) {
	if p, ok := d.seam(l); ok {
		d.add(p)
	}
}

// seam makes the proposal of a seam; false where a side is unknown, in a seam
// already or of another length.
func (d *draft) seam(l link) (Proposal, bool) {
	a, b := d.panels[l.a], d.panels[l.b]
	_, bound := d.sewn()
	if !a.back.known() || !b.front.known() || isBound(bound, a.back) || isBound(bound, b.front) {
		return Proposal{}, false
	}
	if misfit(a.backHeld, b.frontHeld) > Agree {
		return Proposal{}, false
	}
	s := &pattern.Seam{Name: d.freeSeam(a.piece.Name + "-" + b.piece.Name), First: a.back.refs(), Second: b.front.refs()}
	return Proposal{
		Kind: OfSeam, Sentence: seamSentence(s, a.backHeld, b.frontHeld),
		Edges: append(a.back.refs(), b.front.refs()...), Change: Change{Seam: s},
	}, true
}

// freeSeam gives a name that no seam has.
func (d *draft) freeSeam(name string) string {
	return free(name, func(n string) bool { return d.g.Seam(n) != nil })
}

// free adds a number to a name that is taken, within the length of a name.
func free(name string, taken func(string) bool) string {
	if len(name) <= pattern.MaxName && !taken(name) {
		return name
	}
	for i := 2; ; i++ {
		tail := fmt.Sprintf("-%d", i)
		n := strings.TrimRight(name[:min(len(name), pattern.MaxName-len(tail))], "-") + tail
		if !taken(n) {
			return n
		}
	}
}

// seamSentence tells both lengths, and those below and above the waist.
func seamSentence(s *pattern.Seam, a, b held) string {
	text := fmt.Sprintf("seam %s: %s %.1f with %s %.1f, %s", s.Name, joined(s.First), a.length, joined(s.Second), b.length, apart(a.length, b.length))
	if a.waist.Set && b.waist.Set {
		text += fmt.Sprintf("; below the waist %.1f with %.1f, above %.1f with %.1f",
			a.waist.Value, b.waist.Value, a.length-a.waist.Value, b.length-b.waist.Value)
	}
	return text
}

func apart(a, b float64) string {
	if off := math.Abs(a - b); off >= 0.05 {
		return fmt.Sprintf("%.1f apart", off)
	}
	return "equal"
}

// joined writes the edges of a side.
func joined(refs []pattern.Ref) string {
	text := make([]string, len(refs))
	for i, r := range refs {
		text[i] = r.String()
	}
	return strings.Join(text, " + ")
}

func words(list []string) string { return strings.Join(list, ", ") }

// mostQuestions bounds the seams that are asked about: of many equal panels
// every edge fits every other.
const mostQuestions = 24

// askSeams asks about sides that several others fit: the seams of one back side
// are one choice.
func (d *draft) askSeams(open []link) {
	asked := 0
	done := map[int]bool{}
	for _, first := range open {
		if done[first.a] {
			continue
		}
		done[first.a] = true
		var list []Proposal
		for _, l := range open {
			if l.a != first.a || asked == mostQuestions {
				continue
			}
			if p, ok := d.seam(l); ok {
				list = append(list, p)
				asked++
			}
		}
		d.ask(list...)
	}
}
