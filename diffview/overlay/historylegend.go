package overlay

import (
	"fmt"
	"slices"
	"strings"

	"seamkeep/pattern/curve"
	"seamkeep/pattern/svg"
)

// legend lists the eras, newest first.
func (s *stack) legend(eras []*era) {
	if len(eras) == 0 {
		return
	}
	s.line("Versions, newest first", heading())
	s.space(1.5)
	left := 0.0
	for _, e := range eras {
		if e.shown {
			left = max(left, tagWidth(e.number()))
		}
	}
	left += 4
	for i := len(eras) - 1; i >= 0; i-- {
		e := eras[i]
		switch {
		case e.shown:
			s.entry(e, left)
		case eras[i+1].shown: // the first of those that are not listed
			s.space(1)
			s.line(fmt.Sprintf("and %d more, drawn but not listed", len(eras)-MostNotes), small())
			s.space(2)
		}
	}
}

// entry lists one era: its number, what it is called, when, its tags, what was
// done and why, and how far its line lies from the next one.
func (s *stack) entry(e *era, left float64) {
	words := e.version.Label
	if cleared(words) == "" {
		words = "version " + fmt.Sprint(e.first)
	}
	if e.version.When != "" {
		words += ", " + e.version.When
	}
	if tags := e.version.tagged(); tags != "" {
		words += ", " + tags
	}
	s.add(0, func(pg *page, x, y float64) {
		pg.tag(curve.Pt(x+left/2-2, y+2.9), e.number(), len(e.ring) > 0 && e.next == nil)
	})
	inner := s.width - left
	put := func(text string, st style, most int) {
		for _, line := range wrap(text, st, inner, most) {
			s.add(lead(st), func(pg *page, x, y float64) { pg.text(x+left, y+st.Size, line, st) })
		}
	}
	put(words, strong(), 3)
	for _, line := range e.version.reasons() {
		put(line, plain(), 3)
	}
	put(strings.Join(e.facts(), "; "), small(), 3)
	s.space(2.4)
}

// facts say what the drawing shows of an era.
func (e *era) facts() []string {
	var out []string
	switch {
	case e.why != "":
		out = append(out, e.why+"; "+notDrawn)
	case len(e.ring) == 0:
		out = append(out, "the piece is absent")
	case e.next == nil:
		out = append(out, "drawn heavy")
	default:
		if far := e.departs().Dist; far > 0 {
			out = append(out, "up to "+amount(far)+" mm from the next")
		}
	}
	if n := e.last - e.first; n > 0 {
		out = append(out, "the same up to version "+fmt.Sprint(e.last))
	}
	return append(out, e.later...)
}

// laterTags names the tags of a version that looks like the one before it, with
// its number: the list has no entry of its own for it.
func laterTags(v Version, number int) []string {
	if tags := v.tagged(); tags != "" {
		return []string{fmt.Sprintf("%s at version %d", tags, number)}
	}
	return nil
}

// tagged names the tags of a version: "tag mock-up-1", "tags a, b".
func (v Version) tagged() string {
	tags := slices.DeleteFunc(slices.Clone(v.Tags), func(t string) bool { return cleared(t) == "" })
	switch len(tags) {
	case 0:
		return ""
	case 1:
		return "tag " + tags[0]
	}
	return "tags " + strings.Join(tags, ", ")
}

// reasons give what was done, unless the label says it already, and why.
func (v Version) reasons() []string {
	var out []string
	label, note := cleared(v.Label), cleared(v.Note)
	if note != "" && label != note && !strings.HasPrefix(label, note+" (") {
		out = append(out, v.Note)
	}
	if cleared(v.Because) != "" {
		out = append(out, "because: "+v.Because)
	}
	return out
}

// cleared gives a stranger's words as they are shown.
func cleared(text string) string { return strings.TrimSpace(svg.CleanText(text)) }

// historyWords says the same for readers who do not see it.
func historyWords(versions []Version, eras []*era, faults []string) string {
	parts := append([]string{notForCutting, strings.TrimSuffix(historyTally(versions, eras), ".")}, faults...)
	for i := len(eras) - 1; i >= 0; i-- {
		e := eras[i]
		if !e.shown {
			continue
		}
		words := e.numbers() + " " + e.version.Label
		switch {
		case e.why != "":
			words += " (not drawn)"
		case len(e.ring) == 0:
			words += " (absent)"
		}
		if tags := e.version.tagged(); tags != "" {
			words += ", " + tags
		}
		words += strings.Join(append([]string{""}, e.version.reasons()...), ": ")
		parts = append(parts, words)
	}
	text := svg.CleanText(strings.Join(parts, ". ") + ".")
	if runes := []rune(text); len(runes) > mostWords {
		text = string(runes[:mostWords]) + "\u2026"
	}
	return text
}
