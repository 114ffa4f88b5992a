package judge

import (
	"slices"

	"seamkeep/pattern/claim"
	"seamkeep/pattern/diag"
	"seamkeep/pattern/note"
)

// Step is one version after another along first parents.
type Step struct {
	Name    string // how messages call it
	Message string
	Request Request
	Brought []Step // of a merge: the versions that it brought in from beside, the oldest first
}

// KeptSince follows what the notes of versions keep, the oldest first, each from the
// first note that keeps it on: twenty times 1 mm is 20 mm. What a note declares to
// change is set aside. What a merge brought counts version by version, and what the
// merge itself did is what they leave. Only what is written as kept is followed, not
// what follows from steps.
func KeptSince(steps []Step) ([]*claim.Kept, error) {
	var l ledger
	for _, s := range steps {
		var beside [][]*view
		for _, b := range s.Brought {
			views, _, err := b.views()
			if err != nil {
				return nil, err
			}
			beside = append(beside, views)
			l.enter(b, views)
			l.bring(b, views)
		}
		views, gone, err := s.views()
		if err != nil {
			return nil, err
		}
		l.enter(s, views)
		l.follow(s, views, gone, beside)
	}
	var out []*claim.Kept
	for _, x := range l {
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

func (x *followed) in(f Folder) bool { return x.dir == f.Was || x.dir == f.Dir }

type ledger []*followed

// views gives the folders that a version changed with what its note claims of each,
// and those that went.
func (s Step) views() (views []*view, gone []Folder, err error) {
	if s.Request.Facts == nil {
		s.Request.Facts = NewFacts()
	}
	folders, err := Folders(s.Request)
	if err != nil {
		return nil, nil, err
	}
	for _, f := range folders {
		if f.After == nil && f.Partly == nil {
			gone = append(gone, f)
		}
	}
	n, problems := Read(s.Message)
	if problems.HasErrors() {
		n = &note.Note{}
	}
	views = viewsOf(n, folders)
	for _, v := range views {
		v.claims = slices.DeleteFunc(v.claims, func(c claim.Claim) bool { // names that this folder does not know
			return slices.ContainsFunc(v.faults, func(p diag.Problem) bool { return p.Place == c.Place && p.Subject == c.Measure.String() })
		})
		if len(v.claims) == 0 && s.Request.Undone != nil {
			v.claims = s.declaredBefore(v)
		}
	}
	return views, gone, nil
}

// declaredBefore gives, for a revert, what the notes of what it undoes declared: what
// came undeclared goes so.
func (s Step) declaredBefore(v *view) []claim.Claim {
	var out []claim.Claim
	for _, u := range s.Request.Undone(s.Message) {
		c := u.After.Commit()
		if c == nil {
			continue
		}
		n, problems := Read(c.Message)
		if problems.HasErrors() {
			continue
		}
		claims, _ := n.Claims(s.Request.stateIn(u.Before, v.folder))
		out = append(out, slices.DeleteFunc(claims, func(c claim.Claim) bool { return c.Kind != claim.Changes })...)
	}
	return out
}

// enter adds what a version's note keeps, once for each measure; the narrowest
// tolerance that a note gives holds.
func (l *ledger) enter(s Step, views []*view) {
	for _, v := range views {
		if v.folder.Before == nil || len(v.folder.Before.Pieces) == 0 {
			continue
		}
		for _, c := range v.claims {
			if c.Kind != claim.Keeps || c.Follows != "" {
				continue
			}
			i := slices.IndexFunc(*l, func(x *followed) bool {
				return x.kept.Until == "" && x.in(v.folder) && (x.now.Measure == c.Measure || claim.Later(v.change, x.now).Measure == c.Measure)
			})
			if i < 0 {
				*l = append(*l, &followed{kept: &claim.Kept{Claim: c, Dir: v.folder.Dir, Since: s.Name}, dir: v.folder.Was, now: c})
				continue
			}
			(*l)[i].kept.Narrow(c)
		}
	}
}

// bring adds what a version beside the line did. Where it has other names than the
// line, what it did is found when it is merged.
func (l *ledger) bring(s Step, views []*view) {
	for _, v := range views {
		for _, x := range *l {
			if x.in(v.folder) && v.folder.Before != nil {
				drifts := claim.Drifts(v.change, claim.Later(v.change, x.now), v.claims)
				x.kept.Move(s.Name, slices.DeleteFunc(drifts, func(d claim.Drift) bool { return d.Unknown != "" }))
			}
		}
	}
}

// follow adds what a version of the line did, less what was brought in from beside.
func (l *ledger) follow(s Step, views []*view, gone []Folder, beside [][]*view) {
	for _, v := range views {
		if v.folder.Before == nil || len(v.folder.Before.Pieces) == 0 {
			continue
		}
		for _, x := range *l {
			if !x.in(v.folder) {
				continue
			}
			x.dir = v.folder.Dir
			brought := map[string]float64{}
			for _, list := range beside {
				for _, b := range list {
					if x.in(b.folder) && b.folder.Before != nil {
						for _, d := range claim.Drifts(b.change, claim.Later(b.change, x.now), nil) {
							brought[d.Label] += d.By
						}
					}
				}
			}
			x.now = claim.Later(v.change, x.now)
			drifts := claim.Drifts(v.change, x.now, v.claims)
			for i := range drifts {
				if drifts[i].Unknown == "" {
					drifts[i].By -= brought[drifts[i].Label]
				}
			}
			x.kept.Move(s.Name, drifts)
		}
	}
	for _, f := range gone {
		for _, x := range *l {
			if x.in(f) {
				x.kept.End(s.Name)
			}
		}
	}
}
