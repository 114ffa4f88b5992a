package drawing

import (
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"io"

	"seamkeep/pattern"
	"seamkeep/pattern/curve"
	"seamkeep/pattern/diag"
)

// Limits of one drawing, so that a file made to harm cannot tie up the reader.
const (
	maxFile     = 64 << 20 // bytes
	maxDepth    = 200      // elements inside one another
	maxElements = 200_000
	maxSegments = 500_000 // of all paths together
	maxRings    = 1_000   // closed outlines
	maxNumber   = 1e6     // in the file's own units
	maxMatrix   = 1e9     // numbers of a chain of transforms
)

// Options says how a drawing is to be read.
type Options struct {
	// WaistY is how far below the page's top edge the waist line lies, in mm.
	// Unset: the pieces have no levels.
	WaistY pattern.Opt
}

// Result is what a drawing holds.
type Result struct {
	// Pieces are in the order of the file. Each has its recorded edge lengths
	// rounded to 0.001 mm and measured to 1e-6 mm.
	Pieces []*pattern.Piece
	// Sources tells of each piece, in the same order, where it comes from.
	Sources []Source
	// Skipped is what was seen and left out, in the order of the file.
	Skipped []Skipped
}

// Source is the element that a piece was made from.
type Source struct {
	Place diag.Place
	ID    string // its id, as written
	Label string // its own label, as written
	Layer string // label of the nearest layer, as written
	// Width and Height of the box round the outline, in mm, to be held against
	// a tape measure; exact but for the rounding of the points to 0.001.
	Width, Height float64
}

// Skipped is an element that became no piece.
type Skipped struct {
	Place     diag.Place
	ID, Label string
	Why       string // finishes the sentence "the element ..."
}

// Read reads an SVG drawing. The name is the file's, for places only. The
// Result is never nil. Problems of one path keep only that path out, and a
// caller that finds an Error in the list should write nothing; a drawing whose
// true size is unknown, or that cannot be read at all, gives no piece.
func Read(name string, src []byte, o Options) (*Result, diag.List) {
	r := &reader{
		where: locator{file: name, src: src, line: 1, col: 1},
		opt:   o,
		res:   &Result{},
	}
	if r.fit() && r.walk() && !r.fatal {
		r.build()
	}
	r.probs.Sort()
	return r.res, r.probs
}

// reader carries one drawing from its bytes to its pieces.
type reader struct {
	where    locator
	opt      Options
	res      *Result
	probs    diag.List
	fatal    bool // the whole drawing is refused
	stack    []frame
	rooted   bool // the root element has been seen
	elements int
	segments int
	rings    []*ring
	sheet    []byte // text of the style sheets
	charset  string // an encoding that is not read
}

// frame is what an open element hands down to those inside it.
type frame struct {
	toPage    curve.Affine // from its own units to page mm
	layer     *layer
	inert     bool // nothing in it is drawn
	invisible bool // visibility, which a child may take back
	style     bool // a style sheet
}

// layer is a layer of the drawing.
type layer struct{ id, label string }

// fit refuses what is plainly no drawing before it is parsed.
func (r *reader) fit() bool {
	src := r.where.src
	switch {
	case len(src) > maxFile:
		r.refuse(0, "drawing.file", fmt.Sprintf("the file has %d MiB", len(src)>>20),
			fmt.Sprintf("at most %d MiB", maxFile>>20), "remove pictures from the drawing and save it again")
	case bytes.HasPrefix(src, []byte{0x1f, 0x8b}):
		r.refuse(0, "drawing.file", "the file is compressed", "plain SVG",
			"save it as plain SVG, not as compressed SVG")
	case bytes.HasPrefix(src, []byte{0xfe, 0xff}), bytes.HasPrefix(src, []byte{0xff, 0xfe}):
		r.refuseEncoding("UTF-16")
	case len(bytes.TrimSpace(src)) == 0:
		r.refuse(0, "drawing.file", "the file is empty", "an SVG drawing", "")
	}
	return !r.fatal
}

func (r *reader) refuseEncoding(found string) {
	r.refuse(0, "drawing.encoding", fmt.Sprintf("the file is written in %s", found), "UTF-8",
		"save it again from the drawing program as plain SVG, which is UTF-8")
}

// walk reads all elements; false where the text is not well formed.
func (r *reader) walk() bool {
	dec := xml.NewDecoder(bytes.NewReader(r.where.src))
	dec.CharsetReader = func(label string, in io.Reader) (io.Reader, error) {
		r.charset = label
		return nil, errors.New("encoding not read")
	}
	for !r.fatal {
		at := int(dec.InputOffset())
		tok, err := dec.Token()
		if err != nil {
			return r.end(at, err)
		}
		switch t := tok.(type) {
		case xml.Directive:
			dec.Entity = r.entities(at, string(t))
		case xml.ProcInst:
			if t.Target == "xml-stylesheet" {
				r.warn(at, "drawing.feature", "the drawing refers to a style sheet outside the file",
					"a drawing complete in itself", "nothing outside is fetched; if it hides parts, save without it")
			}
		case xml.StartElement:
			r.start(element{StartElement: t, at: at, end: int(dec.InputOffset())})
		case xml.EndElement:
			r.stack = r.stack[:len(r.stack)-1]
		case xml.CharData:
			if n := len(r.stack); n > 0 && r.stack[n-1].style {
				r.sheet = append(append(r.sheet, t...), '\n')
			}
		}
	}
	return false
}

// end judges how the text ended.
func (r *reader) end(at int, err error) bool {
	switch {
	case r.charset != "":
		r.refuseEncoding(fmt.Sprintf("%.40q", r.charset))
	case !errors.Is(err, io.EOF):
		r.refuse(at, "drawing.xml", "the file is not well-formed XML: "+plainXML(err), "an SVG drawing",
			"save it again from the drawing program")
	case !r.rooted:
		r.refuse(at, "drawing.xml", "the file has no element", "an SVG drawing", "")
	default:
		r.judgeSheet()
		return !r.fatal
	}
	return false
}

func plainXML(err error) string {
	var syn *xml.SyntaxError
	if errors.As(err, &syn) {
		return clean(syn.Msg)
	}
	return clean(err.Error())
}

// problem notes a finding at a byte of the file.
func (r *reader) problem(at int, sev diag.Severity, id, found, expected, hint string) {
	r.probs = append(r.probs, diag.Problem{
		ID: id, Severity: sev, Place: r.where.place(at), Found: found, Expected: expected, Hint: hint,
	})
}

func (r *reader) warn(at int, id, found, expected, hint string) {
	r.problem(at, diag.Warning, id, found, expected, hint)
}

func (r *reader) fail(at int, id, found, expected, hint string) {
	r.problem(at, diag.Error, id, found, expected, hint)
}

// refuse gives up on the whole drawing.
func (r *reader) refuse(at int, id, found, expected, hint string) {
	r.fatal = true
	r.fail(at, id, found, expected, hint)
}

// skip lists an element that becomes no piece.
func (r *reader) skip(el element, why string) {
	r.res.Skipped = append(r.res.Skipped, Skipped{
		Place: r.where.place(el.at), ID: clean(el.get("", "id")), Label: clean(el.get(nsEditor, "label")), Why: why,
	})
}
