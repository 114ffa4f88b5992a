package vector

import (
	"seamkeep/pattern/curve"
	"seamkeep/pattern/diag"
)

// Limits of one drawing, so that a file made to harm cannot tie up the reader.
const (
	maxFile     = 64 << 20 // bytes
	maxDepth    = 200      // elements inside one another, clones included
	maxElements = 200_000  // as written, and as drawn with clones
	maxSegments = 2_000_000
	maxRead     = 256 << 20 // bytes of start tags, clones included
	maxNumber   = 1e6       // in the file's own units
	maxMatrix   = 1e9       // numbers of a chain of transforms
	farthest    = 100_000   // mm from the page's top left
	arcError    = 0.0005    // mm, of an arc drawn as cubics
)

// KnownLength says how long an element really is.
type KnownLength struct {
	// ID is the id of the element, as written, else its label.
	ID string
	// Length in mm: of a line its length, of a closed shape the longer side of
	// the upright box round it.
	Length float64
}

// Options says how a drawing is to be read.
type Options struct {
	// Known lengths check the scale of a drawing; the first of them sets it where
	// the drawing has no true size of its own.
	Known []KnownLength
	// DPI is how many px make an inch; of a drawing whose page is not given in px
	// how many of its units do. 0: not given.
	DPI float64
}

// Read reads an SVG drawing. The name is the file's, for places only; where a
// file is not UTF-8, places count in the text as UTF-8. The Drawing is never
// nil. Problems of one element (a path that makes no sense) keep only that
// element out; a drawing that cannot be read, or whose true size is not known or
// contradicts a known length, has no items. A caller that finds an Error in the
// list should write nothing.
//
// The true size: a page with absolute units (mm cm in pt pc Q) on width and
// height is taken as it stands; px and bare numbers are taken as 96 to the inch
// and a warning says so; without a size of its own a drawing is refused, unless
// Options tell.
func Read(name string, src []byte, o Options) (*Drawing, diag.List) {
	r := &reader{file: name, opt: o}
	d := r.read(src)
	if r.fatal {
		d = &Drawing{Skipped: d.Skipped}
	}
	r.probs.Sort()
	return d, r.probs
}

// reader carries one drawing from its bytes to its lines.
type reader struct {
	file  string
	src   []byte // as UTF-8
	opt   Options
	probs diag.List
	fatal bool // the whole drawing is refused

	root  *node
	ids   map[string]*node
	sheet sheet
	dpi   float64 // units of an absolute length to the inch

	drawn     *Drawing
	measuring bool // the scale is still to be found
	elements  int  // drawn, with clones
	segments  int
	parsed    int // bytes of start tags
	told      map[said]bool
}

// said is a problem of an element, so that its clones do not say it again.
type said struct {
	n  *node
	id string
}

func (r *reader) read(src []byte) *Drawing {
	none := &Drawing{}
	if !r.load(src) || !r.parse() {
		return none
	}
	r.index()
	if r.fatal || !r.asked() {
		return none
	}
	p, ok := r.page()
	if !ok {
		return none
	}
	if p.source == Known {
		if p, ok = r.fromKnown(p); !ok {
			return none
		}
	}
	d := r.draw(p)
	if !r.fatal {
		r.checkKnown(p, d)
	}
	return d
}

// draw takes all lines at one scale.
func (r *reader) draw(p page) *Drawing {
	r.drawn = &Drawing{Width: p.width, Height: p.height, Scale: Scale{X: p.sx, Y: p.sy, Source: p.source}}
	r.elements, r.segments, r.parsed, r.told = 0, 0, 0, map[said]bool{}
	r.kids(r.root, frame{toPage: p.toPage, across: p.across, down: p.down})
	return r.drawn
}

// frame is what an open element hands down to those inside it.
type frame struct {
	toPage       curve.Affine // from its own units to page mm
	across, down float64      // size of the viewport, in its own units; percentages are of it
	layers       []Layer
	invisible    bool // visibility, which a child may take back
	dashed       bool
	depth        int
	clone        *node   // the outermost use
	name         *node   // the use that names what has no name
	uses         []*node // what is being cloned, against circles
}

func (r *reader) problem(at diag.Place, sev diag.Severity, id, found, expected, hint string) {
	r.probs = append(r.probs, diag.Problem{ID: id, Severity: sev, Place: at, Found: found, Expected: expected, Hint: hint})
}

func (r *reader) warn(at diag.Place, id, found, expected, hint string) {
	r.problem(at, diag.Warning, id, found, expected, hint)
}

func (r *reader) fail(at diag.Place, id, found, expected, hint string) {
	r.problem(at, diag.Error, id, found, expected, hint)
}

// refuse gives up on the whole drawing.
func (r *reader) refuse(at diag.Place, id, found, expected, hint string) {
	r.fatal = true
	r.fail(at, id, found, expected, hint)
}

// top is the place of what concerns the whole drawing.
func (r *reader) top() diag.Place { return r.placeOf(r.root) }
