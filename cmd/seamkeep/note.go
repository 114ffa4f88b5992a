package main

import (
	"strings"

	"seamkeep/repo"
)

// summary is what a commit's message says in our trailers.
type summary struct {
	name       string // of its alterations, joined by commas
	names      []string
	because    string
	unfinished []string // addresses of findings that it accepts
}

func noteOf(c *repo.Commit) summary {
	var n summary
	for _, t := range repo.Trailers(c.Message) {
		switch strings.ToLower(t.Key) {
		case "alteration":
			n.names = append(n.names, t.Value)
		case "because":
			if n.because != "" {
				n.because += "; "
			}
			n.because += t.Value
		case "unfinished":
			n.unfinished = append(n.unfinished, t.Value)
		}
	}
	if len(n.names) > 0 {
		n.name = strings.Join(n.names, ", ")
	}
	return n
}
