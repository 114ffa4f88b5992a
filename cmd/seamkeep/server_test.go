//go:build unix

package main

import (
	"errors"
	"fmt"
	"math"
	"net"
	"os"
	"os/exec"
	"os/user"
	"path/filepath"
	"regexp"
	"strings"
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"seamkeep/hooks"
)

// Pushes over HTTP and ssh to servers as they are run anywhere: nginx with
// fcgiwrap and git-http-backend(1), and OpenSSH's sshd with gitolite. Each has a
// repository per hook, since a server is free to use either.

// guarded is one repository of a server.
type guarded struct {
	hook  string // the hook that is to judge
	url   string
	bare  string // its folder
	guard func() // puts the hook in
	// Further environment of the maker's git.
	env []string
}

// serverHooks are the hooks that can refuse a push; githooks(5): pre-receive
// refuses all refs of a push, update one ref.
func serverHooks() []string { return []string{"pre-receive", "update"} }

func TestPushesToServers(t *testing.T) {
	program := builtProgram(t)
	t.Run("http", func(t *testing.T) {
		t.Parallel()
		pushesTo(t, program, httpServer(t, program))
	})
	t.Run("ssh", func(t *testing.T) {
		t.Parallel()
		pushesTo(t, program, sshServer(t, program))
	})
	t.Run("pre-push", func(t *testing.T) {
		t.Parallel()
		prePush(t, newWorkshop(t, program))
	})
}

// The server's programs.

// serverProgram finds a program, also where only root's PATH leads.
func serverProgram(t *testing.T, name string) string {
	t.Helper()
	path, err := exec.LookPath(name)
	for _, dir := range []string{"/usr/sbin", "/usr/local/sbin", "/sbin"} {
		if err != nil {
			path, err = exec.LookPath(filepath.Join(dir, name))
		}
	}
	if err != nil {
		t.Skipf("%s is not installed: pushes are refused by real servers here", name)
	}
	return path
}

// loopback gives an address that nobody listens on.
func loopback(t *testing.T) *net.TCPAddr {
	t.Helper()
	l, err := net.Listen("tcp", "127.0.0.1:0")
	require.NoError(t, err)
	require.NoError(t, l.Close())
	return l.Addr().(*net.TCPAddr)
}

// daemon runs a program and all it starts until the test ends.
func daemon(t *testing.T, cmd *exec.Cmd) {
	t.Helper()
	log, err := os.Create(filepath.Join(t.TempDir(), "log"))
	require.NoError(t, err)
	cmd.Stdout, cmd.Stderr = log, log
	cmd.SysProcAttr = &syscall.SysProcAttr{Setpgid: true} // fcgiwrap's children outlive it
	require.NoError(t, cmd.Start())
	t.Cleanup(func() {
		_ = syscall.Kill(-cmd.Process.Pid, syscall.SIGKILL)
		_ = cmd.Wait()
		_ = log.Close()
		if said, err := os.ReadFile(log.Name()); err == nil && t.Failed() {
			t.Logf("%s said:\n%s", cmd.Path, said)
		}
	})
}

func waitFor(t *testing.T, at *net.TCPAddr) {
	t.Helper()
	require.Eventually(t, func() bool {
		c, err := net.DialTimeout("tcp", at.String(), time.Second)
		return err == nil && c.Close() == nil
	}, 10*time.Second, 10*time.Millisecond, "nobody answers on %s", at)
}

// command is a program of the server, which has a home and no more.
func command(home, name string, args ...string) *exec.Cmd {
	cmd := exec.Command(name, args...)
	cmd.Dir, cmd.Env = home, []string{"HOME=" + home, "PATH=/usr/local/bin:/usr/bin:/bin", "LC_ALL=C", "GIT_CONFIG_NOSYSTEM=1"}
	return cmd
}

func ran(t *testing.T, cmd *exec.Cmd) {
	t.Helper()
	out, err := cmd.CombinedOutput()
	require.NoError(t, err, "%s\n%s", strings.Join(cmd.Args, " "), out)
}

