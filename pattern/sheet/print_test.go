package sheet

import (
	"bytes"
	"fmt"
	"math"
	"os"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"seamkeep/pattern"
	"seamkeep/pattern/curve"
	"seamkeep/pattern/sheet/ink"
)

// printed papers: every kind of page.
func everyPaper() []Paper {
	return append(slices.Clone(papers[:]), Paper{Name: "roll:500", Width: 500, Height: 5000, Roll: true})
}

// A point of PDF is 1/72 in (ISO 32000-1, 8.3.2.3); poppler's pdfinfo reads the
// sizes back. No page has a unit of its own (UserUnit).
func TestPDFPagesHaveTheirSizesInUnitsOf72ToTheInch(t *testing.T) {
	g := load(t, waistcoat)
	for _, paper := range everyPaper() {
		s := made(t, g, Options{Paper: paper, Version: good})
		file := written(t, s)
		out := string(tool(t, "pdfinfo", "-f", "1", "-l", fmt.Sprint(len(s.Pages)), file))
		sizes := regexp.MustCompile(`Page +\d+ size: +([\d.]+) x ([\d.]+) pts`).FindAllStringSubmatch(out, -1)
		require.Len(t, sizes, len(s.Pages))
		for i, m := range sizes {
			var w, h float64
			_, err := fmt.Sscan(m[1], &w)
			require.NoError(t, err)
			_, err = fmt.Sscan(m[2], &h)
			require.NoError(t, err)
			assert.InDelta(t, s.Pages[i].Width, w*25.4/72, 0.01, paper.Name)
			assert.InDelta(t, s.Pages[i].Height, h*25.4/72, 0.01, paper.Name)
		}
		src, err := os.ReadFile(file)
		require.NoError(t, err)
		assert.NotContains(t, string(src), "UserUnit")
	}
}

// qpdf reads the whole structure; other readers trust it less than it does.
func TestPDFIsCleanForQpdf(t *testing.T) {
	g := load(t, waistcoat)
	for _, paper := range everyPaper() {
		out := tool(t, "qpdf", "--check", written(t, made(t, g, Options{Paper: paper, Both: true, Version: good})))
		assert.Contains(t, string(out), "No syntax or stream encoding errors found", paper.Name)
	}
}

// The squares as poppler renders them at 600 dpi, on every paper and every kind of
// page, of tiles, of whole pieces and the map: 100 mm and 101.6 mm (4 in) from the
// middle of one side to that of the other, within 0.05.
func TestSquaresMeasureTrueOnEveryKindOfPage(t *testing.T) {
	g := load(t, waistcoat)
	for _, paper := range everyPaper() {
		s := made(t, g, Options{Paper: paper, Version: good})
		file := written(t, s)
		seen := map[string]bool{}
		for _, page := range s.Pages {
			kind := kindOf(page)
			require.Len(t, page.Squares, 2, "%s page %d", paper.Name, page.Number)
			if seen[kind] {
				continue
			}
			seen[kind] = true
			for _, q := range page.Squares {
				assertSquare(t, file, page, q, paper.Name+" "+kind)
			}
		}
	}
}

// A page says on what paper it is, also where that is not the paper of the others; and the
// map of a narrow roll is no wider than the roll.
func TestPagesTellTheirOwnPaper(t *testing.T) {
	g := load(t, waistcoat)
	l, _ := longList(3)
	for _, paper := range []Paper{{Name: "a0", Width: 841, Height: 1189}, {Name: "roll:180", Width: 180, Height: 3000, Roll: true}} {
		s := made(t, crowded(g, 60), Options{Paper: paper, Version: good, Lists: []List{l}})
		require.Equal(t, MapPage, s.Pages[0].Kind)
		for i, p := range s.Pages {
			want := paper.Name
			if !paper.Roll && p.Width < paper.Width {
				want = "a4"
			}
			assert.LessOrEqual(t, p.Width, paper.Width+1e-9)
			found := false
			for _, part := range s.Book.Pages[i].Parts {
				for _, x := range part.Drawing.Texts {
					found = found || x.Words == fmt.Sprintf("page %d of %d, %s", i+1, len(s.Pages), want)
				}
			}
			assert.True(t, found, "page %d on %s", i+1, want)
		}
	}
}

func kindOf(p Page) string {
	switch p.Tile {
	case "":
		return "whole"
	case mapTile:
		return mapTile
	}
	return "tile"
}

func assertSquare(t *testing.T, file string, page Page, q CheckSquare, what string) {
	t.Helper()
	left := middleOf(t, file, page, curve.Pt(q.X, q.Y+q.Size/2), true)
	right := middleOf(t, file, page, curve.Pt(q.X+q.Size, q.Y+q.Size/2), true)
	foot := middleOf(t, file, page, curve.Pt(q.X+q.Size/2, q.Y), false)
	head := middleOf(t, file, page, curve.Pt(q.X+q.Size/2, q.Y+q.Size), false)
	assert.InDelta(t, q.Size, right-left, 0.05, "%s across", what)
	assert.InDelta(t, q.Size, head-foot, 0.05, "%s upwards", what)
	assert.InDelta(t, q.X, left, 0.05, "%s: its place is the one that is told", what)
	assert.InDelta(t, q.Y, foot, 0.05, what)
}

