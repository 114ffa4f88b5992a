package overlay

import (
	"fmt"
	"io"

	"seamkeep/pattern"
	"seamkeep/pattern/svg"
)

// Measures of the picture of one piece, mm. A page of hosting shows it about 200 px wide,
// 3.3 px to the mm: the name stands 15 px high there, the other words 11 px.
const (
	pieceWidth  = 60.0
	pieceMargin = 4.0
	pieceTall   = 62.0
	pieceWords  = 3.4
)

// PieceThumbnail draws one piece so small that pages can show many of them: its shape, its
// grain, its name and the version. It is no measure and says so. What cannot be written is
// the error; a piece that the garment lacks or that cannot be drawn is told.
func PieceThumbnail(w io.Writer, g *pattern.Garment, name string, o Options) error {
	one := only(g, []string{name})
	s := &stack{width: pieceWidth - 2*pieceMargin}
	figs, _ := overviewFigures(one)
	s.overview(figs, pieceTall)
	if len(figs) == 0 {
		s.para(name+": it cannot be drawn", nameStyle(), 3)
	}
	small := style{Size: pieceWords, Mute: true}
	if o.To != "" {
		s.para(o.To, small, 2)
	}
	s.line("not to scale", small)
	pen := svg.New(w, svg.Picture{
		Width: pieceWidth, Height: tenth(s.height + 2*pieceMargin), Title: title(o, name),
		Desc: overviewWords(figs, 0, faultsOf(one)), Prefix: o.Prefix,
	})
	s.draw(newPage(pen), pieceMargin, pieceMargin)
	if err := pen.Close(); err != nil {
		return fmt.Errorf("drawing piece %s: %w", name, err)
	}
	return nil
}
