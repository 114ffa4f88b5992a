package sheet

import (
	"testing"
	"testing/fstest"

	"github.com/stretchr/testify/assert"

	"seamkeep/pattern/text"
)

// Whatever reads as a garment with a piece gives a sound cut line or a finding.
func FuzzCut(f *testing.F) {
	f.Add("allowance 12\nallowance panel.a 3\njoin panel.b fold\n",
		"corner p 0 0\nedge a\ncorner q 100 0\nedge b\n  curve 120 40 80 60 to corner\ncorner r 100 100\nedge c\nnotch n on b at waist\n")
	f.Add("allowance 100000\njoin panel square\n",
		"corner p 0 0\nedge a\n  curve 0 0 100 0 to corner\ncorner q 100 0\nedge b\n  curve 300 300 0 300 to corner\n")
	f.Add("allowance 5\njoin panel clip\n",
		"corner p 0 0\nedge a\n  line to 50 0\n  line to 50 0\n  line to corner\ncorner q 100 0\nedge b\n  curve 100 300 0 -200 to corner\ncorner r 0 90\nedge c\n")
	f.Fuzz(func(t *testing.T, garment, piece string) {
		if len(garment)+len(piece) > 2000 {
			return
		}
		folder, _ := text.Load(fstest.MapFS{
			"g.garment":          {Data: []byte("seamkeep garment 1\nhalf left\nlevel waist 50\n" + garment)},
			"pieces/panel.piece": {Data: []byte("seamkeep piece 1\n" + piece)},
		}, ".")
		if folder.Garment == nil {
			return
		}
		for _, p := range folder.Garment.Pieces {
			out, found := Cut(folder.Garment, p, 0.01)
			if len(found) > 0 {
				assert.Empty(t, out.Path)
				continue
			}
			assert.Empty(t, out.Path.SelfCrossings())
			assert.Greater(t, out.Path.Area(), 0.0)
			assert.Len(t, out.Edges, len(p.Edges))
		}
	})
}
