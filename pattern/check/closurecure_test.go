package check_test

import (
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"seamkeep/pattern"
	"seamkeep/pattern/check"
	"seamkeep/pattern/diag"
	"seamkeep/pattern/text"
)

// drawClosed draws a panel that is closed at its back by buttons, eyelets or hooks of which
// the record says whatever it says.
func drawClosed(t *rapid.T) *pattern.Garment {
	top := pattern.RoundLength(rapid.Float64Range(40, 300).Draw(t, "top"))
	a := panel("a", -pattern.RoundLength(rapid.Float64Range(40, 300).Draw(t, "bottom")), top)
	front := pattern.RoundLength(rapid.Float64Range(0, 60).Draw(t, "front")) // its back is at 80
	a.Corners[0].At.X, a.Corners[1].At.X = front, front
	number := func(name string, least, most float64) pattern.Opt {
		if rapid.Bool().Draw(t, "no "+name) {
			return pattern.Opt{}
		}
		return pattern.Some(pattern.RoundLength(rapid.Float64Range(least, most).Draw(t, name)))
	}
	whole := func(name string, least, most int) pattern.Opt {
		if rapid.Bool().Draw(t, "no "+name) {
			return pattern.Opt{}
		}
		return pattern.Some(float64(rapid.IntRange(least, most).Draw(t, name)))
	}
	g := &pattern.Garment{Half: pattern.LeftHalf, Levels: []pattern.Level{{Name: "waist"}}, Pieces: []*pattern.Piece{a}, Allowances: []pattern.Allowance{{Value: 12}},
		Closures: []pattern.Closure{{Name: "c", Edges: []pattern.Ref{{Piece: "a", Edge: "back"}}, Overlap: pattern.Some(pattern.RoundLength(rapid.Float64Range(10, 200).Draw(t, "overlap")))}}}
	f := pattern.Fastening{Closure: "c", From: rapid.SampledFrom([]string{"", "waist"}).Draw(t, "from"), Pitch: number("pitch", 5, 700), Margin: number("margin", 0, 30),
		Up: whole("up", 0, 9), Down: whole("down", 0, 12)}
	if !f.Up.Set && !f.Down.Set {
		f.Count = whole("count", 2, 20)
	}
	list := &g.Buttons
	switch g.Closures[0].Kind = rapid.SampledFrom([]string{pattern.ButtonClosure, pattern.Lacing, pattern.HookClosure}).Draw(t, "kind"); g.Closures[0].Kind {
	case pattern.Lacing:
		list = &g.Eyelets
	case pattern.HookClosure:
		list = &g.Hooks
	}
	if g.Closures[0].Kind != pattern.HookClosure {
		f.Diameter = number("diameter", 4, 25)
		if rapid.IntRange(0, 4).Draw(t, "unrecorded") == 0 {
			return g
		}
	}
	*list = []pattern.Fastening{f}
	return g
}

