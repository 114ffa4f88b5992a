package report

import "seamkeep/pattern/material"

type jsonVersion struct {
	Label  string   `json:"label"`
	Commit string   `json:"commit"`
	Date   string   `json:"date"`
	Tags   []string `json:"tags"`
	Kept   bool     `json:"kept"`
}

type jsonCutting struct {
	Schema  string         `json:"schema"`
	Garment string         `json:"garment"`
	Version jsonVersion    `json:"version"`
	Walked  jsonWalked     `json:"walked"`
	Cloths  []jsonClothCut `json:"cloths"`
}

type jsonWalked struct {
	OK        bool     `json:"ok"`
	Tolerance number   `json:"tolerance"`
	Rough     bool     `json:"rough"`
	Seams     int      `json:"seams"`
	Off       []string `json:"off"`
	Faults    []string `json:"faults"`
	Purpose   []string `json:"purpose"`
}

type jsonClothCut struct {
	Cloth  string    `json:"cloth"`
	Pieces int       `json:"pieces"`
	Cuts   []jsonCut `json:"cuts"`
}

type jsonCut struct {
	Piece     string        `json:"piece"`
	Title     string        `json:"title"`
	Label     int           `json:"label"`
	Of        int           `json:"of"`
	Way       string        `json:"way"`
	Count     int           `json:"count"`
	Pieces    int           `json:"pieces"`
	Assumed   bool          `json:"assumed"`
	Fold      string        `json:"fold"`
	Grain     number        `json:"grain"`
	Area      number        `json:"area"`
	Allowance number        `json:"allowance"`
	Edges     []jsonEdgeCut `json:"edges"`
}

type jsonEdgeCut struct {
	Edge      string `json:"edge"`
	Run       string `json:"run"`
	Length    number `json:"length"`
	Allowance number `json:"allowance"`
	Source    string `json:"source"`
}

func versionJSON(v material.Version) jsonVersion {
	return jsonVersion{v.Label, v.Commit, v.Date, orNone(v.Tags), v.Kept}
}

// CuttingJSON gives the document of cutting --json, seamkeep.cutting/1, as LISTS.md
// and cutting.schema.json beside this file describe it.
func CuttingJSON(c material.Cutting) any {
	doc := jsonCutting{
		Schema: "seamkeep.cutting/1", Garment: c.Garment, Version: versionJSON(c.Version), Cloths: []jsonClothCut{},
		Walked: jsonWalked{c.Walked.Walked(), known(c.Walked.Limit), c.Walked.Rough, c.Walked.Seams, orNone(c.Walked.Off), orNone(c.Walked.Faults), orNone(c.Walked.Purpose)},
	}
	for _, cloth := range c.Cloths {
		j := jsonClothCut{cloth.Name, cloth.Pieces, []jsonCut{}}
		for _, x := range cloth.Cuts {
			cut := jsonCut{
				Piece: x.Piece, Title: x.Title, Label: x.Label, Of: x.Of, Way: string(x.Way), Count: x.Count, Pieces: x.Pieces, Assumed: x.Assumed,
				Fold: x.Fold, Grain: maybe(x.Grain), Area: known(x.Area), Allowance: known(x.Allowance), Edges: []jsonEdgeCut{},
			}
			for _, e := range x.Edges {
				cut.Edges = append(cut.Edges, jsonEdgeCut{e.Edge, e.Run, known(e.Length), known(e.MM), string(e.Source)})
			}
			j.Cuts = append(j.Cuts, cut)
		}
		doc.Cloths = append(doc.Cloths, j)
	}
	return doc
}
