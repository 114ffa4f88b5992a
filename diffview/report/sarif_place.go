package report

import (
	"strings"

	"seamkeep/pattern/diag"
)

// location gives a place as SARIF tells it: the file with line and column, and
// the garment, piece, edge and seam (section 3.28). What stands in a commit's
// message, and what has no file, is put at the garment's file. What has no line
// is put at the first, since code hosts show nothing without one.
func (s *sarifRun) location(p diag.Place, id, subject string) sarifLocation {
	var out sarifLocation
	file, region := p.File, &sarifRegion{Line: 1}
	switch {
	case file == messageFile || file == "":
		file = s.tool.Garment
	case p.Line > 0:
		region = &sarifRegion{p.Line, max(p.Column, 0)}
	}
	if uri := fileURI(file); uri != "" {
		out.Physical = &sarifPhysical{sarifArtifact{URI: uri, BaseID: sourceRoot}, region}
	}
	parent := -1
	if p.Garment != "" {
		parent = s.place(p.Garment, "", "garment", -1)
	}
	if p.Piece != "" {
		piece := s.place(p.Piece, "", "piece", parent)
		if p.Edge == "" {
			out.Logical = append(out.Logical, s.at(piece))
		} else {
			out.Logical = append(out.Logical, s.at(s.place(p.Edge, ".", "edge", piece)))
		}
	}
	if strings.HasPrefix(id, "seam.") && subject != "" {
		out.Logical = append(out.Logical, s.at(s.place(subject, "", "seam", parent)))
	}
	if len(out.Logical) == 0 && parent >= 0 {
		out.Logical = append(out.Logical, s.at(parent))
	}
	return out
}

// place gives the index of a logical location (section 3.33) in the run's list,
// where it stands once. mark joins it to its parent's name.
func (s *sarifRun) place(name, mark, kind string, parent int) int {
	l := sarifLogical{Name: Clean(name), Kind: kind, Parent: noIndex}
	l.Full = l.Name
	if parent >= 0 {
		l.Parent = parent
		if mark == "" {
			mark = "/"
		}
		l.Full = s.places[parent].Full + mark + l.Name
	}
	if i, ok := s.logical[l]; ok {
		return i
	}
	s.logical[l] = len(s.places)
	s.places = append(s.places, l)
	return len(s.places) - 1
}

// at refers to a logical location of the run's list, and repeats its name for
// readers that do not look there.
func (s *sarifRun) at(i int) sarifReference {
	return sarifReference{s.places[i].Name, s.places[i].Full, s.places[i].Kind, i}
}
