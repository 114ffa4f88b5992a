package check

import (
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// What the tool shows stands in the README in the same words.
func TestTheCautionsAreWordedOnce(t *testing.T) {
	src, err := os.ReadFile("../../README.md")
	require.NoError(t, err)
	readme := strings.Join(strings.Fields(string(src)), " ")
	for _, caution := range []string{Caution, ElasticCaution, BoneCaution, WearCaution, PrivateCaution} {
		for sentence := range strings.SplitSeq(strings.TrimSuffix(caution, "."), ". ") {
			assert.Contains(t, readme, sentence+".")
		}
	}
}
