package report

import "seamkeep/pattern/sheet"

type sheetDoc struct {
	Schema string      `json:"schema"`
	Pages  []sheetPage `json:"pages"`
}

type sheetPage struct {
	Number  int           `json:"number"`
	Kind    string        `json:"kind"`
	Width   number        `json:"width"`
	Height  number        `json:"height"`
	Tile    string        `json:"tile"`
	Squares []sheetSquare `json:"squares"`
	Pieces  []string      `json:"pieces"`
}

type sheetSquare struct {
	X    number `json:"x"`
	Y    number `json:"y"`
	Size number `json:"size"`
}

// SheetJSON is the document seamkeep.sheet/1: what lies on which page.
func SheetJSON(s *sheet.Sheet) any {
	doc := sheetDoc{Schema: "seamkeep.sheet/1", Pages: []sheetPage{}}
	for _, p := range s.Pages {
		page := sheetPage{
			Number: p.Number, Kind: string(p.Kind), Width: known(p.Width), Height: known(p.Height), Tile: p.Tile,
			Squares: []sheetSquare{}, Pieces: append([]string{}, p.Pieces...),
		}
		for _, q := range p.Squares {
			page.Squares = append(page.Squares, sheetSquare{known(q.X), known(q.Y), known(q.Size)})
		}
		doc.Pages = append(doc.Pages, page)
	}
	return doc
}
