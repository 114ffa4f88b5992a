package sheet

import (
	"fmt"
	"math"
	"slices"
	"sort"

	"seamkeep/pattern/curve"
	"seamkeep/pattern/sheet/ink"
)

// tiling is one area cut into tiles that are taped together. Its places are mm
// from its upper left corner, y up (so below 0).
type tiling struct {
	width, height float64     // of a tile
	joined        ink.Drawing // join marks
	figures       []*figure
	moves         []curve.Point
	tiles         map[cellAt]*tile
	on            map[cellAt]map[int]bool // the figures of which a cell shows something
	joins         int
}

// cellAt is the column and the row of a tile, from 0, rows downwards.
type cellAt struct{ col, row int }

// tile is one page of an area.
type tile struct {
	at   cellAt
	area *tiling
}

// Name is the letters of the column and the number of the row: A1, B1, A2.
func (c cellAt) name() string {
	letters := ""
	for n := c.col + 1; n > 0; n = (n - 1) / 26 {
		letters = string(rune('A'+(n-1)%26)) + letters
	}
	return fmt.Sprintf("%s%d", letters, c.row+1)
}

// step is how far the next tile lies away.
func (a *tiling) step() curve.Point { return curve.Pt(a.width-Overlap, a.height-Overlap) }

// window is what a tile shows of the area.
func (a *tiling) window(c cellAt) curve.Box {
	left, top := float64(c.col)*a.step().X, -float64(c.row)*a.step().Y
	return curve.Box{Min: curve.Pt(left, top-a.height), Max: curve.Pt(left+a.width, top)}
}

// tiled lays the figures that fit on no page out on an area whose tiles are the
// fewest: endless to the right with so many rows, or downwards with so many
// columns.
func (s *setter) tiled(figures []*figure) {
	if len(figures) == 0 {
		return
	}
	sizes := make([]size, len(figures))
	widest, highest := 0.0, 0.0
	for i, f := range figures {
		sizes[i] = f.size()
		widest, highest = max(widest, sizes[i].w), max(highest, sizes[i].h)
	}
	w, h := s.content.Width(), s.content.Height()
	var best *tiling
	var tried [][]spot
	try := func(page size, order []int) {
		a := &tiling{width: w, height: h, figures: figures, tiles: map[cellAt]*tile{}}
		spots, _, _ := packIn(sizes, page, order)
		if slices.ContainsFunc(tried, func(s []spot) bool { return slices.Equal(s, spots) }) {
			return
		}
		tried = append(tried, spots)
		for i, f := range figures {
			a.moves = append(a.moves, curve.Pt(spots[i].x+around-f.box.Min.X, -spots[i].y-around-f.box.Max.Y))
		}
		a.needed()
		if best == nil || slices.Compare(a.cost(), best.cost()) < 0 {
			best = a
		}
	}
	const more = 2 // rows or columns beyond the fewest
	rows, cols := count(highest, h), count(widest, w)
	for _, order := range orders(sizes, mixes(len(sizes))) {
		for k := range more + 1 {
			try(size{math.Inf(1), extent(rows+k, h)}, order)
			try(size{extent(cols+k, w), math.Inf(1)}, order)
		}
	}
	best.look()
	s.areas = append(s.areas, best)
	s.tilePages(best)
}

// cost compares two ways to lay figures out: few tiles, then few tiles in a row, so
// that what is taped together stays handy.
func (a *tiling) cost() []int {
	long := 0
	for c := range a.tiles {
		long = max(long, c.col+1, c.row+1)
	}
	return []int{len(a.tiles), long}
}

// extent is what n tiles show together; count is how many show so much.
func extent(n int, tile float64) float64 { return float64(n)*(tile-Overlap) + Overlap }
func count(mm, tile float64) int {
	return max(1, int(math.Ceil((mm-Overlap)/(tile-Overlap)-1e-9)))
}

