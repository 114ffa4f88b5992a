package handoff

import (
	"bytes"
	"errors"
	"flag"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"seamkeep/pattern"
	"seamkeep/pattern/curve"
)

var update = flag.Bool("update", false, "write the golden files anew")

const (
	label = nsInkscape + " label"
	mode  = nsInkscape + " groupmode"
)

// structure tells what a reader of the drawing goes by, and not how it looks or
// is laid out: kinds, layers, ids, labels, our attributes, geometry and words.
func structure(e *tag, depth int) string {
	var b strings.Builder
	fmt.Fprintf(&b, "%s%s", strings.Repeat("  ", depth), e.kind)
	for _, name := range []string{"id", mode, label, nsOwn + " piece", nsOwn + " base", nsOwn + " at", nsOwn + " line",
		"width", "height", "viewBox", "x", "y", "d", "cx", "cy", "r"} {
		if v, ok := e.attrs[name]; ok {
			fmt.Fprintf(&b, " %s=%q", name[strings.LastIndex(name, " ")+1:], v)
		}
	}
	if e.text != "" {
		fmt.Fprintf(&b, " %q", e.text)
	}
	b.WriteString("\n")
	for _, k := range e.kids {
		b.WriteString(structure(k, depth+1))
	}
	return b.String()
}

func TestStructureOfDrawing(t *testing.T) {
	got := structure(parse(t, written(t, load(t, marked), Options{Base: bases})), 0)
	golden := filepath.Join("testdata", "golden", "marked.txt")
	if *update {
		require.NoError(t, os.MkdirAll(filepath.Dir(golden), 0o755))
		require.NoError(t, os.WriteFile(golden, []byte(got), 0o644))
	}
	want, err := os.ReadFile(golden)
	require.NoError(t, err)
	assert.Equal(t, string(want), got)
}

// The numbers of the page less those of "at" are those of the piece file,
// decimal by decimal.
func TestNumbersOfThePieceStandOnThePage(t *testing.T) {
	for _, dir := range []string{waistcoat, marked} {
		g := load(t, dir)
		root := parse(t, written(t, g, Options{}))
		for _, p := range g.Pieces {
			layer := root.one(t, p.Name)
			require.Equal(t, p.Name, layer.own("piece"))
			at := strings.Fields(layer.own("at"))
			require.Len(t, at, 2)
			words := strings.FieldsFunc(root.one(t, p.Name+"-outline").attrs["d"], func(r rune) bool { return r == ' ' || r == ',' })
			want := []string{"M"}
			add := func(q curve.Point) {
				want = append(want, fmt.Sprint(thousandths(t, at[0])+int64(math.Round(q.X*1000))), fmt.Sprint(thousandths(t, at[1])-int64(math.Round(q.Y*1000))))
			}
			ring := p.Outline()
			add(ring.Start())
			for i, s := range ring {
				switch {
				case s.Straight && i == len(ring)-1:
				case s.Straight:
					want = append(want, "L")
					add(s.P3)
				default:
					want = append(want, "C")
					add(s.P1)
					add(s.P2)
					add(s.P3)
				}
			}
			want = append(want, "Z")
			got := make([]string, len(words))
			for i, w := range words {
				got[i] = w
				if strings.ContainsAny(w, "0123456789") {
					got[i] = fmt.Sprint(thousandths(t, w))
				}
			}
			assert.Equal(t, want, got, p.Name)
		}
	}
}

func TestEveryPartIsNamedOnce(t *testing.T) {
	g := load(t, marked)
	root := parse(t, written(t, g, Options{}))
	seen := map[string]bool{}
	for _, e := range root.all() {
		id := e.attrs["id"]
		assert.NotEmpty(t, id, e.kind)
		assert.False(t, seen[id], id)
		seen[id] = true
		if slices.Contains([]string{"path", "circle", "rect", "line"}, e.kind) && e.up.kind != "marker" {
			assert.NotEmpty(t, e.own("line"), "%s: a line without a meaning would be read back as a new one", id)
		}
	}
	for _, p := range g.Pieces {
		for _, m := range p.Marks {
			assert.Len(t, root.with(nsOwn+" line", "mark "+string(m.Kind)+" "+m.Name), 1)
		}
	}
}

