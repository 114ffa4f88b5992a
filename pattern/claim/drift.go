package claim

import (
	"slices"
	"strings"

	"seamkeep/pattern"
	"seamkeep/pattern/compare"
	"seamkeep/pattern/measure"
)

// Drift is what became of one figure of a measure from a version to the next.
type Drift struct {
	Label    string  // "at bust", the side of a seam, or empty
	By       float64 // in the unit of the measure
	Declared bool    // a claim of the note says that it changes
	Unknown  string  // why it cannot be told; empty where it can
	Gone     bool    // it cannot, since the later version has nothing of the name
	NoBody   bool    // it cannot be told only because no measures of a body are here
}

// Drifts measures what a claim keeps from a version to the next, whatever that one's
// note says of it: one figure a level or a side. Levels at which neither version has
// a figure are left out. declared are the claims of the notes between the two.
func Drifts(c *compare.Change, kept Claim, declared []Claim) []Drift {
	b := newBench(c)
	figures := b.figures(kept.Measure)
	if b.lacksBody(kept) && b.before != nil && lacings(b.before) == lacings(b.after) {
		figures = b.withoutBody(kept.Measure)
	}
	told, _ := tellable(kept, figures)
	var out []Drift
	for _, f := range told {
		m := kept.Measure
		label := f.of
		if f.level != "" {
			m.Level, label = f.level, "at "+f.level
		}
		d := Drift{Label: label, Declared: b.declares(declared, m)}
		if f.known() {
			d.By = f.delta()
		} else {
			d.Unknown, d.NoBody = f.whyNot(), b.lacksBody(kept)
			d.Gone = b.lacks(m)
		}
		out = append(out, d)
	}
	return out
}

// lacks tells whether the later version has nothing of a name that a measure needs.
func (b bench) lacks(m measure.Measure) bool {
	if b.after == nil {
		return true
	}
	_, err := m.Eval(measure.Input{Garment: b.after, Body: b.change.Body})
	return err != nil && strings.HasPrefix(err.Error(), "measure ")
}

// declares tells whether claims say that a measure at a level changes, or something
// that it follows from: the figures round the body with each other, an edge with its
// seam.
func (b bench) declares(claims []Claim, m measure.Measure) bool {
	return slices.ContainsFunc(claims, func(c Claim) bool {
		x := c.Measure
		if c.Kind != Changes || x.Level != "" && m.Level != "" && x.Level != m.Level {
			return false
		}
		switch {
		case anyLevel(x) == anyLevel(m):
			return true
		case m.Kind == "girth" || m.Kind == "worn" || m.Kind == "gap":
			return c.names(m.Kind, m.Closure, m.Level)
		}
		sewn := func(seam, of measure.Measure) bool {
			return seam.Kind == "seam" && of.Kind == "length" && slices.ContainsFunc(b.sides(seam.Seam), func(r pattern.Ref) bool {
				return r.Piece == of.Piece && r.Edge == of.Edge
			})
		}
		return sewn(x, m) || sewn(m, x)
	})
}

// Later gives a claim in the names that its piece and edge have in the later version
// of a change.
func Later(c *compare.Change, kept Claim) Claim {
	m := &kept.Measure
	for _, p := range c.Pieces {
		if m.Piece == "" || p.Before == nil || p.After == nil || p.Before.Name != m.Piece {
			continue
		}
		for _, e := range p.Edges {
			if len(e.Was) == 1 && e.Was[0] == m.Edge {
				m.Edge = e.Name
				break
			}
		}
		m.Piece = p.Name
		break
	}
	return kept
}
