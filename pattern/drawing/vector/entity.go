package vector

import (
	"bytes"
	"fmt"
	"regexp"
	"strings"

	"seamkeep/pattern/diag"
)

// Limits of the entities that a file may define: some drawing programs write a
// few for their namespaces.
const (
	maxEntities   = 64
	maxEntityText = 256     // bytes of one
	maxExpanded   = 8 << 20 // bytes of all together
)

var entityDecl = regexp.MustCompile(`<!ENTITY\s+([A-Za-z_][A-Za-z0-9_.-]*)\s+(?:"([^"<&%]*)"|'([^'<&%]*)')\s*>`)

// entities reads the definitions of a document type. Only plain texts are
// taken; a definition that refers to another or to a file is refused. Nil: none.
func (r *reader) entities(at diag.Place, doctype string) map[string]string {
	const tooOften = "save it again from the drawing program as plain SVG"
	found := entityDecl.FindAllStringSubmatch(doctype, -1)
	switch {
	case len(found) != strings.Count(doctype, "<!ENTITY"):
		r.refuse(at, "drawing.xml", "the file defines entities that are not plain texts", "a drawing complete in itself", tooOften)
		return nil
	case len(found) > maxEntities:
		r.refuse(at, "drawing.xml", fmt.Sprintf("the file defines %d entities", len(found)), fmt.Sprintf("at most %d", maxEntities), tooOften)
		return nil
	case len(found) == 0:
		return nil
	case bytes.Count(r.src, []byte("&"))*maxEntityText > maxExpanded:
		r.refuse(at, "drawing.xml", "the file uses its entities too often", "a plain drawing", tooOften)
		return nil
	}
	texts := make(map[string]string, len(found))
	for _, f := range found {
		text := f[2] + f[3]
		if len(text) > maxEntityText {
			r.refuse(at, "drawing.xml", fmt.Sprintf("the entity %s has %d bytes", Clean(f[1]), len(text)),
				fmt.Sprintf("at most %d", maxEntityText), tooOften)
			return nil
		}
		texts[f[1]] = text
	}
	return texts
}
