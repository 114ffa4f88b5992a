package report

import (
	"reflect"
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestEveryFieldOfVerifyIsInItsSchema(t *testing.T) {
	for def, of := range map[string]reflect.Type{
		"commit": reflect.TypeFor[jsonVerified](), "claim": reflect.TypeFor[jsonClaim](),
		"problem": reflect.TypeFor[jsonProblem](), "related": reflect.TypeFor[jsonRelated](),
	} {
		assert.Equal(t, propertiesOf(t, "verify", def), fieldNames(of), def)
	}
}
