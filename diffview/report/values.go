package report

import (
	"fmt"
	"math"

	"seamkeep/pattern/measure"
)

// Values writes the answers to measures, one a line.
func (t *Text) Values(values []measure.Value) {
	names := make([]string, len(values))
	for i, v := range values {
		names[i] = valueName(v)
	}
	col := min(widest(0, names), t.width()-20)
	for i, v := range values {
		if !v.Known {
			t.Para(pad(names[i], col)+"  unknown: "+v.Why, "    ")
			continue
		}
		unit := v.Unit
		if unit != "" {
			unit = " " + unit
		}
		decimals := 1
		if v.Unit == "" {
			decimals = 0
		}
		value := math.Round(v.Value*10)/10 + 0 // no -0.0
		t.row("", 0, names[i], col, fmt.Sprintf("  %9.*f%s", decimals, value, unit), "")
	}
}

func valueName(v measure.Value) string {
	if v.Of == "" {
		return v.Measure
	}
	return fmt.Sprintf("%s, %s", v.Measure, v.Of)
}

// ValuesJSON gives the document of measure --json.
func ValuesJSON(values []measure.Value) any {
	type value struct {
		Measure string `json:"measure"`
		Of      string `json:"of,omitempty"`
		Value   number `json:"value"`
		Unit    string `json:"unit"`
		Why     string `json:"why,omitempty"`
	}
	doc := struct {
		Schema string  `json:"schema"`
		Values []value `json:"values"`
	}{"seamkeep.measure/1", []value{}}
	for _, v := range values {
		j := value{Measure: v.Measure, Of: v.Of, Unit: v.Unit, Why: v.Why}
		if v.Known {
			j.Value = known(v.Value)
		}
		doc.Values = append(doc.Values, j)
	}
	return doc
}
