package report

import (
	"fmt"
	"strings"

	"seamkeep/pattern"
	"seamkeep/pattern/check"
	"seamkeep/pattern/compare"
	"seamkeep/pattern/measure"
)

// Widths writes how wide each piece is at each level, before and after, where the
// width went, the girths, the predicted gap of each lacing with all that it is made
// of, how much the garment presses and how far its elastic stretches, each with its
// caution. Where the earlier or the later version has no garment, it shows the
// other one alone. Figures are mm with one decimal.
func (t *Text) Widths(c *compare.Change, o WidthsOptions) {
	w := widthsOf(c)
	v := &widthsText{Text: t, w: w, o: o, now: 1}
	if c.After == nil {
		v.now = 0
	}
	v.single = c.Before == nil || c.After == nil
	v.head()
	switch {
	case w.versions[v.now] == nil:
		return
	case len(c.Levels) == 0:
		v.Para("no level is recorded, so no width is told; write one: level waist 0", "  ")
		return
	}
	v.widths()
	v.moves()
	for _, g := range w.gaps {
		v.gap(g)
	}
	v.percent()
	v.stretch()
}

// widthsText is the table being written. now is the version that it ends with.
type widthsText struct {
	*Text
	w      *widths
	o      WidthsOptions
	now    int
	single bool
}

// heading writes a line above a part.
func (v *widthsText) heading(s string) {
	v.line("")
	v.Para(s, "  ")
}

func (v *widthsText) head() {
	g := v.w.versions[v.now]
	title := titleOf(g) + ": widths in mm"
	switch {
	case g == nil:
		v.Para("no pattern in either version", "  ")
	case v.single && v.now == 1 && v.o.To != "":
		title += ", " + v.o.To
	case v.single && v.now == 0:
		title += ", " + v.o.From + "; the later version has no pattern"
	case !v.single && v.o.From+v.o.To != "":
		title += ", " + v.o.From + " -> " + v.o.To
	}
	if g != nil {
		v.Para(title, "  ")
	}
	for _, f := range v.w.c.Faults {
		v.Para(f.Sentence(), "  ")
	}
}

// grid writes rows as the later version, or the only one, has them.
func (v *widthsText) grid(rows []gridRow) {
	if v.single && v.now == 0 {
		for _, r := range rows {
			for i := range r.at {
				r.at[i].After, r.at[i].Before = r.at[i].Before, pattern.Opt{}
			}
		}
	}
	v.Text.grid(v.w.c.Levels, rows, v.single)
}

func (v *widthsText) widths() {
	var round, other []gridRow
	for _, p := range v.w.pieces {
		row := gridRow{name: v.pieceName(p), at: p.at}
		switch {
		case p.round[0] || p.round[1]:
			round = append(round, row)
		case anySet(p.at):
			other = append(other, row)
		}
	}
	words := "the cloth of each piece along a level line, as drawn"
	if v.w.versions[v.now].Half != pattern.Whole {
		words += "; both halves together below"
	}
	v.heading(words)
	sums := []gridRow{{name: "all round", at: v.w.sums}}
	if anyNot(v.w.overlap, 0) {
		sums = append(sums, gridRow{name: "overlap, taken off", at: negative(v.w.overlap), sign: true})
	}
	sums = append(sums, gridRow{name: "girth at rest", at: v.w.girth}, gridRow{name: "girth as worn", at: v.w.worn})
	v.grid(append(round, sums...))
	v.unknown("girth")
	if len(other) > 0 {
		v.heading("not counted in a girth")
		v.grid(other)
	}
}

// pieceName gives the name, and how often it counts where that is not usual.
func (v *widthsText) pieceName(p pieceWidths) string {
	name := p.name
	if len(p.was) > 0 && !v.single {
		name += " (was " + strings.Join(p.was, ", ") + ")"
	}
	times, usual := p.times[v.now], halves(v.w.versions[v.now])
	if p.round[v.now] && times.Set && times.Value != usual {
		name += map[float64]string{1: " (once)", 2: " (twice)"}[times.Value]
	}
	return name
}

func anySet(list []compare.AtLevel) bool {
	for _, l := range list {
		if l.Before.Set || l.After.Set {
			return true
		}
	}
	return false
}

// anyNot tells whether a figure is known and is not v.
func anyNot(list []compare.AtLevel, v float64) bool {
	for _, l := range list {
		if l.Before.Set && l.Before.Value != v || l.After.Set && l.After.Value != v {
			return true
		}
	}
	return false
}

