package main

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"seamkeep/diffview/report"
	"seamkeep/pattern"
	"seamkeep/pattern/alter"
	"seamkeep/pattern/check"
	"seamkeep/pattern/diag"
	"seamkeep/pattern/measure"
)

// placing is what the command line of place says.
type placing struct {
	inset float64
	holes string
	at    []string
	dry   bool
}

func placeCommand(a *app) *cobra.Command {
	var o placing
	c := &cobra.Command{
		Use:   "place buttons|eyelets|none CLOSURE",
		Short: "Put buttons and holes, or eyelets, where the garment file says",
		Long: `Place writes marks where the garment file records them: buttons and eyelets from
their level at their pitch, or evenly between two margins. Distances are along
the edge, not heights.

Buttons and holes stand inside the edge by half the overlap; a hole lies square
to the edge, begins 3.2 mm beyond the button's place and is as long as diameter
and thickness of the button together. The right half has the holes, unless
--holes says left or holes stand on the left already; of a closure with two
edges the first one has them. Eyelets stand on both halves, as far inside the
edge as they did before if that is enough and at most 15 mm, else 12 mm, unless
--inset says otherwise.

Its own marks (b1, h1, e1 and so on) are replaced, all others are left alone. It
also tells how far a button stands from where the garment is meant to hold the
body, or from each level named with --at, and from the margins where they are
recorded, and at which pitch both anchors would have one.

Where a closure was made another kind, place none takes out the marks along its
edges that it does not use any more.`,
		Example:           "  seamkeep place buttons back\n  seamkeep place buttons back --at waist --dry-run\n  seamkeep place eyelets front --inset 14\n  seamkeep place none front",
		Args:              cobra.ExactArgs(2),
		ValidArgsFunction: a.completePlace,
		RunE: func(c *cobra.Command, args []string) error {
			return a.placeMarks(args[0], args[1], &o, c.Flags().Changed("inset"))
		},
	}
	c.Flags().Float64Var(&o.inset, "inset", 0, "how far inside the edge, mm")
	c.Flags().StringVar(&o.holes, "holes", "", "the half with the holes: left or right; or PIECE.EDGE")
	c.Flags().StringSliceVar(&o.at, "at", nil, "a level that should have a button or an eyelet")
	c.Flags().BoolVar(&o.dry, "dry-run", false, "show what would change, write nothing")
	_ = c.RegisterFlagCompletionFunc("holes", cobra.FixedCompletions([]string{"left", "right"}, cobra.ShellCompDirectiveNoFileComp))
	_ = c.RegisterFlagCompletionFunc("at", a.completeLevels)
	return c
}

func (a *app) placeMarks(what, closure string, o *placing, inset bool) error {
	p, l, err := a.open("")
	if err == nil && !o.dry {
		err = p.writable()
	}
	if err != nil {
		return err
	}
	g := l.folder.Garment
	if err := o.fits(g, what, closure, inset); err != nil {
		return err
	}
	if what == "none" {
		return a.takeOutStrays(p, l, closure, o.dry)
	}
	wish := alter.Fasten{Closure: closure, Holes: o.holes}
	if inset {
		wish.Inset = pattern.Some(o.inset)
	}
	done, fault := alter.PlaceMarks(g, wish, measure.Accuracy)
	if fault != nil {
		a.talk().Problems(diag.List{*fault})
		return refused("nothing was changed")
	}
	wrote := len(done.Pieces) > 0 && !o.dry
	if wrote { // before it is told: who reads may stop reading
		if err := a.rewrite(p, l, done.Garment); err != nil {
			return err
		}
	}
	if err := a.showPlaced(done, l.body, o.at); err != nil {
		return err
	}
	for _, name := range placedOn(done) {
		a.talk().Problems(check.HolesOnBones(done.Garment, done.Garment.Piece(name), measure.Accuracy))
	}
	if len(done.Others) > 0 {
		a.say("left alone: " + strings.Join(done.Others, ", ") + "; take them out of the piece file if these replace them")
	}
	switch {
	case len(done.Pieces) == 0:
		a.say("they stand so already: nothing to do")
	case !wrote:
		a.say("nothing was written")
	}
	return nil
}

