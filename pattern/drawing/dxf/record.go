package dxf

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"seamkeep/pattern/curve"
	"seamkeep/pattern/svg"
)

// record writes a group: its code, then its value on a line of its own.
func (d *drawing) record(code int, value string) {
	fmt.Fprintf(&d.buf, "%3d\r\n%s\r\n", code, value)
}

// number writes at most six decimals and always one, by which readers know a
// number with a point.
func (d *drawing) number(code int, v float64) {
	if !(math.Abs(v) <= 1e6) {
		d.err = errNumber
	}
	s := strings.TrimRight(strconv.FormatFloat(v, 'f', 6, 64), "0")
	if strings.HasSuffix(s, ".") {
		s += "0"
	}
	if s == "-0.0" {
		s = "0.0"
	}
	d.record(code, s)
}

// point writes a place of the page, turned to y up, as the groups code, code +
// 10 and code + 20.
func (d *drawing) point(code int, p curve.Point) {
	d.number(code, p.X)
	d.number(code+10, d.page.Height-p.Y)
	d.number(code+20, 0)
}

func (d *drawing) section(name string, body func()) {
	d.record(0, "SECTION")
	d.record(2, name)
	body()
	d.record(0, "ENDSEC")
}

// table writes a table of n entries.
func (d *drawing) table(name string, n int, body func()) {
	d.record(0, "TABLE")
	d.record(2, name)
	d.record(70, strconv.Itoa(n))
	body()
	d.record(0, "ENDTAB")
}

// head writes the comment, the release, and the tables that every entity
// refers to.
func (d *drawing) head() {
	d.record(999, "written by seamkeep; 1 unit is 1 mm; curves are drawn as lines within "+strconv.FormatFloat(d.tol, 'f', -1, 64)+" mm")
	d.record(999, "the square on the layer CHECK measures 100 mm each way")
	d.section("HEADER", func() {
		d.record(9, "$ACADVER")
		d.record(1, "AC1009")
		d.record(9, "$EXTMIN")
		d.point(10, curve.Pt(0, d.page.Height))
		d.record(9, "$EXTMAX")
		d.point(10, curve.Pt(d.page.Width, 0))
	})
	d.section("TABLES", func() {
		d.table("LTYPE", 1, d.solid)
		d.table("LAYER", 8, d.layers)
		d.table("STYLE", 1, d.style)
	})
	d.section("BLOCKS", func() {})
}

// solid is the line type of all lines.
func (d *drawing) solid() {
	d.record(0, "LTYPE")
	d.record(2, "CONTINUOUS")
	d.record(70, "0")
	d.record(3, "Solid line")
	d.record(72, "65")
	d.record(73, "0")
	d.number(40, 0)
}

// layers have colours of the fixed palette: 7 black or white, 5 blue, 8 grey, 3
// green.
func (d *drawing) layers() {
	for _, l := range []struct{ name, colour string }{
		{"0", "7"}, {SewingLine, "7"}, {Marks, "5"}, {Notches, "7"},
		{Grain, "3"}, {Levels, "8"}, {Labels, "8"}, {Check, "7"},
	} {
		d.record(0, "LAYER")
		d.record(2, l.name)
		d.record(70, "0")
		d.record(62, l.colour)
		d.record(6, "CONTINUOUS")
	}
}

func (d *drawing) style() {
	d.record(0, "STYLE")
	d.record(2, "STANDARD")
	d.record(70, "0")
	d.number(40, 0)
	d.number(41, 1)
	d.number(50, 0)
	d.record(71, "0")
	d.number(42, 3)
	d.record(3, "txt")
	d.record(4, "")
}

// ascii gives a text in the characters that every reader takes alike: others
// become question marks, and so do the two with which DXF begins a control.
func ascii(s string) string {
	s = strings.Map(func(r rune) rune {
		if r < ' ' || r > '~' || r == '^' {
			return '?'
		}
		return r
	}, svg.CleanText(s))
	for strings.Contains(s, "%%") {
		s = strings.ReplaceAll(s, "%%", "%?")
	}
	return strings.TrimSpace(s)
}