func negative(list []compare.AtLevel) []compare.AtLevel {
	out := make([]compare.AtLevel, len(list))
	for i, l := range list {
		l.Before.Value, l.After.Value = -l.Before.Value, -l.After.Value
		out[i] = l
	}
	return out
}

// unknown says why figures of a kind are not told in the version shown; levels with
// the same reason share a line.
func (v *widthsText) unknown(kind string) {
	var order []string
	at := map[string][]string{}
	for _, u := range v.w.unknown {
		if rest, ok := strings.CutPrefix(u.Measure, kind); ok && u.Version == versionNames[v.now] {
			if at[u.Why] == nil {
				order = append(order, u.Why)
			}
			at[u.Why] = append(at[u.Why], strings.TrimPrefix(strings.TrimSpace(rest), "at "))
		}
	}
	for _, why := range order {
		if len(at[why]) == len(v.w.c.Levels) {
			v.Para("  unknown: "+why, "    ")
			continue
		}
		v.Para("  unknown at "+strings.Join(at[why], ", ")+": "+why, "    ")
	}
}

func (v *widthsText) moves() {
	if v.single {
		return
	}
	v.heading("where the width went" + v.eachHalf())
	list := v.w.movedSentences()
	if len(list) == 0 {
		list = []string{"nowhere: no piece that goes round the body changed its width"}
	}
	for _, s := range list {
		v.Para("  "+s, "    ")
	}
}

func (v *widthsText) eachHalf() string {
	if v.w.versions[v.now].Half == pattern.Whole {
		return ""
	}
	return ", on each half"
}

// gap writes the predicted gap of a lacing as a sum.
func (v *widthsText) gap(g closureTerms) {
	v.heading(fmt.Sprintf("predicted gap of the lacing %s: what leaves room +, what fills it -", g.closure))
	values := g.values()
	if !anySet(values) {
		v.unknown("gap " + g.closure)
		return
	}
	var rows []gridRow
	var none []string
	for i, term := range (measure.Gap{}).Terms() {
		at := g.each(func(_ int, g measure.Gap) float64 { return g.Terms()[i].Value })
		if !anyNot(at, 0) {
			none = append(none, term.Name)
			continue
		}
		rows = append(rows, gridRow{name: term.Name, at: at, sign: i > 0})
	}
	if anyNot(g.each(func(_ int, g measure.Gap) float64 { return float64(g.Lacings) }), 1) {
		rows = append(rows, gridRow{name: "room of all lacings", at: g.each(func(_ int, g measure.Gap) float64 { return g.Value() * float64(g.Lacings) })})
	}
	rows = append(rows, gridRow{name: "= gap", at: values})
	if v.o.Calibrated {
		rows = append(rows, gridRow{name: "calibration", at: v.calibration(g), sign: true}, gridRow{name: "= gap, calibrated", at: v.calibrated(g)})
	}
	v.grid(rows)
	if len(none) > 0 {
		v.Para("  nothing recorded, or 0: "+strings.Join(none, ", "), "    ")
	}
	v.unknown("gap " + g.closure)
	v.wanted(g)
}

func (v *widthsText) calibration(g closureTerms) []compare.AtLevel {
	return g.each(func(x int, g measure.Gap) float64 { return v.w.versions[x].CalibrateAt(g.Level) })
}

func (v *widthsText) calibrated(g closureTerms) []compare.AtLevel {
	return g.each(func(x int, g measure.Gap) float64 { return g.Calibrated(v.w.versions[x]) })
}

// wanted holds the gap against what the maker aims at.
func (v *widthsText) wanted(g closureTerms) {
	var parts []string
	for _, want := range v.w.versions[v.now].Wanted {
		if want.Closure != g.closure {
			continue
		}
		for _, l := range g.values() {
			gap := *side(&l.Pair, v.now)
			if l.Level != want.Level || !gap.Set {
				continue
			}
			text := fmt.Sprintf("%s %s to %s", l.Level, trimmed(want.Min), trimmed(want.Max))
			switch {
			case gap.Value < want.Min-compare.Seen:
				text += fmt.Sprintf(" (%.1f too narrow)", want.Min-gap.Value)
			case gap.Value > want.Max+compare.Seen:
				text += fmt.Sprintf(" (%.1f too wide)", gap.Value-want.Max)
			default:
				text += " (met)"
			}
			parts = append(parts, text)
		}
	}
	if len(parts) > 0 {
		v.Para("  wanted: "+strings.Join(parts, ", "), "    ")
	}
}