// placedOn names the pieces on which marks were placed.
func placedOn(f *alter.Fastened) []string {
	var names []string
	for _, s := range f.Sets {
		if !slices.Contains(names, s.Row.Piece.Name) {
			names = append(names, s.Row.Piece.Name)
		}
	}
	return names
}

// fits refuses words that do not go with the garment.
func (o *placing) fits(g *pattern.Garment, what, closure string, inset bool) error {
	kinds := map[string]string{"buttons": pattern.ButtonClosure, "eyelets": pattern.Lacing}
	kind, ok := kinds[what]
	if !ok && what != "none" {
		return usage("there is nothing to place called %q%s\nplace buttons, eyelets, or none; where hooks stand the printed sheets show", report.Clean(what), didYouMean(what, []string{"buttons", "eyelets", "none"}))
	}
	c := g.Closure(closure)
	if c == nil {
		return usage("there is no closure %q%s", report.Clean(closure), didYouMean(closure, closureNames(g, "")))
	}
	if what == "none" {
		if inset || o.holes != "" || len(o.at) > 0 {
			return usage("place none takes marks out: --inset, --holes and --at do not go with it")
		}
		return nil
	}
	if c.Kind == pattern.HookClosure || c.Kind == pattern.Slide {
		return usage("closure %s is of kind %s, which has no marks to place: the printed sheets show where hooks stand\nseamkeep place none %s takes out the marks of what closed it before", closure, c.Kind, closure)
	}
	if c.Kind != kind {
		return usage("closure %s is of kind %s, which has no %s\nclosures with %s: %s", closure, c.Kind, what, what, orNone(closureNames(g, kind)))
	}
	if inset && !(o.inset > 0 && o.inset <= 1000) {
		return usage("--inset is how far inside the edge, in mm: more than 0, at most 1000")
	}
	if what == "eyelets" && o.holes != "" {
		return usage("--holes is for buttons")
	}
	for _, level := range o.at {
		if known := measure.LevelNames(g); !slices.Contains(known, level) {
			return usage("there is no level %q%s", report.Clean(level), didYouMean(level, known))
		}
	}
	return nil
}

// takeOutStrays takes out the marks that the kind of a closure does not use.
func (a *app) takeOutStrays(p *place, l *loaded, closure string, dry bool) error {
	after, lines := alter.TakeOutStrays(l.folder.Garment, closure, measure.Accuracy)
	if len(lines) == 0 {
		a.say("no marks along closure " + closure + " that it does not use: nothing to do")
		return nil
	}
	if !dry {
		if err := a.rewrite(p, l, after); err != nil {
			return err
		}
	}
	out := a.text()
	for _, line := range lines {
		out.Para("out: "+line, "  ")
	}
	if dry {
		a.say("nothing was written")
	}
	return out.Err
}

func orNone(names []string) string {
	if len(names) == 0 {
		return "none"
	}
	return strings.Join(names, ", ")
}

// closureNames lists the closures of a kind; of every kind where none is given.
func closureNames(g *pattern.Garment, kind string) []string {
	var names []string
	for _, c := range g.Closures {
		if kind == "" || c.Kind == kind {
			names = append(names, c.Name)
		}
	}
	return names
}

// showPlaced tells every mark with its place, the uppermost first.
func (a *app) showPlaced(f *alter.Fastened, body *pattern.Body, levels []string) error {
	out := a.text()
	for _, s := range f.Sets {
		half := "both halves"
		if len(f.Closure.Edges) > 1 {
			half = "that edge"
		}
		if s.Only != "" {
			half = s.Only + " half only"
		}
		line := fmt.Sprintf("%d %ss, %g inside %s, %s", len(s.Marks), s.Kind, pattern.RoundLength(f.Inset), s.Row.Name(), half)
		if s.Row.Pitch > 0 {
			line += fmt.Sprintf(", pitch %g", pattern.RoundLength(s.Row.Pitch))
		}
		out.Para(line, "  ")
		for _, m := range s.Marks {
			at := fmt.Sprintf("%s %s %s", m.Name, tenth(m.At.X), tenth(m.At.Y))
			if m.Length.Set {
				at += fmt.Sprintf("  length %g angle %g", m.Length.Value, m.Angle.Value)
			}
			out.Para("  "+at, "    ")
		}
	}
	for _, s := range f.Sets {
		if s.Kind == pattern.Button || s.Kind == pattern.Eyelet && len(levels) > 0 {
			for _, line := range anchors(f, s, body, levels) {
				out.Para(line, "  ")
			}
		}
	}
	return out.Err
}

