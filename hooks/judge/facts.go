package judge

import (
	"io/fs"
	"slices"
	"sync"

	"seamkeep/pattern"
	"seamkeep/pattern/check"
	"seamkeep/pattern/diag"
	"seamkeep/pattern/text"
	"seamkeep/repo"
)

// Facts keeps what was read of each state of a pattern folder and what the
// checks found in it, by the ids of its files, so that a state is judged once
// however many commits hold it. It may be used by several goroutines. The same
// bodies have to be read throughout.
type Facts struct {
	loader *text.Loader
	mu     sync.Mutex
	kept   map[string]*facts
}

// NewFacts keeps nothing yet.
func NewFacts() *Facts { return &Facts{loader: text.NewLoader(), kept: map[string]*facts{}} }

// facts are those of one state of one folder.
type facts struct {
	garment *pattern.Garment // nil where it is not there or cannot be read
	body    *pattern.Body
	faulty  bool // the reader found errors
	checked bool // the checks make sense
	judge   func() diag.List
}

// list gives the findings, which are looked for when somebody asks; the caller
// may add to it.
func (f *facts) list() diag.List {
	out := slices.Clone(f.judge())
	for i := range out {
		out[i].Related = slices.Clone(out[i].Related)
	}
	return out
}

// of gives the facts of a folder in a snapshot.
func (k *Facts) of(s *repo.Snapshot, dir string, bodies fs.FS) *facts {
	key, err := ids(s, dir)
	if err != nil {
		return k.find(s, dir, bodies)
	}
	key = dir + "\x00" + key
	k.mu.Lock()
	f := k.kept[key]
	k.mu.Unlock()
	if f == nil {
		f = k.find(s, dir, bodies)
		k.mu.Lock()
		k.kept[key] = f
		k.mu.Unlock()
	}
	return f
}

func (k *Facts) find(s *repo.Snapshot, dir string, bodies fs.FS) *facts {
	folder, problems := k.loader.Load(s, dir)
	f := &facts{garment: folder.Garment, faulty: problems.HasErrors()}
	problems = append(slices.Clone(problems), LeftOut(s, dir)...)
	if f.checked = f.garment != nil && readable(problems); f.checked {
		var faults diag.List
		f.body, faults = LoadBody(bodies, dir, f.garment)
		problems = append(problems, faults...)
	}
	f.judge = sync.OnceValue(func() diag.List {
		all := problems
		if f.checked {
			all = append(all, check.Run(check.Input{Garment: f.garment, Body: f.body})...)
		}
		addressed(all)
		return all
	})
	return f
}
