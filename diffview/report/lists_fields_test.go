package report

import (
	"reflect"
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestEveryFieldOfTheListsIsInItsSchema(t *testing.T) {
	for _, p := range []struct {
		file, def string
		of        reflect.Type
	}{
		{"cutting", "", reflect.TypeFor[jsonCutting]()},
		{"cutting", "version", reflect.TypeFor[jsonVersion]()},
		{"cutting", "walked", reflect.TypeFor[jsonWalked]()},
		{"cutting", "cloth", reflect.TypeFor[jsonClothCut]()},
		{"cutting", "cut", reflect.TypeFor[jsonCut]()},
		{"cutting", "edge", reflect.TypeFor[jsonEdgeCut]()},
		{"materials", "", reflect.TypeFor[jsonMaterials]()},
		{"materials", "version", reflect.TypeFor[jsonVersion]()},
		{"materials", "cloth", reflect.TypeFor[jsonCloth]()},
		{"materials", "lay", reflect.TypeFor[jsonLay]()},
		{"materials", "placed", reflect.TypeFor[jsonPlaced]()},
		{"materials", "elastic", reflect.TypeFor[jsonBand]()},
		{"materials", "strips", reflect.TypeFor[jsonStrips]()},
		{"materials", "strip", reflect.TypeFor[jsonStrip]()},
		{"materials", "button", reflect.TypeFor[jsonButton]()},
		{"materials", "eyelets", reflect.TypeFor[jsonEyelets]()},
		{"materials", "hooks", reflect.TypeFor[jsonHooks]()},
		{"materials", "slide", reflect.TypeFor[jsonSlide]()},
		{"materials", "lace", reflect.TypeFor[jsonLace]()},
		{"materials", "binding", reflect.TypeFor[jsonBinding]()},
	} {
		assert.Equal(t, propertiesOf(t, p.file, p.def), fieldNames(p.of), "%s, %s", p.file, p.def)
	}
}
