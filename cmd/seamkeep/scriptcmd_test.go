package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"unicode/utf8"

	"github.com/rogpeppe/go-internal/testscript"

	"seamkeep/cmd/seamkeep/demo"
)

// scriptExits runs a program and wants one exit code: exits 2 seamkeep walk.
func scriptExits(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 2 {
		ts.Fatalf("usage: exits CODE PROGRAM [ARG...]")
	}
	code := 0
	var exit *exec.ExitError
	switch err := ts.Exec(args[1], args[2:]...); {
	case errors.As(err, &exit):
		code = exit.ExitCode()
	case err != nil:
		ts.Fatalf("%v", err)
	}
	if strconv.Itoa(code) != args[0] {
		ts.Fatalf("ended with %d, not %s", code, args[0])
	}
}

// scriptTells looks for words in a text whatever its line breaks:
// tells stdout 'seams off: side 3.00'.
func scriptTells(ts *testscript.TestScript, neg bool, args []string) {
	if len(args) != 2 {
		ts.Fatalf("usage: [!] tells stdout|stderr|FILE TEXT")
	}
	text := strings.Join(strings.Fields(ts.ReadFile(args[0])), " ")
	want := strings.Join(strings.Fields(args[1]), " ")
	if strings.Contains(text, want) == neg {
		ts.Fatalf("%s tells (wanted: %v) %q:\n%s", args[0], !neg, want, ts.ReadFile(args[0]))
	}
}

// scriptFits wants at most 80 columns and, where said, so many lines:
// fits stderr 24.
func scriptFits(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 1 || len(args) > 2 {
		ts.Fatalf("usage: fits stdout|stderr|FILE [LINES]")
	}
	lines := strings.Split(strings.TrimSuffix(ts.ReadFile(args[0]), "\n"), "\n")
	for i, l := range lines {
		if utf8.RuneCountInString(l) > 80 {
			ts.Fatalf("line %d of %s has %d columns: %s", i+1, args[0], utf8.RuneCountInString(l), l)
		}
	}
	if len(args) == 2 {
		if most, err := strconv.Atoi(args[1]); err != nil || len(lines) > most {
			ts.Fatalf("%s has %d lines; at most %s", args[0], len(lines), args[1])
		}
	}
}

// scriptJSON wants a value in a document: json stdout seams[name=side].ok true.
// Numbers are compared to the decimals that are written.
func scriptJSON(ts *testscript.TestScript, neg bool, args []string) {
	if len(args) != 3 {
		ts.Fatalf("usage: [!] json stdout|FILE PATH VALUE")
	}
	var doc any
	dec := json.NewDecoder(strings.NewReader(ts.ReadFile(args[0])))
	ts.Check(dec.Decode(&doc))
	if dec.More() {
		ts.Fatalf("%s holds more than one document", args[0])
	}
	found, err := jsonAt(doc, args[1])
	ts.Check(err)
	if jsonEqual(found, args[2]) == neg {
		ts.Fatalf("%s is %v", args[1], found)
	}
}

func jsonAt(doc any, path string) (any, error) {
	for _, step := range regexp.MustCompile(`[^.\[]+(\[[^\]]*\])?`).FindAllString(path, -1) {
		name, filter, filtered := strings.Cut(strings.TrimSuffix(step, "]"), "[")
		if i, err := strconv.Atoi(name); err == nil {
			list, ok := doc.([]any)
			if !ok || i >= len(list) {
				return nil, fmt.Errorf("no element %d in %v", i, doc)
			}
			doc = list[i]
			continue
		}
		if list, ok := doc.([]any); ok && name == "count" {
			doc = float64(len(list))
			continue
		}
		object, ok := doc.(map[string]any)
		value, has := object[name]
		if !ok || !has {
			return nil, fmt.Errorf("no %q in %v", name, doc)
		}
		doc = value
		if filtered {
			key, want, _ := strings.Cut(filter, "=")
			if doc = jsonPick(doc, key, want); doc == nil {
				return nil, fmt.Errorf("nothing with %s in %s", filter, name)
			}
		}
	}
	return doc, nil
}

func jsonPick(doc any, key, want string) any {
	list, _ := doc.([]any)
	for _, x := range list {
		if object, ok := x.(map[string]any); ok && jsonEqual(object[key], want) {
			return x
		}
	}
	return nil
}

func jsonEqual(found any, want string) bool {
	switch v := found.(type) {
	case nil:
		return want == "null"
	case bool:
		return want == strconv.FormatBool(v)
	case float64:
		_, decimals, _ := strings.Cut(want, ".")
		return strconv.FormatFloat(v, 'f', len(decimals), 64) == want
	case string:
		return want == v
	}
	return false
}