// percent writes how much smaller than the body the garment is.
func (v *widthsText) percent() {
	v.heading("percent of the body, negative: smaller than the body")
	rows := []gridRow{{name: "as worn", at: v.w.percents(func(p check.Press) float64 { return p.AsWorn }), sign: true}}
	if v.w.laced() {
		rows = append(rows, gridRow{name: "laced shut", at: v.w.percents(func(p check.Press) float64 { return p.LacedShut }), sign: true})
	}
	if anySet(rows[0].at) {
		v.grid(rows)
	}
	v.unknown("percent")
	if v.w.pressesAt(v.now) {
		v.Para("  "+check.Caution, "  ")
	}
}

func (w *widths) percents(of func(check.Press) float64) []compare.AtLevel {
	var out []compare.AtLevel
	for _, level := range w.c.Levels {
		at := compare.AtLevel{Level: level}
		for v := range w.presses {
			if p, ok := w.presses[v][level]; ok {
				*side(&at.Pair, v) = pattern.Some(of(p))
			}
		}
		out = append(out, at)
	}
	return out
}

func (w *widths) laced() bool {
	for _, m := range w.presses {
		for _, p := range m {
			if p.HasLacing {
				return true
			}
		}
	}
	return false
}

// stretch writes what the elastic does and could do.
func (v *widthsText) stretch() {
	if len(v.w.elastic) == 0 {
		return
	}
	v.heading("stretch: percent of the length at rest")
	for _, e := range v.w.elastic {
		was, now := e.of[0], e.of[v.now]
		switch {
		case now == nil:
			v.Para("  "+e.name+": no stretch is recorded any more", "    ")
			continue
		case !v.single && was != nil && (was.InUse != now.InUse || was.Of != now.Of || was.Tested != now.Tested):
			v.Para("  "+e.name+": was "+elasticNow(*was), "    ")
		}
		v.Para("  "+e.name+": "+elasticNow(*now), "    ")
	}
	rows := []gridRow{
		{name: "elastic, all round", at: v.w.stretches(func(_ int, s measure.Stretch) pattern.Opt { return pattern.Some(s.Width) })},
		{name: fmt.Sprintf("body +%d mm adds, %%", bodyGrowth), at: v.w.stretches(func(_ int, s measure.Stretch) pattern.Opt { return s.Moved(bodyGrowth) }), sign: true},
	}
	for _, e := range v.w.elastic {
		rows = append(rows, gridRow{name: e.name + " then, %", at: v.w.stretchedThen(e.name)})
	}
	if b := v.w.c.Body; b != nil && len(b.Moves) > 0 {
		rows = append(rows, gridRow{name: "moving adds, %", at: v.w.stretches(func(_ int, s measure.Stretch) pattern.Opt {
			if grows, ok := b.Move(s.Level); ok {
				return s.Moved(grows)
			}
			return pattern.Opt{}
		}), sign: true})
	}
	rows = append(rows, gridRow{name: "body may gain, mm", at: v.w.stretches(func(_ int, s measure.Stretch) pattern.Opt { return s.Room() })})
	v.grid(rows)
	v.Para("  body may gain: what is left before the first elastic is stretched as far as it was tested, all of it taken up by the elastic", "    ")
	v.Para("  "+check.ElasticCaution, "  ")
}

// stretches gives a figure of the elastic at each level that has some.
func (w *widths) stretches(of func(v int, s measure.Stretch) pattern.Opt) []compare.AtLevel {
	out := make([]compare.AtLevel, len(w.stretch))
	for i, l := range w.stretch {
		out[i].Level = l.level
		for v, s := range l.of {
			if s.Width > 0 {
				*side(&out[i].Pair, v) = of(v, s)
			}
		}
	}
	return out
}

// stretchedThen gives the stretch of a piece with the body grown by bodyGrowth.
func (w *widths) stretchedThen(name string) []compare.AtLevel {
	return w.stretches(func(v int, s measure.Stretch) pattern.Opt {
		for _, e := range s.Pieces {
			if w.nameNow(e.Piece, v) == name {
				return pattern.Some(e.InUse + s.Moved(bodyGrowth).Value)
			}
		}
		return pattern.Opt{}
	})
}