// middleOf finds the line of a square near a place: the median of the middles of
// its ink over many rows or columns, in mm from the lower left corner.
func middleOf(t *testing.T, file string, page Page, near curve.Point, upright bool) float64 {
	const half, along = 14, 600 // dots
	cx, cy := int(near.X/dot), int((page.Height-near.Y)/dot)
	w, h := 2*half, 2*along
	if !upright {
		w, h = h, w
	}
	r := render(t, file, page.Number, cx-w/2, cy-h/2, w, h)
	var found []float64
	for k := range 2 * along {
		sum, weight := 0.0, 0.0
		for i := range 2 * half {
			x, y := i, k
			if !upright {
				x, y = k, i
			}
			v := r.ink(x, y)
			sum, weight = sum+v*(float64(i)+0.5), weight+v
		}
		if weight > 0.3 {
			found = append(found, sum/weight)
		}
	}
	require.NotEmpty(t, found, "no line near %v", near)
	slices.Sort(found)
	at := found[len(found)/2]
	if upright {
		return (float64(r.x) + at) * dot
	}
	return page.Height - (float64(r.y)+at)*dot
}

// disc is a garment of one round piece: four cubics, within 0.03 % of its radius.
func disc(r float64) *pattern.Garment {
	p := &pattern.Piece{Name: "disc"}
	for i, s := range ink.Circle(curve.Pt(0, 0), r) {
		p.Corners = append(p.Corners, pattern.Corner{Name: fmt.Sprintf("c%d", i), At: s.P0})
		p.Edges = append(p.Edges, pattern.Edge{Name: fmt.Sprintf("e%d", i), Segs: []pattern.Seg{{Curve: true, H1: s.P1, H2: s.P2, ToCorner: true}}})
	}
	return &pattern.Garment{Name: "disc", Half: pattern.Whole, Pieces: []*pattern.Piece{p}}
}

// A circle over four tiles, each tile rendered at 600 dpi: where two tiles show the
// same, their inks lie within 0.1 mm of the same circle.
func TestACurveJoinsAcrossFourTiles(t *testing.T) {
	const radius = 140
	setter, s := setUp(t, disc(radius), Options{Paper: papers[0], Version: good})
	a := setter.areas[0]
	require.Len(t, a.tiles, 4)
	for i := range s.Book.Pages { // the line alone, solid
		for k, part := range s.Book.Pages[i].Parts {
			s.Book.Pages[i].Parts[k].Drawing = alone(part.Drawing)
		}
	}
	file := written(t, s)
	in := 0
	for _, p := range setter.pages {
		if p.tile == nil {
			continue
		}
		w := a.window(p.tile.at)
		r := render(t, file, p.Number, 0, 0, int(p.Width/dot), int(p.Height/dot))
		for y := 0; y < r.h; y += 7 {
			for x := range r.w {
				if r.ink(x, y) < 0.5 {
					continue
				}
				at := curve.Pt((float64(x)+0.5)*dot, p.Height-(float64(y)+0.5)*dot)
				at = at.Sub(p.box.Min).Add(w.Min).Sub(a.moves[0]) // in the plane of the piece
				in++
				if off := math.Abs(at.Len() - radius); off > 0.1+sewingWidth/2 {
					require.InDelta(t, radius, at.Len(), 0.1+sewingWidth/2, "tile %s", p.Tile)
				}
			}
		}
	}
	assert.Greater(t, in, 5000, "there is something to see")
}

func alone(d *ink.Drawing) *ink.Drawing {
	out := &ink.Drawing{}
	for _, s := range d.Strokes {
		if s.Layer == ink.Sewing && len(s.Dash) > 0 {
			s.Dash = nil
			out.Strokes = append(out.Strokes, s)
		}
	}
	return out
}

// What stands on the sheets, as a reader of PDF finds it.
func TestLabelsAreFoundInThePDF(t *testing.T) {
	g := load(t, waistcoat)
	words := strings.Join(strings.Fields(string(tool(t, "pdftotext", "-layout", written(t, made(t, g, Options{Version: good})), "-"))), " ")
	for _, want := range []string{
		"Midsummer waistcoat", "Side back", "M2-5/7", "5 of 7", "canvas: cut 1 pair, mirrored", "1a2b3c4, gusset, mock-up-2, 2026-03-01",
		"KEPT", "WALKED 1.5", "waist", "check: 100 mm", "check: 4 in (101.6 mm)", "page 1 of", "below A2",
	} {
		assert.Contains(t, words, want)
	}
	assert.NotContains(t, words, "NOT")
}

func TestEveryPageSaysWhenTheSeamsDoNotMatch(t *testing.T) {
	g := load(t, waistcoat)
	v := good
	v.Walked, v.Kept, v.Walk = false, false, "NOT WALKED: side-back-back 2.55 and 1 more"
	s := made(t, g, Options{Version: v})
	file := written(t, s)
	for i := range s.Pages {
		page := fmt.Sprint(i + 1)
		words := string(tool(t, "pdftotext", "-layout", "-f", page, "-l", page, file, "-"))
		assert.Contains(t, words, "NOT WALKED: side-back-back 2.55 and 1 more", page)
		assert.Contains(t, words, "NOT KEPT", page)
	}
}