// scriptLay writes a sample of testdata/patterns into a folder.
func scriptLay(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 2 {
		ts.Fatalf("usage: lay SAMPLE FOLDER")
	}
	source := filepath.Join(ts.Getenv("PATTERNS"), args[0])
	ts.Check(filepath.WalkDir(source, func(name string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		rel, err := filepath.Rel(source, name)
		if err != nil {
			return err
		}
		data, err := os.ReadFile(name)
		if err != nil {
			return err
		}
		return putFile(filepath.Join(ts.MkAbs(args[1]), rel), data)
	}))
}

// scriptVersion writes a version of the demo's story into a folder:
// version gusset FOLDER; with "tried" after it, what was tried first.
func scriptVersion(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 2 {
		ts.Fatalf("usage: version NAME FOLDER [tried]")
	}
	list, err := demo.Versions()
	ts.Check(err)
	for _, v := range list {
		if v.Name != args[0] {
			continue
		}
		files := v.Files
		if len(args) > 2 {
			files = v.Refused.Files
		}
		body, measures := demo.Body()
		ts.Check(putFile(filepath.Join(ts.MkAbs(args[1]), body), measures))
		for n, data := range files {
			ts.Check(putFile(filepath.Join(ts.MkAbs(args[1]), filepath.FromSlash(n)), data))
		}
		return
	}
	ts.Fatalf("the demo has no version %q", args[0])
}

func putFile(name string, data []byte) error {
	if err := os.MkdirAll(filepath.Dir(name), 0o755); err != nil {
		return err
	}
	return os.WriteFile(name, data, 0o644)
}

// scriptEdit replaces a text that stands in a file exactly once; \n is a line
// end.
func scriptEdit(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 3 {
		ts.Fatalf("usage: edit FILE OLD NEW")
	}
	line := strings.NewReplacer(`\n`, "\n", `\r`, "\r", `\e`, "\x1b")
	text, old := ts.ReadFile(args[0]), line.Replace(args[1])
	if n := strings.Count(text, old); n != 1 {
		ts.Fatalf("%q stands %d times in %s", old, n, args[0])
	}
	ts.Check(os.WriteFile(ts.MkAbs(args[0]), []byte(strings.Replace(text, old, line.Replace(args[2]), 1)), 0o644))
}

type memory struct{}

// scriptRemember keeps the bytes of files and folders: remember NAME PATH...
func scriptRemember(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 2 {
		ts.Fatalf("usage: remember NAME PATH...")
	}
	ts.Value(memory{}).(map[string]string)[args[0]] = state(ts, args[1:])
}

// scriptUnchanged wants files and folders as they were remembered, byte for
// byte, no more and no fewer.
func scriptUnchanged(ts *testscript.TestScript, neg bool, args []string) {
	if len(args) < 2 {
		ts.Fatalf("usage: [!] unchanged NAME PATH...")
	}
	before, now := ts.Value(memory{}).(map[string]string)[args[0]], state(ts, args[1:])
	if (before == now) == neg {
		ts.Fatalf("%s: changed is %v\nbefore %q\nnow    %q", args[0], before != now, before, now)
	}
}

func state(ts *testscript.TestScript, paths []string) string {
	var b bytes.Buffer
	for _, p := range paths {
		root := ts.MkAbs(p)
		err := filepath.WalkDir(root, func(name string, d fs.DirEntry, err error) error {
			if err != nil {
				return err
			}
			fmt.Fprintf(&b, "\n%s %s ", name, d.Type())
			if d.Type()&fs.ModeSymlink != 0 {
				target, err := os.Readlink(name)
				b.WriteString(target)
				return err
			}
			if d.IsDir() {
				return nil
			}
			data, err := os.ReadFile(name)
			b.Write(data)
			return err
		})
		if errors.Is(err, fs.ErrNotExist) {
			fmt.Fprintf(&b, "\n%s absent", root)
			continue
		}
		ts.Check(err)
	}
	return b.String()
}

// scriptSave puts what a program said, without the last line end, into a
// variable: save HEAD git rev-parse HEAD.
func scriptSave(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 2 {
		ts.Fatalf("usage: save NAME PROGRAM [ARG...]")
	}
	ts.Check(ts.Exec(args[1], args[2:]...))
	ts.Setenv(args[0], strings.TrimRight(ts.ReadFile("stdout"), "\n"))
}
