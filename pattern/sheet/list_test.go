package sheet

import (
	"fmt"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"seamkeep/pattern/curve"
)

// longList has so many entries of words that tell which they are, in three parts.
func longList(entries int) (l List, words []string) {
	l = List{Title: "Cutting list", Before: []Line{{Words: "begin"}}, After: []Line{{Words: "end"}}}
	for i := range entries {
		if i%((entries+2)/3) == 0 {
			l.Parts = append(l.Parts, Part{Head: fmt.Sprintf("head%d", len(l.Parts))})
		}
		var line []string
		for k := range 3 + i%40 {
			line = append(line, fmt.Sprintf("w%d.%d", i, k))
		}
		words = append(words, line...)
		p := &l.Parts[len(l.Parts)-1]
		p.Entries = append(p.Entries, []Line{{Words: strings.Join(line, " "), Indent: 2, Hang: 10}, {Words: fmt.Sprintf("u%d", i), Indent: 10, Hang: 12}})
		words = append(words, fmt.Sprintf("u%d", i))
	}
	return l, words
}

// poppler's pdftotext reads back each word of the list once and in order, whatever the
// paper, however long the list, also stretched for a printer that is not true.
func TestEveryWordOfAListStandsOnItsPages(t *testing.T) {
	g := load(t, waistcoat)
	l, words := longList(150)
	for _, paper := range append(everyPaper(), Paper{Name: "roll:132", Width: 132, Height: 5000, Roll: true}) {
		for _, measured := range []curve.Point{{}, curve.Pt(98, 97), curve.Pt(104, 103)} {
			if measured.X > 0 && measured.X < 100 && paper.Width < 140 {
				continue // no room for the squares any more
			}
			s, err := NewLists(g, Options{Paper: paper, Version: good, Lists: []List{l}, Measured: measured}, "cutting list")
			require.NoError(t, err)
			read := regexp.MustCompile(`\b(w\d+\.\d+|u\d+)\b`).FindAllString(string(tool(t, "pdftotext", "-raw", written(t, s), "-")), -1)
			require.True(t, slices.Equal(words, read), "%s: %d words of %d", paper.Name, len(read), len(words))
			for i, p := range s.Pages {
				assert.Equal(t, ListPage, p.Kind)
				assert.Len(t, p.Squares, 2)
				assertInside(t, s, i)
			}
		}
	}
}

// assertInside fails where words of a page stand in the margin, or on each other.
func assertInside(t *testing.T, s *Sheet, page int) {
	t.Helper()
	p := s.Pages[page]
	paper := curve.Box{Min: curve.Pt(DefaultMargin-0.5, DefaultMargin-0.5), Max: curve.Pt(p.Width-DefaultMargin+0.5, p.Height-DefaultMargin+0.5)}
	var boxes []curve.Box
	for _, part := range s.Book.Pages[page].Parts {
		for _, text := range part.Drawing.Texts {
			b := text.Box(s.Book.Face)
			assert.True(t, paper.Union(b) == paper, "%q at %v of a page of %.1f x %.1f", text.Words, b, p.Width, p.Height)
			if strings.HasPrefix(text.Words, "check:") {
				continue // of a square, which lies where it covers the least
			}
			for _, other := range boxes {
				both := curve.Box{Min: curve.Pt(max(b.Min.X, other.Min.X), max(b.Min.Y, other.Min.Y)), Max: curve.Pt(min(b.Max.X, other.Max.X), min(b.Max.Y, other.Max.Y))}
				assert.False(t, both.Max.X-both.Min.X > 0.2 && both.Max.Y-both.Min.Y > 0.2, "%q covers other words on page %d, %v", text.Words, page+1, b)
			}
			boxes = append(boxes, b)
		}
	}
}

func TestTheHeadOfAPartStandsAgainOnTheNextPage(t *testing.T) {
	l, _ := longList(150)
	s, err := NewLists(load(t, waistcoat), Options{Paper: papers[0], Lists: []List{l}}, "cutting list")
	require.NoError(t, err)
	require.Greater(t, len(s.Pages), 3)
	for i, p := range s.Book.Pages {
		var words []string
		for _, part := range p.Parts {
			for _, text := range part.Drawing.Texts {
				words = append(words, text.Words)
			}
		}
		first := slices.IndexFunc(words, func(w string) bool { return strings.HasPrefix(w, "w") || strings.HasPrefix(w, "u") })
		if assert.GreaterOrEqual(t, first, 1) {
			assert.Contains(t, words[first-1], "head", "page %d", i+1)
		}
		assert.Contains(t, words, "Cutting list")
	}
}

func TestListsLieBehindThePieces(t *testing.T) {
	l, _ := longList(5)
	g := load(t, waistcoat)
	for _, paper := range everyPaper() {
		plain := made(t, g, Options{Paper: paper, Version: good})
		s := made(t, g, Options{Paper: paper, Version: good, Lists: []List{l, {Title: "Material list", Before: []Line{{Words: "none"}}}}})
		n := len(plain.Pages)
		require.Len(t, s.Pages, n+2, paper.Name)
		for i, p := range s.Pages {
			assert.Equal(t, i >= n, p.Kind == ListPage)
			if !paper.Roll {
				assert.True(t, paper.Width < 500 || i < n || p.Width == 210, "of large paper lists take A4")
			}
		}
		assert.Contains(t, said(s), "Material list")
	}
}

// A word that is wider than the page is cut short, and no list at all is no page.
func TestListsOfOddWords(t *testing.T) {
	long := strings.Repeat("long", 200)
	s, err := NewLists(load(t, waistcoat), Options{Paper: papers[0], Lists: []List{{Title: "x", Before: []Line{{Words: long}, {}, {Words: "a " + long + " b"}}}}}, "list")
	require.NoError(t, err)
	require.Len(t, s.Pages, 1)
	assertInside(t, s, 0)
	assert.Contains(t, said(s), "longlong")
	_, err = NewLists(load(t, waistcoat), Options{Paper: Paper{Name: "a5", Width: 148, Height: 210}}, "list")
	require.ErrorContains(t, err, "check squares")
	assert.NotContains(t, err.Error(), "--margin", "it is as small already")
	_, err = NewLists(load(t, waistcoat), Options{Paper: papers[0], Margin: 60}, "list")
	assert.ErrorContains(t, err, "or --margin 10")
}

// On the papers of every desk no line of a check square runs through the words of a list.
func TestListsStandBesideTheCheckSquares(t *testing.T) {
	l, _ := longList(40)
	for _, paper := range []string{"a4", "letter", "a3"} {
		p, err := ParsePaper(paper)
		require.NoError(t, err)
		s, err := NewLists(load(t, waistcoat), Options{Paper: p, Version: good, Lists: []List{l}}, "cutting list")
		require.NoError(t, err)
		for i, page := range s.Pages {
			for _, text := range s.Book.Pages[i].Parts[0].Drawing.Texts {
				for _, q := range page.Squares {
					square := curve.Box{Min: curve.Pt(q.X, q.Y), Max: curve.Pt(q.X+q.Size, q.Y+q.Size)}
					assert.False(t, text.Box(s.Book.Face).Overlaps(square), "%s page %d: %q", paper, i+1, text.Words)
				}
			}
		}
	}
}
