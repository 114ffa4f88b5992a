package sheet

import (
	"fmt"
	"io"
	"testing"

	"codeberg.org/go-fonts/dejavu/dejavusans"
	"codeberg.org/go-pdf/fpdf"
	"github.com/stretchr/testify/require"

	"seamkeep/pattern"
)

// crowd is a garment of many copies of the waistcoat's pieces.
func crowd(b *testing.B, n int) *pattern.Garment { return crowded(load(b, waistcoat), n) }

func crowded(g *pattern.Garment, n int) *pattern.Garment {
	some := g.Pieces
	g.Pieces = nil
	for i := range n {
		p := *some[i%len(some)]
		if i >= len(some) {
			p.Name = fmt.Sprintf("%s-%d", p.Name, i)
		}
		g.Pieces = append(g.Pieces, &p)
	}
	g.SortPieces()
	return g
}

// The whole of a sheet, drawn and written, and the library alone: as many pages,
// segments and texts, with the same font.
func BenchmarkSheet(b *testing.B) {
	for _, n := range []int{7, 100} {
		g := crowd(b, n)
		for _, name := range []string{"a4", "a0"} {
			paper, err := ParsePaper(name)
			require.NoError(b, err)
			b.Run(fmt.Sprintf("%d/%s", n, name), func(b *testing.B) {
				for b.Loop() {
					s, err := New(g, Options{Paper: paper, Version: good})
					require.NoError(b, err)
					require.NoError(b, s.Book.WritePDF(io.Discard))
				}
			})
			s, err := New(g, Options{Paper: paper, Version: good})
			require.NoError(b, err)
			b.Run(fmt.Sprintf("%d/%s/alone", n, name), func(b *testing.B) { alike(b, s) })
		}
	}
}

// alike draws with the library alone as much as a sheet holds.
func alike(b *testing.B, s *Sheet) {
	for b.Loop() {
		d := fpdf.New("P", "mm", "A4", "")
		d.AddUTF8FontFromBytes("x", "", dejavusans.TTF)
		for _, page := range s.Book.Pages {
			d.AddPageFormat("P", fpdf.SizeType{Wd: page.Width, Ht: page.Height})
			d.SetFont("x", "", 10)
			for _, part := range page.Parts {
				for _, st := range part.Drawing.Strokes {
					if !part.Clip.Empty() && !moved(st.Path.Bounds(), part.Move).Overlaps(part.Clip) {
						continue
					}
					for _, seg := range st.Path {
						d.MoveTo(seg.P0.X, seg.P0.Y)
						d.CurveBezierCubicTo(seg.P1.X, seg.P1.Y, seg.P2.X, seg.P2.Y, seg.P3.X, seg.P3.Y)
						d.DrawPath("D")
					}
				}
				for _, t := range part.Drawing.Texts {
					if !part.Clip.Empty() && !moved(t.Box(s.Book.Face), part.Move).Overlaps(part.Clip) {
						continue
					}
					d.Text(t.At.X, t.At.Y, t.Words)
				}
			}
		}
		require.NoError(b, d.Output(io.Discard))
	}
}
