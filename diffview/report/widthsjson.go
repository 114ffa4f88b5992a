package report

import (
	"seamkeep/pattern/check"
	"seamkeep/pattern/compare"
)

type jsonWidths struct {
	Schema  string                             `json:"schema"`
	Levels  []string                           `json:"levels"`
	Pieces  []jsonPieceWidths                  `json:"pieces"`
	Sums    map[string][2]number               `json:"sums"`
	Girth   map[string][2]number               `json:"girth"`
	Worn    map[string][2]number               `json:"worn"`
	Gaps    map[string]map[string][2]number    `json:"gaps"`
	Terms   map[string]map[string]jsonGapTerms `json:"terms"`
	Percent map[string]jsonPercent             `json:"percent"`
	Stretch jsonStretch                        `json:"stretch"`
	Moved   []jsonFlow                         `json:"moved"`
	Unknown []unknown                          `json:"unknown"`
	Caution []string                           `json:"cautions"`
}

type jsonPieceWidths struct {
	Name   string               `json:"name"`
	Was    []string             `json:"was"`
	Status string               `json:"status"`
	Round  [2]bool              `json:"round"`
	Times  [2]number            `json:"times"`
	Widths map[string][2]number `json:"widths"`
}

// jsonGapTerms are the terms with the sign that they have in the sum.
type jsonGapTerms struct {
	Body        [2]number `json:"body"`
	Reduction   [2]number `json:"reduction"`
	Thickness   [2]number `json:"thickness"`
	Rigid       [2]number `json:"rigid"`
	Give        [2]number `json:"give"`
	Elastic     [2]number `json:"elastic"`
	Stretch     [2]number `json:"stretch"`
	Overlap     [2]number `json:"overlap"`
	Cords       [2]number `json:"cords"`
	Lacings     [2]number `json:"lacings"`
	Calibration [2]number `json:"calibration"`
	Calibrated  [2]number `json:"calibrated"`
}

type jsonPercent struct {
	Worn   number     `json:"worn"`
	Shut   number     `json:"shut"`
	Before jsonBefore `json:"before"`
}

type jsonBefore struct {
	Worn number `json:"worn"`
	Shut number `json:"shut"`
}

type jsonStretch struct {
	Pieces []jsonElastic               `json:"pieces"`
	Levels map[string]jsonLevelStretch `json:"levels"`
}

type jsonElastic struct {
	Name    string    `json:"name"`
	InUse   [2]number `json:"inUse"`
	Of      [2]number `json:"of"`
	Reserve [2]number `json:"reserve"`
	Tested  [2]string `json:"tested"`
}

type jsonLevelStretch struct {
	Elastic [2]number `json:"elastic"`
	More    [2]number `json:"more"`
	Room    [2]number `json:"room"`
}

type jsonFlow struct {
	Level   string      `json:"level"`
	From    []jsonShare `json:"from"`
	To      []jsonShare `json:"to"`
	Balance number      `json:"balance"`
	Overlap number      `json:"overlap"`
}

type jsonShare struct {
	Piece  string `json:"piece"`
	Amount number `json:"amount"`
}

// WidthsJSON gives the document of widths --json, seamkeep.widths/1, as WIDTHS.md
// and widths.schema.json beside this file describe it. Of the options it heeds
// Calibrated.
func WidthsJSON(c *compare.Change, o WidthsOptions) any {
	w := widthsOf(c)
	doc := jsonWidths{
		Schema: "seamkeep.widths/1", Levels: orNone(c.Levels), Pieces: []jsonPieceWidths{},
		Sums: byLevel(w.sums), Girth: byLevel(w.girth), Worn: byLevel(w.worn),
		Gaps: map[string]map[string][2]number{}, Terms: map[string]map[string]jsonGapTerms{},
		Percent: map[string]jsonPercent{}, Stretch: w.stretchJSON(), Moved: []jsonFlow{},
		Unknown: append([]unknown{}, w.unknown...), Caution: w.cautions(),
	}
	for _, p := range w.pieces {
		doc.Pieces = append(doc.Pieces, jsonPieceWidths{p.name, orNone(p.was), string(p.status), p.round, [2]number{maybe(p.times[0]), maybe(p.times[1])}, byLevel(p.at)})
	}
	for _, g := range w.gaps {
		doc.Gaps[g.closure] = byLevel(g.values())
		doc.Terms[g.closure] = w.termsJSON(g, o.Calibrated)
	}
	for _, level := range c.Levels {
		was, now := pressJSON(w.presses[0][level]), pressJSON(w.presses[1][level])
		doc.Percent[level] = jsonPercent{now.Worn, now.Shut, was}
	}
	for _, f := range w.moved {
		doc.Moved = append(doc.Moved, jsonFlow{f.level, sharesJSON(f.from), sharesJSON(f.to), known(f.balance()), known(f.overlap)})
	}
	return doc
}

// pressJSON gives a level's percents; laced shut means something with a lacing only.
func pressJSON(p check.Press) jsonBefore {
	if p.Level == "" {
		return jsonBefore{}
	}
	out := jsonBefore{Worn: known(p.AsWorn)}
	if p.HasLacing {
		out.Shut = known(p.LacedShut)
	}
	return out
}

func sharesJSON(list []share) []jsonShare {
	out := []jsonShare{}
	for _, s := range list {
		out = append(out, jsonShare{s.piece, known(s.amount)})
	}
	return out
}

func (w *widths) termsJSON(c closureTerms, calibrated bool) map[string]jsonGapTerms {
	out := map[string]jsonGapTerms{}
	for _, l := range c.levels {
		j := jsonGapTerms{}
		for v, g := range l.gaps {
			if g == nil {
				continue
			}
			terms := []*[2]number{&j.Body, &j.Reduction, &j.Thickness, &j.Rigid, &j.Give, &j.Elastic, &j.Stretch, &j.Overlap, &j.Cords}
			for i, term := range g.Terms() {
				terms[i][v] = known(term.Value)
			}
			j.Lacings[v] = known(float64(g.Lacings))
			if calibrated {
				j.Calibration[v] = known(w.versions[v].CalibrateAt(l.level))
				j.Calibrated[v] = known(g.Calibrated(w.versions[v]))
			}
		}
		out[l.level] = j
	}
	return out
}

func (w *widths) stretchJSON() jsonStretch {
	out := jsonStretch{Pieces: []jsonElastic{}, Levels: map[string]jsonLevelStretch{}}
	for _, e := range w.elastic {
		j := jsonElastic{Name: e.name}
		for v, x := range e.of {
			if x != nil {
				j.InUse[v], j.Of[v], j.Reserve[v], j.Tested[v] = known(x.InUse), maybe(x.Of), maybe(x.Reserve()), x.Tested
			}
		}
		out.Pieces = append(out.Pieces, j)
	}
	for _, l := range w.stretch {
		j := jsonLevelStretch{}
		for v, s := range l.of {
			if w.versions[v] == nil {
				continue
			}
			j.Elastic[v], j.More[v], j.Room[v] = known(s.Width), maybe(s.Moved(bodyGrowth)), maybe(s.Room())
		}
		out.Levels[l.level] = j
	}
	return out
}

// cautions are those that belong to the figures.
func (w *widths) cautions() []string {
	out := []string{}
	if w.pressesAt(0) || w.pressesAt(1) {
		out = append(out, check.Caution)
	}
	if len(w.elastic) > 0 {
		out = append(out, check.ElasticCaution)
	}
	return out
}
