package vector

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"seamkeep/pattern/curve"
)

func TestTransforms(t *testing.T) {
	p := curve.Pt(3, 4)
	for text, want := range map[string]curve.Point{
		"":                               {X: 3, Y: 4},
		"  ":                             {X: 3, Y: 4},
		"translate(10)":                  {X: 13, Y: 4},
		"translate(10 -2)":               {X: 13, Y: 2},
		"scale(2)":                       {X: 6, Y: 8},
		"scale(2,-1)":                    {X: 6, Y: -4},
		"rotate(90)":                     {X: -4, Y: 3}, // x towards y
		"rotate(90,1,1)":                 {X: -2, Y: 3},
		"rotate(-90 , 1 1)":              {X: 4, Y: -1},
		"matrix(1,2,3,4,5,6)":            {X: 20, Y: 28},
		"skewX(45)":                      {X: 7, Y: 4},
		"skewY(45)":                      {X: 3, Y: 7},
		"translate(10,0) scale(2)":       {X: 16, Y: 8}, // the last one first
		"scale(2),translate(10,0)":       {X: 26, Y: 8},
		" scale (2)\n\ttranslate(10,0) ": {X: 26, Y: 8},
		"translate(1e1.5)":               {X: 13, Y: 4.5},
	} {
		m, bad := parseTransform(text)
		require.Nil(t, bad, text)
		got := m.Apply(p)
		assert.InDelta(t, want.X, got.X, 1e-12, text)
		assert.InDelta(t, want.Y, got.Y, 1e-12, text)
	}
}

// The chain of SVG 1.1, section 7.5: translate(50,90), rotate(-45),
// translate(130,160) together are matrix(0.707 -0.707 0.707 0.707 255.03 111.21);
// its figures are worked out with 0.707 for the root of 1/2.
func TestTransformChainOfTheSpecification(t *testing.T) {
	m, bad := parseTransform("translate(50,90) rotate(-45) translate(130,160)")
	require.Nil(t, bad)
	for i, want := range []float64{0.707, -0.707, 0.707, 0.707, 255.03, 111.21} {
		got := []float64{m.A, m.B, m.C, m.D, m.E, m.F}[i]
		assert.InDelta(t, want, got, 0.035)
	}
	half := math.Sqrt(0.5)
	assert.InDelta(t, 50+290*half, m.E, 1e-12)
	assert.InDelta(t, 90+30*half, m.F, 1e-12)
}

func TestTransformsRefused(t *testing.T) {
	for text, at := range map[string]int{
		"translate": 0, "translate(": 10, "translate(1": 11, "translate()": 0, "translate(1,2,3)": 0, "rotate(1,2)": 0,
		"scale(1,2,3)": 0, "matrix(1,2,3,4,5)": 0, "matrix(1,2,3,4,5,6,7)": 0, "skewX(1,2)": 0, "Translate(1)": 0,
		"scale(2) none": 9, "scale(x)": 6, "scale(1e7)": 6, "(1)": 0, "translate(1px)": 11, "rotate(10deg)": 9,
	} {
		_, bad := parseTransform(text)
		if assert.NotNil(t, bad, text) {
			assert.Equal(t, at, bad.at, text)
		}
	}
}

// A group's transform and a path's are done one after the other, the path's
// first; a mirrored group mirrors the direction of drawing too.
func TestTransformsOfGroupsAndPaths(t *testing.T) {
	want, _ := Read("a.svg", onPage(`<path d="M100,100 h50 v80 h-60 z"/>`), Options{})
	for _, body := range []string{
		`<g transform="translate(30,0)"><g transform="scale(2)"><path transform="translate(-10,5)" d="M45,45 h25 v40 h-30 z"/></g></g>`,
		`<g transform="matrix(-1,0,0,1,300,0)"><path d="M200,100 h-50 v80 h60 z"/></g>`,
		`<a transform="rotate(180)"><path d="M-100,-100 h-50 v-80 h60 z"/></a>`,
		`<svg><path d="M100,100 h50 v80 h-60 z"/></svg>`,
	} {
		got, probs := Read("a.svg", onPage(body), Options{})
		assert.Empty(t, probs)
		require.Len(t, got.Items, 1, body)
		for i, s := range got.Items[0].Path {
			assert.InDelta(t, 0, s.P3.Dist(want.Items[0].Path[i].P3), 1e-9, body)
		}
	}
}
