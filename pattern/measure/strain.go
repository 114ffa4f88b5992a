package measure

import "seamkeep/pattern"

// Strain names the level at which a closure pulls hardest, of those that the row's
// edge crosses: the bust where there is one, unless the figures there are known and
// leave the garment slack while it presses elsewhere; then the level that is pressed
// most. Without a bust it is that one too, or else the level at which the body is
// largest against the garment in use. "" where nothing can be told. A button belongs
// there: sewing handbooks begin at the fullest part of the bust.
func (r Row) Strain(g *pattern.Garment, b *pattern.Body, tol float64) string {
	return r.StrainIn(g, b, func(level string) Girth { return GirthAt(g, level) }, tol)
}

// StrainIn is Strain for who knows the girths of the levels already.
func (r Row) StrainIn(g *pattern.Garment, b *pattern.Body, girth func(level string) Girth, tol float64) string {
	bust, slackBust := "", false
	largest, pull := "", 0.0
	pressed, least := "", -tightness
	for _, level := range LevelNames(g) {
		if _, ok := r.Crossing(g, level, tol); !ok {
			continue
		}
		if level == "bust" {
			bust = level
		}
		body, ok := b.Girth(level)
		if !ok {
			continue
		}
		sum := girth(level)
		if sum.Why() != "" || sum.Worn() <= 0 {
			continue
		}
		ease := wornEase(g, b, sum)
		slackBust = slackBust || level == "bust" && ease > tightness
		if ease < least {
			pressed, least = level, ease
		}
		if body/sum.Worn() > pull {
			largest, pull = level, body/sum.Worn()
		}
	}
	switch {
	case bust != "" && !(slackBust && pressed != ""):
		return bust
	case pressed != "":
		return pressed
	}
	return largest
}

// tightness is the percent of the body from which on a garment counts as pressing or as
// slack: less is not to be told from none in print.
const tightness = 0.05

// wornEase gives by how much larger than the body the garment is worn, in percent of it;
// negative where it presses. A lacing takes it in to what is recorded, but no further
// than until its edges touch.
func wornEase(g *pattern.Garment, b *pattern.Body, sum Girth) float64 {
	for i := range g.Closures {
		if gap, ok := GapOf(g, b, &g.Closures[i], sum); ok {
			return max(gap.AsWorn(), gap.LacedShut())
		}
	}
	body, _ := b.Girth(sum.Level)
	return Percent(sum.Worn()-g.Thickness.Or(0)-body, body)
}
