package material_test

import (
	"fmt"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/stretchr/testify/require"

	"seamkeep/pattern"
	"seamkeep/pattern/text"
)

// garment reads a garment file and pieces from their texts.
func garment(t require.TestingT, records string, pieces map[string]string) *pattern.Garment {
	fsys := fstest.MapFS{"g.garment": &fstest.MapFile{Data: []byte("seamkeep garment 1\n" + records)}}
	for name, src := range pieces {
		fsys["pieces/"+name+".piece"] = &fstest.MapFile{Data: []byte("seamkeep piece 1\n" + src)}
	}
	f, problems := text.Load(fsys, ".")
	require.Empty(t, problems)
	return f.Garment
}

// oblong is a piece of a width and a height with its lower left corner at the waist.
func oblong(width, height float64, more ...string) string {
	return fmt.Sprintf("%s\ncorner a 0 %[3]g\nedge front\ncorner b 0 0\nedge hem\ncorner c %[2]g 0\nedge back\ncorner d %[2]g %[3]g\nedge top\n",
		strings.Join(more, "\n"), width, height)
}

// laced is the front and back of something laced in front and buttoned behind, 300 long.
func laced(t testing.TB, records ...string) *pattern.Garment {
	return garment(t, `half left
level bust 160
level waist 0
around front back
piece front number 2
piece back number 1
seam side front.back back.front
run neckline front.top back.top
run hem front.hem back.hem
closure front lacing front.front
closure back buttons back.back overlap 30
`+strings.Join(records, "\n")+"\n", map[string]string{
		"front": oblong(100, 300, `cloth "canvas" 1 pair`, "grain 50 10 to 50 200", "bone outer width 7 from 5 0 to 5 300", "bone inner width 7 from 23 0 to 23 300"),
		"back":  oblong(120, 300, `cloth "canvas" 1 pair`, `cloth "lining" 1 pair`),
	})
}
