package text

import (
	"math"
	"regexp"
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// strconv.ParseFloat gives the float64 nearest to a decimal.
func TestNumbersAreReadAsStrconvReadsThem(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := rapid.StringMatching(`-?0{0,3}[0-9]{1,5}(\.[0-9]{1,3})?`).Draw(t, "number")
		v, fault := parseNumber(s)
		require.Empty(t, fault)
		want, err := strconv.ParseFloat(s, 64)
		require.NoError(t, err)
		require.Equal(t, want, v+0)
		require.False(t, v == 0 && math.Signbit(v), "minus zero")
	})
}

func TestEveryThousandthIsPrintedShortAndReadBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		k := rapid.IntRange(-maxNumber*1000, maxNumber*1000).Draw(t, "thousandths")
		want := float64(k) / 1000
		s := string(appendNumber(nil, want))
		got, fault := parseNumber(s)
		require.Empty(t, fault)
		require.Equal(t, want, got)
		require.Equal(t, strconv.FormatFloat(want, 'f', -1, 64), s, "the shortest decimal")
	})
}

func TestNumbersThatAreNone(t *testing.T) {
	plain := regexp.MustCompile(`^-?[0-9]+(\.[0-9]{1,3})?$`)
	for _, s := range []string{"", "-", ".", "+5", ".5", "5.", "-.5", "1e3", "1E3", "0x1", "NaN", "nan", "Inf", "-inf", "1_000", "1,5", "1.2345",
		"--1", "1-", "1.2.3", "٣", "5mm", "1e308", " 5", "5 "} {
		require.NotRegexp(t, plain, s)
		_, fault := parseNumber(s)
		assert.NotEmpty(t, fault, "%q", s)
	}
	for _, s := range []string{"100000.001", "-100001", "99999999999999999999999999", "18446744073709551617"} {
		_, fault := parseNumber(s)
		assert.Equal(t, "is larger than 100000", fault, s)
	}
	for s, want := range map[string]float64{"100000": 1e5, "-100000.000": -1e5, "007.50": 7.5, "-0": 0, "-0.000": 0} {
		v, fault := parseNumber(s)
		assert.Empty(t, fault, s)
		assert.Equal(t, want, v, s)
	}
}

func TestNumbersArePrintedRoundedAndNeverAsMinusZero(t *testing.T) {
	for want, v := range map[string]float64{"0": -0.0001, "-0.001": -0.0006, "1.235": 1.2346, "12": 12.00001, "-7.5": -7.5, "NaN": math.NaN(), "+Inf": math.Inf(1), "1e+300": 1e300} {
		assert.Equal(t, want, string(appendNumber(nil, v)))
	}
	assert.Equal(t, "0", string(appendNumber(nil, math.Copysign(0, -1))))
}
