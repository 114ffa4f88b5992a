package judge

import (
	"slices"

	"seamkeep/pattern/claim"
	"seamkeep/pattern/compare"
)

// Step is one version after another, with the notes of what was done between them:
// its own and, of a merge, those of the versions that it brought.
type Step struct {
	Name     string // how messages call it
	Request  Request
	Messages []string
}

// KeptSince follows what the notes of versions keep, the oldest first, each from the
// first note that keeps it on: twenty times 1 mm is 20 mm. What a note declares to
// change is set aside. Only what is written as kept is followed, not what follows from
// steps.
func KeptSince(steps []Step) ([]*claim.Kept, error) {
	var all []*followed
	for _, s := range steps {
		folders, err := Folders(s.Request)
		if err != nil {
			return nil, err
		}
		for _, f := range folders {
			if f.After == nil || f.Before == nil || len(f.Before.Pieces) == 0 || f.BeforeFaulty {
				continue
			}
			all = s.follow(all, f)
		}
	}
	var out []*claim.Kept
	for _, x := range all {
		out = append(out, x.kept)
	}
	return out, nil
}

// followed is what is kept, by the path and the names that it has now.
type followed struct {
	kept *claim.Kept
	dir  string
	now  claim.Claim
}

// follow adds what a version's notes keep of a folder, and what the version did to
// all that is followed there.
func (s Step) follow(all []*followed, f Folder) []*followed {
	change := compare.Garments(f.Before, f.After, compare.Options{Body: f.Body})
	claims := s.claims(change, f)
	for _, c := range claims {
		known := slices.ContainsFunc(all, func(x *followed) bool { return x.dir == f.Was && x.now.Measure == c.Measure })
		if c.Kind == claim.Keeps && c.Follows == "" && !known {
			all = append(all, &followed{kept: &claim.Kept{Claim: c, Dir: f.Dir, Since: s.Name}, dir: f.Was, now: c})
		}
	}
	for _, x := range all {
		if x.dir == f.Was {
			x.dir, x.now = f.Dir, claim.Later(change, x.now)
			x.kept.Move(s.Name, claim.Drifts(change, x.now, claims))
		}
	}
	return all
}

// claims gives what the notes of a step claim of a folder, each as its own: names
// that the folder does not know are another one's.
func (s Step) claims(change *compare.Change, f Folder) []claim.Claim {
	var out []claim.Claim
	for _, message := range s.Messages {
		n, problems := Read(message)
		if problems.HasErrors() {
			continue
		}
		claims, _ := n.Claims(f.Before)
		if len(claims) == 0 {
			claims = s.Request.undone(message, f)
		}
		out = append(out, claims...)
	}
	unknown := claim.Check(change, out)
	return slices.DeleteFunc(out, func(c claim.Claim) bool {
		for _, p := range unknown {
			if c.Kind != claim.Only && p.Place == c.Place && p.Subject == c.Measure.String() {
				return true
			}
		}
		return false
	})
}
