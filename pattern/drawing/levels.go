package drawing

import (
	"fmt"
	"math"
	"sort"
	"strings"

	"seamkeep/pattern"
	"seamkeep/pattern/diag"
)

// How level lines are judged. Common practice, no source.
const (
	levelTilt = 0.5  // degrees by which a level line may lean
	levelSame = 0.5  // mm within which pieces agree on a level
	levelNear = 0.05 // mm; a line this close to an outline meets it
)

// seen is a level line that crosses a piece.
type seen struct {
	name string
	y    float64 // mm below the page's top
	line *line
}

// levels finds the level lines, the waist of each piece and the heights of the
// garment.
func (r *recogniser) levels() {
	for _, l := range r.lines {
		if !l.done && l.word.role == levelRole {
			r.level(l)
		}
	}
	for _, o := range r.outlines {
		r.ownWaist(o)
	}
	r.agree()
	r.waistOfOthers()
	r.agree()
	r.measureLevels()
	r.missingWaist()
	for _, o := range r.outlines {
		r.disagree(o)
	}
}

// level takes a line as a level, or says why it cannot be one.
func (r *recogniser) level(l *line) {
	y, fault := heightOf(l)
	switch {
	case l.word.name == "":
		fault = "is called a level, but no name of one is given"
	case fault != "":
		fault = fmt.Sprintf("is called level %s, but %s", l.word.name, fault)
	}
	if fault != "" {
		r.warn(l.place, "drawing.level", l.word.name, r.kind(l)+" "+fault, "a straight level line with the level's name as its label",
			"draw it level, or give it another label if it is no level")
		r.leave(l, fault)
		return
	}
	line := LevelLine{Item: l.items[0], Place: l.place, ID: clean(r.item(l).ID), Name: l.word.name, How: l.word.how, PageY: y}
	for _, o := range r.outlines {
		if !r.levelOn(l, o, y) {
			continue
		}
		line.Pieces = append(line.Pieces, o.drawn.Name)
		o.level = append(o.level, seen{name: line.Name, y: y, line: l})
	}
	if len(line.Pieces) == 0 {
		r.leave(l, "is called level "+line.Name+", but crosses no piece")
		return
	}
	l.done = true
	r.sheet.Levels = append(r.sheet.Levels, line)
}

// heightOf is the height of a level line on the page, or why it has none.
func heightOf(l *line) (float64, string) {
	if l.closed {
		return 0, "is a closed line"
	}
	a, b := l.path.Start(), l.path.End()
	lean := math.Atan2(math.Abs(b.Y-a.Y), math.Abs(b.X-a.X)) * 180 / math.Pi
	switch {
	case a.Dist(b) < 1:
		return 0, "is only a point"
	case lean > levelTilt:
		return 0, fmt.Sprintf("leans by %.1f degrees", lean)
	case l.box.Height() > math.Abs(b.Y-a.Y)+levelNear:
		return 0, "is not straight"
	}
	return (a.Y + b.Y) / 2, ""
}

// levelOn tells whether a level line crosses an outline, or lies in it.
func (r *recogniser) levelOn(l *line, o *outline, y float64) bool {
	left, right := l.box.Min.X, l.box.Max.X
	if right < o.box.Min.X || left > o.box.Max.X || y < o.box.Min.Y-levelNear || y > o.box.Max.Y+levelNear {
		return false
	}
	if l.word.how == ByOwn && l.home.own != nil && o.ours != nil && l.home.own.Own["piece"] != o.ours.Own["piece"] {
		return false
	}
	if math.Min(math.Abs(y-o.box.Min.Y), math.Abs(y-o.box.Max.Y)) <= levelNear {
		return true
	}
	if r.work -= len(o.path); r.work < 0 {
		r.tooMuch(l)
		return false
	}
	for _, c := range o.path.CrossingsY(y) {
		if c.Point.X >= left-levelNear && c.Point.X <= right+levelNear {
			return true
		}
	}
	return r.contains(o.line, l.path[len(l.path)/2].At(0.5))
}

// ownWaist takes the waist of a piece from its own line, or from the maker.
func (r *recogniser) ownWaist(o *outline) {
	first, told := map[string]seen{}, map[string]bool{}
	for _, s := range o.level {
		f, twice := first[s.name]
		if !twice {
			first[s.name] = s
			continue
		}
		if math.Abs(f.y-s.y) > levelNear && !told[s.name] {
			told[s.name] = true
			r.fail(s.line.place, "drawing.level", o.drawn.Name, fmt.Sprintf("two lines called %s cross piece %s, %.2f mm apart", s.name, o.drawn.Name, math.Abs(f.y-s.y)),
				"one height for a level on a piece", "delete one of them, or give it the name of another level", diag.Related{Place: f.line.place, Text: "the other one"})
		}
	}
	if s, ok := first["waist"]; ok {
		o.waist, o.known = s.y, true
	} else if r.opt.WaistY.Set {
		o.waist, o.known = r.opt.WaistY.Value, true
	}
}

