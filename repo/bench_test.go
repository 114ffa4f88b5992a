package repo

import (
	"fmt"
	"os/exec"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
)

// workshop makes 60 pieces and 200 commits, packed: a large pattern after a year.
func workshop(b *testing.B) *box {
	x := newBox(b)
	for i := range 60 {
		x.write(fmt.Sprintf("coat/piece-%02d.txt", i), fmt.Sprintf("name piece-%d\n%080d\n%080d\n", i, i, i*7))
	}
	x.commit("Start")
	for i := range 199 {
		x.write(fmt.Sprintf("coat/piece-%02d.txt", i%60), fmt.Sprintf("name piece\n%080d\n%080d\n", i, i*13))
		x.commit(fmt.Sprint("Version ", i))
	}
	x.git("gc", "-q")
	return x
}

// BenchmarkOpenHeadAndIndex is the work of a commit hook: open, list HEAD and
// the index, read the 60 staged files. "ratio" sets it against the process
// `git diff --cached --quiet`, which reads HEAD and the index but no files.
func BenchmarkOpenHeadAndIndex(b *testing.B) {
	x := workshop(b)
	var git time.Duration
	const rounds = 20
	for range rounds {
		start := time.Now()
		cmd := exec.Command("git", "diff", "--cached", "--quiet")
		cmd.Dir, cmd.Env = x.dir, x.env
		require.NoError(b, cmd.Run())
		git += time.Since(start)
	}
	b.ResetTimer()
	for b.Loop() {
		r, err := OpenWith(x.dir, Options{Environ: x.env})
		require.NoError(b, err)
		head, err := r.HeadSnapshot()
		require.NoError(b, err)
		_, err = head.ReadDir("coat")
		require.NoError(b, err)
		index, err := r.Snapshot("index")
		require.NoError(b, err)
		list, err := index.ReadDir("coat")
		require.NoError(b, err)
		require.Len(b, list, 60)
		for _, e := range list {
			_, err := index.ReadFile("coat/" + e.Name())
			require.NoError(b, err)
		}
		require.True(b, usesLibrary(r))
		require.NoError(b, r.Close())
	}
	b.ReportMetric(float64(b.Elapsed())/float64(b.N)/float64(git/rounds), "ratio")
}

// BenchmarkLogOfOneFile sets our own walk against git's.
func BenchmarkLogOfOneFile(b *testing.B) {
	x := workshop(b)
	for _, own := range []bool{true, false} {
		b.Run(fmt.Sprintf("own=%v", own), func(b *testing.B) {
			for b.Loop() {
				r, err := OpenWith(x.dir, Options{Environ: x.env})
				require.NoError(b, err)
				w, err := r.rangeOf("HEAD")
				require.NoError(b, err)
				var list []*Commit
				if own {
					list, err = w.walk([]string{"coat/piece-07.txt"}, 0)
				} else {
					list, err = r.logByGit(w, []string{"coat/piece-07.txt"}, 0)
				}
				require.NoError(b, err)
				require.Len(b, list, 5)
				require.NoError(b, r.Close())
			}
		})
	}
}
