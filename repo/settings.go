package repo

import (
	"fmt"
	"strings"
)

// parse adds the values of one file. The library's own parser refuses much that
// git accepts (bytes that are not UTF-8, a key behind its section's name), and a
// repository must not become unreadable by that. The syntax is that of
// git-config(1).
func (s *settings) parse(text string) error {
	text = strings.ReplaceAll(strings.TrimPrefix(text, "\ufeff"), "\r\n", "\n")
	p := settingsParser{text: text, line: 1, last: 1}
	section := ""
	for {
		p.skip(" \t\n\v\f\r")
		switch c := p.peek(); {
		case c == 0 && p.at >= len(text):
			return nil
		case c == '#' || c == ';':
			p.skipLine()
		case c == '[':
			name, err := p.section()
			if err != nil {
				return err
			}
			section = name
			s.includes = s.includes || section == "include." || strings.HasPrefix(section, "includeif.")
		default:
			key := p.word()
			if key == "" || section == "" {
				p.next()
				return p.fail("a key was expected")
			}
			value, err := p.value()
			if err != nil {
				return err
			}
			key = section + strings.ToLower(key)
			s.values[key] = append(s.values[key], value)
		}
	}
}

type settingsParser struct {
	text string
	at   int
	line int // of the next byte
	last int // of the byte last taken
}

func (p *settingsParser) fail(what string) error {
	return fmt.Errorf("line %d: %s", p.last, what)
}

func (p *settingsParser) peek() byte { return byteAt(p.text, p.at) }

// next takes one byte; 0 at the end.
func (p *settingsParser) next() byte {
	c := p.peek()
	p.last = p.line
	if p.at < len(p.text) {
		p.at++
	}
	if c == '\n' {
		p.line++
	}
	return c
}

func (p *settingsParser) skip(set string) {
	for p.at < len(p.text) && strings.IndexByte(set, p.text[p.at]) >= 0 {
		p.next()
	}
}

func (p *settingsParser) skipLine() {
	for p.at < len(p.text) && p.next() != '\n' {
	}
}

// word takes letters, digits and hyphens.
func (p *settingsParser) word() string {
	from := p.at
	for c := p.peek(); c == '-' || c >= '0' && c <= '9' || c|0x20 >= 'a' && c|0x20 <= 'z'; c = p.peek() {
		p.next()
	}
	return p.text[from:p.at]
}

// section takes [name], [name.sub] or [name "sub"] and gives it with a dot behind it.
func (p *settingsParser) section() (string, error) {
	p.next()
	name := ""
	for {
		part := p.word()
		name += strings.ToLower(part)
		if p.peek() != '.' {
			break
		}
		name += string(p.next())
	}
	if name == "" {
		return "", p.fail("a section has no name")
	}
	if c := p.peek(); c == ' ' || c == '\t' {
		p.skip(" \t")
		if p.next() != '"' {
			return "", p.fail("a quote was expected in the section's name")
		}
		sub, err := p.quoted()
		if err != nil {
			return "", err
		}
		name += "." + sub
	}
	if p.next() != ']' {
		return "", p.fail("the section's name does not end")
	}
	return name + ".", nil
}

// quoted takes a subsection up to its closing quote; a backslash stands for the
// byte behind it.
func (p *settingsParser) quoted() (string, error) {
	var b strings.Builder
	for {
		c := p.next()
		if c == '\\' {
			if c = p.next(); c != 0 && c != '\n' {
				b.WriteByte(c)
				continue
			}
		}
		switch c {
		case '"':
			return b.String(), nil
		case 0, '\n':
			return "", p.fail("the quote does not end")
		}
		b.WriteByte(c)
	}
}

// value takes what stands behind a key, to the end of its line. A key alone is
// true.
func (p *settingsParser) value() (string, error) {
	p.skip(" \t")
	if c := p.peek(); c == '\n' || c == 0 || c == '#' || c == ';' {
		p.skipLine()
		return "true", nil
	}
	if p.next() != '=' {
		return "", p.fail("an equals sign was expected")
	}
	p.skip(" \t")
	var b strings.Builder
	quoted, keep := false, 0 // keep: length without blanks at the end
	for {
		c := p.next()
		switch {
		case c == 0 || c == '\n':
			if quoted {
				return "", p.fail("the quote does not end")
			}
			return b.String()[:keep], nil
		case c == '"':
			quoted = !quoted
			keep = b.Len()
			continue
		case !quoted && (c == '#' || c == ';'):
			p.skipLine()
			return b.String()[:keep], nil
		case c == '\\':
			if err := p.escape(&b); err != nil {
				return "", err
			}
			keep = b.Len()
			continue
		}
		b.WriteByte(c)
		if quoted || c != ' ' && c != '\t' {
			keep = b.Len()
		}
	}
}

// escape takes what stands behind a backslash: a line end, over which the value
// goes on, or a letter for a byte.
func (p *settingsParser) escape(b *strings.Builder) error {
	c := p.next()
	if c == '\n' {
		return nil
	}
	i := strings.IndexByte("tnb\"\\", c)
	if c == 0 || i < 0 {
		return p.fail("an unknown escape")
	}
	b.WriteByte("\t\n\b\"\\"[i])
	return nil
}
