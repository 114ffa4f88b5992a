package describe_test

import (
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"seamkeep/pattern"
	"seamkeep/pattern/curve"
	"seamkeep/pattern/describe"
)

func pictureOf(t testing.TB, g *pattern.Garment) []byte {
	t.Helper()
	before := pattern.Clone(g)
	var b bytes.Buffer
	require.NoError(t, describe.Picture(&b, g, describe.Propose(g, describe.Hints{}), describe.Hints{}))
	require.Equal(t, before, g)
	return b.Bytes()
}

// shown is what a picture holds.
type shown struct {
	texts   []string
	numbers map[string]string // PIECE.EDGE -> the numbers at it
	pieces  []string
	names   map[string]bool // of elements
}

func look(t testing.TB, picture []byte) shown {
	t.Helper()
	s := shown{numbers: map[string]string{}, names: map[string]bool{}}
	piece, dec, inText := "", xml.NewDecoder(bytes.NewReader(picture)), false
	for {
		tok, err := dec.Token()
		if errors.Is(err, io.EOF) {
			return s
		}
		require.NoError(t, err)
		switch e := tok.(type) {
		case xml.StartElement:
			s.names[e.Name.Local] = true
			inText = e.Name.Local == "text"
			attrs := map[string]string{}
			for _, a := range e.Attr {
				attrs[a.Name.Local] = a.Value
				assert.False(t, strings.HasPrefix(a.Name.Local, "on"), "a script")
			}
			if p := attrs["data-piece"]; p != "" {
				piece = p
				s.pieces = append(s.pieces, p)
			}
			if n := attrs["data-number"]; n != "" {
				s.numbers[piece+"."+attrs["data-edge"]] += " " + n
			}
		case xml.CharData:
			if inText && strings.TrimSpace(string(e)) != "" {
				s.texts = append(s.texts, string(e))
			}
		case xml.EndElement:
			inText = false
		}
	}
}

// Every proposal's number stands at each of its edges, every edge has its name, and
// the list has every sentence.
func TestThePictureShowsWhatIsProposed(t *testing.T) {
	g := loosened(waistcoat(t))
	list := describe.Propose(g, describe.Hints{})
	s := look(t, pictureOf(t, g))
	assert.Equal(t, around(waistcoat(t)), s.pieces, "front to back")
	count := map[string]int{}
	for _, text := range s.texts {
		count[text]++
	}
	for _, edge := range []string{"front", "hem", "back", "top"} {
		assert.GreaterOrEqual(t, count[edge], 6, edge)
	}
	all := strings.Join(s.texts, " ")
	for _, p := range list {
		assert.Contains(t, all, fmt.Sprintf("%d %s", p.Number, p.Sentence))
		for _, r := range p.Edges {
			if p.Kind != describe.OfNames {
				assert.Contains(t, s.numbers[r.Piece+"."+r.Edge]+" ", fmt.Sprintf(" %d ", p.Number), p.Sentence)
			}
		}
	}
	assert.Equal(t, "scale 1 : 4, not for cutting; a square bears the number of a proposal,", s.texts[1])
}

func TestThePictureOfHostileNames(t *testing.T) {
	g := garment(ring("a", 0, 100, 0, -100, 80, -100, 80, 90))
	g.Title = "<script>x</script>\u202e"
	g.Pieces[0].Edges[0].Name = "<b onload=x>"
	g.Levels = append(g.Levels, pattern.Level{Name: strings.Repeat("w", 200), Y: 20})
	picture := pictureOf(t, g)
	s := look(t, picture)
	assert.False(t, s.names["script"] || s.names["b"])
	assert.Contains(t, s.texts[0], "<script>", "as words")
	assert.NotContains(t, string(picture), "\u202e")
}

func TestPicturesOfLittle(t *testing.T) {
	var b bytes.Buffer
	require.NoError(t, describe.Picture(&b, nil, nil, describe.Hints{}))
	assert.Contains(t, look(t, b.Bytes()).texts, "Nothing is proposed.")
	far := ring("far", 0, 100_000, 0, -100_000, 100_000, -100_000, 100_000, 100_000)
	assert.NotEmpty(t, look(t, pictureOf(t, garment(far))).pieces)
	odd := garment(&pattern.Piece{Name: "none"}, &pattern.Piece{Name: "dot", Edges: make([]pattern.Edge, 4), Corners: make([]pattern.Corner, 4)},
		&pattern.Piece{Name: "short", Edges: make([]pattern.Edge, 3), Corners: make([]pattern.Corner, 2)})
	assert.Len(t, look(t, pictureOf(t, odd)).pieces, 3)
	assert.Equal(t, pictureOf(t, garment(far)), pictureOf(t, garment(far)), "the same bytes")

	err := describe.Picture(failing{}, garment(far), nil, describe.Hints{})
	assert.ErrorContains(t, err, "the disk is full")
	huge := ring("huge", 0, 1e300, 0, -1e300, 1e300, -1e300)
	huge.Corners[0].At = curve.Pt(0, 1e300)
	assert.NotPanics(t, func() { _ = describe.Picture(&b, garment(huge), nil, describe.Hints{}) })
}