// cures are what hints say, as a pattern and what it does.
var cures = []struct {
	id   string
	says *regexp.Regexp
	do   func(g *pattern.Garment, x diag.Problem, said []string)
}{
	{"closure.no-record", regexp.MustCompile(`write(?: for example)?: (.+)$`), func(g *pattern.Garment, _ diag.Problem, said []string) { record(g, said[1]) }},
	{"closure.two-anchors", regexp.MustCompile(`write pitch (\S+) up (\d+) down (\d+), and all`), func(g *pattern.Garment, _ diag.Problem, said []string) {
		f := g.Fastened("c")
		f.Pitch, f.Up, f.Down, f.Count = opt(said[1]), opt(said[2]), opt(said[3]), pattern.Opt{}
	}},
	{"closure.count", regexp.MustCompile(`room for up (\d+) down (\d+)`), func(g *pattern.Garment, _ diag.Problem, said []string) {
		g.Fastened("c").Up, g.Fastened("c").Down = opt(said[1]), opt(said[2])
	}},
	{"closure.count", regexp.MustCompile(`room for count (\d+)`), func(g *pattern.Garment, _ diag.Problem, said []string) { g.Fastened("c").Count = opt(said[1]) }},
	{"closure.pitch", regexp.MustCompile(`write a pitch of at most (\S+)`), func(g *pattern.Garment, _ diag.Problem, said []string) { g.Fastened("c").Pitch = opt(said[1]) }},
	{"closure.pitch", regexp.MustCompile(`write a pitch of at least (\S+)$`), func(g *pattern.Garment, _ diag.Problem, said []string) { g.Fastened("c").Pitch = opt(said[1]) }},
	{"closure.pitch", regexp.MustCompile(`write count (\d+) or less$`), func(g *pattern.Garment, _ diag.Problem, said []string) {
		f := g.Fastened("c")
		f.Count, f.Up, f.Down = opt(said[1]), pattern.Opt{}, pattern.Opt{}
	}},
	{"closure.beyond", regexp.MustCompile(`take \d+ fewer there, or write a pitch of at most (\S+)`), func(g *pattern.Garment, _ diag.Problem, said []string) { g.Fastened("c").Pitch = opt(said[1]) }},
	{"closure.beyond", regexp.MustCompile(`take (\d+) fewer there$`), func(g *pattern.Garment, x diag.Problem, said []string) { fewer(g.Fastened("c"), x, opt(said[1]).Value) }},
	{"closure.beyond", regexp.MustCompile(`write a margin of at least (\S+)`), func(g *pattern.Garment, _ diag.Problem, said []string) { g.Fastened("c").Margin = opt(said[1]) }},
	{"closure.apart", regexp.MustCompile(`write count (\d+):`), func(g *pattern.Garment, _ diag.Problem, said []string) {
		f := g.Fastened("c")
		f.Count, f.Up, f.Down = opt(said[1]), pattern.Opt{}, pattern.Opt{}
	}},
	{"closure.apart", regexp.MustCompile(`write a pitch of at most (\S+),`), func(g *pattern.Garment, _ diag.Problem, said []string) { g.Fastened("c").Pitch = opt(said[1]) }},
	{"closure.overlap", regexp.MustCompile(`write overlap (\S+) or less`), func(g *pattern.Garment, _ diag.Problem, said []string) { g.Closures[0].Overlap = opt(said[1]) }},
	{"closure.overlap", regexp.MustCompile(`widen a by ([0-9.]+)`), func(g *pattern.Garment, _ diag.Problem, said []string) {
		p := g.Piece("a")
		for _, edge := range []int{0, 1} { // the corners of its front
			p.Corners[edge].At.X -= opt(said[1]).Value
		}
	}},
	{"closure.extension", regexp.MustCompile(`write overlap (\S+):`), func(g *pattern.Garment, _ diag.Problem, said []string) { g.Closures[0].Overlap = opt(said[1]) }},
}

func opt(number string) pattern.Opt {
	v, _ := strconv.ParseFloat(number, 64)
	return pattern.Some(v)
}

// record reads one line of a garment file into a garment.
func record(g *pattern.Garment, line string) {
	read, _ := text.ReadGarment("g.garment", []byte("seamkeep garment 1\nhalf left\n"+line+"\n"))
	g.Buttons, g.Eyelets, g.Hooks = read.Buttons, read.Eyelets, read.Hooks
}

// fewer takes some out of a row at the end that a finding is about.
func fewer(f *pattern.Fastening, x diag.Problem, n float64) {
	switch {
	case f.Up.Set && strings.Contains(x.Found, "the uppermost"):
		f.Up.Value -= n
		if f.Count.Set {
			f.Count.Value -= n
		}
	case f.Count.Set:
		f.Count.Value -= n
	case f.Down.Value >= n:
		f.Down.Value -= n
	default:
		f.Up.Value -= n // it counts from no level, so that all are one row
	}
}

// Doing what the hint of a closure says takes its finding away: in one go, or, where the
// other end of a row is then at fault, in a few.
func TestDoingWhatTheHintSaysMendsTheClosure(t *testing.T) {
	const goes = 4
	met := map[string]bool{}
	rapid.Check(t, func(t *rapid.T) {
		g := drawClosed(t)
		for _, x := range check.OfClosure(g, "c", 1e-6) {
			mended, story := pattern.Clone(g), ""
			for range goes {
				y, ok := found(mended, x.ID)
				if !ok || !mend(mended, y, met) {
					break
				}
				story += y.Found + " (" + y.Hint + ")\n"
			}
			if y, ok := found(mended, x.ID); ok && story != "" {
				t.Fatalf("%s: %sstill: %s (%s)", x.ID, story, y.Found, y.Hint)
			}
		}
	})
	require.GreaterOrEqual(t, len(met), 5, "cases of so many kinds, of %d", len(cures))
}

func found(g *pattern.Garment, id string) (diag.Problem, bool) {
	for _, x := range check.OfClosure(g, "c", 1e-6) {
		if x.ID == id {
			return x, true
		}
	}
	return diag.Problem{}, false
}

// mend does what the hint of a finding says; false where it says nothing that can be done
// without choosing.
func mend(g *pattern.Garment, x diag.Problem, met map[string]bool) bool {
	for _, c := range cures {
		if said := c.says.FindStringSubmatch(x.Hint); c.id == x.ID && said != nil {
			met[c.says.String()] = true
			c.do(g, x, said)
			return true
		}
	}
	return false
}
