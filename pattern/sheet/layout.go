package sheet

import (
	"fmt"
	"math"

	"seamkeep/pattern/curve"
	"seamkeep/pattern/sheet/ink"
)

// room of a figure on the page, with what keeps it from its neighbours.
func (f *figure) size() size {
	return size{f.box.Width() + 2*around, f.box.Height() + 2*around}
}

// mostTiles bounds what is laid out: nobody tapes more together.
const mostTiles = 4000

// layOut puts every figure that fits on a page on one page, and the others on the
// tiles of a common area.
func (s *setter) layOut() error {
	var fit, large []*figure
	tiles := 0
	for _, f := range s.figures {
		if z := f.size(); z.w <= s.content.Width() && z.h <= s.content.Height() {
			fit = append(fit, f)
		} else if s.paper.Roll {
			return &TooLarge{f.piece.Name, z.w, z.h, s.content.Width(), s.content.Height()}
		} else {
			large = append(large, f)
			tiles += count(z.w, s.content.Width()) * count(z.h, s.content.Height())
		}
	}
	if tiles > mostTiles {
		return fmt.Errorf("the pieces need about %d tiles of %s, and %d are the most; take a larger paper, or print them one by one with --pieces", tiles, s.paper.Name, mostTiles)
	}
	s.tiled(large)
	s.whole(fit)
	if len(s.pages) != 1 {
		s.pages = append([]*page{s.mapPage()}, s.pages...)
	}
	return nil
}

// whole lays figures out on as few pages as they need.
func (s *setter) whole(figures []*figure) {
	if len(figures) == 0 {
		return
	}
	sizes := make([]size, len(figures))
	for i, f := range figures {
		sizes[i] = f.size()
	}
	spots, n := pack(sizes, size{s.content.Width(), s.content.Height()})
	for k := range n {
		p := &page{box: s.content}
		p.Kind, p.Width, p.Height = PiecesPage, s.paper.Width, s.paper.Height
		if s.paper.Roll {
			s.shorten(p, spots, sizes, k)
		}
		for i, f := range figures {
			if spots[i].page == k {
				s.place(p, f, spots[i])
			}
		}
		s.pages = append(s.pages, p)
	}
}

// shorten makes a page of a roll as long as what is on it.
func (s *setter) shorten(p *page, spots []spot, sizes []size, k int) {
	used := 100 + fourInches + 2
	for i, spot := range spots {
		if spot.page == k {
			used = max(used, spot.y+sizes[i].h)
		}
	}
	p.Height = math.Ceil(used + headHeight + 2*s.margin.Y)
	p.box = s.contentOf(p.Height)
}

// place puts a figure on a page.
func (s *setter) place(p *page, f *figure, at spot) {
	move := curve.Pt(p.box.Min.X+at.x+around, p.box.Max.Y-at.y-around).Sub(curve.Pt(f.box.Min.X, f.box.Max.Y))
	p.parts = append(p.parts, ink.Part{Drawing: &f.drawing, Move: move, Clip: curve.EmptyBox()})
	p.on = append(p.on, f)
	p.name(f)
}

// name lists a figure's piece on the page, once.
func (p *page) name(f *figure) {
	for _, n := range p.Pieces {
		if n == f.piece.Name {
			return
		}
	}
	p.Pieces = append(p.Pieces, f.piece.Name)
}
