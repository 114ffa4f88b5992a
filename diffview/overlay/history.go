package overlay

import (
	"fmt"
	"io"
	"strings"

	"seamkeep/pattern"
	"seamkeep/pattern/curve"
	"seamkeep/pattern/svg"
)

// Version is one version of a piece for History. Piece is nil where the version
// has no such piece; Garment, which may be nil, gives the levels. All words may
// come from strangers.
type Version struct {
	Label   string   // a short name: that of its note and its commit
	Note    string   // what was done; not shown again where the label begins with it
	Because string   // the reason
	Tags    []string // that point to it
	When    string   // a date, as it is to be shown
	Piece   *pattern.Piece
	Garment *pattern.Garment
}

// MostNotes is how many versions of a piece History lists in full: the newest
// ones and the oldest.
const MostNotes = 12

// era is a run of versions, one after the other, between which no line of the
// piece moved.
type era struct {
	first, last int // numbers of the versions, from 1
	version     Version
	ring        curve.Path   // empty: the piece was absent, or cannot be drawn
	why         string       // why it cannot be drawn
	later       []string     // tags of its versions after the first, in words
	own         []curve.Path // its edges that the next era does not have
	next        *era         // the one after it that has the piece
	shown       bool
	shade       float64 // 0 the faintest to 1
}

// History draws every version of one piece over each other, 1:1 in mm and in the
// piece's own frame: the last one heavy, the ones before it thin, the older the
// fainter, and only where they differ from what came after. Versions are given
// oldest first; those between which nothing moved count as one. The notes are
// listed below, newest first, with the number of the version, which stands on
// its line where that departs most from the next one. Too many versions are
// drawn but not listed. No version at all gives a sheet that says so. What cannot
// be written is the error.
func History(w io.Writer, piece string, versions []Version, o Options) error {
	eras := erasOf(versions)
	h := newHistory(eras)
	name := title(o, piece) + ", history"
	s := &stack{width: tenth(max(leastWidth, h.room.width()))}
	s.titled(name, o.Note)
	s.para(historyTally(versions, eras), style{Size: 4.2}, 4)
	faults := historyFaults(eras)
	s.faulty(faults, 1)
	if h.last != nil {
		s.space(rowGap)
		s.add(tenth(h.room.y1-h.room.y0), h.draw)
		s.space(rowGap)
		s.sized()
		s.signs(historySigns())
	}
	s.space(blockGap)
	s.legend(eras)
	return s.write(w, svg.Picture{Title: name, Desc: historyWords(versions, eras, faults), Prefix: o.Prefix})
}

// erasOf gathers versions, oldest first.
func erasOf(versions []Version) []*era {
	var out []*era
	for i, v := range versions {
		ring, why := drawnRing(v.Piece)
		if n := len(out); n > 0 && samePath(out[n-1].ring, ring) && out[n-1].why == why {
			out[n-1].last = i + 1
			out[n-1].later = append(out[n-1].later, laterTags(v, i+1)...)
			continue
		}
		out = append(out, &era{first: i + 1, last: i + 1, version: v, ring: ring, why: why})
	}
	withinReach(out)
	var later *era
	for i := len(out) - 1; i >= 0; i-- {
		e := out[i]
		e.shade = max(0, 1-float64(len(out)-1-i)/MostNotes)
		e.shown = len(out) <= MostNotes || i == 0 || i > len(out)-MostNotes
		if len(e.ring) == 0 {
			continue
		}
		e.next, later = later, e
		if e.next != nil {
			e.own = notIn(e.version.Piece, e.next.ring)
		}
	}
	return out
}

// drawnRing gives the outline of a piece, or why it is not drawn.
func drawnRing(p *pattern.Piece) (curve.Path, string) {
	if p == nil {
		return nil, ""
	}
	if why := cannotDraw(p); why != "" {
		return nil, why
	}
	return p.Outline(), ""
}

// withinReach leaves out the lines that lie so far from the last one that no
// sheet can hold both.
func withinReach(eras []*era) {
	box := curve.EmptyBox()
	for i := len(eras) - 1; i >= 0; i-- {
		e := eras[i]
		if len(e.ring) == 0 {
			continue
		}
		both := box.Union(e.ring.Bounds())
		if tooLarge(both) != "" {
			e.ring, e.why = nil, fmt.Sprintf("it lies %.1f m away", max(both.Width(), both.Height())/1000)
			continue
		}
		box = both
	}
}

// historyFaults say what is wrong with which version, newest first.
func historyFaults(eras []*era) []string {
	var out []string
	for i := len(eras) - 1; i >= 0; i-- {
		e := eras[i]
		if e.version.Piece == nil {
			continue
		}
		name := "version " + e.numbers()
		if words := strings.TrimSpace(svg.CleanText(e.version.Label)); words != "" {
			name += " (" + words + ")"
		}
		lines := faultsOf(&pattern.Garment{Pieces: []*pattern.Piece{e.version.Piece}})
		for _, l := range lines {
			out = append(out, name+": "+strings.TrimPrefix(l, e.version.Piece.Name+": "))
		}
		if len(lines) == 0 && e.why != "" {
			out = append(out, name+": "+e.why+"; "+notDrawn)
		}
	}
	if n := len(out); n > mostFaults {
		out = append(out[:mostFaults], fmt.Sprintf("and %d more faults", n-mostFaults))
	}
	return out
}

// notIn gives the parts of a piece's edges that a ring does not have, bit for
// bit: chains of segments.
func notIn(p *pattern.Piece, ring curve.Path) []curve.Path {
	there := map[curve.Segment]bool{}
	for _, s := range ring {
		there[s] = true
	}
	var out []curve.Path
	open := false
	for i := range p.Edges {
		for _, s := range p.EdgePath(i) {
			switch {
			case there[s]:
				open = false
			case open:
				out[len(out)-1] = append(out[len(out)-1], s)
			default:
				out, open = append(out, curve.Path{s}), true
			}
		}
	}
	return out
}

// historyTally says how many versions there are and how often a line moved.
func historyTally(versions []Version, eras []*era) string {
	if len(versions) == 0 {
		return "There is no version of this piece."
	}
	drawn, moves, absent, hidden := 0, 0, 0, 0
	for _, e := range eras {
		switch {
		case e.why != "":
			hidden += e.last - e.first + 1
			continue
		case len(e.ring) == 0:
			absent += e.last - e.first + 1
			continue
		case e.next != nil && !samePath(e.ring, e.next.ring):
			moves++
		}
		drawn++
	}
	words := plural(len(versions), "version", "versions")
	switch {
	case drawn == 0 && hidden == 0:
		return words + ", none with this piece."
	case drawn == 0:
	case moves == 0:
		words += "; its outline never changed"
	default:
		words += "; its outline changed " + plural(moves, "time", "times")
	}
	if absent > 0 {
		words += "; the piece is absent from " + plural(absent, "version", "versions")
	}
	if hidden > 0 {
		words += "; " + plural(hidden, "version", "versions") + " cannot be drawn"
	}
	return words + "."
}
