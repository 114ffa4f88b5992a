package text

import "strings"

// document is a file as lines: what the model does not hold.
type document struct {
	version docLine
	units   []*docUnit
	tail    []string // blank lines and comments after the last record
}

// docUnit is one record with the segments that belong to it.
type docUnit struct {
	key   string
	lines []docLine
}

// docLine is one line of a record and the blank lines and comments above it.
type docLine struct {
	leads   []string // as they stand
	raw     string
	comment string // the comment at its end, from the # on
}

func newDocLine(leads []string, raw string, comment int) docLine {
	l := docLine{leads: leads, raw: raw}
	if comment >= 0 {
		l.comment = strings.TrimRight(raw[comment:], " ")
	}
	return l
}

func (d *document) record(leads []string, raw string, comment int, key string) {
	if d != nil {
		d.units = append(d.units, &docUnit{key: key, lines: []docLine{newDocLine(leads, raw, comment)}})
	}
}

func (d *document) segment(leads []string, raw string, comment int) {
	if d != nil && len(d.units) > 0 {
		u := d.units[len(d.units)-1]
		u.lines = append(u.lines, newDocLine(leads, raw, comment))
	}
}

func (d *document) unitsByKey() map[string]*docUnit {
	m := make(map[string]*docUnit, len(d.units))
	for _, u := range d.units {
		m[u.key] = u
	}
	return m
}

// loose lists the comments of a unit as lines of their own, from line first
// on, except the one at the end of line first where keep is set. Blank lines
// count only above that line.
func (u *docUnit) loose(first int, keep bool) []string {
	var out []string
	for i, l := range u.lines[first:] {
		for _, lead := range l.leads {
			if isComment(lead) {
				out = append(out, strings.Trim(lead, " "))
			} else if i == 0 {
				out = append(out, "")
			}
		}
		if l.comment != "" && (i > 0 || !keep) {
			out = append(out, l.comment)
		}
	}
	return out
}

// isComment tells a comment from a blank line.
func isComment(lead string) bool { return strings.Trim(lead, " ") != "" }
