package claim

import (
	"strings"

	"seamkeep/pattern"
	"seamkeep/pattern/compare"
	"seamkeep/pattern/diag"
	"seamkeep/pattern/measure"
)

// Check looks up every name of the claims. A name that neither version has is an
// error, with the nearest known one; a name that one version has is Judge's
// concern.
func Check(c *compare.Change, claims []Claim) diag.List {
	if c == nil || c.Before == nil && c.After == nil {
		return nil
	}
	var out diag.List
	for _, claim := range claims {
		if claim.Kind == Only {
			out = append(out, unknownPieces(c, claim)...)
			continue
		}
		if why := unknownName(c, claim.Measure); why != "" {
			found, hint, _ := strings.Cut(why, "; ")
			out = append(out, diag.Problem{
				ID: UnknownName, Severity: diag.Error, Place: claim.Place, Subject: claim.Measure.String(),
				Found: found, Expected: "expected " + measure.Usage(claim.Measure.Kind) + " with names of this pattern", Hint: hint,
			})
		}
	}
	return out
}

// unknownName says which name of a measure is in neither version; "" where one of
// them has them all.
func unknownName(c *compare.Change, m measure.Measure) string {
	why := ""
	for _, g := range []*pattern.Garment{c.Before, c.After} {
		if g == nil {
			continue
		}
		_, err := m.Eval(measure.Input{Garment: g, Body: c.Body})
		if err == nil || !strings.HasPrefix(err.Error(), "measure ") {
			return "" // all names are known; whatever else is wrong, Judge tells
		}
		why = err.Error()
	}
	return why
}

func unknownPieces(c *compare.Change, claim Claim) diag.List {
	known := map[string]bool{Garment: true}
	names := []string{Garment}
	for _, g := range []*pattern.Garment{c.Before, c.After} {
		if g == nil {
			continue
		}
		for _, p := range g.Pieces {
			if !known[p.Name] {
				known[p.Name] = true
				names = append(names, p.Name)
			}
		}
	}
	var out diag.List
	for _, name := range claim.Pieces {
		if !known[name] {
			out = append(out, diag.Problem{
				ID: UnknownName, Severity: diag.Error, Place: claim.Place, Subject: name,
				Found: "there is no piece " + name, Expected: "expected pieces of this pattern, or the word garment", Hint: nearest(name, names),
			})
		}
	}
	return out
}
