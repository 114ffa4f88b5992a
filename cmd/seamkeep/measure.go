package main

import (
	"github.com/spf13/cobra"

	"seamkeep/diffview/report"
	"seamkeep/pattern/measure"
)

func measureCommand(a *app) *cobra.Command {
	var asJSON, calibrated bool
	var rev string
	c := &cobra.Command{
		Use:   "measure [MEASURE...]",
		Short: "Answer questions: girth bust, gap front at waist, length back.top",
		Long:  "Measure answers one question an argument. Without one it gives the girths,\nwhat is worn, and the gaps. The questions:\n\n" + measureHelp(),
		Example: `  seamkeep measure "girth bust" "gap front"
  seamkeep measure "reach hem" "spread hem"
  seamkeep measure --json "seam side-back-back"`,
		RunE: func(_ *cobra.Command, args []string) error { return a.measure(args, rev, asJSON, calibrated) },
	}
	c.Flags().BoolVar(&asJSON, "json", false, "write seamkeep.measure/1")
	c.Flags().BoolVar(&calibrated, "calibrated", false, "add to each gap what fittings showed")
	c.Flags().StringVar(&rev, "rev", "", "a version instead of the working tree: a revision, or index")
	return c
}

func measureHelp() string {
	help := ""
	for _, k := range measure.Kinds() {
		help += "  " + measure.Usage(k) + "\n"
	}
	return help + "\nREF is PIECE.EDGE, or PIECE.EDGE from NOTCH to NOTCH. Lengths are in mm.\nReach is how far a run lies from the waist along each seam, on the cloth; spread\nhow much the longest of them exceeds the shortest: 0 where a hem hangs level."
}

func (a *app) measure(questions []string, rev string, asJSON, calibrated bool) error {
	var asked []measure.Measure
	for _, q := range questions {
		m, err := measure.Parse(q)
		if err != nil {
			return usage("%v", err)
		}
		asked = append(asked, m)
	}
	_, l, err := a.open(rev)
	if err != nil {
		return err
	}
	g := l.folder.Garment
	if len(asked) == 0 {
		asked = []measure.Measure{{Kind: "girth"}, {Kind: "worn"}}
		for _, c := range g.Closures {
			if c.Kind == "lacing" {
				asked = append(asked, measure.Measure{Kind: "gap", Closure: c.Name})
			}
		}
	}
	values := []measure.Value{}
	for _, m := range asked {
		v, err := m.Eval(measure.Input{Garment: g, Body: l.body, Calibrated: calibrated})
		if err != nil {
			return usage("%v", err)
		}
		values = append(values, v...)
	}
	if asJSON {
		return report.WriteJSON(a.out, report.ValuesJSON(values))
	}
	t := a.text()
	t.Values(values)
	a.caution(g, l.body)
	return t.Err
}
