package compare

import "math"

// lonelyWidth tells that a piece was widened and no other piece of those that
// go round the body gave the width, or that one was narrowed and none got it:
// so looks a change of two sides of which only one was made. It is "" where
// that cannot be told, where several pieces changed their width, where pieces
// came or went, and where the overlap of a closure changed too.
func (c *Change) lonelyWidth() string {
	if c.Before == nil || c.After == nil {
		return ""
	}
	for _, e := range c.Edits {
		if e.Kind == "around" || e.overlap() != "" {
			return ""
		}
	}
	wider, narrower, changed := false, false, 0
	for _, m := range c.After.Around {
		p := c.piece(m.Name)
		if p == nil || p.Before == nil || p.After == nil {
			return ""
		}
		any := false
		for _, l := range p.Widths {
			d, ok := l.Delta()
			if !ok {
				return ""
			}
			if math.Abs(d) >= Seen {
				any, wider, narrower = true, wider || d > 0, narrower || d < 0
			}
		}
		if any {
			changed++
		}
	}
	switch {
	case changed != 1 || len(c.After.Around) < 2 || wider == narrower:
		return ""
	case wider:
		return "nothing was taken from another piece"
	}
	return "nothing was given to another piece"
}

func (c *Change) piece(name string) *PieceChange {
	for i := range c.Pieces {
		if c.Pieces[i].Name == name {
			return &c.Pieces[i]
		}
	}
	return nil
}