// placed writes a file of the server.
func placed(t *testing.T, mode os.FileMode, content string, path ...string) string {
	t.Helper()
	name := filepath.Join(path...)
	require.NoError(t, os.MkdirAll(filepath.Dir(name), 0o755))
	require.NoError(t, os.WriteFile(name, []byte(content), mode))
	return name
}

func installed(t *testing.T, dir, program, hook string) {
	t.Helper()
	got, err := hooks.Install(hooks.Options{Dir: dir, Binary: program, Names: []string{hook}})
	require.NoError(t, err)
	require.Len(t, got, 1)
	require.True(t, got[0].State.Protects(), "%+v", got)
}

// httpServer is made after the examples of git-http-backend(1). nginx needs no
// user of its own, and a REMOTE_USER is what lets a push in.
func httpServer(t *testing.T, program string) []guarded {
	nginx, fcgiwrap := serverProgram(t, "nginx"), serverProgram(t, "fcgiwrap")
	core, err := exec.Command("git", "--exec-path").Output()
	require.NoError(t, err)
	backend := serverProgram(t, filepath.Join(strings.TrimSpace(string(core)), "git-http-backend"))
	home, at := t.TempDir(), loopback(t)

	socket, err := net.Listen("tcp", "127.0.0.1:0")
	require.NoError(t, err)
	file, err := socket.(*net.TCPListener).File()
	require.NoError(t, err)
	wrap := command(home, fcgiwrap, "-c", "2")
	wrap.Stdin = file // FastCGI 1.0, 2.2: file descriptor 0 is the listening socket
	daemon(t, wrap)
	require.NoError(t, errors.Join(file.Close(), socket.Close()))

	conf := placed(t, 0o644, fmt.Sprintf(`daemon off;
master_process off;
pid nginx.pid;
events {}
http {
	access_log off;
	client_max_body_size 0;
	client_body_temp_path body;
	fastcgi_temp_path fastcgi;
	proxy_temp_path proxy;
	scgi_temp_path scgi;
	uwsgi_temp_path uwsgi;
	server {
		listen %s;
		location ~ ^/git(/.*)$ {
			fastcgi_pass %s;
			fastcgi_param SCRIPT_FILENAME %s;
			fastcgi_param GIT_PROJECT_ROOT %s/srv;
			fastcgi_param GIT_HTTP_EXPORT_ALL "";
			fastcgi_param PATH_INFO $1;
			fastcgi_param QUERY_STRING $query_string;
			fastcgi_param REQUEST_METHOD $request_method;
			fastcgi_param CONTENT_TYPE $content_type;
			fastcgi_param CONTENT_LENGTH $content_length;
			fastcgi_param HTTP_CONTENT_ENCODING $http_content_encoding;
			fastcgi_param HTTP_GIT_PROTOCOL $http_git_protocol;
			fastcgi_param REMOTE_USER maker;
			fastcgi_param HOME %s;
		}
	}
}
`, at, socket.Addr(), backend, home, home), home, "nginx.conf")
	daemon(t, command(home, nginx, "-p", home, "-e", "stderr", "-c", conf))
	waitFor(t, at)
	var all []guarded
	for _, hook := range serverHooks() {
		bare := filepath.Join(home, "srv", hook+".git")
		ran(t, command(home, "git", "init", "--quiet", "--bare", "--initial-branch=main", bare))
		all = append(all, guarded{hook: hook, url: fmt.Sprintf("http://%s/git/%s.git", at, hook), bare: bare, guard: func() {
			installed(t, filepath.Join(bare, "hooks"), program, hook)
		}})
	}
	return all
}

// seamsRef asks our script for the hook update; gitolite refuses a push for a
// line that begins with the virtual ref's name.
const seamsRef = `#!/bin/sh
"$HOME/local/seams/update" "$1" "$2" "$3" || echo "VREF/SEAMS seams or claims do not hold"
`

