package report

import (
	"seamkeep/pattern"
	"seamkeep/pattern/material"
)

type jsonMaterials struct {
	Schema   string        `json:"schema"`
	Garment  string        `json:"garment"`
	Version  jsonVersion   `json:"version"`
	Cloths   []jsonCloth   `json:"cloths"`
	Elastics []jsonBand    `json:"elastics"`
	Bones    jsonStrips    `json:"bones"`
	Cords    jsonStrips    `json:"cords"`
	Buttons  []jsonButton  `json:"buttons"`
	Eyelets  []jsonEyelets `json:"eyelets"`
	Hooks    []jsonHooks   `json:"hooks"`
	Slides   []jsonSlide   `json:"slides"`
	Bindings []jsonBinding `json:"bindings"`
	Cautions []string      `json:"cautions"`
}

type jsonCloth struct {
	Cloth     string   `json:"cloth"`
	Pieces    int      `json:"pieces"`
	Area      number   `json:"area"`
	Allowance number   `json:"allowance"`
	Elastic   bool     `json:"elastic"`
	Lay       *jsonLay `json:"lay"`
	Why       string   `json:"why"`
}

type jsonLay struct {
	Width  number       `json:"width"`
	Length number       `json:"length"`
	Filled number       `json:"filled"`
	Boxed  number       `json:"boxed"`
	Placed []jsonPlaced `json:"placed"`
}

type jsonPlaced struct {
	Piece    string `json:"piece"`
	Mirrored bool   `json:"mirrored"`
	X        number `json:"x"`
	Y        number `json:"y"`
	Width    number `json:"width"`
	Height   number `json:"height"`
}

type jsonBand struct {
	Piece     string   `json:"piece"`
	Cloths    []string `json:"cloths"`
	Count     int      `json:"count"`
	Narrowest number   `json:"narrowest"`
	Widest    number   `json:"widest"`
	Length    number   `json:"length"`
	InUse     number   `json:"inUse"`
	Of        number   `json:"of"`
	Tested    string   `json:"tested"`
}

type jsonStrips struct {
	Clearance number      `json:"clearance"`
	Total     number      `json:"total"`
	Each      []jsonStrip `json:"each"`
}

type jsonStrip struct {
	Pieces   []string `json:"pieces"`
	Count    int      `json:"count"`
	Width    number   `json:"width"`
	Channel  number   `json:"channel"`
	Length   number   `json:"length"`
	Recorded bool     `json:"recorded"`
}

type jsonButton struct {
	For      string `json:"for"`
	Closure  bool   `json:"closure"`
	Count    int    `json:"count"`
	Diameter number `json:"diameter"`
	Hole     number `json:"hole"`
}

type jsonEyelets struct {
	Closure string   `json:"closure"`
	Side    int      `json:"side"`
	Count   int      `json:"count"`
	Pitch   number   `json:"pitch"`
	Lace    jsonLace `json:"lace"`
}

type jsonHooks struct {
	Closure string `json:"closure"`
	Count   int    `json:"count"`
	Pitch   number `json:"pitch"`
}

type jsonSlide struct {
	Closure string `json:"closure"`
	Count   int    `json:"count"`
	Length  number `json:"length"`
	Edge    number `json:"edge"`
}

type jsonLace struct {
	Count  int    `json:"count"`
	Length number `json:"length"`
	Gap    number `json:"gap"`
	Inset  number `json:"inset"`
	Wanted bool   `json:"wanted"`
	Why    string `json:"why"`
}

type jsonBinding struct {
	Run    string `json:"run"`
	Length number `json:"length"`
	Buy    number `json:"buy"`
}

// MaterialsJSON gives the document of materials --json, seamkeep.materials/1, as
// LISTS.md and materials.schema.json beside this file describe it.
func MaterialsJSON(l material.List) any {
	doc := jsonMaterials{
		Schema: "seamkeep.materials/1", Garment: l.Garment, Version: versionJSON(l.Version), Cloths: []jsonCloth{}, Elastics: []jsonBand{},
		Bones: stripsJSON(l, pattern.Bone, l.Bones), Cords: stripsJSON(l, pattern.Cord, l.Cords), Buttons: []jsonButton{}, Eyelets: []jsonEyelets{},
		Hooks: []jsonHooks{}, Slides: []jsonSlide{}, Bindings: []jsonBinding{}, Cautions: orNone(l.Cautions),
	}
	for _, c := range l.Cloths {
		doc.Cloths = append(doc.Cloths, jsonCloth{c.Name, c.Pieces, known(c.Area), known(c.Allowance), c.Elastic, layJSON(c.Lay), c.Lay.Why})
	}
	for _, e := range l.Elastics {
		doc.Elastics = append(doc.Elastics, jsonBand{
			e.Piece, orNone(e.Cloths), e.Count, number{e.Narrowest, e.HasWidth}, number{e.Widest, e.HasWidth}, known(e.Length), known(e.InUse), maybe(e.Of), e.Tested,
		})
	}
	for _, b := range l.Buttons {
		doc.Buttons = append(doc.Buttons, jsonButton{b.Of, b.Closure, b.Count, maybe(b.Diameter), maybe(b.Hole)})
	}
	for _, e := range l.Eyelets {
		lace := jsonLace{e.Laces, maybe(e.Lace.Length), number{e.Lace.Gap, e.Lace.Length.Set}, number{e.Lace.Inset, e.Lace.Length.Set}, e.Lace.Wanted, e.Lace.Why}
		doc.Eyelets = append(doc.Eyelets, jsonEyelets{e.Closure, e.Side, e.Count, maybe(e.Pitch), lace})
	}
	for _, h := range l.Hooks {
		doc.Hooks = append(doc.Hooks, jsonHooks{h.Closure, h.Count, maybe(h.Pitch)})
	}
	for _, s := range l.Slides {
		doc.Slides = append(doc.Slides, jsonSlide{s.Closure, s.Count, maybe(s.Length), maybe(s.Edge)})
	}
	for _, b := range l.Bindings {
		doc.Bindings = append(doc.Bindings, jsonBinding{b.Run, known(b.Length), known(b.Buy)})
	}
	return doc
}

func layJSON(l material.Lay) *jsonLay {
	if l.Why != "" {
		return nil
	}
	j := &jsonLay{known(l.Width), known(l.Length), known(l.Filled), known(l.Boxed), []jsonPlaced{}}
	for _, p := range l.Placed {
		j.Placed = append(j.Placed, jsonPlaced{p.Piece, p.Mirrored, known(p.X), known(p.Y), known(p.Width - material.Between), known(p.Height - material.Between)})
	}
	return j
}

func stripsJSON(l material.List, kind pattern.MarkKind, list []material.Strip) jsonStrips {
	out := jsonStrips{Clearance: known(l.Clear[kind]), Each: []jsonStrip{}}
	total := 0.0
	for _, s := range list {
		total += float64(s.Count) * s.Length
		out.Each = append(out.Each, jsonStrip{s.Pieces, s.Count, maybe(s.Width), known(s.Channel), known(s.Length), s.Record})
	}
	out.Total = known(total)
	return out
}
