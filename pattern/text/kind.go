package text

import (
	"path"
	"strings"
)

// Kind is which of the four kinds of pattern files a file is.
type Kind string

// The kinds. Their words stand in the first record of a file.
const (
	PieceFile   Kind = "piece"
	GarmentFile Kind = "garment"
	BodyFile    Kind = "body"
	FittingFile Kind = "fitting"
)

// version is the newest version of each kind that this package reads and the
// one that it writes.
const version = 1

// KindOf tells a file's kind by its ending; "" where it is no pattern file.
func KindOf(file string) Kind {
	switch path.Ext(file) {
	case ".piece":
		return PieceFile
	case ".garment":
		return GarmentFile
	case ".body":
		return BodyFile
	case ".fitting":
		return FittingFile
	}
	return ""
}

// MaxBytes is the greatest size of a file of this kind.
func (k Kind) MaxBytes() int64 {
	if k == GarmentFile {
		return 16 << 20
	}
	return 1 << 20
}

// MaxRecords is the greatest number of records in a file of this kind.
func (k Kind) MaxRecords() int {
	if k == GarmentFile {
		return 200000
	}
	return 20000
}

// MaxLine is the greatest length of a line in bytes: room for the longest list
// of names that a garment could need, and a bound on what one line can cost.
const MaxLine = 64 << 10

// nameOf gives the base name of a file without the ending of its kind.
func nameOf(file string, k Kind) string {
	return strings.TrimSuffix(path.Base(file), "."+string(k))
}