// sshServer is a gitolite of whoever runs the test, in a home of its own. Its
// update hook is gitolite's, so that ours is called by a virtual ref (gitolite's
// manual, "virtual refs"); gitolite leaves pre-receive alone.
func sshServer(t *testing.T, program string) []guarded {
	sshd, gitolite := serverProgram(t, "sshd"), serverProgram(t, "gitolite")
	keygen := serverProgram(t, "ssh-keygen")
	serverProgram(t, "ssh")
	me, err := user.Current()
	require.NoError(t, err)
	home, at := t.TempDir(), loopback(t)
	for _, key := range []string{"host", "ann"} {
		ran(t, command(home, keygen, "-q", "-t", "ed25519", "-N", "", "-C", key, "-f", filepath.Join(home, key)))
	}
	hostKey, err := os.ReadFile(filepath.Join(home, "host.pub"))
	require.NoError(t, err)
	known := placed(t, 0o644, fmt.Sprintf("[%s]:%d %s", at.IP, at.Port, hostKey), home, "known")

	placed(t, 0o600, "%RC = (UMASK => 0077, LOCAL_CODE => \"$ENV{HOME}/local\", ENABLE => ['ssh-authkeys']);\n1;\n", home, ".gitolite.rc")
	placed(t, 0o755, seamsRef, home, "local", "VREF", "SEAMS")
	installed(t, filepath.Join(home, "local", "seams"), program, "update")
	ran(t, command(home, gitolite, "setup", "-pk", "ann.pub"))
	rules := "repo pre-receive update\n\tRW+ = ann\n"
	config := placed(t, 0o600, rules, home, ".gitolite", "conf", "gitolite.conf")
	ran(t, command(home, gitolite, "setup"))

	privileges(t)
	conf := placed(t, 0o600, fmt.Sprintf("ListenAddress %s\nHostKey %s/host\nAuthorizedKeysFile %s/.ssh/authorized_keys\nSetEnv HOME=%s\n"+
		"PidFile none\nLogLevel ERROR\nPasswordAuthentication no\nKbdInteractiveAuthentication no\nPermitRootLogin yes\nUsePAM no\nStrictModes no\n",
		at, home, home, home), home, "sshd_config")
	daemon(t, command(home, sshd, "-D", "-e", "-f", conf))
	waitFor(t, at)
	ssh := fmt.Sprintf("ssh -F /dev/null -i '%s/ann' -o IdentitiesOnly=yes -o IdentityAgent=none -o BatchMode=yes -o UserKnownHostsFile='%s'", home, known)
	var all []guarded
	for _, hook := range serverHooks() {
		bare := filepath.Join(home, "repositories", hook+".git")
		all = append(all, guarded{hook: hook, url: fmt.Sprintf("ssh://%s@%s/%s", me.Username, at, hook), bare: bare, guard: func() {
			if hook == "update" {
				placed(t, 0o600, rules+"repo update\n\t- VREF/SEAMS = @all\n", config)
				ran(t, command(home, gitolite, "compile"))
				return
			}
			installed(t, filepath.Join(bare, "hooks"), program, hook)
		}, env: []string{"GIT_SSH_COMMAND=" + ssh}})
	}
	return all
}

// privileges makes the empty folder that Debian's sshd wants where root starts it
// (its service makes it too).
func privileges(t *testing.T) {
	t.Helper()
	const dir = "/run/sshd"
	if _, err := os.Stat(dir); os.Geteuid() != 0 || err == nil {
		return
	}
	require.NoError(t, os.Mkdir(dir, 0o755))
	t.Cleanup(func() { _ = os.Remove(dir) })
}

// What is pushed. Each step starts from main as the server has it.

