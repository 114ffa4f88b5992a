package sheet

import (
	"fmt"
	"math"

	"seamkeep/pattern"
	"seamkeep/pattern/curve"
)

// Room that each page keeps for itself, mm.
const (
	headHeight = 16  // words at the top
	barWidth   = 7   // upright bar at the left
	barLength  = 100 // of the bars
	fourInches = 101.6
	around     = 4 // between pieces, each side
)

// setFrame tells what of the paper is printed on.
func (s *setter) setFrame() error {
	p, m := s.o.Paper, s.o.Margin
	if m < 0 || math.IsNaN(m) {
		return fmt.Errorf("a margin of %s mm cannot be left free", plain(m))
	}
	s.paper = Paper{Name: p.Name, Width: p.Width / s.stretch.X, Height: p.Height / s.stretch.Y, Roll: p.Roll}
	s.margin = curve.Pt(m/s.stretch.X, m/s.stretch.Y)
	s.content = s.contentOf(s.paper.Height)
	// both check squares must fit, beside or above each other
	w, h := s.content.Width(), s.content.Height()
	wide, high := 100+fourInches+4.0, fourInches+2.0
	if !(w >= wide && h >= high || w >= high && h >= wide) || s.paper.Width-2*s.margin.X < barLength {
		cure := "take a larger paper"
		if m > DefaultMargin {
			cure += fmt.Sprintf(" or --margin %d", DefaultMargin)
		}
		return fmt.Errorf("%s leaves %.0f x %.0f mm inside margins of %s mm; the check squares of 100 mm and 4 in need 104 x 206: %s", p.Name, max(w, 0), max(h, 0), plain(m), cure)
	}
	return nil
}

// contentOf is the room for pieces on a page of some height.
func (s *setter) contentOf(height float64) curve.Box {
	return curve.Box{
		Min: curve.Pt(s.margin.X+barWidth, s.margin.Y),
		Max: curve.Pt(s.paper.Width-s.margin.X, height-s.margin.Y-headHeight),
	}
}

// drawFigures draws every piece in the order of the numbers; with Both what is cut
// in pairs twice, and what is cut on the fold opened out. Outlines are drawn as for the left half, whichever the garment
// says.
func (s *setter) drawFigures() {
	s.numbers = numbering(s.garment)
	for _, p := range s.inOrder() {
		switch {
		case s.o.Both && paired(p):
			s.draw(p, guise{half: pattern.LeftHalf})
			s.draw(p, guise{half: pattern.RightHalf, mirrored: true})
		case s.o.Both:
			s.draw(p, guise{opened: foldOf(p)})
		default:
			s.draw(p, guise{})
		}
	}
}

// inOrder gives the pieces in the order of their numbers.
func (s *setter) inOrder() []*pattern.Piece {
	return sorted(s.o.Pieces, func(p *pattern.Piece) [2]int { return [2]int{s.numbers[p.Name]} })
}

func (s *setter) draw(p *pattern.Piece, as guise) {
	label := labelOf(s.garment, p, as, s.o.Version, s.numbers[p.Name], s.o.Face)
	s.figures = append(s.figures, newFigure(s.garment, p, as, label, s.o.Face))
}

// paired tells whether a piece is cut in mirrored pairs.
func paired(p *pattern.Piece) bool {
	for _, c := range p.Cloths {
		if c.Cut == pattern.Pair {
			return true
		}
	}
	return len(p.Cloths) == 0
}
