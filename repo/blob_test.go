package repo

import (
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestBlobGivesWhatGitKeeps(t *testing.T) {
	b := newBox(t)
	b.write("x", "content\n")
	head := b.commit("One")
	stored := b.git("hash-object", "-w", "x") // git is the reference
	for who, r := range b.both() {
		got, err := r.Blob(strings.ToUpper(stored))
		require.NoError(t, err, who)
		assert.Equal(t, "content\n", string(got), who)
		for _, id := range []string{"", "HEAD", stored[:6], "../../etc/passwd", strings.Repeat("0", len(stored)), head} {
			_, err := r.Blob(id)
			assert.ErrorIs(t, err, ErrNoBlob, "%s: %q", who, id)
		}
		r.Close()
	}
}

func TestKeptBlobsHaveTheIDThatGitGivesThem(t *testing.T) {
	b := newBox(t)
	r := b.open()
	id, err := r.KeepBlob([]byte("carriage\r\nreturn"))
	require.NoError(t, err)
	out, err := r.Git("cat-file", "-p", id)
	require.NoError(t, err)
	assert.Equal(t, "carriage\r\nreturn", out)
	got, err := b.open().Blob(id)
	require.NoError(t, err)
	assert.Equal(t, "carriage\r\nreturn", string(got))
}

func TestPrivateFilesLieBesideTheObjectsAndNowhereElse(t *testing.T) {
	b := newBox(t)
	r := b.open()
	got, err := r.ReadPrivate("drawings.json")
	require.NoError(t, err)
	assert.Nil(t, got)
	require.NoError(t, r.WritePrivate("../../drawings.json", []byte("{}")))
	require.NoError(t, r.WritePrivate("drawings.json", []byte("{\"a\":1}")))
	got, err = r.ReadPrivate("drawings.json")
	require.NoError(t, err)
	assert.Equal(t, "{\"a\":1}", string(got))
	entries, err := os.ReadDir(filepath.Join(r.CommonDir(), "seamkeep"))
	require.NoError(t, err)
	assert.Len(t, entries, 1, "no half-written file is left")
	out, err := r.Git("status", "--porcelain")
	require.NoError(t, err)
	assert.Empty(t, out)
}

func TestTheLockOfAPrivateFileKeepsOthersOut(t *testing.T) {
	b := newBox(t)
	r := b.open()
	unlock, err := r.LockPrivate("drawings.json")
	require.NoError(t, err)
	free := make(chan struct{})
	go func() {
		again, err := r.LockPrivate("drawings.json")
		if assert.NoError(t, err) {
			again()
		}
		close(free)
	}()
	select {
	case <-free:
		t.Error("the second run did not wait")
	case <-time.After(200 * time.Millisecond):
	}
	unlock()
	<-free
	// one that a killed run left is taken over
	lock := filepath.Join(r.CommonDir(), "seamkeep", "drawings.json.lock")
	gone := exec.Command("git", "version")
	require.NoError(t, gone.Run())
	require.NoError(t, os.WriteFile(lock, []byte(strconv.Itoa(gone.Process.Pid)), 0o666))
	unlock, err = r.LockPrivate("drawings.json")
	require.NoError(t, err)
	unlock()
	assert.NoFileExists(t, lock)
}
