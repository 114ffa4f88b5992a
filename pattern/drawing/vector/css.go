package vector

import (
	"regexp"
	"strings"

	"seamkeep/pattern/diag"
)

// comments of a style sheet, also one that is never closed
var cssComment = regexp.MustCompile(`(?s)/\*.*?(\*/|$)`)

// Limits of all style sheets together.
const (
	maxRules    = 20_000
	maxMatching = 200_000_000 // steps of finding the rules of all elements
	perMatch    = 100         // steps that a rule costs once it is found
)

// declaration is one property and its value, both in lower case.
type declaration struct {
	name, value string
	important   bool
}

// rule is what a style sheet says of the elements that a selector names.
type rule struct {
	selector
	decls []declaration
	order int
}

// sheet holds the rules of all style sheets by what they ask of the element
// itself: its id, else its first class, else its tag, else nothing.
type sheet struct {
	rules int
	work  int // steps that were spent on matching
	by    map[string][]rule
}

// counts tells of properties that say whether and where something is drawn.
func counts(name string) bool {
	switch name {
	case "display", "visibility", "stroke-dasharray", "clip-path", "mask", "transform-origin", "transform-box",
		"x", "y", "width", "height", "cx", "cy", "r", "rx", "ry":
		return true
	}
	return moves(name)
}

// moves tells of properties that would move or redraw a line. They are rare in
// drawings, and nothing is read wrongly where they are refused.
func moves(name string) bool {
	switch name {
	case "transform", "translate", "rotate", "scale", "offset-path", "zoom", "d":
		return true
	}
	return false
}

// declarations reads the inside of a rule or a style attribute, and keeps what
// counts.
func declarations(text string) []declaration {
	if strings.Contains(text, "/*") {
		text = cssComment.ReplaceAllString(text, "")
	}
	var all []declaration
	for more := true; more; {
		var one string
		one, text, more = strings.Cut(text, ";")
		name, value, ok := strings.Cut(one, ":")
		if !ok {
			continue
		}
		if name = strings.ToLower(strings.TrimSpace(name)); strings.Contains(name, `\`) {
			s := scanner{text: name}
			name = s.ident()
		}
		if counts(name) {
			d := declaration{name: name, value: strings.ToLower(strings.TrimSpace(value))}
			if v, cut := strings.CutSuffix(d.value, "important"); cut && strings.HasSuffix(strings.TrimSpace(v), "!") {
				d.value, d.important = strings.TrimSpace(strings.TrimSuffix(strings.TrimSpace(v), "!")), true
			}
			all = append(all, d)
		}
	}
	return all
}

// hidesOrMoves gives the first property that hides or moves something, or "".
func hidesOrMoves(decls []declaration) string {
	for _, d := range decls {
		switch {
		case d.name == "display" && d.value == "none", d.name == "visibility" && d.value != "visible",
			moves(d.name) && d.value != "none":
			return d.name
		}
	}
	return ""
}

// readSheet takes the rules of one style sheet that stands at a place.
func (r *reader) readSheet(at diag.Place, text string, depth int) {
	s := scanner{text: text}
	for s.space(); !s.done() && !r.fatal; s.space() {
		if rest := s.text[s.at:]; strings.HasPrefix(rest, "<!--") {
			s.at += 4
			continue
		} else if strings.HasPrefix(rest, "-->") {
			s.at += 3
			continue
		}
		head, isBlock := s.head()
		switch {
		case !isBlock:
			if strings.HasPrefix(strings.ToLower(head), "@import") {
				r.warn(at, "drawing.feature", "the style sheet refers to another outside the file",
					"a drawing complete in itself", "nothing outside is fetched; if it hides parts, save without it")
			}
		case strings.HasPrefix(head, "@"):
			r.atRule(at, head, s.block(), depth)
		default:
			r.rule(at, head, s.block())
		}
	}
}

// head reads as far as the brace that opens a block, or the semicolon that ends
// an instruction.
func (s *scanner) head() (text string, isBlock bool) {
	from := s.at
	for !s.done() {
		c := s.text[s.at]
		switch {
		case c == '"' || c == '\'':
			s.quoted(c)
			continue
		case c == '{' || c == ';' && s.text[from] == '@':
			s.at++
			return strings.TrimSpace(s.text[from : s.at-1]), c == '{'
		}
		s.at++
	}
	return "", false
}

// quoted passes over a string.
func (s *scanner) quoted(mark byte) {
	for s.at++; !s.done() && s.text[s.at] != mark; s.at++ {
		if s.text[s.at] == '\\' {
			s.at++
		}
	}
	s.at = min(s.at+1, len(s.text))
}

// block reads as far as the brace that closes a block, blocks inside it included.
func (s *scanner) block() string {
	from := s.at
	for open := 1; !s.done(); {
		switch c := s.text[s.at]; c {
		case '"', '\'':
			s.quoted(c)
			continue
		case '{':
			open++
		case '}':
			open--
		}
		s.at++
		if open == 0 {
			return s.text[from : s.at-1]
		}
	}
	return s.text[from:]
}

// atRule follows what is for the screen; what is under another condition is not
// followed, and that is said where it would matter.
func (r *reader) atRule(at diag.Place, head, block string, depth int) {
	name, condition, _ := strings.Cut(strings.ToLower(head), " ")
	condition = strings.TrimSpace(condition)
	switch {
	case name == "@media" && (condition == "all" || condition == "screen") && depth < 4:
		r.readSheet(at, block, depth+1)
	case name == "@font-face", name == "@page", name == "@media" && condition == "print":
	default:
		if word := strings.TrimSpace(cssDraws.FindString(block)); word != "" {
			r.warn(at, "drawing.css", "rules of the style sheet under "+Clean(head)+" are not followed; one of them is about "+strings.Trim(word, "{; :"),
				"rules without a condition", "look whether all lines came that should, and no others")
		}
	}
}

// cssDraws finds a property that hides or moves in a text that is not followed.
var cssDraws = regexp.MustCompile(`(?:^|[{;\s])(?:display|visibility|transform|translate|rotate|scale|offset-path|zoom|d)\s*:`)

// rule takes one rule for each of its selectors.
func (r *reader) rule(at diag.Place, head, block string) {
	decls := declarations(block)
	nested := strings.Contains(block, "{")
	if len(decls) == 0 && !nested {
		return
	}
	for _, one := range strings.Split(head, ",") {
		sel, kind := parseSelector(one)
		switch {
		case nested || kind == unread:
			word := hidesOrMoves(decls)
			if nested && word == "" {
				word = strings.Trim(cssDraws.FindString(block), "{;: \t\r\n")
			}
			if word != "" {
				r.refuse(at, "drawing.css", "the style sheet hides or moves parts ("+word+") by a rule that is not followed: "+Clean(one),
					"rules for tags, #ids and .classes",
					"save it from the drawing program with presentation attributes instead of a style sheet")
				return
			}
		case kind == followed:
			r.sheet.add(rule{selector: sel, decls: decls, order: r.sheet.rules})
			if r.sheet.rules > maxRules {
				r.refuse(at, "drawing.css", "the style sheet has too many rules", "a plain drawing",
					"save it from the drawing program with presentation attributes instead of a style sheet")
				return
			}
		}
	}
}

func (t *sheet) add(one rule) {
	if t.by == nil {
		t.by = map[string][]rule{}
	}
	t.rules++
	c := one.parts[len(one.parts)-1]
	key := c.tag
	switch {
	case c.id != "":
		key = "#" + c.id
	case len(c.classes) > 0:
		key = "." + c.classes[0]
	}
	t.by[key] = append(t.by[key], one)
}
