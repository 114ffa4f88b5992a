package main

import (
	"io/fs"

	"seamkeep/pattern"
	"seamkeep/pattern/check"
	"seamkeep/pattern/diag"
	"seamkeep/pattern/text"
)

// fittingFaults says what is wrong with the fittings of a version: never more than a
// warning, since no piece is cut from them. body gives the measures of a body by its name.
func fittingFaults(fsys fs.FS, dir string, body func(name string) *pattern.Body) diag.List {
	list, problems := text.Fittings(fsys, dir)
	for _, f := range list {
		problems = append(problems, check.Private(f, body(f.Body))...)
	}
	for i := range problems {
		problems[i].Severity = diag.Warning
	}
	return problems
}

// namedBody reads a body by its name, from the working tree; nil where there is none
// that can be read.
func (p *place) namedBody(name string) *pattern.Body {
	b, _ := p.body(&pattern.Garment{Body: name})
	return b
}

// keepsPrivate refuses to keep a fitting that says what the body measures.
func (a *app) keepsPrivate(p *place, k *keeping) error {
	work, err := p.snapshot("work")
	if err != nil {
		return unreadable(err)
	}
	var told diag.List
	for _, n := range k.paths {
		if !p.fittingFile(n) {
			continue
		}
		src, err := fs.ReadFile(work, n)
		if err != nil {
			continue // gone: nothing of it is kept
		}
		if f, _ := text.ReadFitting(n, src); f != nil {
			told = append(told, check.Private(f, p.namedBody(f.Body))...)
		}
	}
	if len(told) == 0 {
		return nil
	}
	a.talk().Problems(told)
	return refused("measures of a body are private: not kept; git is as it was")
}
