package report

import (
	"cmp"
	"io"
	"net/url"
	"path"
	"slices"
	"sort"
	"strings"

	"seamkeep/pattern/claim"
	"seamkeep/pattern/diag"
)

// ToolInfo is what SARIF says beyond the findings.
type ToolInfo struct {
	Version string            // of the program; empty: not told
	Rules   map[string]string // what ids mean, in a sentence; goes before what is known here
	// Repository is where the commits can be had: an absolute URI, or HOST:PATH
	// as git takes it. Names and passwords in it are never written, and of what
	// is neither nothing is.
	Repository string
	// Garment is the path, from the root of the repository, of the file at which
	// findings without a file of their own are put: what stands in a message and
	// commits that cannot be judged. Code hosts show nothing without a file.
	// Empty: such findings have no file.
	Garment string
}

// UnjudgedRule is the rule of commits that cannot be judged.
const UnjudgedRule = "commit.unjudged"

// messageFile is the file that places in a commit's message name.
const messageFile = "message"

// sourceRoot stands for the root of the repository in the locations of files.
const sourceRoot = "%SRCROOT%"

// SARIF writes what was found as one run of SARIF 2.1.0 (OASIS Standard, 27
// March 2020, with Errata 01 of 28 August 2023): a result for each problem that
// a commit brought and for each claim that is untrue, in the order of the list.
// Findings that a parent had already and claims that are true are left out. What
// cannot be told for want of a body and commits that cannot be judged are of the
// kind "open", which has no level (section 3.27.9).
//
// Control and direction characters of names and messages are taken out; braces
// and links in them are made plain text (sections 3.11.5 and 3.11.6). The error
// is that of writing.
func SARIF(w io.Writer, list []Verified, tool ToolInfo) error {
	s := &sarifRun{
		tool: tool, repository: cleanRepository(tool.Repository),
		logical: map[sarifLogical]int{}, named: map[string]bool{},
	}
	for _, v := range list {
		s.commit(v)
	}
	return WriteJSON(w, s.log())
}

// sarifRun gathers the results of a run.
type sarifRun struct {
	tool       ToolInfo
	repository string // its URI; empty: unknown
	results    []sarifResult
	places     []sarifLogical
	logical    map[sarifLogical]int // index in places
	vcs        []sarifRevision
	named      map[string]bool // ids of the commits in vcs
}

func (s *sarifRun) commit(v Verified) {
	before := len(s.results)
	if v.Unjudged != "" {
		s.add(v, diag.Problem{ID: UnjudgedRule, Found: "this commit cannot be judged", Expected: v.Unjudged}, nil)
	}
	for _, p := range v.Problems {
		s.add(v, p, nil)
	}
	for _, p := range v.Accepted {
		s.add(v, p, nil)
		s.results[len(s.results)-1].Suppressions = []sarifSuppression{{Kind: "inSource", Why: "listed as unfinished in the note of this commit"}}
	}
	for _, r := range v.Claims {
		if p, wrong := r.Problem(); wrong {
			p.Subject = r.Claim.Source()
			s.add(v, p, &r)
		}
	}
	if id := Clean(v.ID); len(s.results) > before && s.repository != "" && !s.named[id] {
		s.named[id] = true
		s.vcs = append(s.vcs, sarifRevision{s.repository, id, sarifArtifact{BaseID: sourceRoot}})
	}
}

// add puts a result at the end. r is the claim that the problem is about, if any.
func (s *sarifRun) add(v Verified, p diag.Problem, r *claim.Result) {
	out := sarifResult{
		RuleID: ruleID(p.ID), Level: p.Severity.String(), Message: sarifText{plainMessage(message(v, p, r))},
		Fingerprints: map[string]string{"seamkeep/address/v1": fingerprint(v, p)},
		Properties:   bag(v, p, r),
	}
	if p.ID == UnjudgedRule || r != nil && r.NoBody {
		out.Kind, out.Level = "open", "none"
	}
	place := p.Place
	if place.File == messageFile || place.File == "" {
		place.File, place.Line = v.File, 0
	}
	if at := s.location(place, p.ID, p.Subject); at.Physical != nil || len(at.Logical) > 0 {
		out.Locations = []sarifLocation{at}
	}
	for i, related := range p.Related {
		at := s.location(related.Place, "", "")
		id := i + 1
		at.ID = &id
		if text := plainMessage(related.Text); text != "" {
			at.Message = &sarifText{text}
		}
		out.Related = append(out.Related, at)
	}
	s.results = append(s.results, out)
}

// ruleID is never empty, since each result must name a rule (section 3.27.5).
func ruleID(id string) string {
	if id = strings.TrimSpace(Clean(id)); id == "" {
		return "finding"
	}
	return id
}

