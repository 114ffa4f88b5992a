package handoff

import (
	"bytes"
	"encoding/xml"
	"errors"
	"io"
	"os"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"seamkeep/pattern"
	"seamkeep/pattern/text"
)

// Two garments: a waistcoat of seven pieces, and one of two with one of
// everything that is drawn on a piece.
const (
	waistcoat = "../../../testdata/patterns/waistcoat--03-gusset"
	marked    = "../page/testdata/marked"
)

func load(t testing.TB, dir string) *pattern.Garment {
	folder, problems := text.Load(os.DirFS(dir), ".")
	require.False(t, problems.HasErrors(), problems)
	return folder.Garment
}

func written(t testing.TB, g *pattern.Garment, o Options) []byte {
	var b bytes.Buffer
	require.NoError(t, Write(&b, g, g.Pieces, o))
	return b.Bytes()
}

// bases gives each piece an id of its own, as git would.
func bases(piece string) string { return strings.Repeat("0", 40-len(piece)) + piece }

// tag is an element as the library of Go reads it: no code of ours has a part
// in it.
type tag struct {
	kind  string
	attrs map[string]string // those of other namespaces than none as "namespace name"
	kids  []*tag
	text  string
	up    *tag
}

func (e *tag) own(name string) string { return e.attrs[nsOwn+" "+name] }

// all gives the elements below e, itself first, in the order of the file.
func (e *tag) all() []*tag {
	out := []*tag{e}
	for _, k := range e.kids {
		out = append(out, k.all()...)
	}
	return out
}

func (e *tag) with(attr, value string) []*tag {
	var out []*tag
	for _, k := range e.all() {
		if k.attrs[attr] == value {
			out = append(out, k)
		}
	}
	return out
}

// one gives the only element with that id.
func (e *tag) one(t testing.TB, id string) *tag {
	found := e.with("id", id)
	require.Len(t, found, 1, id)
	return found[0]
}

func parse(t testing.TB, src []byte) *tag {
	dec := xml.NewDecoder(bytes.NewReader(src))
	root := &tag{}
	at := root
	for {
		tok, err := dec.Token()
		if errors.Is(err, io.EOF) {
			break
		}
		require.NoError(t, err)
		switch x := tok.(type) {
		case xml.StartElement:
			e := &tag{kind: x.Name.Local, attrs: make(map[string]string), up: at}
			for _, a := range x.Attr {
				e.attrs[strings.TrimSpace(a.Name.Space+" "+a.Name.Local)] = a.Value
			}
			at.kids = append(at.kids, e)
			at = e
		case xml.EndElement:
			at = at.up
		case xml.CharData:
			at.text += strings.TrimSpace(string(x))
		}
	}
	require.Len(t, root.kids, 1)
	return root.kids[0]
}

// thousandths reads a decimal number of at most three decimals exactly.
func thousandths(t testing.TB, s string) int64 {
	whole, part, _ := strings.Cut(strings.TrimPrefix(s, "-"), ".")
	require.LessOrEqual(t, len(part), 3, s)
	n, err := strconv.ParseInt(whole+part+"000"[len(part):], 10, 64)
	require.NoError(t, err)
	if strings.HasPrefix(s, "-") {
		return -n
	}
	return n
}

func number(t testing.TB, s string) float64 {
	v, err := strconv.ParseFloat(s, 64)
	require.NoError(t, err)
	return v
}
