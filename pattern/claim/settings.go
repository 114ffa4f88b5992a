package claim

import (
	"fmt"
	"math"
	"slices"

	"seamkeep/pattern"
)

// movedLevels tells of levels that lie elsewhere now: every width there is then
// another one.
func (b bench) movedLevels(levels []string) []reason {
	var out []reason
	for _, e := range b.change.Edits {
		x, was := e.Before.(pattern.Level)
		y, is := e.After.(pattern.Level)
		if !was || !is || x.Y == y.Y || !slices.Contains(levels, e.Name) {
			continue
		}
		text := fmt.Sprintf("level %s moved from %s to %s", e.Name, FormatNumber(x.Y), FormatNumber(y.Y))
		if e.Piece != "" {
			text += " on " + e.Piece
		}
		out = append(out, reason{math.MaxFloat64, text})
	}
	return out
}

// settings tells what else in the garment file enters a girth, a worn girth or a
// gap at the levels.
func (b bench) settings(levels []string, measureKind string) []reason {
	worn, gap := measureKind != "girth", measureKind == "gap"
	var out []reason
	add := func(mm float64, text string) { out = append(out, reason{math.Abs(mm), text}) }
	for _, e := range b.change.Edits {
		if e.Piece != "" {
			continue
		}
		switch e.Kind {
		case "closure":
			x, _ := e.Before.(pattern.Closure)
			y, _ := e.After.(pattern.Closure)
			if d := y.Overlap.Value - x.Overlap.Value; d != 0 {
				add(d, fmt.Sprintf("overlap of %s %s -> %s", e.Name, FormatNumber(x.Overlap.Value), FormatNumber(y.Overlap.Value)))
			}
		case "piece":
			b.option(e.Before, e.After, e.Name, levels[0], worn, add)
		case "give":
			if x, y := numberOf(e.Before), numberOf(e.After); worn && x != y {
				add(b.girth(levels[0])*(y-x)/100, fmt.Sprintf("give %s -> %s", FormatNumber(x), FormatNumber(y)))
			}
		case "thickness":
			if x, y := numberOf(e.Before), numberOf(e.After); gap && x != y {
				add(y-x, fmt.Sprintf("thickness %s -> %s", FormatNumber(x), FormatNumber(y)))
			}
		case "cords", "reduce":
			x, _ := e.Before.(pattern.LevelNum)
			y, _ := e.After.(pattern.LevelNum)
			if (gap || worn && e.Kind == "cords") && slices.Contains(levels, e.Name) && x.Value != y.Value {
				add(y.Value-x.Value, fmt.Sprintf("%s at %s %s -> %s", e.Kind, e.Name, FormatNumber(x.Value), FormatNumber(y.Value)))
			}
		}
	}
	return out
}

// option tells what changed in how a piece counts round the body.
func (b bench) option(before, after any, piece, level string, worn bool, add func(float64, string)) {
	x, _ := before.(pattern.PieceOption)
	y, _ := after.(pattern.PieceOption)
	p := b.piece(piece)
	if p == nil || p.Before == nil || p.After == nil {
		return // it came or went: its own sentence says so
	}
	width := 0.0
	for _, w := range p.Widths {
		if w.Level == level {
			width = w.After.Value
		}
	}
	if d := y.Stretch.Value - x.Stretch.Value; worn && d != 0 {
		add(2*width*d/100, fmt.Sprintf("stretch of %s %s -> %s", piece, FormatNumber(x.Stretch.Value), FormatNumber(y.Stretch.Value)))
	}
	if x.Whole != y.Whole {
		add(width, piece+" is cut "+map[bool]string{true: "whole", false: "twice"}[y.Whole]+" now")
	}
}

// girth gives the later girth at a level, mm.
func (b bench) girth(level string) float64 {
	for _, l := range b.change.Girths {
		if l.Level == level {
			return l.After.Value
		}
	}
	return 0
}

func numberOf(v any) float64 {
	o, _ := v.(pattern.Opt)
	return o.Value
}

// fasteners tells what changed in the records of a closure.
func (b bench) fasteners(closure string) []reason {
	var out []reason
	for _, e := range b.change.Edits {
		switch e.Kind {
		case "closure", "buttons", "eyelets", "hooks":
			if words := e.Words(); e.Piece == "" && e.Name == closure && words != "" {
				out = append(out, reason{0, words})
			}
		}
	}
	return out
}