// needed finds the tiles that show anything of a piece which no other shows: what
// lies in the overlap alone is on the neighbour.
func (a *tiling) needed() {
	var shared []curve.Point
	for i, f := range a.figures {
		for _, p := range a.places(f, a.moves[i]) {
			if c, alone := a.only(p); alone {
				a.tiles[c] = &tile{c, a}
			} else {
				shared = append(shared, p)
			}
		}
	}
next:
	for _, p := range shared {
		cells := a.cells(p)
		for _, c := range cells {
			if a.tiles[c] != nil {
				continue next
			}
		}
		if len(cells) > 0 {
			a.tiles[cells[0]] = &tile{cells[0], a}
		}
	}
}

// look finds which figures each cell shows.
func (a *tiling) look() {
	a.on = map[cellAt]map[int]bool{}
	for i, f := range a.figures {
		for _, p := range a.places(f, a.moves[i]) {
			for _, c := range a.cells(p) {
				if a.on[c] == nil {
					a.on[c] = map[int]bool{}
				}
				a.on[c][i] = true
			}
		}
	}
}

// places gives a place of a figure on each tile that shows some of it: one of each
// stretch of its lines between the borders of tiles, and the middle of each tile
// that lies inside its outline, though nothing is drawn there.
func (a *tiling) places(f *figure, move curve.Point) []curve.Point {
	var out []curve.Point
	for _, line := range f.traced() {
		if len(line) == 0 {
			continue
		}
		from := line[0].Add(move)
		cell, alone := a.only(from)
		said := false // this cell has its place already
		for _, p := range line[1:] {
			to := p.Add(move)
			next, too := a.only(to)
			switch {
			case alone && too && next == cell:
				if !said {
					out, said = append(out, to), true
				}
			default:
				out, said = a.stretches(out, from, to), false
			}
			from, cell, alone = to, next, too
		}
	}
	b, step := moved(f.box, move), a.step()
	for col := math.Floor(b.Min.X / step.X); col*step.X < b.Max.X; col++ {
		for row := math.Floor(-b.Max.Y / step.Y); row*step.Y < -b.Min.Y; row++ {
			w := a.window(cellAt{int(col), int(row)})
			if middle := w.Min.Lerp(w.Max, 0.5); f.holds(middle.Sub(move)) {
				out = append(out, middle)
			}
		}
	}
	return out
}

// only is the tile that alone shows a place; false in what neighbours share, and outside.
func (a *tiling) only(p curve.Point) (cellAt, bool) {
	step := a.step()
	col, row := math.Floor(p.X/step.X), math.Floor(-p.Y/step.Y)
	if col < 0 || row < 0 {
		return cellAt{}, false
	}
	shared := col > 0 && p.X-col*step.X <= Overlap || row > 0 && -p.Y-row*step.Y <= Overlap
	return cellAt{int(col), int(row)}, !shared
}

// stretches adds the middle of each part of a line between borders of tiles.
func (a *tiling) stretches(out []curve.Point, from, to curve.Point) []curve.Point {
	step := a.step()
	cuts := []float64{0, 1}
	add := func(p, q, size, every float64) {
		for k := math.Floor(min(p, q)/every) - 1; k*every <= max(p, q); k++ {
			for _, border := range [...]float64{k * every, k*every + size} {
				if t := (border - p) / (q - p); t > 0 && t < 1 {
					cuts = append(cuts, t)
				}
			}
		}
	}
	add(from.X, to.X, a.width, step.X)
	add(-from.Y, -to.Y, a.height, step.Y)
	slices.Sort(cuts)
	for i := 1; i < len(cuts); i++ {
		out = append(out, from.Lerp(to, (cuts[i-1]+cuts[i])/2))
	}
	return out
}

// cells lists the tiles that show a place, the upper left one first.
func (a *tiling) cells(p curve.Point) []cellAt {
	var out []cellAt
	step := a.step()
	col, row := int(math.Floor(p.X/step.X)), int(math.Floor(-p.Y/step.Y))
	for r := max(row-1, 0); r <= row; r++ {
		for c := max(col-1, 0); c <= col; c++ {
			if w := a.window(cellAt{c, r}); p.X >= w.Min.X && p.X <= w.Max.X && p.Y >= w.Min.Y && p.Y <= w.Max.Y {
				out = append(out, cellAt{c, r})
			}
		}
	}
	return out
}

