package step

import "strings"

// String gives the step in its canonical words, which Parse reads as the same
// step. Numbers have at most three decimals. A Step with a verb that is not known
// gives "".
func (s Step) String() string {
	f, ok := formOf(s.Verb)
	if !ok {
		return ""
	}
	words := []string{s.Verb}
	for _, t := range f.slots {
		value := t.print(&s)
		if value == "" {
			continue
		}
		if t.word != "" {
			words = append(words, t.word)
		}
		words = append(words, value)
	}
	return strings.Join(words, " ")
}

// print writes the value of a slot; "" where an optional one is not there.
func (t slot) print(s *Step) string {
	switch t.kind {
	case target:
		if s.Run != "" {
			return s.Run
		}
		return s.Piece + "." + s.Edge
	case amounts:
		return printAmounts(*t.list(s))
	case size, percent, degrees:
		if !*t.set(s) {
			return ""
		}
		return plain(*t.number(s))
	case sharing:
		switch {
		case s.Piece != "":
			return "only " + s.Piece
		case s.Share[0]+s.Share[1] > 0:
			return "share " + plain(s.Share[0]) + ":" + plain(s.Share[1])
		}
		return ""
	case beside:
		return s.Part + " " + s.Level
	case mover:
		if s.Both {
			return "both"
		}
		return s.Piece
	case point:
		return plain(t.point(s).X) + " " + plain(t.point(s).Y)
	}
	return *t.name(s)
}

func printAmounts(list []Amount) string {
	parts := make([]string, len(list))
	for i, a := range list {
		parts[i] = plain(a.MM)
		if a.At != "" {
			parts[i] += " at " + a.At
		}
	}
	return strings.Join(parts, ", ")
}
