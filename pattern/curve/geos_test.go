package curve

import (
	"encoding/json"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The buffers that GEOS makes, through GDAL's ogr2ogr, of outlines that bend outwards
// only and of others that bend both ways: the rim of ours lies where that of theirs does.
// Theirs is made of chords of the outline and of 60 to a quarter of a circle.
func TestOffsetsAgreeWithTheBuffersOfGEOS(t *testing.T) {
	program, err := exec.LookPath("ogr2ogr")
	if err != nil {
		t.Skip("GDAL is not installed (Debian: gdal-bin)")
	}
	const tol, chords = 0.01, 0.005
	rings := append(convexOutlines(), concaveOutlines()...)
	for _, d := range []string{"1", "12", "40"} {
		theirs := buffers(t, program, rings, d, chords)
		require.Len(t, theirs, len(rings))
		var by float64
		require.NoError(t, json.Unmarshal([]byte(d), &by))
		for i, ring := range rings {
			ours, ok := ring.Offset(by, tol)
			require.True(t, ok)
			// a chord of 1.5 degrees of an arc of 40 strays by 0.0034
			for _, s := range theirs[i] {
				if off := ours.Nearest(s.P0); off.Dist > tol+chords+0.004 {
					require.Fail(t, "a rim of ours is not where theirs is", "outline %d by %s at %v: %g", i, d, s.P0, off.Dist)
				}
			}
			assert.InEpsilon(t, theirs[i].Area(), ours.Area(), 2e-4, "outline %d by %s", i, d)
		}
	}
}

func convexOutlines() []Path {
	return []Path{ellipse(50, 30, 8), ellipse(300, 120, 16), polygon(Pt(0, 0), Pt(220, 10), Pt(180, 300), Pt(60, 340), Pt(-20, 90))}
}

// concaveOutlines are drawn at random, and bend inwards somewhere.
func concaveOutlines() []Path {
	r := rand.New(rand.NewPCG(11, 12))
	var out []Path
	for len(out) < 8 {
		ring := randomOutline(r, 0.25)
		if len(ring.SelfCrossings()) == 0 && ring.Area() > 0 {
			out = append(out, ring)
		}
	}
	return out
}

type feature struct {
	Type       string   `json:"type"`
	Properties struct{} `json:"properties"`
	Geometry   struct {
		Type        string         `json:"type"`
		Coordinates [][][2]float64 `json:"coordinates"`
	} `json:"geometry"`
}

type collection struct {
	Type     string    `json:"type"`
	Features []feature `json:"features"`
}

// buffers gives the outer rings of the buffers of outlines.
func buffers(t *testing.T, program string, rings []Path, d string, chords float64) []Path {
	t.Helper()
	in := collection{Type: "FeatureCollection"}
	for _, ring := range rings {
		f := feature{Type: "Feature"}
		f.Geometry.Type = "Polygon"
		var pts [][2]float64
		for _, p := range ring.Flatten(chords) {
			pts = append(pts, [2]float64{p.X, p.Y})
		}
		pts[len(pts)-1] = pts[0]
		f.Geometry.Coordinates = [][][2]float64{pts}
		in.Features = append(in.Features, f)
	}
	data, err := json.Marshal(in)
	require.NoError(t, err)
	file := filepath.Join(t.TempDir(), "outlines.json")
	require.NoError(t, os.WriteFile(file, data, 0o600))
	out, err := exec.Command(program, "-f", "GeoJSON", "-lco", "COORDINATE_PRECISION=9", "/vsistdout/", file,
		"-dialect", "sqlite", "-sql", "select ST_Buffer(geometry, "+d+", 60) from outlines").Output()
	require.NoError(t, err)
	var got collection
	require.NoError(t, json.Unmarshal(out, &got))
	var paths []Path
	for _, f := range got.Features {
		require.NotEmpty(t, f.Geometry.Coordinates)
		var path Path
		ring := f.Geometry.Coordinates[0]
		for i := 1; i < len(ring); i++ {
			path = append(path, Line(Pt(ring[i-1][0], ring[i-1][1]), Pt(ring[i][0], ring[i][1])))
		}
		if path.Area() < 0 {
			path = path.Reverse()
		}
		paths = append(paths, path)
	}
	return paths
}