func pushesTo(t *testing.T, program string, all []guarded) {
	for _, to := range all {
		t.Run(to.hook, func(t *testing.T) {
			t.Parallel()
			w := newWorkshop(t, program)
			w.env = append(w.env, to.env...)
			w.past()
			w.git("remote", "add", "origin", to.url)
			w.git("push", "--quiet", "origin", "main", "side")
			to.guard()
			for _, step := range []func(*testing.T, *workshop, guarded){
				brokenSeam, untrueClaim, oldHistory, newBranch, severalRefs, forced, otherRefs,
			} {
				w.git("checkout", "--quiet", "-B", "main", to.ref(w, "refs/heads/main"))
				step(t, w, to)
			}
		})
	}
}

// past is a history that nobody judged: on main a broken seam, mended since; on
// side another.
func (w *workshop) past() {
	w.t.Helper()
	w.keep("base", false)
	w.longer()
	w.keep("crooked", true)
	w.git("tag", "crooked")
	w.git("revert", "--no-edit", "HEAD")
	w.git("checkout", "--quiet", "-b", "side")
	w.longer()
	w.keep("crooked-side", true)
	w.git("revert", "--no-edit", "HEAD")
	w.git("checkout", "--quiet", "main")
}

// longer makes a side of the seam front-gusset 5 mm longer, wherever it ended.
func (w *workshop) longer() {
	w.t.Helper()
	const name = "pieces/front.piece"
	end := regexp.MustCompile("(?m)^corner top-back .*")
	w.write(name, end.ReplaceAllString(w.read(name), "corner top-back 66 205"))
	w.lengths(name)
}

// wider lets the front out by 10 mm, and by as much on the half not drawn.
func (w *workshop) wider() {
	w.t.Helper()
	w.change("pieces/front.piece", []byte("-corner top-front 0 200\n+corner top-front -10 200\n@@\n-corner hem-front 0 -100\n+corner hem-front -10 -100\n"))
}

// noted commits without asking any hook.
func (w *workshop) noted(trailers string) {
	w.t.Helper()
	w.git("add", "--all")
	w.git("commit", "--quiet", "--allow-empty", "--no-verify", "--message=Try\n\n"+trailers+"\n")
}

// ref is what a ref of the server names, "" for nothing.
func (to guarded) ref(w *workshop, name string) string {
	w.t.Helper()
	out, err := w.try("git", "--git-dir", to.bare, "for-each-ref", "--format=%(objectname)", name)
	require.NoError(w.t, err, out)
	return strings.TrimSpace(out)
}

// refused pushes to one ref, which must stay as it is, and gives what the server
// said, unwrapped. gitprotocol-pack(5), sideband: git shows it after "remote: ".
func (to guarded) refused(w *workshop, from, ref string, flags ...string) string {
	w.t.Helper()
	before := to.ref(w, ref)
	said := w.fails(append(append([]string{"push"}, flags...), "origin", from+":"+ref)...)
	assert.Equal(w.t, before, to.ref(w, ref))
	assert.Contains(w.t, said, "[remote rejected]")
	assert.Contains(w.t, said, map[string]string{"update": "(hook declined)", "pre-receive": "(pre-receive hook declined)"}[to.hook])
	var remote []string
	for line := range strings.Lines(said) {
		if text, ok := strings.CutPrefix(line, "remote: "); ok {
			remote = append(remote, text)
			assert.LessOrEqual(w.t, len(strings.TrimRight(text, " \n")), 80, text)
		}
	}
	return flat(strings.Join(remote, " "))
}

// accepted pushes, which must succeed in silence, and looks at what the ref is then.
func (to guarded) accepted(w *workshop, from, ref string, flags ...string) {
	w.t.Helper()
	said := w.git(append(append([]string{"push", "--quiet"}, flags...), "origin", from+":"+ref)...)
	assert.NotContains(w.t, said, "remote:")
	want := ""
	if from != "" {
		want = w.git("rev-parse", from)
	}
	assert.Equal(w.t, want, to.ref(w, ref))
}

