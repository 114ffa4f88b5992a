package text

import (
	"fmt"
	"strings"
	"testing"
)

// longPiece is a piece with this many curved edges.
func longPiece(edges int) []byte {
	var b strings.Builder
	b.WriteString("seamkeep piece 1\ntitle \"Side back\"\ncloth \"canvas\" 1 pair\ngrain 0 -100 to 0 150\n\n")
	for i := range edges {
		fmt.Fprintf(&b, "corner c%d %d.25 -%d.125\nedge e%d length 321.229\n  curve 49 -80.7 40 -30.4 to 40 0\n  curve 40 73.4 61.7 138 to corner\n", i, i, i, i)
	}
	b.WriteString("\nnotch waist on e0 at waist\nbone b1 width 7 from 10 -100 to 10 160\n")
	return []byte(b.String())
}

func BenchmarkReadPiece(b *testing.B) {
	for _, edges := range []int{13, 4500} { // 60 lines, 18 000 lines
		src := longPiece(edges)
		b.Run(fmt.Sprintf("%d-lines", strings.Count(string(src), "\n")), func(b *testing.B) {
			b.SetBytes(int64(len(src)))
			b.ReportAllocs()
			for b.Loop() {
				if _, problems := ReadPiece("p.piece", src); len(problems) > 0 {
					b.Fatal(problems)
				}
			}
		})
	}
}

func BenchmarkUpdateOneCorner(b *testing.B) {
	src := longPiece(13)
	p, _ := ReadPiece("p.piece", src)
	p.Corners[3].At.X++
	b.SetBytes(int64(len(src)))
	for b.Loop() {
		if _, err := Update("p.piece", src, p); err != nil {
			b.Fatal(err)
		}
	}
}
