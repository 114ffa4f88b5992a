//go:build linux

package main

import (
	"bytes"
	"fmt"
	"io"
	"os"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"golang.org/x/sys/unix"
)

// terminal opens a pseudo-terminal: what is written to tty is read from the function, which
// ends it (Linux, pty(7), from memory).
func terminal(t *testing.T) (tty *os.File, written func() string) {
	t.Helper()
	main, err := os.OpenFile("/dev/ptmx", os.O_RDWR|unix.O_NOCTTY, 0)
	if err != nil {
		t.Skip("no pseudo-terminal here: ", err)
	}
	t.Cleanup(func() { main.Close() })
	require.NoError(t, unix.IoctlSetPointerInt(int(main.Fd()), unix.TIOCSPTLCK, 0))
	n, err := unix.IoctlGetInt(int(main.Fd()), unix.TIOCGPTN)
	require.NoError(t, err)
	tty, err = os.OpenFile(fmt.Sprintf("/dev/pts/%d", n), os.O_RDWR|unix.O_NOCTTY, 0)
	require.NoError(t, err)
	read := make(chan string)
	go func() {
		var b bytes.Buffer
		_, _ = io.Copy(&b, main) // the kernel ends it with EIO
		read <- b.String()
	}()
	return tty, func() string { tty.Close(); return <-read }
}

func on(stream io.Writer, term string) *app {
	return &app{err: stream, env: func(name string) string {
		if name == "TERM" {
			return term
		}
		return ""
	}}
}

// watched tells what is written to it.
type watched chan string

func (w watched) Write(p []byte) (int, error) {
	w <- string(p)
	return len(p), nil
}

// await waits until some words are written, as long as a loaded machine may take.
func (w watched) await(t *testing.T, words string) {
	t.Helper()
	late := time.After(time.Minute)
	for {
		select {
		case s := <-w:
			if strings.Contains(s, words) {
				return
			}
		case <-late:
			require.Fail(t, "never written", words)
		}
	}
}

func TestALongJobIsToldOnATerminalAndClearedAfterwards(t *testing.T) {
	tty, written := terminal(t)
	told := on(tty, "xterm").progress("x", 0)
	require.NotNil(t, told, "a terminal is told")
	told.end()
	seen := make(watched, 1000)
	p := newProgress(io.MultiWriter(tty, seen), "judging\x1b[31m commits", 40, time.Millisecond)
	for range 7 {
		p.step()
	}
	seen.await(t, "7 of 40")
	p.step()
	seen.await(t, "8 of 40")
	p.end()
	p.end()
	time.Sleep(2 * beat) // nothing comes after the end
	said := written()
	assert.Contains(t, said, "judging[31m commits: 7 of 40")
	assert.Contains(t, said, "8 of 40")
	assert.True(t, strings.HasSuffix(said, "\r\x1b[K"), "%q", said)
	assert.NotContains(t, said, "\n", "it stays on one line")
}

func TestAShortJobIsNotTold(t *testing.T) {
	tty, written := terminal(t)
	p := on(tty, "xterm").progress("judging commits", 3)
	p.step()
	p.end()
	assert.Empty(t, written())
}

func TestNobodyIsToldWhoCannotReadIt(t *testing.T) {
	tty, written := terminal(t)
	assert.Nil(t, on(tty, "dumb").progress("x", 0))
	assert.Nil(t, on(tty, "").progress("x", 0))
	assert.Nil(t, on(&bytes.Buffer{}, "xterm").progress("x", 0))
	file, err := os.Create(t.TempDir() + "/talk")
	require.NoError(t, err)
	defer file.Close()
	nobody := on(file, "xterm").progress("x", 0)
	assert.Nil(t, nobody)
	nobody.step()
	nobody.end()
	assert.Empty(t, written())
}