// tilePages makes the pages of an area, row by row.
func (s *setter) tilePages(a *tiling) {
	cells := make([]cellAt, 0, len(a.tiles))
	for c := range a.tiles {
		cells = append(cells, c)
	}
	sort.Slice(cells, func(i, j int) bool {
		return cells[i].row < cells[j].row || cells[i].row == cells[j].row && cells[i].col < cells[j].col
	})
	a.joinMarks(cells, s.o.Face)
	for _, c := range cells {
		p := &page{box: s.content, tile: a.tiles[c]}
		p.Kind = TilePage
		p.Width, p.Height, p.Tile = s.paper.Width, s.paper.Height, c.name()
		w := a.window(c)
		move := s.content.Min.Sub(w.Min)
		for i, f := range a.figures {
			if a.on[c][i] {
				p.parts = append(p.parts, ink.Part{Drawing: &f.drawing, Move: move.Add(a.moves[i]), Clip: s.content})
				p.on = append(p.on, f)
				p.name(f)
			}
		}
		p.parts = append(p.parts, ink.Part{Drawing: &a.joined, Move: move, Clip: s.content})
		s.pages = append(s.pages, p)
	}
}

// joinMarks draws two marks in the overlap of each two neighbours, with a number
// that both show outside it, where the least of the pieces is in their way.
func (a *tiling) joinMarks(cells []cellAt, f *ink.Face) {
	box := curve.EmptyBox()
	for _, c := range cells {
		box = box.Union(a.window(c))
	}
	taken := newRoom(box, 2)
	for i, g := range a.figures {
		taken.drawing(&g.drawing, a.moves[i], f)
	}
	for _, c := range cells {
		w, step := a.window(c), a.step()
		if right := (cellAt{c.col + 1, c.row}); a.tiles[right] != nil {
			for _, part := range [...]float64{0.25, 0.75} {
				a.join(taken, curve.Pt(w.Max.X-Overlap/2, w.Max.Y-part*step.Y), curve.Pt(1, 0))
			}
		}
		if below := (cellAt{c.col, c.row + 1}); a.tiles[below] != nil {
			for _, part := range [...]float64{0.25, 0.75} {
				a.join(taken, curve.Pt(w.Min.X+part*step.X, w.Min.Y+Overlap/2), curve.Pt(0, 1))
			}
		}
	}
}

// freest moves a mark along the overlap to where it covers the least.
func (r *room) freest(at, across curve.Point) curve.Point {
	const reach, apart, half = 28, 4, 9
	sum := r.counts()
	best, least := at, math.Inf(1)
	for d := 0.0; d <= reach; d += apart {
		for _, side := range [...]float64{d, -d} {
			p := at.Add(across.Left().Mul(side))
			b := curve.EmptyBox().Add(p.Sub(across.Mul(half))).Add(p.Add(across.Mul(half))).Grow(3)
			if cost := r.cost(sum, b); cost < least {
				best, least = p, cost
			}
		}
	}
	return best
}

// join draws one mark; across leads from one neighbour to the other.
func (a *tiling) join(taken *room, at, across curve.Point) {
	const r, grey, size = 3, 0.3, 3.2
	at = taken.freest(at, across)
	a.joins++
	a.joined.Circle(ink.Frame, 0.2, grey, at, r)
	for _, d := range [...]curve.Point{across, across.Left()} {
		a.joined.Line(ink.Frame, 0.2, grey, at.Sub(d.Mul(r+1.5)), at.Add(d.Mul(r+1.5)))
	}
	for _, side := range [...]float64{-1, 1} {
		p := at.Add(across.Mul(side * (Overlap/2 + 3.2))).Sub(curve.Pt(0, 0.36*size))
		a.joined.Write(ink.Text{Layer: ink.Frame, At: p, Size: size, Anchor: ink.Middle, Grey: grey, Words: fmt.Sprint(a.joins)})
	}
}
