package report

import (
	"reflect"
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestEveryFieldOfWidthsIsInItsSchema(t *testing.T) {
	for _, p := range []struct {
		file, def string
		of        reflect.Type
	}{
		{"widths", "", reflect.TypeFor[jsonWidths]()},
		{"widths", "piece", reflect.TypeFor[jsonPieceWidths]()},
		{"widths", "terms", reflect.TypeFor[jsonGapTerms]()},
		{"widths", "percent", reflect.TypeFor[jsonPercent]()},
		{"widths", "percent-before", reflect.TypeFor[jsonBefore]()},
		{"widths", "stretch", reflect.TypeFor[jsonStretch]()},
		{"widths", "elastic", reflect.TypeFor[jsonElastic]()},
		{"widths", "level-stretch", reflect.TypeFor[jsonLevelStretch]()},
		{"widths", "flow", reflect.TypeFor[jsonFlow]()},
		{"widths", "share", reflect.TypeFor[jsonShare]()},
		{"widths", "unknown", reflect.TypeFor[unknown]()},
		{"waterfall", "", reflect.TypeFor[jsonFalls]()},
		{"waterfall", "fall", reflect.TypeFor[jsonFall]()},
		{"waterfall", "step", reflect.TypeFor[jsonStep]()},
		{"waterfall", "term", reflect.TypeFor[jsonTerm]()},
	} {
		assert.Equal(t, propertiesOf(t, p.file, p.def), fieldNames(p.of), "%s, %s", p.file, p.def)
	}
}
