package drawing

import (
	"bytes"
	"fmt"
	"regexp"
	"strings"
)

// comments of a style sheet, also one that is never closed
var cssComment = regexp.MustCompile(`(?s)/\*.*?(\*/|$)`)

// moving holds the properties of CSS that would move or redraw a path. They
// are rare in drawings, and nothing is read wrongly where they are refused.
const moving = `transform|translate|rotate|scale|offset-path|zoom|d`

// cssMoves finds a declaration of such a property, one that hides, or one that
// sizes the page.
var cssMoves = regexp.MustCompile(`(?:^|[{;\s])(` + moving + `)\s*:|\b(display)\s*:\s*none|` +
	`\b(visibility)\s*:\s*(?:hidden|collapse)|\bsvg\b[^{}]*\{(?:[^}]*[;\s])?(width|height)\s*:`)

// declarations reads a style attribute: names and values in lower case.
func declarations(style string) map[string]string {
	if style == "" {
		return nil
	}
	decl := map[string]string{}
	for _, d := range strings.Split(cssComment.ReplaceAllString(style, ""), ";") {
		if name, value, ok := strings.Cut(d, ":"); ok {
			value = strings.TrimSuffix(strings.ToLower(strings.TrimSpace(value)), "!important")
			decl[strings.ToLower(strings.TrimSpace(name))] = strings.TrimSpace(value)
		}
	}
	return decl
}

// moved gives the property of an element's style that moves it, or "".
func (el element) moved() string {
	for _, name := range strings.Split(moving, "|") {
		if v, ok := el.style[name]; ok && v != "none" {
			return name
		}
	}
	for _, name := range []string{"transform-origin", "transform-box"} {
		if el.prop(name) != "" && el.get("", "transform") != "" {
			return name
		}
	}
	return ""
}

// judgeSheet refuses a drawing whose style sheet hides or moves parts: its rules
// are not followed, so that something would come out wrong in silence.
func (r *reader) judgeSheet() {
	text := bytes.ToLower(cssComment.ReplaceAll(r.sheet, nil))
	const hint = "save it from the drawing program with presentation attributes instead of a style sheet, or delete what is hidden"
	if bytes.ContainsRune(text, '\\') {
		r.refuse(0, "drawing.css", "the drawing's style sheet is written with backslashes", "a plain drawing", hint)
		return
	}
	m := cssMoves.FindSubmatch(text)
	if m == nil {
		return
	}
	word := string(bytes.Join(m[1:], nil))
	does := "moves parts of it"
	switch word {
	case "display", "visibility":
		does = "hides parts of it"
	case "width", "height":
		does = "sizes the page"
	}
	r.refuse(0, "drawing.css", fmt.Sprintf("the drawing's style sheet %s (%s)", does, word),
		"a drawing without such rules, since they are not followed", hint)
}
