package report

import (
	"strings"

	"seamkeep/pattern/check/findings"
)

// describe says in a sentence what an id means.
func (t ToolInfo) describe(id string) string {
	if s := strings.TrimSpace(Clean(t.Rules[id])); s != "" {
		return s
	}
	if page, ok := findings.Find(id); ok {
		return page.Title
	}
	return "A finding that is explained where it is reported."
}
