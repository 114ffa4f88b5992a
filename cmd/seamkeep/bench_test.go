package main

import (
	"bytes"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"seamkeep/diffview/overlay"
	"seamkeep/hooks"
	"seamkeep/pattern"
	"seamkeep/pattern/compare"
	"seamkeep/pattern/curve"
	"seamkeep/pattern/text"
	"seamkeep/repo"
)

// The figures of these benchmarks stand in DEVELOPERS.md. Each is reported
// beside git doing comparable work in the same run, since times on a shared
// machine mean little alone.

const benchPieces, benchCommits = 60, 200

// benchFiles makes a garment of n panels whose sides match; version moves one
// handle of one panel's hem, which no seam sees.
func benchFiles(n, version int) map[string][]byte {
	return benchGarment(n, func(i int) float64 {
		if i == version%n {
			return float64(version%50+1) / 10
		}
		return 0
	})
}

// benchGarment makes a garment of n panels, the handle of whose hem is moved.
func benchGarment(n int, moved func(panel int) float64) map[string][]byte {
	g := &pattern.Garment{Name: "large", Half: pattern.LeftHalf, Levels: []pattern.Level{{Name: "bust", Y: 160}, {Name: "waist"}}}
	files := map[string][]byte{}
	for i := range n {
		p := &pattern.Piece{
			Name: fmt.Sprintf("panel-%d", i+1),
			Corners: []pattern.Corner{
				{Name: "top-front", At: curve.Pt(-40, 200)}, {Name: "hem-front", At: curve.Pt(-45, -110)},
				{Name: "hem-back", At: curve.Pt(45, -110)}, {Name: "top-back", At: curve.Pt(40, 200)},
			},
			Edges: []pattern.Edge{
				{Name: "front", Segs: []pattern.Seg{{Curve: true, H1: curve.Pt(-30, 60), H2: curve.Pt(-30, 0), ToCorner: true}}},
				{Name: "hem", Segs: []pattern.Seg{{Curve: true, H1: curve.Pt(-20, -115), H2: curve.Pt(20, -115), ToCorner: true}}},
				{Name: "back", Segs: []pattern.Seg{{Curve: true, H1: curve.Pt(30, 0), H2: curve.Pt(30, 60), ToCorner: true}}},
				{Name: "top"},
			},
		}
		p.Edges[1].Segs[0].H1.Y -= moved(i)
		text.Lengths(p)
		files["pieces/"+p.Name+".piece"] = text.PrintPiece(p)
		g.Around = append(g.Around, pattern.Mention{Name: p.Name})
		if i > 0 {
			before := fmt.Sprintf("panel-%d", i)
			g.Seams = append(g.Seams, pattern.Seam{
				Name:  fmt.Sprintf("seam-%d", i),
				First: []pattern.Ref{{Piece: before, Edge: "back"}}, Second: []pattern.Ref{{Piece: p.Name, Edge: "front"}},
			})
		}
	}
	files["large.garment"] = text.PrintGarment(g)
	return files
}

// benchRepository is a packed repository of benchPieces pieces and benchCommits
// versions.
func benchRepository(b *testing.B) string {
	b.Helper()
	var versions []map[string][]byte
	for i := range benchCommits {
		versions = append(versions, benchFiles(benchPieces, i))
	}
	return benchHistory(b, versions, benchWords)
}

// benchHistory is a packed repository of these versions.
func benchHistory(b *testing.B, versions []map[string][]byte, message func(version int) string) string {
	b.Helper()
	if _, err := exec.LookPath("git"); err != nil {
		b.Skip("git is not installed")
	}
	dir := b.TempDir()
	b.Setenv("HOME", dir)
	b.Setenv("GIT_CONFIG_NOSYSTEM", "1")
	root := filepath.Join(dir, "large")
	builder, err := repo.Create(root, "main")
	require.NoError(b, err)
	var parents []string
	for i, files := range versions {
		id, err := builder.Commit(repo.NewCommit{
			Branch: "main", Parents: parents, Message: message(i),
			Author: repo.Person{Name: "Ines", Email: "ines@example.org", When: time.Unix(1760000000+int64(i)*86400, 0)},
			Files:  files,
		})
		require.NoError(b, err)
		parents = []string{id}
	}
	require.NoError(b, builder.Checkout("main"))
	for _, args := range [][]string{{"config", "user.name", "Ines"}, {"config", "user.email", "ines@example.org"}, {"gc", "-q"}} {
		benchGit(b, root, args...)
	}
	return root
}

