package report

import (
	"seamkeep/pattern/claim"
	"seamkeep/pattern/diag"
)

// Verified is one commit of a range as it was judged.
type Verified struct {
	ID      string // full id of the commit
	Name    string // of its alteration; empty where its note gives none
	Subject string // first line of its message
	// Problems holds what the commit brought: findings of the checks, and faults
	// of the note that are no claims. An error makes the commit fail.
	Problems diag.List
	// Known holds the findings that a parent had already, at the same place and
	// not worse. They make no commit fail.
	Known diag.List
	// Accepted holds the errors that its note lists as unfinished. They are there, and
	// refuse nothing.
	Accepted diag.List
	// File is the garment file of what it changed; findings without a file of their own
	// are put there. Empty: none.
	File string
	// Claims holds what the note claims, as it was measured. What is wrong with
	// a claim stands here alone, not in Problems too.
	Claims []claim.Result
	// Unjudged says why the commit cannot be judged: its parent is missing in a
	// shallow clone. Empty where it was judged.
	Unjudged string
}

// OK tells whether the commit was judged and nothing refuses it: no error among
// its problems, and no claim that is untrue or cannot be told. A claim that
// cannot be told only because no body is here refuses nothing, since bodies are
// private and a server has none.
func (v Verified) OK() bool {
	return v.Unjudged == "" && !v.failings().HasErrors()
}

// fails tells whether the commit was judged and is refused.
func (v Verified) fails() bool { return v.Unjudged == "" && !v.OK() }

// failings gives the problems, then what is wrong with the claims.
func (v Verified) failings() diag.List {
	all := append(diag.List{}, v.Problems...)
	for _, r := range v.Claims {
		if p, wrong := r.Problem(); wrong {
			all = append(all, p)
		}
	}
	return all
}

// jsonVerified is a commit of seamkeep.verify/1.
type jsonVerified struct {
	ID       string      `json:"id"`
	Name     string      `json:"name"`
	Subject  string      `json:"subject"`
	OK       bool        `json:"ok"`
	Unjudged string      `json:"unjudged"`
	Problems any         `json:"problems"`
	Known    any         `json:"known"`
	Accepted any         `json:"accepted"`
	Claims   []jsonClaim `json:"claims"`
}

type jsonClaim struct {
	Claim    string   `json:"claim"`
	Follows  string   `json:"follows"`
	Line     *int     `json:"line"`
	Column   *int     `json:"column"`
	OK       bool     `json:"ok"`
	Claimed  string   `json:"claimed"`
	Measured string   `json:"measured"`
	Unknown  string   `json:"unknown"`
	Where    []string `json:"where"`
	Notes    []string `json:"notes"`
}

func claimOf(r claim.Result) jsonClaim {
	at := placeOf(r.Claim.Place)
	return jsonClaim{
		Claim: r.Claim.Line(), Follows: r.Claim.Follows, Line: at.Line, Column: at.Column, OK: r.OK, Claimed: r.Claimed,
		Measured: r.Measured, Unknown: r.Unknown, Where: append([]string{}, r.Where...), Notes: append([]string{}, r.Notes...),
	}
}

// VerifyJSON gives the document of verify --json, the commits in the order of
// the list.
func VerifyJSON(list []Verified) any {
	doc := struct {
		Schema  string         `json:"schema"`
		Commits []jsonVerified `json:"commits"`
	}{"seamkeep.verify/1", []jsonVerified{}}
	for _, v := range list {
		j := jsonVerified{
			ID: v.ID, Name: v.Name, Subject: v.Subject, OK: v.OK(), Unjudged: v.Unjudged,
			Problems: ProblemsJSON(v.Problems), Known: ProblemsJSON(v.Known), Accepted: ProblemsJSON(v.Accepted), Claims: []jsonClaim{},
		}
		for _, r := range v.Claims {
			j.Claims = append(j.Claims, claimOf(r))
		}
		doc.Commits = append(doc.Commits, j)
	}
	return doc
}
