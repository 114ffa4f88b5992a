package dxf

import (
	"encoding/json"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"seamkeep/pattern"
	"seamkeep/pattern/curve"
)

// file keeps a drawing for another program.
func file(t *testing.T, g *pattern.Garment) string {
	name := filepath.Join(t.TempDir(), "sheet.dxf")
	require.NoError(t, os.WriteFile(name, written(t, g, Options{}), 0o644))
	return name
}

// foreignEntity is an entity as another library reads it.
type foreignEntity struct {
	Layer, Kind, Text string
	Closed            bool
	Points            [][3]float64
}

// ring gives its points as a closed path and their box.
func (e foreignEntity) ring() (curve.Path, curve.Box) {
	var ring curve.Path
	box := curve.EmptyBox()
	for i, p := range e.Points {
		q := e.Points[(i+1)%len(e.Points)]
		ring = append(ring, curve.Line(curve.Pt(p[0], p[1]), curve.Pt(q[0], q[1])))
		box = box.Add(curve.Pt(p[0], p[1]))
	}
	return ring, box
}

// compare holds what another library read against the garment.
func compare(t *testing.T, g *pattern.Garment, all []foreignEntity) {
	var rings, squares []foreignEntity
	count := map[string]int{}
	for _, e := range all {
		count[e.Layer]++
		switch {
		case e.Layer == SewingLine:
			rings = append(rings, e)
		case e.Layer == Check && e.Text == "":
			squares = append(squares, e)
		}
	}
	want := map[string]int{}
	for _, e := range entities(t, written(t, g, Options{})) {
		want[e.layer]++
	}
	assert.Equal(t, want, count, "entities a layer")

	require.Len(t, squares, 1)
	square, box := squares[0].ring()
	assert.True(t, squares[0].Closed)
	assert.InDelta(t, 100, box.Width(), 1e-9)
	assert.InDelta(t, 100, box.Height(), 1e-9)
	assert.InDelta(t, 400, square.Length(0), 1e-9)

	require.Len(t, rings, len(g.Pieces))
	found := map[string]bool{}
	for _, e := range rings {
		assert.True(t, e.Closed)
		ring, box := e.ring()
		for _, p := range g.Pieces {
			own := p.Outline()
			first := curve.Pt(e.Points[0][0], e.Points[0][1])
			moved := own.Transform(curve.Translate(first.X-own.Start().X, first.Y-own.Start().Y))
			if curve.Hausdorff(moved, ring, 1e-4).Dist > DefaultTolerance {
				continue
			}
			found[p.Name] = true
			// lines in a curve are shorter than it: a flat arc with a chord s that is
			// e off lacks 8 e^2 / 3 s of it (from memory)
			assert.InDelta(t, own.Length(1e-6), ring.Length(0), 0.01, p.Name)
			assert.InDelta(t, own.Bounds().Width(), box.Width(), 2*DefaultTolerance, p.Name)
			assert.InDelta(t, own.Bounds().Height(), box.Height(), 2*DefaultTolerance, p.Name)
		}
	}
	assert.Len(t, found, len(g.Pieces), "each piece was found by its shape")
}

// GDAL reads it with its own reader of DXF.
func TestGDALReadsWhatWasWritten(t *testing.T) {
	program, err := exec.LookPath("ogr2ogr")
	if err != nil {
		t.Skip("GDAL is not installed (Debian: gdal-bin)")
	}
	for _, dir := range []string{waistcoat, marked} {
		g := load(t, dir)
		name := file(t, g)
		out, err := exec.Command(program, "-f", "GeoJSON", "-lco", "COORDINATE_PRECISION=9", "/vsistdout/", name).Output()
		require.NoError(t, err)
		var read struct {
			Features []struct {
				Properties struct{ Layer, Text string }
				Geometry   struct {
					Type        string
					Coordinates json.RawMessage
				}
			}
		}
		require.NoError(t, json.Unmarshal(out, &read))
		var all []foreignEntity
		for _, f := range read.Features {
			e := foreignEntity{Layer: f.Properties.Layer, Kind: f.Geometry.Type, Text: f.Properties.Text}
			if e.Kind == "LineString" {
				require.NoError(t, json.Unmarshal(f.Geometry.Coordinates, &e.Points))
				if last := len(e.Points) - 1; e.Points[0] == e.Points[last] {
					e.Closed, e.Points = true, e.Points[:last]
				}
			}
			all = append(all, e)
		}
		compare(t, g, all)
	}
}

// ezdxf is another reader; it also audits the file.
const ezdxfScript = `
import sys, json, ezdxf
doc = ezdxf.readfile(sys.argv[1])
audit = doc.audit()
out = []
for e in doc.modelspace():
    d = {"Layer": e.dxf.layer, "Kind": e.dxftype(), "Text": "", "Closed": False, "Points": []}
    if e.dxftype() == "POLYLINE":
        d["Closed"] = bool(e.is_closed)
        d["Points"] = [list(v.dxf.location) for v in e.vertices]
    if e.dxftype() == "TEXT":
        d["Text"] = e.dxf.text
    out.append(d)
json.dump({"Version": doc.dxfversion, "Errors": len(audit.errors), "Fixes": len(audit.fixes),
    "Layers": [l.dxf.name for l in doc.layers], "Entities": out}, sys.stdout)
`

// withEzdxf finds a Python that has it: a second Python may stand first on PATH.
func withEzdxf(t *testing.T) string {
	for _, python := range []string{"python3", "/usr/bin/python3"} {
		if exec.Command(python, "-c", "import ezdxf").Run() == nil {
			return python
		}
	}
	t.Skip("ezdxf is not installed (Debian: python3-ezdxf)")
	return ""
}

func TestEzdxfReadsWhatWasWritten(t *testing.T) {
	python := withEzdxf(t)
	for _, dir := range []string{waistcoat, marked} {
		g := load(t, dir)
		out, err := exec.Command(python, "-c", ezdxfScript, file(t, g)).Output()
		require.NoError(t, err)
		var read struct {
			Version       string
			Errors, Fixes int
			Layers        []string
			Entities      []foreignEntity
		}
		require.NoError(t, json.Unmarshal(out, &read))
		assert.Equal(t, "AC1009", read.Version)
		assert.Zero(t, read.Errors)
		assert.Zero(t, read.Fixes)
		for _, layer := range []string{SewingLine, Marks, Notches, Grain, Levels, Labels, Check} {
			assert.Contains(t, read.Layers, layer)
		}
		compare(t, g, read.Entities)
		names := map[string]bool{}
		for _, e := range read.Entities {
			names[e.Text] = true
		}
		for _, p := range g.Pieces {
			for _, e := range p.Edges {
				assert.True(t, names[e.Name], e.Name)
			}
		}
	}
}

func TestOgrinfoNamesTheExtent(t *testing.T) {
	program, err := exec.LookPath("ogrinfo")
	if err != nil {
		t.Skip("GDAL is not installed (Debian: gdal-bin)")
	}
	out, err := exec.Command(program, "-al", "-so", "-where", "Layer='CHECK' AND OGR_GEOMETRY='LINESTRING'", file(t, load(t, marked))).Output()
	require.NoError(t, err)
	assert.Contains(t, string(out), "Feature Count: 1")
	assert.Contains(t, strings.Join(strings.Fields(string(out)), " "), "Extent: (20.000000, 268.000000) - (120.000000, 368.000000)")
}