// agree finds the height of each level: the one that most pieces show, of
// several alike the one drawn first.
func (r *recogniser) agree() {
	type vote struct {
		y     float64
		count int
	}
	votes := map[string][]vote{}
	for _, o := range r.outlines {
		for _, s := range o.level {
			if !o.known {
				continue
			}
			y, k := o.waist-s.y, 0
			for k < len(votes[s.name]) && math.Abs(votes[s.name][k].y-y) > levelSame {
				k++
			}
			if k == len(votes[s.name]) {
				votes[s.name] = append(votes[s.name], vote{y: y})
			}
			votes[s.name][k].count++
		}
	}
	r.heights = map[string]float64{}
	for name, list := range votes {
		best := list[0]
		for _, v := range list {
			if v.count > best.count {
				best = v
			}
		}
		r.heights[name] = pattern.RoundLength(best.y)
	}
	r.sheet.Heights = nil
	listed := map[string]bool{}
	for _, l := range r.sheet.Levels {
		if y, ok := r.heights[l.Name]; ok && !listed[l.Name] {
			listed[l.Name] = true
			r.sheet.Heights = append(r.sheet.Heights, pattern.Level{Place: l.Place, Name: l.Name, Y: y})
		}
	}
}

// waistOfOthers finds the waist of pieces that other levels cross.
func (r *recogniser) waistOfOthers() {
	page, same := 0.0, 0
	for _, l := range r.sheet.Levels {
		if l.Name == "waist" && (same == 0 || math.Abs(l.PageY-page) > levelNear) {
			page = l.PageY
			same++
		}
	}
	for _, o := range r.outlines {
		if o.known || len(o.level) == 0 {
			continue
		}
		for _, s := range o.level {
			if y, ok := r.heights[s.name]; ok {
				o.waist, o.known = s.y+y, true
				break
			}
		}
		if !o.known && same == 1 {
			o.waist, o.known = page, true
		}
	}
}

// missingWaist asks for the waist where levels are drawn without it.
func (r *recogniser) missingWaist() {
	var names, pieces []string
	var place diag.Place
	told := map[string]bool{}
	for _, o := range r.outlines {
		if o.known || len(o.level) == 0 {
			continue
		}
		if len(pieces) == 0 {
			place = o.level[0].line.place
		}
		pieces = append(pieces, o.drawn.Name)
		for _, s := range o.level {
			if !told[s.name] {
				told[s.name] = true
				names = append(names, s.name)
			}
		}
	}
	if len(pieces) > 0 {
		r.fail(place, "drawing.waist", "", fmt.Sprintf("the drawing shows %s on %s, but no waist from which to measure", few(names), few(pieces)),
			"a level line called waist", "draw it and label it \"waist\", or say how far below the page's top it lies with --waist")
	}
}

// few lists the first names of many.
func few(names []string) string {
	const most = 5
	if len(names) > most {
		return fmt.Sprintf("%s and %d more", strings.Join(names[:most], ", "), len(names)-most)
	}
	return strings.Join(names, ", ")
}

// measureLevels fills in how high each level line lies above the waist.
func (r *recogniser) measureLevels() {
	above := map[int]float64{}
	for _, o := range r.outlines {
		for _, s := range o.level {
			if _, there := above[s.line.items[0]]; !there && o.known {
				above[s.line.items[0]] = pattern.RoundLength(o.waist - s.y)
			}
		}
	}
	for i := range r.sheet.Levels {
		l := &r.sheet.Levels[i]
		if y, ok := above[l.Item]; ok {
			l.Y, l.Known = y, true
		}
	}
}

// disagree gives a piece its own height of a level where it has another one than
// the garment.
func (r *recogniser) disagree(o *outline) {
	if !o.known {
		return
	}
	own := map[string]bool{}
	for _, s := range o.level {
		y := pattern.RoundLength(o.waist - s.y)
		if d := y - r.heights[s.name]; math.Abs(d) > levelSame && !own[s.name] {
			own[s.name] = true
			o.own = append(o.own, pattern.Level{Place: s.line.place, Name: s.name, Y: y})
			r.warn(s.line.place, "drawing.level", o.drawn.Name, fmt.Sprintf("level %s lies %.3f mm above the waist on piece %s, and %.3f on others", s.name, y, o.drawn.Name, r.heights[s.name]),
				"one height for each level", "the piece gets a level of its own; move the line if that is not meant")
		}
	}
	sort.SliceStable(o.own, func(i, j int) bool { return o.own[i].Y > o.own[j].Y })
}
