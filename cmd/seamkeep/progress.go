package main

import (
	"fmt"
	"io"
	"sync"
	"time"

	"seamkeep/diffview/report"
)

// patience is how long a job may take before a terminal is told how far it is; beat is
// how often it is told then.
const patience, beat = 500 * time.Millisecond, 100 * time.Millisecond

// progress is one line on a terminal that says how far a long job is. Where there is
// nobody to read it, it is nil, and nothing happens.
type progress struct {
	to   io.Writer
	what string
	of   int // steps in all; 0: not known

	mu    sync.Mutex
	done  int
	shown bool
	next  *time.Timer
}

// progress begins to tell of a job; end must follow before anything else is said. Only a
// terminal that can clear a line is told.
func (a *app) progress(what string, of int) *progress {
	if !isTerminal(a.err) || a.env("TERM") == "dumb" || a.env("TERM") == "" {
		return nil
	}
	return newProgress(a.err, what, of, patience)
}

func newProgress(to io.Writer, what string, of int, wait time.Duration) *progress {
	p := &progress{to: to, what: what, of: of}
	p.mu.Lock()
	defer p.mu.Unlock()
	p.next = time.AfterFunc(wait, p.show)
	return p
}

// step says that one more is done.
func (p *progress) step() {
	if p == nil {
		return
	}
	p.mu.Lock()
	defer p.mu.Unlock()
	p.done++
}

// show writes the line over the last one. What cannot be written is no matter.
func (p *progress) show() {
	p.mu.Lock()
	defer p.mu.Unlock()
	if p.next == nil {
		return // it ended while this waited
	}
	line := report.Clean(p.what)
	switch {
	case p.of > 0:
		line += fmt.Sprintf(": %d of %d", p.done, p.of)
	case p.done > 0:
		line += fmt.Sprintf(": %d", p.done)
	}
	_, _ = io.WriteString(p.to, "\r"+line+clearToEnd)
	p.shown = true
	p.next.Reset(beat)
}

// clearToEnd clears the rest of a terminal's line (ECMA-48, 8.3.41).
const clearToEnd = "\x1b[K"

// end takes the line away; ending again does nothing.
func (p *progress) end() {
	if p == nil {
		return
	}
	p.mu.Lock()
	defer p.mu.Unlock()
	if p.next == nil {
		return
	}
	p.next.Stop()
	p.next = nil
	if p.shown {
		_, _ = io.WriteString(p.to, "\r"+clearToEnd)
	}
}
