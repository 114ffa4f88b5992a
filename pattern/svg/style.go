package svg

// The colours that all pictures share; each picture adds its own.
const (
	Paper = "#ffffff"
	Ink   = "#111111"
	Mute  = "#555555" // words of less weight
	Faint = "#8a8a8a" // level lines
)

// Shades are the same colours on a dark page, for the classes paper, halo, word,
// mute, line and level, followed by a picture's own.
func Shades(own ...Shade) []Shade {
	const paper, ink = "#15181b", "#e6e6e6"
	return append([]Shade{
		{Class: "paper", Fill: paper}, {Class: "halo", Stroke: paper},
		{Class: "word", Fill: ink}, {Class: "mute", Fill: "#a9a9a9"},
		{Class: "line", Stroke: ink}, {Class: "level", Stroke: "#8b9096"},
	}, own...)
}

// Style is how a line of words is set.
type Style struct {
	Size   float64 // height of the letters, mm
	Bold   bool
	Mute   bool
	Anchor string  // middle or end; empty: start
	Halo   float64 // width of the paper round each letter, at which lines behind stop short, mm; 0: none
}

// End sets the words before their place.
func (s Style) End() Style { s.Anchor = "end"; return s }

// Middle sets the words round their place.
func (s Style) Middle() Style { s.Anchor = "middle"; return s }

// Width is what room a text takes, mm, on the large side.
func (s Style) Width(text string) float64 {
	if s.Bold {
		return BoldWidth(text, s.Size)
	}
	return TextWidth(text, s.Size)
}

// Shorten cuts a text to the room that there is, mm.
func (s Style) Shorten(text string, room float64) string {
	if s.Bold {
		room /= 1.1 // what BoldWidth adds
	}
	return Shorten(text, s.Size, room)
}

// Words writes one line with its baseline at y.
func (p *Pen) Words(x, y float64, text string, s Style, more ...Attr) {
	class, colour := "word", Ink
	if s.Mute {
		class, colour = "mute", Mute
	}
	attrs := []Attr{N("font-size", s.Size)}
	if s.Bold {
		attrs = append(attrs, A("font-weight", "bold"))
	}
	if s.Anchor != "" {
		attrs = append(attrs, A("text-anchor", s.Anchor))
	}
	if s.Halo > 0 {
		class += " halo"
		attrs = append(attrs, A("stroke", Paper), N("stroke-width", s.Halo), A("stroke-linejoin", "round"), A("paint-order", "stroke"))
	}
	p.Text(x, y, text, append(append(attrs, A("fill", colour), A("class", class)), more...)...)
}
