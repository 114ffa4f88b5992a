package report

import "encoding/json"

// sarifSchema is where OASIS keeps the schema of the log.
const sarifSchema = "https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/schemas/sarif-schema-2.1.0.json"

// The objects of SARIF 2.1.0 that are written; section numbers behind them.

type sarifLog struct { // 3.13
	Schema  string     `json:"$schema"`
	Version string     `json:"version"`
	Runs    []sarifOne `json:"runs"`
}

type sarifOne struct { // 3.14, run
	Tool struct {
		Driver sarifDriver `json:"driver"`
	} `json:"tool"`
	ColumnKind string               `json:"columnKind"` // 3.14.17
	Bases      map[string]sarifBase `json:"originalUriBaseIds"`
	Revisions  []sarifRevision      `json:"versionControlProvenance,omitempty"`
	Logical    []sarifLogical       `json:"logicalLocations,omitempty"`
	Results    []sarifResult        `json:"results"`
}

type sarifDriver struct { // 3.19, toolComponent
	Name    string      `json:"name"`
	Version string      `json:"version,omitempty"`
	Rules   []sarifRule `json:"rules"`
}

type sarifRule struct { // 3.49, reportingDescriptor
	ID    string    `json:"id"`
	Short sarifText `json:"shortDescription"`
}

type sarifText struct { // 3.11, message
	Text string `json:"text"`
}

type sarifBase struct { // 3.4, artifactLocation without a place on this machine
	Description sarifText `json:"description"`
}

type sarifRevision struct { // 3.23, versionControlDetails
	Repository string        `json:"repositoryUri"`
	RevisionID string        `json:"revisionId"`
	MappedTo   sarifArtifact `json:"mappedTo"`
}

type sarifArtifact struct { // 3.4, artifactLocation
	URI    string `json:"uri,omitempty"`
	BaseID string `json:"uriBaseId"`
}

type sarifResult struct { // 3.27
	RuleID       string             `json:"ruleId"`
	RuleIndex    int                `json:"ruleIndex"`
	Kind         string             `json:"kind,omitempty"`
	Level        string             `json:"level"`
	Message      sarifText          `json:"message"`
	Locations    []sarifLocation    `json:"locations,omitempty"`
	Related      []sarifLocation    `json:"relatedLocations,omitempty"`
	Fingerprints map[string]string  `json:"partialFingerprints"`
	Suppressions []sarifSuppression `json:"suppressions,omitempty"` // 3.27.23
	Properties   sarifBag           `json:"properties"`
}

type sarifSuppression struct { // 3.35
	Kind string `json:"kind"`
	Why  string `json:"justification"`
}

type sarifLocation struct { // 3.28
	ID       *int             `json:"id,omitempty"`
	Physical *sarifPhysical   `json:"physicalLocation,omitempty"`
	Logical  []sarifReference `json:"logicalLocations,omitempty"`
	Message  *sarifText       `json:"message,omitempty"`
}

type sarifPhysical struct { // 3.29
	Artifact sarifArtifact `json:"artifactLocation"`
	Region   *sarifRegion  `json:"region"`
}

type sarifRegion struct { // 3.30; lines and columns from 1
	Line   int `json:"startLine"`
	Column int `json:"startColumn,omitempty"`
}

type sarifLogical struct { // 3.33, in the run's list
	Name   string
	Full   string
	Kind   string
	Parent int // index, or noIndex
}

const noIndex = -1

// MarshalJSON leaves the parent of a place without one out, since 0 is the index
// of the first place.
func (l sarifLogical) MarshalJSON() ([]byte, error) {
	out := struct {
		Name   string `json:"name"`
		Full   string `json:"fullyQualifiedName"`
		Kind   string `json:"kind"`
		Parent *int   `json:"parentIndex,omitempty"`
	}{Name: l.Name, Full: l.Full, Kind: l.Kind}
	if l.Parent != noIndex {
		out.Parent = &l.Parent
	}
	return json.Marshal(out)
}

type sarifReference struct { // 3.33, in a location
	Name  string `json:"name"`
	Full  string `json:"fullyQualifiedName"`
	Kind  string `json:"kind"`
	Index int    `json:"index"`
}

// sarifBag is the property bag of a result (3.8).
type sarifBag struct {
	Commit        string   `json:"commit"`
	Alteration    string   `json:"alteration,omitempty"`
	Subject       string   `json:"subject,omitempty"`
	MessageLine   int      `json:"messageLine,omitempty"` // of the commit's message, from 1
	MessageColumn int      `json:"messageColumn,omitempty"`
	AlongEdge     *number  `json:"alongEdge,omitempty"` // mm from the edge's first corner
	Claimed       string   `json:"claimed,omitempty"`
	Measured      string   `json:"measured,omitempty"`
	Where         []string `json:"where,omitempty"`
}
