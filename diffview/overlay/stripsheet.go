package overlay

import (
	"fmt"
	"io"
	"math"
	"strings"

	"seamkeep/pattern"
	"seamkeep/pattern/compare"
	"seamkeep/pattern/curve"
	"seamkeep/pattern/svg"
)

// Strip draws all panels that go round the body side by side, 1:1 in mm, each
// touching the next where the seam between them crosses the waist, so that
// neckline and hem read as one line. The later version is drawn; where tops and
// hems changed, they are dashed as they were, each in its own panel's frame. At
// each seam it says how far the line turns, in degrees, and how far one corner
// lies beyond the other when both are laid together, in mm: in words where that
// is over the garment's tolerances. With one version alone, or two that say the
// same, it shows that one. What cannot be written is the error.
func Strip(w io.Writer, c *compare.Change, o Options) error {
	g, alone := assembledVersion(c)
	if o.Title == "" {
		o.Title = g.Title
	}
	a := newAssembled(c, g, alone)
	sewn := sewnLines(a, before(c, alone))
	wide := max(leastWidth, a.room.width())
	for _, l := range sewn {
		wide = max(wide, l.room.width())
	}
	s := &stack{width: tenth(wide)}
	name := title(o, "") + ", panels side by side"
	faults := withoutAreas(faultLines(c, ""))
	s.stripHead(c, o, name, a, faults)
	if len(a.list) > 0 {
		s.space(rowGap)
		s.add(tenth(a.room.y1-a.room.y0), a.draw)
		s.space(rowGap)
		s.sized()
		s.signs(a.signs())
		s.para("The panels touch where the seam between them crosses the waist. Turns and steps are those of the sewn line: both panels laid together along the seam.", small(), 4)
		s.space(blockGap)
		s.sewn(sewn)
		s.jointTable(a, before(c, alone))
	}
	s.notRound(c, g, a)
	return s.write(w, svg.Picture{Title: name, Desc: a.describe(c, o, faults), Prefix: o.Prefix})
}

// assembledVersion chooses the version that a strip draws: the later one, or,
// where that has no panel that can be drawn, the earlier one. alone: it is drawn
// without the other one.
func assembledVersion(c *compare.Change) (g *pattern.Garment, alone bool) {
	switch {
	case c.After != nil && (c.Before == nil || len(besides(c.After)) > 0 || len(besides(c.Before)) == 0):
		return c.After, c.Before == nil || !c.Any()
	case c.Before != nil:
		return c.Before, true
	}
	return &pattern.Garment{}, true
}

// before gives the earlier version where there is one to compare with.
func before(c *compare.Change, alone bool) *pattern.Garment {
	if alone {
		return nil
	}
	return c.Before
}

// write draws a stack as a whole sheet.
func (s *stack) write(w io.Writer, pic svg.Picture) error {
	pic.Width, pic.Height = tenth(s.width+2*margin), math.Ceil(s.height+2*margin)
	pen := svg.New(w, pic)
	s.draw(newPage(pen), margin, margin)
	if err := pen.Close(); err != nil {
		return fmt.Errorf("drawing the picture: %w", err)
	}
	return nil
}

// stripHead says what the strip is and how many joints are not fine.
func (s *stack) stripHead(c *compare.Change, o Options, name string, a *assembled, faults []string) {
	k := headScale(s.width)
	s.titled(name, o.Note)
	if a.alone {
		word, version := "version: ", o.To
		if a.g == c.Before && a.g != c.After {
			version = o.From
			if c.After != nil { // it has no panel that can be drawn
				word = "the version before: "
			}
		}
		s.para(word+orDash(version), style{Size: 4.2 * k}, 4)
	} else {
		s.para("before: "+orDash(o.From)+"  \u2192  after: "+orDash(o.To), style{Size: 4.2 * k}, 4)
	}
	s.para(a.tally(), style{Size: 4.2 * k}, 3)
	s.faulty(faults, k)
}

// titled writes a picture's title, the warning and a note.
func (s *stack) titled(name string, note []string) {
	k := headScale(s.width)
	large, _ := titleSizes(s.width, 6.6)
	s.para(name, style{Size: large, Bold: true}, 3)
	s.line(notForCutting, style{Size: 4.2 * k, Bold: true, Mute: true})
	s.space(1.5 * k)
	for i, line := range note {
		if i == 8 {
			s.line("\u2026", style{Size: 3.6 * k})
			break
		}
		s.para(line, style{Size: 4.2 * k, Bold: i == 0}, 6)
	}
	s.space(k)
}