// Names that make one id for two parts still give an outline its own.
func TestClashingNamesKeepTheirIDs(t *testing.T) {
	square := func(name string) *pattern.Piece {
		p := &pattern.Piece{Name: name}
		for i, c := range []curve.Point{{X: 0, Y: 50}, {X: 0, Y: 0}, {X: 50, Y: 0}, {X: 50, Y: 50}} {
			p.Corners = append(p.Corners, pattern.Corner{Name: fmt.Sprintf("c%d", i), At: c})
			p.Edges = append(p.Edges, pattern.Edge{Name: fmt.Sprintf("e%d", i)})
		}
		return p
	}
	g := &pattern.Garment{Title: "clash"}
	for _, name := range []string{"a", "a-outline", "paper", "page", "drawing", "check-square", "a-names"} {
		g.Pieces = append(g.Pieces, square(name))
	}
	root := parse(t, written(t, g, Options{}))
	ids := map[string]bool{}
	for _, e := range root.all() {
		assert.False(t, ids[e.attrs["id"]], e.attrs["id"])
		ids[e.attrs["id"]] = true
	}
	for _, p := range g.Pieces {
		layer := root.one(t, p.Name)
		assert.Equal(t, p.Name, layer.own("piece"))
		assert.Len(t, layer.with(nsOwn+" line", "outline"), 1)
	}
}

func TestCheckSquareMeasures100(t *testing.T) {
	root := parse(t, written(t, load(t, waistcoat), Options{}))
	square := root.one(t, "check-square")
	assert.Equal(t, "check", square.own("line"))
	assert.Equal(t, "100", square.attrs["width"])
	assert.Equal(t, "100", square.attrs["height"])
	assert.Equal(t, root.attrs["width"]+" "+root.attrs["height"], strings.Join(strings.Fields(root.attrs["viewBox"])[2:], "mm ")+"mm")
}

func TestSameInputSameBytes(t *testing.T) {
	assert.Equal(t, written(t, load(t, marked), Options{Base: bases}), written(t, load(t, marked), Options{Base: bases}))
}

type broken struct{}

func (broken) Write([]byte) (int, error) { return 0, errors.New("disk full") }

func TestWriteRefuses(t *testing.T) {
	g := load(t, marked)
	err := Write(broken{}, g, g.Pieces, Options{})
	assert.EqualError(t, err, "write drawing: disk full")
	for _, bad := range []float64{math.NaN(), math.Inf(1), 3e7} {
		g := load(t, marked)
		g.Pieces[0].Corners[0].At.X = bad
		var b bytes.Buffer
		assert.Error(t, Write(&b, g, g.Pieces, Options{}), "%v", bad)
		assert.Zero(t, b.Len(), "half a drawing was written")
	}
}

// elements are all that a drawing may consist of.
var elements = []string{"svg", "title", "namedview", "defs", "marker", "path", "g", "rect", "circle", "text"}

func FuzzHostileNames(f *testing.F) {
	for _, s := range []string{"side-back", `"><script>alert(1)</script>`, "]]>&lt;", "a\x00b\u202ec", "&ns;", "\xff\xfe", "'", "", strings.Repeat("x", 5000), "-- -->"} {
		f.Add(s, s, 1.5)
	}
	f.Fuzz(func(t *testing.T, name, words string, x float64) {
		g := load(t, marked)
		g.Title = words
		p := g.Pieces[1]
		p.Name, p.Title, p.Cloths[0].Name = name, words, words
		p.Edges[0].Name, p.Notches[0].Name, p.Marks[0].Name, g.Levels[0].Name = words, name, words, name
		p.Marks[5].At.X = x
		var b bytes.Buffer
		err := Write(&b, g, g.Pieces, Options{Base: func(string) string { return words }, File: words})
		if err != nil {
			require.False(t, math.Abs(x) < 1e5, "%v", err)
			return
		}
		seen := map[string]bool{}
		for _, e := range parse(t, b.Bytes()).all() {
			assert.Contains(t, elements, e.kind)
			assert.False(t, seen[e.attrs["id"]])
			seen[e.attrs["id"]] = true
			for name := range e.attrs {
				assert.False(t, strings.HasPrefix(name, "on") || strings.Contains(name, "href"), name)
			}
		}
	})
}