// tenth writes mm with one decimal; what rounds to nothing has no sign.
func tenth(mm float64) string {
	if math.Abs(mm) < 0.05 {
		mm = 0
	}
	return fmt.Sprintf("%.1f", mm)
}

// anchors tells how near a button stands to each level that was asked for; else to
// those at which the garment is made smaller than the body and the one at which the
// closure pulls hardest; and to the margins, where they are recorded besides.
func anchors(f *alter.Fastened, s alter.MarkSet, body *pattern.Body, levels []string) []string {
	g := f.Garment
	if len(levels) == 0 {
		strain := s.Row.Strain(g, body, measure.Accuracy)
		for _, level := range measure.LevelNames(g) {
			if level == strain || g.ReduceAt(level) > 0 {
				levels = append(levels, level)
			}
		}
	}
	var out []string
	for _, level := range levels {
		at, ok := s.Row.Crossing(g, level, measure.Accuracy)
		if !ok {
			out = append(out, fmt.Sprintf("%s: %s does not cross it once", level, s.Row.Name()))
			continue
		}
		out = append(out, anchor(f.Record, s, level, at))
	}
	if f.Record.Margin.Set && s.Row.Anchor.Set {
		upper, lower := s.Row.Inside(f.Record.Margin.Value)
		out = append(out, anchor(f.Record, s, "upper margin", upper), anchor(f.Record, s, "lower margin", lower))
	}
	return out
}

func withArticle(k pattern.MarkKind) string {
	if k == pattern.Eyelet {
		return "an " + string(k)
	}
	return "a " + string(k)
}

// anchor tells how near the row has a button or an eyelet to a place on its edge, and the
// pitches at which one would stand there as well as where the counting begins.
func anchor(f *pattern.Fastening, s alter.MarkSet, name string, at float64) string {
	r := s.Row
	miss := r.Miss(at)
	if miss < 0.05 {
		return fmt.Sprintf("%s: %s stands there", name, withArticle(s.Kind))
	}
	line := fmt.Sprintf("%s: the nearest %s stands %.1f away", name, s.Kind, miss)
	if !r.Anchor.Set {
		return line
	}
	if list := check.BothPitches(f, math.Abs(at-r.Anchor.Value), r.Pitch); len(list) > 0 {
		line += "; one would stand there at pitch " + check.Pitches(list)
	}
	return line
}

func (a *app) completePlace(_ *cobra.Command, args []string, _ string) ([]string, cobra.ShellCompDirective) {
	kinds := map[string]string{"buttons": pattern.ButtonClosure, "eyelets": pattern.Lacing}
	switch {
	case len(args) == 0:
		return []string{"buttons", "eyelets", "none"}, cobra.ShellCompDirectiveNoFileComp
	case len(args) > 1 || kinds[args[0]] == "" && args[0] != "none":
		return nil, cobra.ShellCompDirectiveNoFileComp
	}
	if g := a.garmentQuietly(); g != nil {
		return closureNames(g, kinds[args[0]]), cobra.ShellCompDirectiveNoFileComp
	}
	return nil, cobra.ShellCompDirectiveNoFileComp
}

func (a *app) completeLevels(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
	if g := a.garmentQuietly(); g != nil {
		return measure.LevelNames(g), cobra.ShellCompDirectiveNoFileComp
	}
	return nil, cobra.ShellCompDirectiveNoFileComp
}
