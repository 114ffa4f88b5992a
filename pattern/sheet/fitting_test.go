package sheet

import (
	"bytes"
	"fmt"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"seamkeep/pattern"
	"seamkeep/pattern/curve"
	"seamkeep/pattern/sheet/ink"
)

// forFitting draws the pages for a fitting of the demo's last version.
func forFitting(t *testing.T, g *pattern.Garment, f *pattern.Fitting, paper Paper) *Sheet {
	t.Helper()
	var s *Sheet
	var files [2]bytes.Buffer
	for i := range files {
		var err error
		s, err = NewFitting(g, f, []string{"a caution"}, Options{Paper: paper, Version: good, Date: time.Unix(0, 0).UTC()})
		require.NoError(t, err)
		require.NoError(t, s.Book.WritePDF(&files[i]))
	}
	require.True(t, bytes.Equal(files[0].Bytes(), files[1].Bytes()), "the same bytes")
	return s
}

// blank is a fitting of a garment with nothing seen yet.
func blank(g *pattern.Garment) *pattern.Fitting {
	f := &pattern.Fitting{Name: "mock-up-1", Version: "wider-gusset", Body: "ringer"}
	for i, l := range g.Levels {
		f.Gaps = append(f.Gaps, pattern.FittedGap{Closure: "front", Level: l.Name, Predicted: pattern.Some(30 + float64(i))})
	}
	return f
}

// said are all words of a book, a line each.
func said(s *Sheet) string {
	var b strings.Builder
	for _, p := range s.Book.Pages {
		for _, part := range p.Parts {
			for _, t := range part.Drawing.Texts {
				fmt.Fprintln(&b, t.Words)
			}
		}
	}
	return b.String()
}

// frames counts the boxes that are as high as a field.
func frames(s *Sheet) int {
	n := 0
	for _, p := range s.Book.Pages {
		for _, stroke := range p.Parts[0].Drawing.Strokes {
			if b := stroke.Path.Bounds(); stroke.Width == 0.2 && b.Width() > 0 && b.Height() > 5 {
				n++
			}
		}
	}
	return n
}

func TestAFittingOfTheDemoFitsOneSheetOfA4OrLetter(t *testing.T) {
	g := demo(t)
	for _, paper := range papers[:2] {
		s := forFitting(t, g, blank(g), paper)
		require.Len(t, s.Pages, 1, paper.Name)
		words := said(s)
		for _, w := range []string{"Fitting mock-up-1", "cut from wider-gusset: KEPT; WALKED 1.5; on ringer", "28 to 36", "30.0", "Pinned out, mm",
			"side-back-back", "Movements tried", "a caution", "seamkeep fitted mock-up-1 asks", "check: 100 mm", "KEPT, WALKED 1.5"} {
			assert.Contains(t, words, w)
		}
		for _, h := range pattern.Hows() {
			assert.Contains(t, words, "\n"+string(h)+"\n")
		}
		assert.Equal(t, 3+2*len(g.Levels)+len(g.Levels)*len(g.Seams), frames(s), "date and square, seen and difference at each level, each seam at each level")
	}
}

func TestTheFittingPageShowsWhatIsKnown(t *testing.T) {
	g := demo(t)
	level := g.Levels[0].Name
	f := &pattern.Fitting{
		Name: "refit", Date: "2026-05-23", Square: &pattern.Square{Across: 99.5, Along: 99.2},
		Gaps:   []pattern.FittedGap{{Closure: "front", Level: level, Predicted: pattern.Some(34), Observed: pattern.Some(31)}, {Closure: "front", Level: "waist"}},
		Pinned: []pattern.Pinned{{Seam: g.Seams[0].Name, Level: level, Amount: 4.5}}, Moved: []pattern.Verdict{{Of: "arms overhead", How: "rides"}},
		Verdicts: []pattern.Verdict{{Of: "back neck", How: "gapes"}}, Notes: []pattern.Remark{{Text: "the <straps> slide"}},
	}
	s := forFitting(t, g, f, papers[0])
	for _, w := range []string{"2026-05-23", "99.5", "99.2", "34.0", "31.0", "-3.0", "4.5", "arms overhead", "back neck", "the <straps> slide", "unknown"} {
		assert.Contains(t, said(s), "\n"+w+"\n")
	}
	ringed := 0
	for _, stroke := range s.Book.Pages[0].Parts[0].Drawing.Strokes {
		if stroke.Width == 0.4 {
			ringed++
		}
	}
	assert.Equal(t, 2, ringed, "how the movement and the area were")
}

// Twelve levels and forty seams with long names: nothing is left out, nothing leaves the room
// inside the margins, heads stand again, on any paper.
func TestMuchToFitGoesOnOverPages(t *testing.T) {
	g := pattern.Clone(demo(t))
	for i := range 12 {
		g.Levels = append(g.Levels, pattern.Level{Name: fmt.Sprintf("level-%d-%s", i, strings.Repeat("x", 50)), Y: float64(300 + i)})
	}
	for i := range 40 {
		g.Seams = append(g.Seams, pattern.Seam{Name: fmt.Sprintf("seam-%d-%s", i, strings.Repeat("y", 50))})
	}
	f := blank(g)
	for i := range 30 {
		f.Moved = append(f.Moved, pattern.Verdict{Of: strings.Repeat("word ", 80), How: "ok"})
		f.Notes = append(f.Notes, pattern.Remark{Text: fmt.Sprintf("%d \U0001F514 %s", i, strings.Repeat("words ", 60))})
	}
	for _, paper := range everyPaper() {
		s := forFitting(t, g, f, paper)
		for i, p := range s.Book.Pages {
			box := curve.Box{Min: curve.Pt(DefaultMargin-0.01, DefaultMargin-0.01), Max: curve.Pt(p.Width-DefaultMargin+0.01, p.Height-DefaultMargin+0.01)}
			for _, part := range p.Parts {
				for _, x := range part.Drawing.Texts {
					b := x.Box(ink.DejaVu())
					assert.True(t, b.Min.X >= box.Min.X && b.Max.X <= box.Max.X, "%s, page %d: %q runs out sideways", paper.Name, i+1, x.Words)
				}
				for _, stroke := range part.Drawing.Strokes {
					b := stroke.Path.Bounds()
					assert.True(t, b.Min.X >= box.Min.X && b.Max.X <= box.Max.X && b.Min.Y >= box.Min.Y && b.Max.Y <= box.Max.Y, "%s, page %d: %v runs out", paper.Name, i+1, b)
				}
			}
			assert.Len(t, s.Pages[i].Squares, 2)
		}
		words := said(s)
		assert.Equal(t, 3+2*len(g.Levels)+len(g.Levels)*len(g.Seams), frames(s), paper.Name)
		assert.Contains(t, words, "29 [U+1F514] words")
		if paper.Name == "a4" {
			assert.Greater(t, strings.Count(words, "Pinned out, mm"), 3, "a table for as many levels as fit, its head on each page")
			assert.Greater(t, len(s.Pages), 3)
		}
	}
}

// Without lacing, levels and seams there is room for words alone.
func TestAFittingOfAGarmentWithoutAnything(t *testing.T) {
	words := said(forFitting(t, &pattern.Garment{Name: "empty"}, &pattern.Fitting{Name: "x"}, papers[0]))
	assert.NotContains(t, words, "Pinned out")
	assert.Contains(t, words, "Movements tried")
}
