package vector

import (
	"fmt"
	"slices"
	"sort"
	"strings"

	"seamkeep/pattern/diag"
)

// index goes over the tree once: style sheets, and which element bears which id.
func (r *reader) index() {
	r.ids = map[string]*node{}
	twice := map[string]bool{}
	var visit func(n *node)
	visit = func(n *node) {
		if id := n.id; id != "" {
			first, ok := r.ids[id]
			switch {
			case !ok:
				r.ids[id] = n
			case !twice[id] && holdsLines(n.kind) && holdsLines(first.kind):
				twice[id] = true
				r.warnTwice(first, n)
			}
		}
		if n.kind == "style" {
			r.style(n)
		}
		for _, k := range n.kids {
			visit(k)
		}
	}
	visit(r.root)
}

// style reads a style element, unless it is for paper or in another language.
func (r *reader) style(n *node) {
	kind, media := strings.ToLower(n.get("", "type")), strings.ToLower(strings.TrimSpace(n.get("", "media")))
	if (kind == "" || kind == "text/css") && (media == "" || media == "all" || media == "screen") {
		r.readSheet(r.placeOf(n), string(cssComment.ReplaceAll(n.text, nil)), 0)
	}
}

func holdsLines(kind string) bool {
	switch kind {
	case "g", "a", "svg", "symbol", "use", "switch", "path", "rect", "circle", "ellipse", "line", "polyline", "polygon":
		return true
	}
	return false
}

func (r *reader) warnTwice(first, n *node) {
	r.probs = append(r.probs, diag.Problem{
		ID: "drawing.id", Severity: diag.Warning, Place: r.placeOf(n),
		Found: fmt.Sprintf("the id %q stands twice", Clean(n.id)), Expected: "an id of its own for each element",
		Hint:    "give one of the two another id, or delete it, in the drawing program",
		Related: []diag.Related{{Place: r.placeOf(first), Text: "the first " + Clean(first.kind) + " with that id"}},
	})
}

// dress works out what style sheets and the style attribute say of an element
// (CSS Cascading 3, section 6: weight of the selector, then order; the attribute
// above them; what is marked important above all).
func (r *reader) dress(n *node) {
	if n.styled {
		return
	}
	n.styled = true
	var rules []rule
	if r.sheet.rules > 0 {
		if rules = r.sheet.of(n); r.sheet.work > maxMatching {
			r.refuse(r.placeOf(n), "drawing.css", "the style sheet asks too much of too many elements", "a plain drawing",
				"save it from the drawing program with presentation attributes instead of a style sheet")
			return
		}
	}
	own := n.get("", "style")
	if len(rules) == 0 && own == "" {
		return
	}
	inline := declarations(own)
	n.style = map[string]string{}
	for _, important := range []bool{false, true} {
		for _, one := range rules {
			n.wear(one.decls, important)
		}
		n.wear(inline, important)
	}
}

func (n *node) wear(decls []declaration, important bool) {
	for _, d := range decls {
		if d.important == important {
			n.style[d.name] = d.value
		}
	}
}

// of gives the rules for an element, the weightiest last.
func (t *sheet) of(n *node) []rule {
	var all []rule
	look := func(key string) {
		for _, one := range t.by[key] {
			if one.matches(n, &t.work) {
				all = append(all, one)
				t.work += perMatch
			}
		}
	}
	look("")
	look(n.kind)
	if id := n.id; id != "" {
		look("#" + id)
	}
	classes := slices.Clone(n.classes)
	slices.Sort(classes)
	for _, c := range slices.Compact(classes) {
		look("." + c)
	}
	sort.SliceStable(all, func(i, j int) bool {
		if all[i].weight != all[j].weight {
			return all[i].weight < all[j].weight
		}
		return all[i].order < all[j].order
	})
	return all
}

// moved gives the property of an element's style that moves it, or "".
func (n *node) moved() string {
	for _, name := range []string{"transform", "translate", "rotate", "scale", "offset-path", "zoom", "d"} {
		if v, ok := n.style[name]; ok && v != "none" {
			return name
		}
	}
	if n.get("", "transform") != "" {
		for _, name := range []string{"transform-origin", "transform-box"} {
			if n.prop(name) != "" {
				return name
			}
		}
	}
	return ""
}