func benchGit(b *testing.B, dir string, args ...string) {
	b.Helper()
	cmd := exec.Command("git", args...)
	cmd.Dir = dir
	out, err := cmd.CombinedOutput()
	require.NoError(b, err, "git %v: %s", args, out)
}

// benchBinary builds the program as the README advises: a static one starts
// quicker.
func benchBinary(b *testing.B) string {
	b.Helper()
	binary := filepath.Join(b.TempDir(), "seamkeep")
	b.Setenv("CGO_ENABLED", "0")
	out, err := exec.Command("go", "build", "-o", binary, ".").CombinedOutput()
	require.NoError(b, err, string(out))
	return binary
}

// committing are the hooks that git runs for a commit.
var committing = [...]string{"pre-commit", "prepare-commit-msg", "commit-msg"}

// BenchmarkCommit times a commit of one changed piece under our three hooks and
// under three that do nothing, in turn.
func BenchmarkCommit(b *testing.B) {
	root := benchRepository(b)
	binary := benchBinary(b)
	dir := filepath.Join(root, ".git", "hooks")
	commit := func(version int) time.Duration {
		for name, data := range benchFiles(benchPieces, version) {
			require.NoError(b, os.WriteFile(filepath.Join(root, name), data, 0o644))
		}
		benchGit(b, root, "add", "-A")
		start := time.Now()
		benchGit(b, root, "commit", "-q", "-m", "next")
		return time.Since(start)
	}
	b.Setenv("PATH", filepath.Dir(binary)+string(os.PathListSeparator)+os.Getenv("PATH"))
	version := benchCommits
	var ours, none time.Duration
	for b.Loop() {
		_, err := hooks.Remove(dir)
		require.NoError(b, err)
		for _, name := range committing {
			require.NoError(b, os.WriteFile(filepath.Join(dir, name), []byte("#!/bin/sh\nexit 0\n"), 0o755))
		}
		version++
		none += commit(version)
		for _, name := range committing {
			require.NoError(b, os.Remove(filepath.Join(dir, name)))
		}
		_, err = hooks.Install(hooks.Options{Dir: dir, Binary: binary})
		require.NoError(b, err)
		version++
		ours += commit(version)
	}
	b.ReportMetric(float64(ours.Milliseconds())/float64(b.N), "ms/commit")
	b.ReportMetric(float64(none.Milliseconds())/float64(b.N), "ms/no-op-hook")
	b.ReportMetric(ours.Seconds()/none.Seconds(), "x-no-op-hook")
}

// benchWords is a message that promises nothing.
func benchWords(version int) string { return fmt.Sprintf("version %d", version) }

// BenchmarkVerify judges the commits of a long history, and lets git list what
// each of them changed, in turn: of messages that promise nothing, and of notes whose
// claims are measured.
func BenchmarkVerify(b *testing.B) {
	const commits, pieces = 1000, 10
	binary := benchBinary(b)
	var versions []map[string][]byte
	for version := range commits {
		versions = append(versions, benchFiles(pieces, version))
	}
	notes := func(version int) string {
		return fmt.Sprintf("version %d\n\nAlteration: v%d\nBecause: the fitting\nKeeps: girth\nOnly: panel-%d, panel-%d\n",
			version, version, version%pieces+1, (version+pieces-1)%pieces+1)
	}
	for name, message := range map[string]func(int) string{"words": benchWords, "notes": notes} {
		b.Run(name, func(b *testing.B) {
			root := benchHistory(b, versions, message)
			var ours, git time.Duration
			for b.Loop() {
				cmd := exec.Command(binary, "verify", fmt.Sprintf("HEAD~%d..HEAD", commits-1))
				cmd.Dir = root
				start := time.Now()
				out, err := cmd.CombinedOutput()
				ours += time.Since(start)
				require.NoError(b, err, string(out[max(0, len(out)-500):]))
				start = time.Now()
				benchGit(b, root, "log", "--raw", fmt.Sprintf("HEAD~%d..HEAD", commits-1))
				git += time.Since(start)
			}
			b.ReportMetric(float64(ours.Microseconds())/float64(b.N)/commits, "us/commit")
			b.ReportMetric(ours.Seconds()/git.Seconds(), "x-git-log-raw")
		})
	}
}