// Layers are optional content groups (ISO 32000-1, 8.11); qpdf writes them out.
func TestLayersCanBeSwitchedOff(t *testing.T) {
	out := tool(t, "qpdf", "--qdf", "--object-streams=disable", written(t, made(t, load(t, waistcoat), Options{Version: good})), "-")
	assert.Equal(t, 5, bytes.Count(out, []byte("/Type /OCG")))
	assert.Positive(t, bytes.Count(out, []byte("BDC")))
	assert.Equal(t, bytes.Count(out, []byte("BDC")), bytes.Count(out, []byte("EMC")))
	assert.Contains(t, string(out), "/PrintScaling /None")
}

func TestTheSameInputGivesTheSameBytes(t *testing.T) {
	g := load(t, waistcoat)
	o := Options{Paper: papers[0], Version: good, Both: true, Date: time.Unix(1772359200, 0).UTC()}
	var first [2][]byte
	for range 2 {
		var pdf, svg bytes.Buffer
		s := made(t, g, o)
		require.NoError(t, s.Book.WritePDF(&pdf))
		require.NoError(t, s.Book.WriteSVG(&svg))
		if first[0] == nil {
			first = [2][]byte{pdf.Bytes(), svg.Bytes()}
			continue
		}
		assert.True(t, bytes.Equal(first[0], pdf.Bytes()), "PDF")
		assert.True(t, bytes.Equal(first[1], svg.Bytes()), "SVG")
	}
}

// A printer that makes 98.6 by 99.2 of 100 mm makes a true square of the corrected
// one: what is rendered, times that, is 100 and 101.6.
func TestACorrectedSheetComesOutTrueOnThatPrinter(t *testing.T) {
	printer := curve.Pt(98.6, 99.2)
	s := made(t, load(t, waistcoat), Options{Measured: printer, Version: good})
	file := written(t, s)
	page := s.Pages[1]
	assert.InDelta(t, 210, page.Width, 1e-9)
	for _, q := range page.Squares {
		left := middleOf(t, file, page, curve.Pt(q.X, q.Y+q.Size/2), true)
		right := middleOf(t, file, page, curve.Pt(q.X+q.Size*100/printer.X, q.Y+q.Size/2), true)
		assert.InDelta(t, q.Size, (right-left)*printer.X/100, 0.05)
		foot := middleOf(t, file, page, curve.Pt(q.X+q.Size/2, q.Y), false)
		head := middleOf(t, file, page, curve.Pt(q.X+q.Size/2, q.Y+q.Size*100/printer.Y), false)
		assert.InDelta(t, q.Size, (head-foot)*printer.Y/100, 0.05)
	}
}

// The long lines of the map, which tell a wrong scale better than a square does,
// rendered at 600 dpi: from tick to tick as long as the words beside them say.
func TestTheLongLinesOfTheMapMeasureTrue(t *testing.T) {
	s := made(t, load(t, waistcoat), Options{Paper: papers[0], Version: good})
	file, page := written(t, s), s.Pages[0]
	require.Equal(t, mapTile, page.Tile)
	words := strings.Join(strings.Fields(string(tool(t, "pdftotext", "-f", "1", "-l", "1", file, "-"))), " ")
	told := regexp.MustCompile(`check: (\d+) mm (across|upwards)`).FindAllStringSubmatch(words, -1)
	require.Len(t, told, 2, words)
	for _, m := range told {
		length, err := strconv.ParseFloat(m[1], 64)
		require.NoError(t, err)
		lo, hi := endsOfLine(t, file, page, m[2] == "across", length)
		assert.InDelta(t, length, hi-lo, 0.1, m[2])
		assert.Greater(t, length, 150.0, m[2])
	}
}

// endsOfLine gives the middles of the ticks at the ends of the longest run of ink of
// about a length, as rendered, mm.
func endsOfLine(t *testing.T, file string, page Page, across bool, length float64) (lo, hi float64) {
	r := render(t, file, page.Number, 0, 0, int(page.Width/dot), int(page.Height/dot))
	n, m := r.h, r.w
	ink := func(line, at int) bool { return r.ink(at, line) > 0.5 }
	if !across {
		n, m = r.w, r.h
		ink = func(line, at int) bool { return r.ink(line, at) > 0.5 }
	}
	best, from := 0, 0
	for line := range n {
		run := 0
		for at := range m {
			if run++; !ink(line, at) {
				run = 0
			}
			if mm := float64(run) * dot; run > best && mm < length+1 {
				best, from = run, at-run+1
			}
		}
	}
	require.Greater(t, float64(best)*dot, length-1, "a line of %.0f mm", length)
	// the ticks are drawn half their width beyond the ends
	const half = 0.1
	return float64(from)*dot + half, float64(from+best)*dot - half
}