// The lengths are Pythagoras's: edge front.back goes 70 -100, 60 0, 66 205, and
// gusset.front -26 200, -20 0, -30 -100.
func brokenSeam(t *testing.T, w *workshop, to guarded) {
	front := math.Hypot(10, 100) + math.Hypot(6, 205)
	gusset := math.Hypot(6, 200) + math.Hypot(10, 100)
	w.longer()
	w.noted("Alteration: longer")
	said := to.refused(w, "main", "refs/heads/main")
	assert.Contains(t, said, "seam front-gusset: front.back is 5.00 mm longer than gusset.front")
	assert.Contains(t, said, fmt.Sprintf("front.back measures %.2f", front))
	assert.Contains(t, said, fmt.Sprintf("gusset.front measures %.2f", gusset))
	w.run("seamkeep", "true", "front-gusset", "--move", "front")
	w.git("commit", "--quiet", "--all", "--amend", "--no-edit")
	to.accepted(w, "main", "refs/heads/main")
}

// Two fronts, each 10 mm wider at every level, make a girth 20 mm wider; common
// arithmetic.
func untrueClaim(t *testing.T, w *workshop, to guarded) {
	w.wider()
	w.noted("Alteration: wider\nKeeps: girth")
	said := to.refused(w, "main", "refs/heads/main")
	assert.Contains(t, said, "Keeps: girth [claim.untrue]")
	assert.Contains(t, said, "claimed girth at every level unchanged")
	assert.Regexp(t, `measured girth at bust [0-9.]+ -> [0-9.]+, \+20\.0; at waist [0-9.]+ -> [0-9.]+, \+20\.0; at hip`, said)
	w.git("commit", "--quiet", "--amend", "--message=Try\n\nAlteration: wider\nChanges: girth +20\nOnly: front\n")
	to.accepted(w, "main", "refs/heads/main")
}

// What the server has already is not judged again, whatever ref comes to it; a
// deletion brings nothing.
func oldHistory(t *testing.T, w *workshop, to guarded) {
	w.git("tag", "--annotate", "--message=cut", "cut-1", "crooked")
	w.git("notes", "--ref=alterations", "add", "--force", "--message=Because: it pulled", "crooked")
	refs := map[string]string{
		"refs/heads/again": "crooked", "refs/tags/light": "crooked",
		"refs/tags/cut-1": "refs/tags/cut-1", "refs/notes/alterations": "refs/notes/alterations",
	}
	come, leave := []string{"push", "--quiet", "origin"}, []string{"push", "--quiet", "origin"}
	for ref, from := range refs {
		come, leave = append(come, from+":"+ref), append(leave, ":"+ref)
	}
	assert.Empty(t, w.git(come...))
	for ref, from := range refs {
		assert.Equal(t, w.git("rev-parse", from), to.ref(w, ref), ref)
	}
	assert.Empty(t, w.git(leave...))
	for ref := range refs {
		assert.Empty(t, to.ref(w, ref), ref)
	}
	w.git("merge", "--quiet", "--no-ff", "--no-edit", "side")
	to.accepted(w, "main", "refs/heads/main")
}

// A new branch or tag brings only what is new on it, and that is judged.
func newBranch(t *testing.T, w *workshop, to guarded) {
	w.git("checkout", "--quiet", "-b", "fitting", "side")
	w.noted("Alteration: nothing")
	to.accepted(w, "fitting", "refs/tags/fitting")
	w.longer()
	w.noted("Alteration: longer")
	for _, ref := range []string{"refs/heads/longer", "refs/tags/longer"} {
		said := to.refused(w, "fitting", ref)
		assert.Contains(t, said, "seam front-gusset")
		assert.NotContains(t, said, "crooked")
	}
}

// githooks(5), update: the other refs of the push go through.
func severalRefs(t *testing.T, w *workshop, to guarded) {
	w.git("branch", "--force", "sound")
	w.longer()
	w.noted("Alteration: longer")
	said := w.fails("push", "origin", "sound", "main:broken")
	assert.Contains(t, said, "seam front-gusset")
	assert.Empty(t, to.ref(w, "refs/heads/broken"))
	assert.Equal(t, to.hook == "update", to.ref(w, "refs/heads/sound") != "")
}