// BenchmarkCommands times whole commands on two versions of a garment of 60
// pieces, some of them changed, and git diff of the same two, in turn.
func BenchmarkCommands(b *testing.B) {
	binary := benchBinary(b)
	for _, changed := range []int{1, 10, 60} {
		var versions []map[string][]byte
		for version := range benchCommits {
			versions = append(versions, benchGarment(benchPieces, func(i int) float64 {
				if i < changed {
					return float64(version%50) / 10
				}
				return 0
			}))
		}
		root := benchHistory(b, versions, benchWords)
		picture := filepath.Join(b.TempDir(), "change.svg")
		for name, args := range map[string][]string{
			"compare": {"compare", "HEAD~3", "HEAD~2"},
			"overlay": {"overlay", "HEAD~3", "HEAD~2", "-o", picture},
		} {
			b.Run(fmt.Sprintf("%s/changed=%d", name, changed), func(b *testing.B) { besideGitDiff(b, root, binary, args) })
		}
	}
}

func besideGitDiff(b *testing.B, root, binary string, args []string) {
	var ours, git time.Duration
	for b.Loop() {
		cmd := exec.Command(binary, args...)
		cmd.Dir = root
		start := time.Now()
		out, err := cmd.CombinedOutput()
		ours += time.Since(start)
		require.NoError(b, err, string(out))
		start = time.Now()
		benchGit(b, root, "diff", "HEAD~3", "HEAD~2")
		git += time.Since(start)
	}
	b.ReportMetric(float64(ours.Microseconds())/1000/float64(b.N), "ms/command")
	b.ReportMetric(float64(git.Microseconds())/1000/float64(b.N), "ms/git-diff")
	b.ReportMetric(ours.Seconds()/git.Seconds(), "x-git-diff")
}

// BenchmarkCompareAndOverlay reads two versions of a garment of 60 pieces, one
// changed, compares them and draws the sheet; git diff does the same range.
func BenchmarkCompareAndOverlay(b *testing.B) {
	root := benchRepository(b)
	var ours, git time.Duration
	for b.Loop() {
		pick := rand.IntN(benchCommits-benchPieces-2) + 1
		from, to := fmt.Sprintf("HEAD~%d", pick+1), fmt.Sprintf("HEAD~%d", pick)
		start := time.Now()
		drawRange(b, root, from, to)
		ours += time.Since(start)
		start = time.Now()
		benchGit(b, root, "diff", from, to)
		git += time.Since(start)
	}
	b.ReportMetric(float64(ours.Microseconds())/1000/float64(b.N), "ms/overlay")
	b.ReportMetric(ours.Seconds()/git.Seconds(), "x-git-diff")
}

func drawRange(b *testing.B, root, from, to string) {
	r, err := repo.Open(root)
	require.NoError(b, err)
	defer r.Close()
	loader := text.NewLoader()
	load := func(rev string) *pattern.Garment {
		s, err := r.Snapshot(rev)
		require.NoError(b, err)
		f, problems := loader.Load(s, ".")
		require.Empty(b, problems)
		return f.Garment
	}
	var buf bytes.Buffer
	change := compare.Garments(load(from), load(to), compare.Options{})
	require.True(b, change.Any())
	require.NoError(b, overlay.Sheet(&buf, change, overlay.Options{Title: "large", From: from, To: to}))
	require.NotEmpty(b, buf.Bytes())
}
