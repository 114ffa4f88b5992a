package check_test

import (
	"strings"
	"testing"
	"testing/fstest"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"seamkeep/pattern/check"
	"seamkeep/pattern/text"
)

// Two panels that match, one seam, one run, and a closure of buttons in front.
const soundGarment = `seamkeep garment 1
half left
level bust 100
level waist 0
around front back
seam side front.back back.front
run hem front.hem back.hem
closure front buttons front.front overlap 30
buttons front from bust pitch 45 diameter 15 up 0 down 3
`

const soundPanel = `seamkeep piece 1
corner top-front 0 150
edge front
corner hem-front 0 -100
edge hem
corner hem-back 100 -100
edge back
corner top-back 100 150
edge top
`

// What a tired hand writes: each is told by the finding that is about it, from the reader
// or from the checks, and that says what was found and where.
func TestBadInputIsToldByWhatItIs(t *testing.T) {
	for _, c := range []struct {
		name          string
		garment, back string // "old => new" in the file of the garment, of the front; => alone adds lines
		want          string
	}{
		{"nothing", "", "", ""},
		{"a run over edges that no seam joins", "run hem front.hem back.hem => run hem front.hem back.top", "", "run.broken"},
		{"a run after its seam went", "seam side front.back back.front\n => ", "", "run.broken"},
		{"a run over an edge that is not there", "run hem front.hem back.hem => run hem front.hem back.foot", "", "name.unknown"},
		{"a run with an edge twice", "run hem front.hem back.hem => run hem front.hem back.hem front.hem", "", "run.twice"},
		{"two seams over the same edges", "=> seam again front.back back.front\n", "", "seam.edge-twice"},
		{"a seam from an edge to itself", "seam side front.back back.front => seam side front.back front.back", "", "seam.edge-twice"},
		{"buttons of a closure that is not there", "buttons front from => buttons centre from", "", "name.unknown"},
		{"buttons with both sides on one edge", "front.front overlap => front.front front.front overlap", "", "closure.taken"},
		{"a closure on an edge that is sewn", "buttons front.front overlap => buttons front.back overlap", "", "closure.taken"},
		{"buttons with a pitch of 0", "pitch 45 => pitch 0", "", "closure.pitch"},
		{"eyelets whose margins take the whole edge", "=> closure lace lacing back.back\neyelets lace count 5 margin 200\n", "", "closure.margin"},
		{"a mark outside its piece", "", "=> drill dart 300 0\n", "mark.outside"},
		{"a mark on no point", "", "=> drill dart 300\n", "text.syntax"},
		{"a warning above its tolerance", "back.front\nrun => back.front within 1 warn 2\nrun", "", "seam.warn-above"},
	} {
		t.Run(c.name, func(t *testing.T) {
			ids := idsOfFiles(t, changed(t, soundGarment, c.garment), changed(t, soundPanel, c.back))
			if c.want == "" {
				assert.Empty(t, ids)
				return
			}
			assert.Contains(t, ids, c.want)
		})
	}
}

// changed puts new words in the place of old ones; "=> LINES" alone adds lines.
func changed(t *testing.T, src, edit string) string {
	if edit == "" {
		return src
	}
	if lines, added := strings.CutPrefix(edit, "=> "); added {
		return src + lines
	}
	before, after, _ := strings.Cut(edit, " => ")
	require.Contains(t, src, before)
	return strings.Replace(src, before, after, 1)
}

// idsOfFiles reads two panels and gives the ids of what the reader and the checks find
// that is more than a note; each says what and where.
func idsOfFiles(t *testing.T, garment, front string) []string {
	folder, list := text.Load(fstest.MapFS{
		"g.garment":          {Data: []byte(garment)},
		"pieces/front.piece": {Data: []byte(front)},
		"pieces/back.piece":  {Data: []byte(soundPanel)},
	}, ".")
	require.NotNil(t, folder.Garment)
	list = append(list, check.Run(check.Input{Garment: folder.Garment})...)
	var ids []string
	for _, x := range list {
		complete(t, x)
		if x.Severity > 0 {
			ids = append(ids, x.ID)
			assert.NotZero(t, x.Place.Line, x.ID)
		}
	}
	return ids
}
