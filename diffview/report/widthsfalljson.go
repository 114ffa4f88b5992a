package report

import (
	"seamkeep/diffview/waterfall"
)

type jsonFalls struct {
	Schema  string              `json:"schema"`
	Closure string              `json:"closure"`
	From    string              `json:"from"`
	To      string              `json:"to"`
	Levels  map[string]jsonFall `json:"levels"`
}

type jsonFall struct {
	Start   number     `json:"start"`
	End     number     `json:"end"`
	Wanted  [2]number  `json:"wanted"`
	ByNotes number     `json:"byNotes"`
	Outside number     `json:"outside"`
	Why     string     `json:"why"`
	Steps   []jsonStep `json:"steps"`
}

type jsonStep struct {
	Note    string     `json:"note"`
	Subject string     `json:"subject"`
	ID      string     `json:"id"`
	Change  number     `json:"change"`
	Gap     number     `json:"gap"`
	Why     string     `json:"why"`
	Terms   []jsonTerm `json:"terms"`
}

type jsonTerm struct {
	Name   string `json:"name"`
	Change number `json:"change"`
}

// WaterfallJSON gives the document of a gap's way through versions,
// seamkeep.waterfall/1, as WIDTHS.md and waterfall.schema.json beside this file
// describe it. The data are of one closure and the same versions, and not grouped.
func WaterfallJSON(list []waterfall.Data) any {
	doc := jsonFalls{Schema: "seamkeep.waterfall/1", Levels: map[string]jsonFall{}}
	for _, d := range list {
		doc.Closure, doc.From, doc.To = d.Closure, d.First.Name(), d.Last.Name()
		j := jsonFall{Start: maybe(d.Start), End: maybe(d.End), Why: d.Why, Steps: []jsonStep{}}
		if d.Start.Set {
			j.ByNotes, j.Outside = known(d.ByNotes), known(d.Outside)
		}
		if d.Wanted != nil {
			j.Wanted = [2]number{known(d.Wanted.Min), known(d.Wanted.Max)}
		}
		for _, s := range d.Steps {
			j.Steps = append(j.Steps, stepJSON(s))
		}
		doc.Levels[d.Level] = j
	}
	return doc
}

func stepJSON(s waterfall.Step) jsonStep {
	j := jsonStep{Note: s.Note, Subject: s.Subject, ID: s.Short, Why: s.Why, Terms: []jsonTerm{}}
	if s.Known {
		j.Change, j.Gap = known(s.Change()), known(s.After)
	}
	for _, t := range s.Parts {
		j.Terms = append(j.Terms, jsonTerm{t.Name, known(t.Value)})
	}
	return j
}
