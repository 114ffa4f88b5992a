package vector

import (
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"math"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
)

// bigDrawing has 1000 closed paths of curves in layers, about 10 MB.
func bigDrawing() []byte {
	var b bytes.Buffer
	b.WriteString(`<svg xmlns="` + nsSVG + `" xmlns:inkscape="` + nsEditor + `" width="2000mm" height="2000mm" viewBox="0 0 2000 2000">` + "\n")
	for i := range 1000 {
		fmt.Fprintf(&b, `<g inkscape:groupmode="layer" inkscape:label="Piece %d" id="layer%d"><path id="path%d" style="fill:none;stroke:#000000;stroke-width:0.25" d="M 100,0 c`, i, i, i)
		for k := range 190 {
			s, c := math.Sincos(float64(k*i) / 30)
			fmt.Fprintf(&b, " %.6f,%.6f %.6f,%.6f %.6f,%.6f", s, c, 2*s, 3*c, 3*c, -s)
		}
		b.WriteString(" z\" transform=\"translate(20,30)\"/></g>\n")
	}
	b.WriteString("</svg>\n")
	return b.Bytes()
}

// tokens reads a text with encoding/xml alone.
func tokens(src []byte) error {
	dec := xml.NewDecoder(bytes.NewReader(src))
	for {
		if _, err := dec.Token(); errors.Is(err, io.EOF) {
			return nil
		} else if err != nil {
			return err
		}
	}
}

// BenchmarkRead reads a drawing of 10 MB, and gives its time as so many times that
// of encoding/xml alone on the same text, in turns.
func BenchmarkRead(b *testing.B) {
	src := bigDrawing()
	d, probs := Read("a.svg", src, Options{})
	require.Empty(b, probs)
	require.Len(b, d.Items, 1000)
	b.SetBytes(int64(len(src)))
	b.ReportAllocs()
	var alone time.Duration
	for b.Loop() {
		b.StopTimer()
		start := time.Now()
		require.NoError(b, tokens(src))
		alone += time.Since(start)
		b.StartTimer()
		_, _ = Read("a.svg", src, Options{})
	}
	b.ReportMetric(float64(b.Elapsed())/float64(alone), "times-xml")
}

// BenchmarkTokens is encoding/xml alone.
func BenchmarkTokens(b *testing.B) {
	src := bigDrawing()
	b.SetBytes(int64(len(src)))
	b.ReportAllocs()
	for b.Loop() {
		require.NoError(b, tokens(src))
	}
}