// tally says in one sentence whether the lines run on over the seams.
func (a *assembled) tally() string {
	if len(a.list) == 0 {
		return "The garment says of no panel that it goes round the body."
	}
	if len(a.joints) == 0 {
		return "No seam joins one panel to the next."
	}
	rough := 0
	for _, j := range a.joints {
		if !j.fine {
			rough++
		}
	}
	limits := fmt.Sprintf("within %s\u00b0 and %s mm", compact(a.g.ToleranceOf("turn")), compact(a.g.ToleranceOf("step")))
	if rough == 0 {
		return "Tops and hems run on at all " + plural(len(a.joints), "place", "places") + " where they cross a seam, " + limits + "."
	}
	return fmt.Sprintf("Tops and hems run on %s at %d of %s where they cross a seam.", limits, len(a.joints)-rough, plural(len(a.joints), "place", "places"))
}

// sized adds the scale bar.
func (s *stack) sized() {
	s.add(8, func(pg *page, x, y float64) {
		pg.bar(x, y+3, 50, 5)
		pg.text(x+54, y+4.2, "50 mm at full size", plain())
	})
}

// signs gives the key of the strip.
func (a *assembled) signs() []keyItem {
	line := func(draw func(*page, svg.PathData)) func(pg *page, x, y float64) {
		return func(pg *page, x, y float64) {
			draw(pg, svg.Data(curve.Path{curve.Line(curve.Pt(x, y), curve.Pt(x+keySign, y))}))
		}
	}
	with := func(ink []svg.Attr) func(*page, svg.PathData) {
		return func(pg *page, d svg.PathData) { pg.pen.Path(d, ink...) }
	}
	var out []keyItem
	words := "top or hem"
	if !a.alone {
		out = append(out, keyItem{"before (dashed)", line((*page).before)}, keyItem{"after (heavy)", line((*page).after)})
		words = "top or hem that did not change"
	}
	limit := compact(a.g.ToleranceOf("turn")) + "\u00b0"
	return append(out,
		keyItem{words, line(with(runInk()))},
		keyItem{"seam between panels", line(with(seamInk()))},
		keyItem{"the line runs on (within " + limit + ")", func(pg *page, x, y float64) {
			pg.pen.Line(curve.Pt(x+keySign/2, y+tickLength/2), curve.Pt(x+keySign/2, y-tickLength/2), stroke("line", inkColour, 0.3)...)
		}},
		turnsItem(),
	)
}

// turnsItem is the sign at a joint where the line does not run on.
func turnsItem() keyItem {
	return keyItem{"it turns or steps: by how much, and which way", func(pg *page, x, y float64) {
		pg.pen.Line(curve.Pt(x+keySign/2, y+1.5), curve.Pt(x+keySign/2, y-3), stroke("line", inkColour, 0.25)...)
		pg.pen.Circle(curve.Pt(x+keySign/2, y+1.5), 0.9, dotInk()...)
	}}
}

// notRound names the pieces that are not in the strip.
func (s *stack) notRound(c *compare.Change, g *pattern.Garment, a *assembled) {
	drawn := map[string]bool{}
	for _, l := range a.list {
		drawn[l.piece.Name] = true
	}
	var rest []string
	for _, p := range g.Pieces {
		if !drawn[p.Name] {
			rest = append(rest, p.Name)
		}
	}
	for _, p := range c.Pieces {
		if !a.alone && p.After == nil {
			rest = append(rest, p.Name+" ("+string(p.Status)+")")
		}
	}
	if len(rest) > 0 {
		s.space(blockGap)
		s.line("Not in the strip", heading())
		s.space(1)
		s.para(strings.Join(rest, ", "), plain(), 40)
	}
}

// describe says what the strip shows, for readers who do not see it.
func (a *assembled) describe(c *compare.Change, o Options, faults []string) string {
	parts := append([]string{notForCutting, strings.TrimSuffix(a.tally(), ".")}, faults...)
	if !a.alone {
		parts = append(parts, "before "+orDash(o.From)+", after "+orDash(o.To))
	}
	var names []string
	for _, l := range a.list {
		names = append(names, l.piece.Name)
	}
	if len(names) > 0 {
		parts = append(parts, "panels front to back: "+strings.Join(names, ", "))
	}
	for _, call := range a.calls {
		if call.text != "" {
			parts = append(parts, call.title)
		}
	}
	for _, l := range a.lines {
		if l.when == "after" && l.kind == "run" {
			parts = append(parts, l.title)
		}
	}
	return bounded(strings.Join(parts, ". ") + ".")
}
