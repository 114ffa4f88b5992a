package pattern

import (
	"math"
	"reflect"
	"slices"
	"strconv"
	"strings"

	"seamkeep/pattern/diag"
)

// Fitting is what the fitting of a mock-up showed. It is kept with the pattern, in
// fittings/NAME.fitting, and notes name it.
type Fitting struct {
	Place    diag.Place
	Name     string // base name of its file
	Date     string // YYYY-MM-DD
	Version  string // tag or commit that the mock-up was cut from
	Body     string // name of the body, or empty
	Square   *Square
	Gaps     []FittedGap
	Pinned   []Pinned
	Moved    []Verdict // movements that were tried
	Verdicts []Verdict // of areas
	Notes    []Remark
}

// Square is the check square of 100 mm as it was measured on the print, mm.
type Square struct {
	Place         diag.Place
	Across, Along float64
}

// FittedGap is the gap of a lacing at a level: what was predicted and what was
// seen, mm. Either may be missing.
type FittedGap struct {
	Place     diag.Place
	Closure   string
	Level     string
	Predicted Opt
	Observed  Opt
}

// Difference is observed less predicted, which is the calibration of its level (rho
// of the sum for a gap), mm; unknown where one of the two is.
func (f FittedGap) Difference() Opt {
	if !f.Predicted.Set || !f.Observed.Set {
		return Opt{}
	}
	return Some(RoundLength(f.Observed.Value - f.Predicted.Value))
}

// Waits tells whether nothing was written down yet of what was seen.
func (f *Fitting) Waits() bool {
	return len(f.Pinned)+len(f.Moved)+len(f.Verdicts)+len(f.Notes) == 0 &&
		!slices.ContainsFunc(f.Gaps, func(g FittedGap) bool { return g.Observed.Set })
}

// Pinned is what was pinned out at a seam, mm: on one half of the body, on both
// sides of the seam together, as steps count it. Negative: what it wants more.
type Pinned struct {
	Place  diag.Place
	Seam   string
	Level  string
	Amount float64
}

// How is how something fits.
type How string

// Hows lists the words for how something fits, in the order of the manual.
func Hows() []How { return []How{"ok", "tight", "loose", "short", "long", "pulls", "gapes", "rides"} }

// Verdict is how an area fits, or the garment in a movement.
type Verdict struct {
	Place diag.Place
	Of    string
	How   How
}

// Remark is a line of text.
type Remark struct {
	Place diag.Place
	Text  string
}

// Told gives the level of a girth of the body that stands in words as a figure, in mm or
// with a point in cm; "" where none does. Measures of a body are private.
func (b *Body) Told(words string) string {
	if b == nil {
		return ""
	}
	for _, figure := range strings.FieldsFunc(strings.ReplaceAll(words, ",", "."), func(r rune) bool { return (r < '0' || r > '9') && r != '.' }) {
		x, err := strconv.ParseFloat(strings.Trim(figure, "."), 64)
		if err != nil {
			continue
		}
		for _, n := range b.Girths {
			inCM := strings.Contains(strings.Trim(figure, "."), ".") && math.Abs(10*x-n.Value) <= 0.5
			if math.Abs(x-n.Value) < 0.05 || inCM {
				return n.Level
			}
		}
	}
	return ""
}

// EqualFittings tells whether two fittings say the same; see Equal.
func EqualFittings(a, b *Fitting) bool {
	if a == nil || b == nil {
		return a == b
	}
	x, y := plainFitting(a), plainFitting(b)
	return reflect.DeepEqual(x, y)
}

func plainFitting(f *Fitting) *Fitting {
	c := Clone(f)
	clearPlaces(reflect.ValueOf(c))
	sortBy(c.Gaps, func(g FittedGap) string { return g.Closure + " " + g.Level })
	sortBy(c.Pinned, func(p Pinned) string { return p.Seam + " " + p.Level })
	sortBy(c.Moved, func(v Verdict) string { return strconv.Quote(v.Of) })
	sortBy(c.Verdicts, func(v Verdict) string { return strconv.Quote(v.Of) })
	return c
}
