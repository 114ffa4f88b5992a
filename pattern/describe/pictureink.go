package describe

import (
	"fmt"
	"strings"

	"seamkeep/pattern/curve"
	"seamkeep/pattern/svg"
)

// Sizes of words and tags, mm.
const (
	headRoom   = 20.0 // the title and what the signs mean
	headHeight = 8.0  // a piece's name
	titleSize  = 5.5  // smaller where the title is long
	rowGap     = 4.0
	listSize   = 3.7
	nameSize   = 3.3
	pieceSize  = 3.7
	levelSize  = 2.9
	tagSize    = 5.4
	lineHeight = 5.0
	haloWidth  = 0.9
)

const (
	paperColour = svg.Paper
	inkColour   = svg.Ink
	levelColour = svg.Faint
)

// ink draws with the picture's own signs.
type ink struct{ pen *svg.Pen }

// text writes one line with its baseline at y.
func (k ink) text(x, y float64, text string, s svg.Style) { k.pen.Words(x, y, text, s) }

func lineInk(width float64) []svg.Attr {
	return []svg.Attr{svg.A("class", "line"), svg.A("fill", "none"), svg.A("stroke", inkColour), svg.N("stroke-width", width), svg.A("stroke-linejoin", "round")}
}

func levelInk() []svg.Attr {
	return []svg.Attr{svg.A("class", "level"), svg.A("stroke", levelColour), svg.N("stroke-width", 0.22), svg.Dash(0.9, 1.3)}
}

func tagWidth(number int) float64 {
	return max(tagSize, svg.BoldWidth(fmt.Sprint(number), nameSize)+1.8)
}

// tag draws the square of a proposal's number round a place, dashed for a question.
func (k ink) tag(at curve.Point, number string, asks bool) {
	w := max(tagSize, svg.BoldWidth(number, nameSize)+1.8)
	attrs := []svg.Attr{svg.A("class", "paper line"), svg.A("fill", paperColour), svg.A("stroke", inkColour), svg.N("stroke-width", 0.5)}
	if asks {
		attrs = append(attrs, svg.Dash(1.1, 0.8))
	}
	k.pen.Rect(at.X-w/2, at.Y-tagSize/2, w, tagSize, attrs...)
	k.text(at.X, at.Y+0.36*nameSize, number, svg.Style{Size: nameSize, Bold: true, Anchor: "middle"})
}

// listLine is one line of the list below the pieces.
type listLine struct {
	text   string
	number int // of the proposal that begins here; 0 where it goes on
	asks   bool
	head   bool // a line of its own, without a number
}

func (l listLine) height() float64 {
	if l.number > 0 || l.head {
		return lineHeight + 1.6
	}
	return lineHeight
}

const listIndent = 10.0

// words breaks the proposals into lines.
func (s *sheet) words() []listLine {
	var out []listLine
	room := sheetWidth - 2*edgeRoom - listIndent
	for _, p := range s.list {
		if p.Choice != 0 && p.Choice == p.Number {
			out = append(out, listLine{text: "One of these, or none of them:", head: true})
		}
		for i, text := range wrapped(p.Sentence, room) {
			l := listLine{text: text}
			if i == 0 {
				l.number, l.asks = p.Number, p.Choice != 0
			}
			out = append(out, l)
		}
	}
	if len(s.list) == 0 {
		out = append(out, listLine{text: "Nothing is proposed.", head: true})
	}
	return out
}

// wrapped breaks a text into lines of a width; a word that is too long for one is cut
// short.
func wrapped(text string, width float64) []string {
	var out []string
	line := ""
	for _, word := range strings.Fields(svg.CleanText(text)) {
		next := word
		if line != "" {
			next = line + " " + word
		}
		if svg.TextWidth(next, listSize) <= width || line == "" {
			line = next
			continue
		}
		out, line = append(out, line), word
	}
	out = append(out, line)
	for i := range out {
		out[i] = svg.Shorten(out[i], listSize, width)
	}
	return out
}

// list writes the proposals from y down.
func (k ink) list(lines []listLine, y float64) {
	for _, l := range lines {
		y += l.height()
		switch {
		case l.head:
			k.text(edgeRoom, y, l.text, svg.Style{Size: listSize, Bold: true})
			continue
		case l.number > 0:
			k.tag(curve.Pt(edgeRoom+tagWidth(l.number)/2, y-0.36*listSize), fmt.Sprint(l.number), l.asks)
		}
		k.text(edgeRoom+listIndent, y, l.text, svg.Style{Size: listSize})
	}
}
