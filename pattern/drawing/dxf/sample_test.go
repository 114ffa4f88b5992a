package dxf

import (
	"bytes"
	"os"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"seamkeep/pattern"
	"seamkeep/pattern/curve"
	"seamkeep/pattern/text"
)

// Two garments: a waistcoat of seven pieces, and one of two with one of
// everything that is drawn on a piece.
const (
	waistcoat = "../../../testdata/patterns/waistcoat--03-gusset"
	marked    = "../page/testdata/marked"
)

func load(t testing.TB, dir string) *pattern.Garment {
	folder, problems := text.Load(os.DirFS(dir), ".")
	require.False(t, problems.HasErrors(), problems)
	return folder.Garment
}

func written(t testing.TB, g *pattern.Garment, o Options) []byte {
	var b bytes.Buffer
	require.NoError(t, Write(&b, g, g.Pieces, o))
	return b.Bytes()
}

// group is a code and its value.
type group struct {
	code  int
	value string
}

// groups reads the pairs of lines that a DXF file consists of (DXF Reference,
// ASCII files: a code, then its value, each on its own line).
func groups(t testing.TB, src []byte) []group {
	require.True(t, bytes.HasSuffix(src, []byte("\r\n")))
	lines := strings.Split(strings.TrimSuffix(string(src), "\r\n"), "\r\n")
	require.Zero(t, len(lines)%2, "codes and values in pairs")
	out := make([]group, 0, len(lines)/2)
	for i := 0; i < len(lines); i += 2 {
		require.NotContains(t, lines[i]+lines[i+1], "\n", "every line ends in CR LF")
		code, err := strconv.Atoi(strings.TrimSpace(lines[i]))
		require.NoError(t, err)
		out = append(out, group{code, lines[i+1]})
	}
	return out
}

// entity is one entity, a polyline with its points.
type entity struct {
	kind, layer string
	closed      bool
	points      []curve.Point
	values      map[int]string
}

// entities reads the section ENTITIES.
func entities(t testing.TB, src []byte) []entity {
	var out []entity
	inside, vertex := false, false
	for _, g := range groups(t, src) {
		switch {
		case g.code == 2 && g.value == "ENTITIES":
			inside = true
		case !inside:
		case g.code == 0 && g.value == "ENDSEC":
			return out
		case g.code == 0:
			vertex = g.value == "VERTEX"
			if vertex {
				last := &out[len(out)-1]
				last.points = append(last.points, curve.Point{})
			} else if g.value != "SEQEND" {
				out = append(out, entity{kind: g.value, values: make(map[int]string)})
			}
		default:
			last := &out[len(out)-1]
			switch {
			case vertex && g.code == 10:
				last.points[len(last.points)-1].X = number(t, g.value)
			case vertex && g.code == 20:
				last.points[len(last.points)-1].Y = number(t, g.value)
			case vertex:
			case g.code == 8:
				last.layer = g.value
			case g.code == 70:
				last.closed = g.value == "1"
			default:
				last.values[g.code] = g.value
			}
		}
	}
	require.Fail(t, "the section does not end")
	return nil
}

func number(t testing.TB, s string) float64 {
	v, err := strconv.ParseFloat(s, 64)
	require.NoError(t, err)
	return v
}

func on(all []entity, layer, kind string) []entity {
	var out []entity
	for _, e := range all {
		if e.layer == layer && e.kind == kind {
			out = append(out, e)
		}
	}
	return out
}

// polygon gives a closed polyline as a path.
func (e entity) polygon() curve.Path {
	var out curve.Path
	for i, p := range e.points {
		out = append(out, curve.Line(p, e.points[(i+1)%len(e.points)]))
	}
	return out
}
