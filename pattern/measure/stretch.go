package measure

import "seamkeep/pattern"

// Elastic is what the garment records of a piece that stretches. Percents are of
// the length at rest: (stretched - rest)/rest.
type Elastic struct {
	Piece  string
	InUse  float64     // percent
	Of     pattern.Opt // percent that it was tested to
	Tested string      // date of the test, YYYY-MM-DD, or empty
}

// Reserve is what is left of the tested stretch, in percentage points; negative
// where more is used than was tested; unknown where nothing was.
func (e Elastic) Reserve() pattern.Opt {
	if !e.Of.Set {
		return pattern.Opt{}
	}
	return pattern.Some(e.Of.Value - e.InUse)
}

// Stretch is the elastic that goes round the body at a level.
type Stretch struct {
	Level  string
	Width  float64   // mm at rest, over both halves
	Pieces []Elastic // those with cloth at the level, front to back
}

// StretchAt gathers the pieces of around that have a stretch recorded and cloth at
// the level. There is none where Width is 0.
func StretchAt(g *pattern.Garment, level string) Stretch {
	s := Stretch{Level: level}
	options := optionsOf(g)
	for _, m := range g.Around {
		p, o := g.Piece(m.Name), options[m.Name]
		if p == nil || !o.Stretch.Set {
			continue
		}
		if w, ok := Width(g, p, level); ok && w > 0 {
			s.Width += w * times(g, p, o.Whole)
			s.Pieces = append(s.Pieces, elastic(o))
		}
	}
	return s
}

// Elastics lists the pieces of around that have a stretch recorded, front to back,
// whatever levels they reach.
func Elastics(g *pattern.Garment) []Elastic {
	var out []Elastic
	options := optionsOf(g)
	for _, m := range g.Around {
		if o := options[m.Name]; o.Stretch.Set && g.Piece(m.Name) != nil {
			out = append(out, elastic(o))
		}
	}
	return out
}

func elastic(o pattern.PieceOption) Elastic {
	return Elastic{Piece: o.Piece, InUse: o.Stretch.Value, Of: o.Of, Tested: o.Tested}
}

// Moved is by how many percentage points the elastic stretches more when the body
// grows by dB mm at the level, all of which the elastic takes up: 100 dB / sum of
// its widths, the same for each piece. Unknown where there is no elastic.
func (s Stretch) Moved(dB float64) pattern.Opt {
	if !(s.Width > 0) {
		return pattern.Opt{}
	}
	return pattern.Some(100 * dB / s.Width)
}

// Room is by how many mm the body can grow at the level before the first piece
// reaches the stretch that it was tested to; negative where one is beyond it in
// use. Unknown without elastic, and where a piece was not tested.
func (s Stretch) Room() pattern.Opt {
	if !(s.Width > 0) {
		return pattern.Opt{}
	}
	least := pattern.Opt{}
	for _, e := range s.Pieces {
		r := e.Reserve()
		if !r.Set {
			return pattern.Opt{}
		}
		if !least.Set || r.Value < least.Value {
			least = r
		}
	}
	return pattern.Some(least.Value / 100 * s.Width)
}