func forced(t *testing.T, w *workshop, to guarded) {
	w.git("reset", "--quiet", "--hard", "HEAD~1")
	w.longer()
	w.noted("Alteration: longer")
	assert.Contains(t, to.refused(w, "main", "refs/heads/main", "--force"), "seam front-gusset")
	w.git("reset", "--quiet", "--hard", "HEAD~1")
	w.noted("Alteration: nothing-else")
	to.accepted(w, "main", "refs/heads/main", "--force")
	to.accepted(w, "side", "refs/heads/main", "--force") // nothing new
}

// Only branches and tags are judged, so nothing else may vouch for a commit: not
// a ref outside of them, nor a replacement (git-replace(1)).
func otherRefs(t *testing.T, w *workshop, to guarded) {
	w.longer()
	w.noted("Alteration: longer")
	broken := w.git("rev-parse", "HEAD")
	to.accepted(w, "main", "refs/aside/main")
	assert.Contains(t, to.refused(w, broken, "refs/heads/aside"), "seam front-gusset")
	w.git("replace", broken, "HEAD~1")
	w.git("push", "--quiet", "origin", "refs/replace/*")
	assert.Contains(t, to.refused(w, broken, "refs/heads/replaced"), "seam front-gusset")
}

// prePush is the hook of the maker's own git, before a push to a plain folder.
func prePush(t *testing.T, w *workshop) {
	w.past()
	installed(t, filepath.Join(w.dir, ".git", "hooks"), w.program, "pre-push")
	bare := filepath.Join(t.TempDir(), "bodice.git")
	w.git("init", "--quiet", "--bare", bare)
	w.git("remote", "add", "origin", bare)
	w.git("push", "--quiet", "--no-verify", "origin", "main", "side")
	to := guarded{bare: bare}
	// githooks(5), pre-push: a deletion, and refs that bring nothing new
	to.accepted(w, "crooked", "refs/heads/again")
	to.accepted(w, "crooked", "refs/tags/crooked")
	to.accepted(w, "", "refs/heads/again")
	w.git("merge", "--quiet", "--no-ff", "--no-edit", "side")
	w.noted("Alteration: nothing")
	to.accepted(w, "main", "refs/heads/main")
	to.accepted(w, "side", "refs/heads/main", "--force")

	w.longer()
	w.noted("Alteration: longer")
	for _, ref := range []string{"refs/heads/main", "refs/heads/new", "refs/tags/new"} {
		before := to.ref(w, ref)
		said := w.fails("push", "--force", "origin", "HEAD:"+ref)
		assert.Contains(t, flat(said), "seam front-gusset: front.back is 5.00 mm longer than gusset.front")
		assert.NotContains(t, said, "remote:")
		assert.Equal(t, before, to.ref(w, ref))
	}
	to.accepted(w, "HEAD", "refs/heads/new", "--no-verify")
}

// TestMoreRefsThanAHookReads feeds a server's hook more than it will hold: what
// it did not read must not pass.
func TestMoreRefsThanAHookReads(t *testing.T) {
	w := newWorkshop(t, builtProgram(t))
	w.keep("base", false)
	w.longer()
	w.noted("Alteration: longer")
	tip, none := w.git("rev-parse", "HEAD"), strings.Repeat("0", 40)
	gone := fmt.Sprintf("%s %s refs/tags/%s\n", tip, none, strings.Repeat("x", 2000))
	cmd := exec.Command(w.program, "hook", "pre-receive")
	cmd.Dir, cmd.Env = w.dir, w.env
	w.git("checkout", "--quiet", "--detach", "HEAD~1")
	w.git("branch", "--quiet", "--delete", "--force", "main")
	cmd.Stdin = strings.NewReader(strings.Repeat(gone, 20_000) + none + " " + tip + " refs/heads/main\n")
	out, err := cmd.CombinedOutput()
	assert.Error(t, err, string(out))
}
