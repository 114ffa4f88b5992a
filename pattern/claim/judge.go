package claim

import (
	"seamkeep/pattern/compare"
	"seamkeep/pattern/diag"
)

func Judge(c *compare.Change, claims []Claim) []Result      { return nil }
func Unclaimed(c *compare.Change, claims []Claim) diag.List { return nil }
func Suggest(c *compare.Change) []Claim                     { return nil }
func Contradictions(claims []Claim) diag.List               { return nil }
