package overlay

import (
	"bytes"
	"flag"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

var update = flag.Bool("update", false, "renew the golden picture")

// A small piece with eight edges, three of them moved a little: tags beside the
// piece, callouts, strips and the detail.
func TestGoldenPicture(t *testing.T) {
	w := readWaistcoat(t)
	file := filepath.Join("testdata", "golden", "small-piece.svg")
	for _, s := range samples(t) {
		if s.name != "small-piece" {
			continue
		}
		var b bytes.Buffer
		require.NoError(t, Sheet(&b, s.change(w), s.options))
		if *update {
			require.NoError(t, os.WriteFile(file, b.Bytes(), 0o644))
		}
		want, err := os.ReadFile(file)
		require.NoError(t, err)
		sameNodes(t, readPicture(t, want), readPicture(t, b.Bytes()))
	}
}

// sameNodes compares elements, attributes and texts; numbers within 0.002.
func sameNodes(t *testing.T, want, got *node) {
	require.Equal(t, want.name, got.name)
	require.Len(t, got.attrs, len(want.attrs), want.name)
	for name, v := range want.attrs {
		sameWords(t, v, got.attrs[name])
	}
	sameWords(t, want.text, got.text)
	require.Len(t, got.children, len(want.children), "%s: look at the picture, then renew it with -update", want.name)
	for i := range want.children {
		sameNodes(t, want.children[i], got.children[i])
	}
}

var number = regexp.MustCompile(`-?[0-9]+(\.[0-9]+)?`)

func sameWords(t *testing.T, want, got string) {
	require.Equal(t, number.ReplaceAllString(want, "#"), number.ReplaceAllString(got, "#"))
	a, b := number.FindAllString(want, -1), number.FindAllString(got, -1)
	for i := range a {
		x, errX := strconv.ParseFloat(a[i], 64)
		y, errY := strconv.ParseFloat(b[i], 64)
		require.NoError(t, errX)
		require.NoError(t, errY)
		assert.LessOrEqual(t, math.Abs(x-y), 0.002, "%s and %s", want, got)
	}
}
