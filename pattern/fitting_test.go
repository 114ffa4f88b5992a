package pattern

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestWordsThatHoldAMeasureOfTheBodyAreFound(t *testing.T) {
	b := &Body{Girths: []LevelNum{{Level: "bust", Value: 902}, {Level: "waist", Value: 700.5}}}
	for words, level := range map[string]string{
		"her bust is 902":             "bust",
		"(902mm)":                     "bust",
		"bust 90.2 cm":                "bust",
		"waist 70,1 cm":               "waist",
		"waist 700.5.":                "waist",
		"2902 stitches, 90 and 9 020": "",
		"the gap closes by 6":         "",
		"":                            "",
	} {
		assert.Equal(t, level, b.Told(words), words)
	}
	assert.Empty(t, (*Body)(nil).Told("902"))
}
