package main

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"seamkeep/pattern"
	"seamkeep/pattern/text"
)

// calibrated adds the garment file with the differences to files, or says what would
// be written.
func (a *app) calibrated(l *loaded, record *pattern.Fitting, write bool, files map[string][]byte) error {
	list, err := differences(record, l.folder.Garment)
	if err != nil {
		return err
	}
	g := pattern.Clone(l.folder.Garment)
	var fresh []string
	for _, n := range list {
		i := slices.IndexFunc(g.Calibrate, func(x pattern.LevelNum) bool { return x.Level == n.Level })
		switch {
		case i < 0:
			g.Calibrate = append(g.Calibrate, n)
		case g.Calibrate[i].Value == n.Value:
			continue
		default:
			g.Calibrate[i].Value = n.Value
		}
		fresh = append(fresh, fmt.Sprintf("calibrate %s %s", n.Level, strconv.FormatFloat(n.Value, 'f', -1, 64)))
	}
	switch {
	case len(list) == 0 && write:
		return refused("nothing to calibrate: no level has a predicted and an observed gap")
	case len(list) == 0:
		a.say("after the fitting, write down what was seen: seamkeep fitted " + record.Name + ` asks for it, or takes --observed "CLOSURE LEVEL MM"`)
	case len(fresh) == 0:
		a.say("the garment file holds these differences already")
	case !write:
		a.say("the difference, kept beside the prediction: "+strings.Join(fresh, ", "), "seamkeep fitted "+record.Name+" --calibrate writes it into the garment file")
	default:
		out, err := text.Update(l.folder.GarmentPath, l.folder.Sources[l.folder.GarmentPath], g)
		if err != nil {
			return err
		}
		files[l.folder.GarmentPath] = out
		a.say("measure --calibrated and widths --calibrated add it from now on: " + strings.Join(fresh, ", "))
	}
	return nil
}

// differences gives the calibration of each level of the garment that was observed. Two
// lacings that differ at one level leave open which of them counts.
func differences(record *pattern.Fitting, g *pattern.Garment) ([]pattern.LevelNum, error) {
	var out []pattern.LevelNum
	for _, gap := range record.Gaps {
		d := gap.Difference()
		if _, known := g.Level(gap.Level); !d.Set || !known {
			continue
		}
		i := slices.IndexFunc(out, func(x pattern.LevelNum) bool { return x.Level == gap.Level })
		switch {
		case i < 0:
			out = append(out, pattern.LevelNum{Level: gap.Level, Value: d.Value})
		case out[i].Value != d.Value:
			return nil, refused("two lacings differ at %s from what was predicted, by %g and %g\nwrite the calibration into the garment file by hand", gap.Level, out[i].Value, d.Value)
		}
	}
	return out, nil
}
