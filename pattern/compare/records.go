package compare

import (
	"fmt"
	"slices"

	"seamkeep/pattern"
)

// Words tells an edit in words: "seam yoke added", "overlap of back 24 -> 30".
// It is empty for what the movement of an outline shows: the places of corners
// and the lines of edges.
func (e Edit) Words() string {
	switch e.Kind {
	case "order", "garment", "piece-file":
		return ""
	case "corner":
		if e.Before != nil && e.After != nil && e.Before.(pattern.Corner).Was == e.After.(pattern.Corner).Was {
			return ""
		}
	case "edge":
		if e.Before == nil || e.After == nil || e.Before.(pattern.Edge).Was == e.After.(pattern.Edge).Was {
			return ""
		}
	case "closure":
		if text := e.closureFigure(); text != "" {
			return text
		}
	case "mark":
		return e.Name + " " + e.fate()
	case "piece":
		return "settings of " + e.Name + " " + e.fate() // the piece itself stands in its own file
	}
	before, isNumber := e.Before.(pattern.Opt)
	after, _ := e.After.(pattern.Opt)
	switch {
	case isNumber:
		return fmt.Sprintf("%s %s -> %s", e.Kind, optional(before), optional(after))
	case e.Name == "" && (e.Before == nil || e.After == nil || e.Kind == "allowance"):
		return e.Kind + " of every edge " + e.fate()
	case e.Name == "":
		return e.Kind
	}
	return e.Kind + " " + e.Name + " " + e.fate()
}

func (e Edit) fate() string {
	switch {
	case e.Before == nil:
		return "added"
	case e.After == nil:
		return "lost"
	}
	return "changed"
}

func (e Edit) overlap() string {
	before, was := e.Before.(pattern.Closure)
	after, is := e.After.(pattern.Closure)
	if !was || !is || before.Overlap == after.Overlap {
		return ""
	}
	return fmt.Sprintf("overlap of %s %s -> %s", e.Name, optional(before.Overlap), optional(after.Overlap))
}

// closureFigure tells an edit of a closure of which one figure changed and nothing else;
// "" for all others.
func (e Edit) closureFigure() string {
	before, was := e.Before.(pattern.Closure)
	after, is := e.After.(pattern.Closure)
	if !was || !is || before.Kind != after.Kind || !slices.EqualFunc(before.Edges, after.Edges, sameRef) {
		return ""
	}
	switch {
	case before.Length == after.Length:
		return e.overlap()
	case before.Overlap == after.Overlap:
		return fmt.Sprintf("length of the slide of %s %s -> %s", e.Name, optional(before.Length), optional(after.Length))
	}
	return ""
}

// sameRef tells whether two mentions name the same stretch of an edge, wherever they stand.
func sameRef(a, b pattern.Ref) bool {
	return a.Piece == b.Piece && a.Edge == b.Edge && a.From == b.From && a.To == b.To
}

func optional(o pattern.Opt) string {
	if !o.Set {
		return "none"
	}
	return fmt.Sprintf("%g", o.Value)
}

// inWords tells the edits of the garment file, or of one piece's file.
func inWords(edits []Edit, piece string) []string {
	var out []string
	for _, e := range edits {
		if e.Piece != piece {
			continue
		}
		if w := e.Words(); w != "" {
			out = append(out, w)
		}
	}
	return out
}