type failing struct{}

func (failing) Write([]byte) (int, error) { return 0, errors.New("the disk is full") }

// whatIsDrawn counts the lines and circles within each titled group.
func whatIsDrawn(t testing.TB, picture []byte, attr string) map[string]int {
	t.Helper()
	out := map[string]int{}
	dec, open, depth := xml.NewDecoder(bytes.NewReader(picture)), "", 0
	for {
		tok, err := dec.Token()
		if errors.Is(err, io.EOF) {
			return out
		}
		require.NoError(t, err)
		switch e := tok.(type) {
		case xml.StartElement:
			if open != "" {
				depth++
				if n := e.Name.Local; n == "path" || n == "line" || n == "circle" {
					out[open]++
				}
				continue
			}
			for _, a := range e.Attr {
				if a.Name.Local == attr {
					open = a.Value
				}
			}
		case xml.EndElement:
			if depth--; depth < 0 {
				open, depth = "", 0
			}
		}
	}
}

// Marks, the grain and a piece's own levels are drawn on it, once each; those that
// a slip of the point put far off are not.
func TestThePictureShowsMarksGrainAndOwnLevels(t *testing.T) {
	p := ring("front", 0, 200, 0, -200, 160, -200, 160, 200)
	p.Grain = &pattern.Grain{From: curve.Pt(80, -150), To: curve.Pt(80, 150)}
	line := func(kind pattern.MarkKind, name string, x, width float64) pattern.Mark {
		m := pattern.Mark{Kind: kind, Name: name, At: curve.Pt(x, 100), Segs: []pattern.Seg{{To: curve.Pt(x, -100)}}}
		if width > 0 {
			m.Width = pattern.Some(width)
		}
		return m
	}
	p.Marks = []pattern.Mark{
		line(pattern.Bone, "b1", 20, 7), line(pattern.Cord, "c1", 30, 0), line(pattern.Stitch, "s1", 40, 0), line(pattern.Bone, "lost", 9000, 7),
		{Kind: pattern.Eyelet, Name: "e1", At: curve.Pt(10, 50), Diameter: pattern.Some(5.0)}, {Kind: pattern.Button, Name: "n1", At: curve.Pt(10, 20)},
		{Kind: pattern.Buttonhole, Name: "h1", At: curve.Pt(10, 0), Angle: pattern.Some(30.0)}, {Kind: pattern.Drill, Name: "d1", At: curve.Pt(60, 0)},
		{Kind: pattern.Drill, Name: "far", At: curve.Pt(60, 9000)},
	}
	p.Levels = []pattern.Level{{Name: "bust", Y: 120}, {Name: "waist", Y: 0}, {Name: "nowhere", Y: 5000}}
	g := garment(p)
	g.Levels = []pattern.Level{{Name: "waist"}, {Name: "bust", Y: 140}, {Name: "high-hip", Y: -80}}
	picture := pictureOf(t, g)
	assert.Equal(t, map[string]int{"b1": 1, "c1": 1, "s1": 1, "e1": 1, "n1": 1, "h1": 1, "d1": 1}, whatIsDrawn(t, picture, "data-mark"))
	assert.Equal(t, map[string]int{"yes": 5}, whatIsDrawn(t, picture, "data-grain"), "a line and two heads of two strokes")
	assert.Equal(t, map[string]int{"bust": 1}, whatIsDrawn(t, picture, "data-level"), "waist lies as on the others")
	count := map[string]int{}
	for _, text := range look(t, picture).texts {
		count[text]++
	}
	assert.Equal(t, []int{2, 1, 1}, []int{count["bust"], count["waist"], count["high-hip"]})
}

// Levels close together all keep their names.
func TestLevelsCloseTogetherAreAllNamed(t *testing.T) {
	g := garment(ring("a", 0, 200, 0, -200, 160, -200, 160, 200))
	for i := range 6 {
		g.Levels = append(g.Levels, pattern.Level{Name: fmt.Sprintf("level-%d", i), Y: float64(2 * i)})
	}
	texts := strings.Join(look(t, pictureOf(t, g)).texts, "|")
	for i := range 6 {
		assert.Contains(t, texts, fmt.Sprintf("level-%d", i))
	}
}
