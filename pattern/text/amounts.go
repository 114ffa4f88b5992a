package text

import (
	"fmt"

	"seamkeep/pattern"
)

func readThickness(c *record, _ string, g *pattern.Garment) {
	c.about("thickness", "")
	g.Thickness = pattern.Some(c.number("what the cloth adds to the girth in mm", notBelow0))
}

func printThickness(g *pattern.Garment, s *sheet) { printSingle("thickness", g.Thickness, s) }

func readGive(c *record, _ string, g *pattern.Garment) {
	c.about("give", "")
	g.Give = pattern.Some(c.number("what the cloth gives in percent", notBelow0))
}

func printGive(g *pattern.Garment, s *sheet) { printSingle("give", g.Give, s) }

func printSingle(word string, o pattern.Opt, s *sheet) {
	if o.Set {
		s.record(head, word, "", word).number(o.Value).done()
	}
}

// readAmount reads an amount at a level: cords, reduce or calibrate.
func readAmount(c *record, word string, g *pattern.Garment) {
	least, list := float64(anyNumber), &g.Reduce
	switch word {
	case "cords":
		least, list = notBelow0, &g.Cords
	case "calibrate":
		list = &g.Calibrate
	}
	*list = append(*list, c.levelNumber(word, least))
}

func (c *record) levelNumber(word string, least float64) pattern.LevelNum {
	n := pattern.LevelNum{Place: c.recordPlace(), Level: c.name("a level")}
	c.about(word, n.Level)
	n.Value = c.number("an amount in mm", least)
	return n
}

func printCords(g *pattern.Garment, s *sheet)     { printAmounts("cords", g.Cords, s) }
func printReduce(g *pattern.Garment, s *sheet)    { printAmounts("reduce", g.Reduce, s) }
func printCalibrate(g *pattern.Garment, s *sheet) { printAmounts("calibrate", g.Calibrate, s) }

func printAmounts(word string, list []pattern.LevelNum, s *sheet) {
	for _, n := range list {
		s.record(head, word, n.Level, word).word(n.Level).number(n.Value).done()
	}
}

func readAllowance(c *record, _ string, g *pattern.Garment) {
	a := pattern.Allowance{Place: c.recordPlace()}
	if t, ok := c.peek(); ok && !looksNumeric(t.text) {
		a.Target = c.target()
	}
	c.aboutTarget("allowance", a.Target)
	a.Value = c.number("an allowance in mm", notBelow0)
	g.Allowances = append(g.Allowances, a)
}

func printAllowances(g *pattern.Garment, s *sheet) {
	for _, a := range g.Allowances {
		l := s.record(head, "allowance", a.Target.String(), "allowance")
		if a.Target.Name != "" {
			l.word(a.Target.String())
		}
		l.number(a.Value).done()
	}
}

func readJoin(c *record, _ string, g *pattern.Garment) {
	j := pattern.Join{Place: c.recordPlace(), Target: c.target()}
	c.aboutTarget("join", j.Target)
	j.Kind = c.need("mitre", "square", "fold", "clip")
	g.Joins = append(g.Joins, j)
}

func printJoins(g *pattern.Garment, s *sheet) {
	for _, j := range g.Joins {
		s.record(head, "join", j.Target.String(), "join").word(j.Target.String(), j.Kind).done()
	}
}

// target reads a piece, an edge of a piece, or a run.
func (c *record) target() pattern.Target {
	t := pattern.Target{Place: c.place()}
	t.Name, t.Edge = c.dotted(false)
	return t
}

func (c *record) aboutTarget(kind string, t pattern.Target) {
	if !c.failed {
		c.about(kind, t.String())
	}
}

func readClearance(c *record, _ string, g *pattern.Garment) {
	x := pattern.Clearance{Place: c.recordPlace(), Kind: c.need("bone", "cord")}
	c.about("clearance", x.Kind)
	x.Value = c.number("how much shorter than its channel, at each end in mm", notBelow0)
	g.Clearances = append(g.Clearances, x)
}

func printClearances(g *pattern.Garment, s *sheet) {
	for _, x := range g.Clearances {
		s.record(head, "clearance", x.Kind, "clearance").word(x.Kind).number(x.Value).done()
	}
}

func readWanted(c *record, _ string, g *pattern.Garment) {
	w := pattern.Wanted{Place: c.recordPlace()}
	c.need("gap")
	w.Closure = c.name("a closure")
	c.need("at")
	w.Level = c.name("a level")
	if !c.failed {
		c.about("wanted", "gap "+w.Closure+" at "+w.Level)
	}
	w.Min = c.number("the smallest gap in mm", anyNumber)
	c.need("to")
	at := c.at()
	w.Max = c.number("the greatest gap in mm", anyNumber)
	if !c.failed && !c.r.marked && w.Max < w.Min {
		c.r.bad(at, IDRange, fmt.Sprintf("a greatest gap of %g mm, less than the smallest", w.Max), fmt.Sprintf("at least %g", w.Min), "")
	}
	g.Wanted = append(g.Wanted, w)
}

func printWanted(g *pattern.Garment, s *sheet) {
	for _, w := range g.Wanted {
		l := s.record(head, "wanted", "gap "+w.Closure+" at "+w.Level, "wanted").word("gap", w.Closure, "at", w.Level)
		l.number(w.Min).word("to").number(w.Max).done()
	}
}
