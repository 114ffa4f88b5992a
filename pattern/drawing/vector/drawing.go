package vector

import (
	"seamkeep/pattern/curve"
	"seamkeep/pattern/diag"
)

// Drawing is what a vector drawing shows, on its page.
type Drawing struct {
	// Width and Height of the page, in mm; 0 where the file does not say how
	// large its page is.
	Width, Height float64
	Scale         Scale
	// Items are the drawn lines in the order of the file, one for each subpath.
	Items []Item
	// Skipped is what was seen and left out, in the order of the file.
	Skipped []Skipped
}

// Scale says what a unit of the drawing is in mm, and how that is known. The
// zero value: not known, and the drawing has no items.
type Scale struct {
	X, Y   float64 // mm for one unit of the root's user space
	Source ScaleSource
}

// ScaleSource says how the true size of a drawing is known.
type ScaleSource string

// The ways to know a true size.
const (
	Sized   ScaleSource = "sized"         // the file gives its page in mm or another absolute unit
	Assumed ScaleSource = "assumed-96dpi" // bare numbers or px, taken as CSS does: 96 to the inch
	Known   ScaleSource = "known"         // from the length of a named element
	Dpi     ScaleSource = "dpi"           // the maker said the units to the inch
)

// Item is one drawn line: a subpath of an element, in page mm from the top
// left, y down, walked in the direction of drawing.
type Item struct {
	Place   diag.Place // of the element; of the outermost use where it is a clone
	Element string     // path, rect, line ...
	// ID as written. A clone of a single shape has the id of its use; what a
	// clone of a group or symbol holds has its own id, else that of the use.
	ID    string
	Label string // the editor's own label of the element, else data-name, else its title
	Class string
	Own   map[string]string // attributes of our own namespace, by local name; nil where there are none
	// Layers are what it lies in, outermost first: layers, then groups that bear
	// an id, a label or own attributes. Items of the same group share the list.
	Layers []Layer
	// Path is a chain with at least one segment; none of its segments is a point.
	Path curve.Path
	// Closed by its own statement: a Z, or a closed shape. Then the path ends
	// exactly where it starts. A path whose ends only meet is open.
	Closed bool
	Part   int // number of the subpath in its element, from 0
	Dashed bool
	Clone  bool // drawn by a use: ids of several clones may be alike
}

// Title tells an item to the maker: kind and label or id, without controls.
func (i Item) Title() string { return titled(i.Element, i.Label, i.ID) }

// Layer is a layer or a named group.
type Layer struct {
	ID, Label string
	Own       map[string]string
	Group     bool // a plain group
}

// Skipped is an element that gives no line.
type Skipped struct {
	Place     diag.Place
	ID, Label string
	Why       string // finishes the sentence "the element ..."
}
