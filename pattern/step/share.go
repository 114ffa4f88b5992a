package step

import (
	"fmt"
	"math"
	"slices"

	"seamkeep/pattern"
	"seamkeep/pattern/claim"
	"seamkeep/pattern/diag"
	"seamkeep/pattern/measure"
)

// Shared is what one seam takes of a change of girth.
type Shared struct {
	Seam    string
	Amounts []SharedAt
	Steps   []Step // the same as alterations: take-in, let-out, or both
}

// SharedAt is what a seam takes at a level, mm, with the sign of the girth's change.
type SharedAt struct {
	Level  string  // empty: at every level
	Amount float64 // on both sides of the seam together, on one half of the body
	Edge   float64 // on each edge: half of it
}

// ShareGirth parts changes of girth over seams so that every edge takes the same. The
// changes are claims, Changes of girth by an amount or to one, at one level each or at
// every level. A seam of two pieces of a half garment has four edges round the body, so
// that over N of them a girth change G is G/(2N) a seam and G/(4N) an edge; in a whole
// garment it is G/N and G/(2N); one that is sewn to its own mirror image has two edges.
// Which amount a seam turns into how much girth is told by the claims of its take-in,
// so that what is shared is what a note can prove.
func ShareGirth(g *pattern.Garment, seams []string, changes []claim.Claim) ([]Shared, diag.List) {
	s := &sharer{g: g, out: make([]Shared, len(seams))}
	for i, name := range seams {
		s.out[i].Seam = name
		if g.Seam(name) == nil {
			c := &checker{g: g, s: Step{Place: diag.Place{}}}
			c.name(seamName, name)
			s.problems = append(s.problems, c.problems...)
		}
		if slices.Contains(seams[:i], name) {
			s.fault(diag.Place{}, "seam "+name+" stands there twice", "expected each seam once")
		}
	}
	if len(seams) == 0 {
		s.fault(diag.Place{}, "no seam to share it over", "expected seams that run up and down the body")
	}
	for i, c := range changes {
		if s.problems.HasErrors() {
			break
		}
		if slices.ContainsFunc(changes[:i], func(x claim.Claim) bool { return x.Measure.Level == c.Measure.Level || x.Measure.Level == "" }) || i > 0 && c.Measure.Level == "" {
			s.fault(c.Place, c.String()+" speaks of a level a second time", "expected one change for each level")
			break
		}
		s.share(c)
	}
	if s.problems.HasErrors() {
		return nil, s.problems
	}
	s.steps()
	return s.out, nil
}

type sharer struct {
	g        *pattern.Garment
	out      []Shared
	problems diag.List
}

func (s *sharer) fault(at diag.Place, found, expected string) {
	s.problems = append(s.problems, diag.Problem{ID: PlaceFault, Severity: diag.Error, Place: at, Found: found, Expected: expected})
}

// share parts one change.
func (s *sharer) share(c claim.Claim) {
	by, ok := s.amount(c)
	if !ok {
		return
	}
	sum := 0.0
	for _, x := range s.out {
		girth := s.girthPer(x.Seam, c.Measure.Level)
		if !(girth > 0) {
			s.fault(c.Place, "seam "+x.Seam+" does not change the girth "+s.where(c.Measure.Level), "expected seams of pieces that go round the body there")
			return
		}
		sum += girth
	}
	for i := range s.out {
		s.out[i].Amounts = append(s.out[i].Amounts, SharedAt{Level: c.Measure.Level, Amount: by / sum, Edge: by / sum / 2})
	}
}

// where names a level, or how many there are.
func (s *sharer) where(level string) string {
	if level != "" {
		return "at " + level
	}
	return fmt.Sprintf("at every one of %d levels alike", len((&proof{g: s.g}).girthTold()))
}

// amount gives the change of a claim, which must be one of girth.
func (s *sharer) amount(c claim.Claim) (by float64, ok bool) {
	if c.Kind != claim.Changes || c.Measure.Kind != "girth" {
		s.fault(c.Place, "found "+c.Measure.String(), "expected a change of girth, such as \"girth bust -60\"")
		return 0, false
	}
	if c.Measure.Level != "" {
		if _, known := s.g.Level(c.Measure.Level); !known {
			check := &checker{g: s.g, s: Step{Place: c.Place}}
			check.name(levelName, c.Measure.Level)
			s.problems = append(s.problems, check.problems...)
			return 0, false
		}
	}
	by = c.By.Value
	if c.To.Set {
		values, err := c.Measure.Eval(measure.Input{Garment: s.g})
		if err != nil || len(values) != 1 || !values[0].Known {
			s.fault(c.Place, "the "+c.Measure.String()+" is not one known figure", "expected a level whose girth can be told")
			return 0, false
		}
		by = c.To.Value - values[0].Value
	}
	if math.Abs(by) < 0.001 || math.Abs(by) > largest {
		s.fault(c.Place, c.String()+" changes nothing that can be shared", "expected an amount that is not 0")
		return 0, false
	}
	return by, true
}

// girthPer is by how much the girth at a level, or at every level, shrinks where 1 mm
// is taken in at a seam there; 0 where it is not the same everywhere or not told.
func (s *sharer) girthPer(seam, level string) float64 {
	unit := Step{Verb: "take-in", Seam: seam, Amounts: []Amount{{MM: 1, At: level}}}
	if Check(unit, s.g).HasErrors() {
		return 0
	}
	for _, c := range Claims(unit, s.g) {
		if c.Kind == claim.Changes && c.Measure.Kind == "girth" && (c.Measure.Level == level || c.Measure.Level == "") {
			return -c.By.Value
		}
	}
	return 0
}

// steps writes the amounts of each seam as alterations.
func (s *sharer) steps() {
	for i := range s.out {
		x := &s.out[i]
		for _, verb := range []string{"take-in", "let-out"} {
			st := Step{Verb: verb, Seam: x.Seam}
			for _, a := range x.Amounts {
				if (a.Amount < 0) == (verb == "take-in") {
					st.Amounts = append(st.Amounts, Amount{MM: pattern.RoundLength(math.Abs(a.Amount)), At: a.Level})
				}
			}
			if len(st.Amounts) > 0 {
				x.Steps = append(x.Steps, st)
			}
		}
	}
}
