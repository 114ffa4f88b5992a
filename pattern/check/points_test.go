package check_test

import (
	"os"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"seamkeep/pattern/check"
	"seamkeep/pattern/curve"
	"seamkeep/pattern/diag"
)

// pointsOf gives the points of findings, by id and subject, and those of their
// related places under "id subject, n".
func pointsOf(list diag.List) map[string][]curve.Point {
	out := map[string][]curve.Point{}
	for _, x := range list {
		if x.Place.HasPoint {
			out[x.Address()] = append(out[x.Address()], curve.Pt(x.Place.X, x.Place.Y))
		}
		for _, r := range x.Related {
			if r.Place.HasPoint {
				name := x.Address() + ", " + r.Place.Piece
				out[name] = append(out[name], curve.Pt(r.Place.X, r.Place.Y))
			}
		}
	}
	return out
}

// The figures follow from the points of the files: the crossing of two diagonals,
// the middle of an edge, the end of a bone, the end of an edge that a notch would
// lie beyond. The loop is the cubic (100,100) (-50,200) (150,200) (0,100), which
// is symmetric about x = 50; x(t) = 50 has, besides t = 1/2, the roots of
// 7t^2 - 7t + 1, where y = 100 + 300 t (1-t) = 100 + 300/7.
func TestWhereFindingsLieOnTheCloth(t *testing.T) {
	pts := func(xy ...float64) []curve.Point {
		var out []curve.Point
		for i := 0; i < len(xy); i += 2 {
			out = append(out, curve.Pt(xy[i], xy[i+1]))
		}
		return out
	}
	for file, want := range map[string]map[string][]curve.Point{
		"outlines": {
			"outline.crosses bow.e1": pts(50, 50), "outline.crosses bow.e1, bow": pts(50, 50),
			"outline.crosses loop.e3": pts(50, 100+300.0/7), "edge.short short.e3": pts(99.8, 100),
			"outline.crosses nothing.e1": pts(25, 0), "outline.crosses nothing.e1, nothing": pts(25, 0),
		},
		"marks-outside":  {"mark.outside a": pts(40, 105, -3, 50, 85, 60), "mark.outside a, a": pts(-0.2, 50), "mark.outside b": pts(-4, 90), "mark.no-length b": pts(23, 10), "mark.no-length b, b": pts(50, 10)},
		"notch-no-place": {"notch.no-place a.back": pts(80, 100)},
		// the worst segment is that below the waist: its middle on either side,
		// then the two places where a segment begins
		"seam-segment": {"seam.segment s, a": pts(80, -51, 80, -102, 80, 0), "seam.segment s, b": pts(0, -50)},
	} {
		t.Run(file, func(t *testing.T) {
			src, err := os.ReadFile("testdata/" + file + ".txt")
			require.NoError(t, err)
			got := pointsOf(check.Run(read(t, string(src))))
			require.Len(t, got, len(want))
			for name, points := range want {
				require.Len(t, got[name], len(points), name)
				for i, p := range points {
					assert.InDelta(t, p.X, got[name][i].X, 1e-3, "%s %d", name, i)
					assert.InDelta(t, p.Y, got[name][i].Y, 1e-3, "%s %d", name, i)
				}
			}
		})
	}
}
