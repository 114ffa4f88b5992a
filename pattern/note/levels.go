package note

import (
	"slices"

	"seamkeep/pattern"
	"seamkeep/pattern/claim"
	"seamkeep/pattern/measure"
)

// anyLevel gives a measure that may leave its level out without one.
func anyLevel(m measure.Measure) measure.Measure {
	switch m.Kind {
	case "girth", "worn", "gap", "width":
		m.Level = ""
	}
	return m
}

// everyLevel tells whether a claim is on every level of its measure.
func everyLevel(c claim.Claim) bool {
	switch c.Measure.Kind {
	case "girth", "worn", "gap", "width":
		return c.Measure.Level == ""
	}
	return false
}

// spread writes a claim on every level as one a level wherever some other claim
// is on a level of the same measure, so that the two can meet. Within a part the
// claim on the level counts, and the one on every level speaks of the others.
func spread(parts [][]claim.Claim, before *pattern.Garment) [][]claim.Claim {
	named := map[measure.Measure][]string{} // levels that claims name, by measure
	for _, part := range parts {
		for _, c := range part {
			if key := anyLevel(c.Measure); c.Kind != claim.Only && key != c.Measure {
				named[key] = append(named[key], c.Measure.Level)
			}
		}
	}
	out := make([][]claim.Claim, len(parts))
	for i, part := range parts {
		for _, c := range part {
			levels := named[c.Measure]
			if c.Kind == claim.Only || !everyLevel(c) || len(levels) == 0 {
				out[i] = append(out[i], c)
				continue
			}
			for _, level := range levelsOf(before, c.Measure, levels) {
				at := c
				at.Measure.Level = level
				if !speaks(part, at.Measure) {
					out[i] = append(out[i], at)
				}
			}
		}
	}
	return out
}

// speaks tells whether a claim of the part is on exactly this measure.
func speaks(part []claim.Claim, m measure.Measure) bool {
	return slices.ContainsFunc(part, func(c claim.Claim) bool { return c.Kind != claim.Only && c.Measure == m })
}

// levelsOf lists the levels at which a measure can be taken, and those that
// claims name, each once.
func levelsOf(g *pattern.Garment, m measure.Measure, named []string) []string {
	var out []string
	add := func(name string) {
		if !slices.Contains(out, name) {
			out = append(out, name)
		}
	}
	if g != nil {
		for _, l := range g.Levels {
			add(l.Name)
		}
		if p := g.Piece(m.Piece); m.Kind == "width" && p != nil {
			for _, l := range p.Levels {
				add(l.Name)
			}
		}
	}
	for _, name := range named {
		add(name)
	}
	return out
}
