package overlay

import (
	"bytes"
	"encoding/xml"
	"io"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"seamkeep/pattern/compare"
	"seamkeep/pattern/curve"
)

// node is an element of a picture as a plain XML reader sees it.
type node struct {
	name     string
	attrs    map[string]string
	text     string
	children []*node
}

// readPicture reads a picture back; it fails on what is not well-formed.
func readPicture(t require.TestingT, data []byte) *node {
	root := &node{}
	stack := []*node{root}
	d := xml.NewDecoder(bytes.NewReader(data))
	for {
		token, err := d.Token()
		if err == io.EOF {
			break
		}
		require.NoError(t, err)
		top := stack[len(stack)-1]
		switch e := token.(type) {
		case xml.StartElement:
			n := &node{name: e.Name.Local, attrs: map[string]string{}}
			for _, a := range e.Attr {
				n.attrs[a.Name.Local] = a.Value
			}
			top.children = append(top.children, n)
			stack = append(stack, n)
		case xml.EndElement:
			stack = stack[:len(stack)-1]
		case xml.CharData:
			top.text += string(e)
		}
	}
	require.Len(t, root.children, 1)
	return root.children[0]
}

// all gives the elements below n for which keep holds, in order.
func (n *node) all(keep func(*node) bool) []*node {
	var out []*node
	for _, c := range n.children {
		if keep(c) {
			out = append(out, c)
		}
		out = append(out, c.all(keep)...)
	}
	return out
}

func (n *node) named(name string) []*node {
	return n.all(func(c *node) bool { return c.name == name })
}

func (n *node) with(attr string) []*node {
	return n.all(func(c *node) bool { _, ok := c.attrs[attr]; return ok })
}

func (n *node) number(t require.TestingT, attr string) float64 {
	v, err := strconv.ParseFloat(strings.TrimSuffix(n.attrs[attr], "mm"), 64)
	require.NoError(t, err, "%s of %s", attr, n.name)
	return v
}

// words gives all texts of a picture, one a line.
func (n *node) words() string {
	var b strings.Builder
	for _, e := range n.named("text") {
		b.WriteString(e.text + "\n")
	}
	return b.String()
}

// draw draws a sample and reads it back.
func (s sample) draw(t require.TestingT, w waistcoat) (*node, *compare.Change) {
	var b bytes.Buffer
	c := s.change(w)
	if s.piece != "" {
		require.NoError(t, Piece(&b, c, s.piece, s.options), s.name)
	} else {
		require.NoError(t, Sheet(&b, c, s.options), s.name)
	}
	return readPicture(t, b.Bytes()), c
}

// eachSample runs a test on every picture.
func eachSample(t *testing.T, test func(t *testing.T, s sample, root *node, c *compare.Change)) {
	w := readWaistcoat(t)
	for _, s := range samples(t) {
		t.Run(s.name, func(t *testing.T) {
			root, c := s.draw(t, w)
			test(t, s, root, c)
		})
	}
}

// pathPoints reads the points of path data: absolute M, L, C and Z only, which is
// what the pen writes.
func pathPoints(t require.TestingT, d string) []curve.Path {
	var out []curve.Path
	var at, start curve.Point
	for d != "" {
		letter, rest := d[0], d[1:]
		end := strings.IndexAny(rest, "MLCZ")
		if end < 0 {
			end = len(rest)
		}
		var p []curve.Point
		numbers := strings.Fields(rest[:end])
		for i := 0; i+1 < len(numbers); i += 2 {
			x, err := strconv.ParseFloat(numbers[i], 64)
			require.NoError(t, err)
			y, err := strconv.ParseFloat(numbers[i+1], 64)
			require.NoError(t, err)
			p = append(p, curve.Pt(x, y))
		}
		last := len(out) - 1
		switch letter {
		case 'M':
			at, start = p[0], p[0]
			out = append(out, nil)
		case 'L':
			out[last] = append(out[last], curve.Line(at, p[0]))
			at = p[0]
		case 'C':
			out[last] = append(out[last], curve.Cubic(at, p[0], p[1], p[2]))
			at = p[2]
		case 'Z':
			if at != start {
				out[last] = append(out[last], curve.Line(at, start))
			}
		}
		d = rest[end:]
	}
	return out
}

// onPattern turns a path of the sheet back to the pattern's frame, y up.
func onPattern(p curve.Path, origin curve.Point) curve.Path {
	out := make(curve.Path, len(p))
	back := func(q curve.Point) curve.Point { return curve.Pt(q.X-origin.X, origin.Y-q.Y) }
	for i, s := range p {
		out[i] = curve.Segment{P0: back(s.P0), P1: back(s.P1), P2: back(s.P2), P3: back(s.P3), Straight: s.Straight}
	}
	return out
}
