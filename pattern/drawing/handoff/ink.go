package handoff

import (
	"seamkeep/pattern"
	"seamkeep/pattern/drawing/page"
)

// ink is how a line is drawn. It stands on every element, not on its layer, so
// that a line keeps its look when it is moved to another layer.
type ink struct {
	colour  string
	width   float64 // mm
	dash    string
	opacity string
	arrows  bool
}

func outlineInk() ink { return ink{colour: "#000000", width: 0.5} }

// inkFor picks the ink of a line. What is sewn in along a line shows its width.
func inkFor(l page.Line) ink {
	switch {
	case l.Kind == page.Notch:
		return ink{colour: "#000000", width: 0.5}
	case l.Kind == page.Level:
		return ink{colour: "#777777", width: 0.25, dash: "3,1.5"}
	case l.Kind == page.Grain:
		return ink{colour: "#555555", width: 0.35, arrows: true}
	case l.Of == string(pattern.Cutout):
		return ink{colour: "#d55e00", width: 0.35}
	case l.Of == string(pattern.Stitch), l.Of == string(pattern.Placement):
		return ink{colour: "#0072b2", width: 0.35, dash: "2,1"}
	}
	out := ink{colour: "#0072b2", width: 0.35}
	if l.Width > out.width {
		out.width, out.opacity = l.Width, "0.3"
	}
	return out
}

func (w *writer) ink(k ink) []attr {
	out := []attr{{"fill", "none"}, {"stroke", k.colour}, w.num("stroke-width", k.width)}
	if k.dash != "" {
		out = append(out, attr{"stroke-dasharray", k.dash})
	}
	if k.opacity != "" {
		out = append(out, attr{"stroke-opacity", k.opacity})
	}
	if k.arrows {
		out = append(out, attr{"marker-start", "url(#" + arrowID + ")"}, attr{"marker-end", "url(#" + arrowID + ")"})
	}
	return out
}

// texts writes lines of words; they are no lines to read back.
func (d *drawing) texts(id string, list []page.Text, colour string) {
	for _, t := range list {
		attrs := []attr{d.num("x", t.At.X), d.num("y", t.At.Y), {"fill", colour},
			{"font-family", "'DejaVu Sans', sans-serif"}, {"font-size", d.number(t.Size) + "px"}}
		if t.Bold {
			attrs = append(attrs, attr{"font-weight", "bold"})
		}
		if t.Anchor != page.Start {
			attrs = append(attrs, attr{"text-anchor", [...]string{page.Middle: "middle", page.End: "end"}[t.Anchor]})
		}
		d.words("text", t.Text, append(attrs, attr{"id", d.ids.of(id)})...)
	}
}