// message tells a finding: first, in a sentence that stands alone (section
// 3.11.3), what was found, then what to do, then which commit brought it.
func message(v Verified, p diag.Problem, r *claim.Result) string {
	text := p.Message()
	if r != nil {
		text = r.Claim.Source() + ": " + text
	}
	parts := []string{sentence(text)}
	for l := range strings.Lines(p.Hint) {
		parts = append(parts, sentence(l))
	}
	name, id := strings.TrimSpace(v.Name), shortID(v.ID)
	switch {
	case name != "" && id != "":
		parts = append(parts, sentence("In "+name+" ("+id+")"))
	case name+id != "":
		parts = append(parts, sentence("In "+name+id))
	}
	return strings.Join(slices.DeleteFunc(parts, func(s string) bool { return s == "" }), " ")
}

// sentence ends a text with a full stop, unless it ends a sentence already.
func sentence(s string) string {
	s = strings.TrimSpace(Clean(s))
	if s == "" || strings.ContainsAny(s[len(s)-1:], ".?!:") {
		return s
	}
	return s + "."
}

// plainMessage makes text mean only itself: braces are doubled (section 3.11.5),
// and what could be read as a link is parted (section 3.11.6).
func plainMessage(s string) string {
	return strings.NewReplacer("{", "{{", "}", "}}", "](", "] (").Replace(strings.TrimSpace(Clean(s)))
}

// fingerprint is what stays the same of a finding from commit to commit: its
// address, never its line (section 3.27.17).
func fingerprint(v Verified, p diag.Problem) string {
	s := Clean(p.Address())
	if p.Place.File == messageFile && v.Name+v.ID != "" { // what a note says is said once
		s = Clean(cmp.Or(v.Name, v.ID)) + ": " + s
	}
	if p.Place.Garment != "" {
		s = Clean(p.Place.Garment) + ": " + s
	}
	return s
}

// bag gives what SARIF has no field for.
func bag(v Verified, p diag.Problem, r *claim.Result) sarifBag {
	b := sarifBag{Commit: Clean(v.ID), Alteration: Clean(v.Name), Subject: Clean(v.Subject)}
	if p.Place.File == messageFile {
		b.MessageLine, b.MessageColumn = max(p.Place.Line, 0), max(p.Place.Column, 0)
	}
	if p.Place.OnEdge {
		at := known(p.Place.At)
		b.AlongEdge = &at
	}
	if r != nil {
		b.Claimed, b.Measured = Clean(r.Claimed), Clean(r.Measured)
		for _, where := range r.Where {
			b.Where = append(b.Where, Clean(where))
		}
	}
	return b
}

// log gives the whole document.
func (s *sarifRun) log() sarifLog {
	ids := map[string]bool{}
	for _, r := range s.results {
		ids[r.RuleID] = true
	}
	rules := []sarifRule{}
	for id := range ids {
		rules = append(rules, sarifRule{id, sarifText{plainMessage(s.tool.describe(id))}})
	}
	sort.Slice(rules, func(i, j int) bool { return rules[i].ID < rules[j].ID })
	results := append([]sarifResult{}, s.results...)
	for i := range results {
		results[i].RuleIndex = sort.Search(len(rules), func(k int) bool { return rules[k].ID >= results[i].RuleID })
	}
	run := sarifOne{
		ColumnKind: "unicodeCodePoints",
		Bases:      map[string]sarifBase{sourceRoot: {sarifText{"The root of the repository."}}},
		Revisions:  s.vcs, Logical: s.places, Results: results,
	}
	run.Tool.Driver = sarifDriver{Name: "seamkeep", Version: Clean(s.tool.Version), Rules: rules}
	return sarifLog{sarifSchema, "2.1.0", []sarifOne{run}}
}

// fileURI gives a path of the repository as a relative URI; empty for what leads
// out of the repository or is no path of a file.
func fileURI(file string) string {
	clean := path.Clean(file)
	if file == "" || clean == "." || clean == ".." || strings.HasPrefix(clean, "/") || strings.HasPrefix(clean, "../") {
		return ""
	}
	return (&url.URL{Path: clean}).String()
}

// cleanRepository gives the URI without what could let somebody in.
func cleanRepository(where string) string {
	if host, dir, ok := strings.Cut(where, ":"); ok && len(host) > 1 && !strings.HasPrefix(dir, "//") && !strings.ContainsAny(host, "/\\") {
		where = "ssh://" + host + "/" + strings.TrimLeft(dir, "/") // HOST:PATH
	}
	u, err := url.Parse(where)
	if err != nil || u.Scheme == "" || u.Opaque != "" || u.Host == "" && u.Scheme != "file" {
		return ""
	}
	return (&url.URL{Scheme: u.Scheme, Host: u.Host, Path: u.Path, RawPath: u.RawPath}).String()
}
