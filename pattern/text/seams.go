package text

import (
	"fmt"

	"seamkeep/pattern"
)

func readSeam(c *record, _ string, g *pattern.Garment) {
	s := pattern.Seam{Place: c.recordPlace(), Name: c.name("the name of the seam")}
	c.declare("seam", s.Name)
	s.First = c.side()
	if c.accept("mirrored") {
		s.Mirrored = true
	} else {
		s.Second = c.side()
	}
	s.SameWay = c.accept("same-way")
	zones := map[string]bool{}
	for c.accept("ease") {
		c.ease(&s, zones)
	}
	if c.accept("within") {
		c.option(&s.Within, "within", notBelow0)
		if c.accept("warn") {
			c.option(&s.Warn, "warn", notBelow0)
		}
	}
	g.Seams = append(g.Seams, s)
}

// side reads edges that are joined by +.
func (c *record) side() []pattern.Ref {
	refs := []pattern.Ref{c.ref()}
	for c.accept("+") {
		refs = append(refs, c.ref())
	}
	return refs
}

// ease reads one ease of a seam: over all of it, or over one zone of several.
func (c *record) ease(s *pattern.Seam, zones map[string]bool) {
	at := c.r.tokens[c.next-1].at
	e := pattern.Ease{Place: c.r.placeAt(at), Amount: c.number("how much longer the first side is in mm", anyNumber)}
	if c.accept("from") {
		e.From = c.name("the notch where the zone begins")
		c.need("to")
		e.To = c.name("the notch where the zone ends")
		c.apart(e.From, e.To)
	}
	if c.failed {
		return
	}
	zone := e.From + " " + e.To
	switch {
	case len(zones) > 0 && (e.From == "" || zones[" "]):
		c.r.bad(at, IDEaseMixed, "a further ease", "one for the whole seam, or only zones", "")
	case zones[zone]:
		c.r.bad(at, IDRecordTwice, "ease for one zone twice", "each zone once", "")
	}
	zones[zone] = true
	s.Eases = append(s.Eases, e)
}

func printSeams(g *pattern.Garment, s *sheet) {
	for _, seam := range g.Seams {
		l := s.record(head, "seam", seam.Name, "seam").word(seam.Name).refs(seam.First, "+")
		if seam.Mirrored {
			l.word("mirrored")
		} else {
			l.refs(seam.Second, "+")
		}
		l.flag("same-way", seam.SameWay)
		for _, e := range seam.Eases {
			l.word("ease").number(e.Amount)
			if e.From != "" {
				l.word("from", e.From, "to", e.To)
			}
		}
		l.option("within", seam.Within).option("warn", seam.Warn).done()
	}
}

func readRun(c *record, _ string, g *pattern.Garment) {
	r := pattern.Run{Place: c.recordPlace(), Name: c.name("the name of the run")}
	c.declare("run", r.Name)
	for more := true; more; _, more = c.peek() {
		r.Refs = append(r.Refs, c.ref())
	}
	g.Runs = append(g.Runs, r)
}

func printRuns(g *pattern.Garment, s *sheet) {
	for _, r := range g.Runs {
		s.record(head, "run", r.Name, "run").word(r.Name).refs(r.Refs, "").done()
	}
}

func readClosure(c *record, _ string, g *pattern.Garment) {
	x := pattern.Closure{Place: c.recordPlace(), Name: c.name("the name of the closure")}
	c.declare("closure", x.Name)
	x.Kind = c.need(pattern.ButtonClosure, pattern.Lacing, pattern.HookClosure, pattern.Slide)
	x.Edges = []pattern.Ref{c.ref()}
	if t, ok := c.peek(); ok && t.text != "overlap" && t.text != "length" {
		x.Edges = append(x.Edges, c.ref())
	}
	if c.accept("overlap") {
		c.option(&x.Overlap, "overlap", notBelow0)
	}
	if c.accept("length") {
		if x.Kind != pattern.Slide && x.Kind != "" {
			c.r.bad(c.r.tokens[c.next-1].at, IDClosureKind, fmt.Sprintf("found a length on closure %q, which is %s", x.Name, x.Kind), "expected it on a closure that is slide",
				"it is how long the slide fastener is; the edge has its own length in its piece file")
		}
		c.option(&x.Length, "length", notBelow0)
	}
	g.Closures = append(g.Closures, x)
}

func printClosures(g *pattern.Garment, s *sheet) {
	for _, x := range g.Closures {
		s.record(head, "closure", x.Name, "closure").word(x.Name, x.Kind).refs(x.Edges, "").option("overlap", x.Overlap).option("length", x.Length).done()
	}
}

func readFastening(c *record, word string, g *pattern.Garment) {
	f := pattern.Fastening{Place: c.recordPlace(), Closure: c.name("a closure")}
	c.about(word, f.Closure)
	for !c.failed && c.fasteningOption(&f, word != "hooks") {
	}
	switch word {
	case "buttons":
		g.Buttons = append(g.Buttons, f)
	case "eyelets":
		g.Eyelets = append(g.Eyelets, f)
	default:
		g.Hooks = append(g.Hooks, f)
	}
}

// fasteningOption reads one option of buttons, eyelets or hooks, which have no size;
// false where none follows.
func (c *record) fasteningOption(f *pattern.Fastening, sized bool) bool {
	switch {
	case c.accept("from"):
		c.once("from", f.From != "")
		f.From = c.name("a level")
	case c.accept("pitch"):
		c.option(&f.Pitch, "pitch", notBelow0)
	case sized && c.accept("diameter"):
		c.option(&f.Diameter, "diameter", notBelow0)
	case sized && c.accept("thickness"):
		c.option(&f.Thickness, "thickness", notBelow0)
	case c.accept("up"):
		c.wholeOption(&f.Up, "up", 0)
	case c.accept("down"):
		c.wholeOption(&f.Down, "down", 0)
	case c.accept("count"):
		c.wholeOption(&f.Count, "count", 1)
	case c.accept("margin"):
		c.option(&f.Margin, "margin", notBelow0)
	case sized:
		return c.noOption("from", "pitch", "diameter", "thickness", "up", "down", "count", "margin")
	default:
		return c.noOption("from", "pitch", "up", "down", "count", "margin")
	}
	return true
}

func printButtons(g *pattern.Garment, s *sheet) { printFastenings("buttons", g.Buttons, s) }
func printEyelets(g *pattern.Garment, s *sheet) { printFastenings("eyelets", g.Eyelets, s) }
func printHooks(g *pattern.Garment, s *sheet)   { printFastenings("hooks", g.Hooks, s) }

func printFastenings(word string, list []pattern.Fastening, s *sheet) {
	for _, f := range list {
		l := s.record(head, word, f.Closure, word).word(f.Closure).named("from", f.From)
		l.option("pitch", f.Pitch).option("diameter", f.Diameter).option("thickness", f.Thickness)
		l.option("up", f.Up).option("down", f.Down).option("count", f.Count).option("margin", f.Margin).done()
	}
}
