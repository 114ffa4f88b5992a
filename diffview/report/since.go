package report

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"seamkeep/pattern/claim"
)

// Kept writes what the notes of some versions keep, a line each, the failed ones
// with what each version moved.
func (t *Text) Kept(list []*claim.Kept) {
	if len(list) == 0 {
		t.Para("  no note keeps anything that is written in it", "    ")
	}
	several := slices.ContainsFunc(list, func(k *claim.Kept) bool { return k.Dir != list[0].Dir })
	for _, k := range list {
		what := k.Claim.String()
		if several {
			what = k.Dir + ": " + what
		}
		verdict, colour := "ok", green
		switch {
		case !k.OK():
			verdict, colour = "FAILED", red
		case k.Unknown != "":
			verdict, colour = "unknown", yellow
		}
		const col = 8
		lines := Wrap(fmt.Sprintf("%s, since %s: %s", Clean(what), k.Since, keptTold(k)), t.width()-col, "  ")
		for i, l := range lines {
			if i == 0 {
				l = t.paint(colour, verdict) + strings.Repeat(" ", col-len(verdict)) + l
			} else {
				l = strings.Repeat(" ", col) + l
			}
			t.line(l)
		}
		if k.OK() {
			continue
		}
		t.indented(func(in *Text) {
			for _, m := range k.Figures {
				if k.Off(m) {
					in.labelled(cmp.Or(strings.TrimPrefix(m.Label, "at "), "moved"), driftShares(m))
				}
			}
		})
	}
}

// keptTold sums up what became of what is kept.
func keptTold(k *claim.Kept) string {
	if k.Unknown != "" {
		return "cannot be told: " + k.Unknown
	}
	var moved, declared claim.Moved
	for _, m := range k.Figures {
		if math.Abs(m.By) > math.Abs(moved.By) {
			moved = m
		}
		if math.Abs(m.Declared) > math.Abs(declared.Declared) {
			declared = m
		}
	}
	s := "unchanged"
	if math.Abs(moved.By) >= claim.Least {
		s = figureAt(moved.By, moved.Label)
		if len(k.Figures) > 1 {
			s += " at most"
		}
		if k.Off(moved) {
			s += fmt.Sprintf(", more than %s", strconv.FormatFloat(k.Claim.Tolerance(), 'f', -1, 64))
		}
	}
	if math.Abs(declared.Declared) >= claim.Least {
		s += ", apart from " + figureAt(declared.Declared, declared.Label) + " that notes declare"
	}
	if k.Until != "" {
		s += ", until " + k.Until + ", where it went"
	}
	return s
}

// figureAt gives a figure with its place: "+0.40 at bust".
func figureAt(v float64, label string) string {
	switch {
	case label == "":
		return fmt.Sprintf("%+.2f", v)
	case strings.HasPrefix(label, "at "):
		return fmt.Sprintf("%+.2f %s", v, label)
	}
	return fmt.Sprintf("%+.2f on %s", v, label)
}

// driftShares lists what each version moved.
func driftShares(m claim.Moved) string {
	parts := make([]string, len(m.Shares))
	for i, s := range m.Shares {
		parts[i] = fmt.Sprintf("%+.2f %s", s.By, s.Name)
	}
	return strings.Join(parts, ", ")
}

type jsonSince struct {
	Schema   string     `json:"schema"`
	Since    string     `json:"since"`
	Versions int        `json:"versions"`
	OK       bool       `json:"ok"`
	Kept     []jsonKept `json:"kept"`
}

type jsonKept struct {
	Claim     string      `json:"claim"`
	Folder    string      `json:"folder"`
	Since     string      `json:"since"`
	Until     string      `json:"until"`
	OK        bool        `json:"ok"`
	Tolerance number      `json:"tolerance"`
	Unknown   string      `json:"unknown"`
	Figures   []jsonDrift `json:"figures"`
}

type jsonDrift struct {
	Of       string           `json:"of"`
	OK       bool             `json:"ok"`
	Moved    number           `json:"moved"`
	Declared number           `json:"declared"`
	Shares   []jsonDriftShare `json:"shares"`
}

type jsonDriftShare struct {
	Version string `json:"version"`
	Moved   number `json:"moved"`
}

// SinceJSON gives the document of verify --since --json, seamkeep.since/1, as
// VERIFY.md and since.schema.json beside this file describe it. since names the
// version that was looked back from, over so many versions.
func SinceJSON(since string, versions int, list []*claim.Kept) any {
	doc := jsonSince{Schema: "seamkeep.since/1", Since: since, Versions: versions, OK: true, Kept: []jsonKept{}}
	for _, k := range list {
		j := jsonKept{
			Claim: k.Claim.Line(), Folder: k.Dir, Since: k.Since, Until: k.Until, OK: k.OK(),
			Tolerance: known(k.Claim.Tolerance()), Unknown: k.Unknown, Figures: []jsonDrift{},
		}
		for _, m := range k.Figures {
			out := jsonDrift{Of: m.Label, OK: !k.Off(m), Moved: known(m.By), Declared: known(m.Declared), Shares: []jsonDriftShare{}}
			for _, s := range m.Shares {
				out.Shares = append(out.Shares, jsonDriftShare{s.Name, known(s.By)})
			}
			j.Figures = append(j.Figures, out)
		}
		doc.OK = doc.OK && j.OK
		doc.Kept = append(doc.Kept, j)
	}
	return doc
}
