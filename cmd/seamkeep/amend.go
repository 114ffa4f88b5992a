package main

import (
	"os"
	"os/exec"
	"slices"
	"strconv"
	"strings"
)

// amending tells whether the commit under way replaces HEAD. git does not say
// so to a hook: keep does, and otherwise the arguments of the git process that
// called the hook are looked at, where the system shows them; known tells whether it
// did. Not knowing is taken for no.
func (a *app) amending() (amend, known bool) {
	if a.env("SEAMKEEP_AMEND") == "1" {
		return true, true
	}
	pid := os.Getppid()
	for range 4 { // the hook's shell, git, and shells or an alias between them
		parent, args, ok := process(pid)
		if !ok {
			return false, false
		}
		if at := slices.Index(args, "commit"); at >= 0 {
			return amends(args[at+1:]), true
		}
		pid = parent
	}
	return false, false
}

// amends finds --amend, which git lets people shorten, among the words after
// "commit"; not in a message, nor among the paths.
func amends(words []string) bool {
	for i := 0; i < len(words); i++ {
		switch w := words[i]; {
		case w == "--":
			return false
		case w == "-m" || w == "-F" || w == "-C" || w == "-c" || w == "--message" || w == "--file" || w == "--author" || w == "--date":
			i++ // its value
		case len(w) >= len("--am") && strings.HasPrefix("--amend", w):
			return true
		}
	}
	return false
}

// process gives the parent and the arguments of a process, from /proc or ps.
func process(pid int) (parent int, args []string, ok bool) {
	dir := "/proc/" + strconv.Itoa(pid)
	if line, err := os.ReadFile(dir + "/cmdline"); err == nil {
		stat, err := os.ReadFile(dir + "/stat")
		if err != nil {
			return 0, nil, false
		}
		// the second field is the name in brackets and may hold spaces
		_, rest, _ := strings.Cut(string(stat[strings.LastIndexByte(string(stat), ')')+1:]), " ")
		fields := strings.Fields(rest)
		if len(fields) < 2 {
			return 0, nil, false
		}
		parent, err = strconv.Atoi(fields[1])
		return parent, strings.Split(string(line), "\x00"), err == nil
	}
	out, err := exec.Command("ps", "-o", "ppid=,args=", "-p", strconv.Itoa(pid)).Output()
	fields := strings.Fields(string(out))
	if err != nil || len(fields) < 2 {
		return 0, nil, false
	}
	parent, err = strconv.Atoi(fields[0])
	return parent, fields[1:], err == nil
}
