// Package checks runs readers that others wrote on files that we wrote, for
// tests. In goes a file's data and the reader's name; out comes what the reader
// saw in it.
//
// The readers are Node modules, pinned in package-lock.json beside this file, and
// LibreOffice. make readers installs them where it can. With STALLWRIGHT_READERS
// set, as .ci/run does, a missing one fails the test; without, the test is skipped
// and says what to install.
package checks

import (
	"bytes"
	"maps"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// Missing skips a test, or fails it where all readers must be there.
func Missing(t testing.TB, what string) {
	t.Helper()
	if os.Getenv("STALLWRIGHT_READERS") != "" {
		t.Fatalf("%s is missing; run make readers", what)
	}
	t.Skipf("%s is missing; run make readers to install it", what)
}

func folder(t testing.TB) string {
	t.Helper()
	_, file, _, ok := runtime.Caller(0)
	if !ok || !filepath.IsAbs(file) {
		t.Skip("the tests were built without file names, so that the folder checks is not found")
	}
	return filepath.Dir(file)
}

// Node runs one of the scripts in this folder on data, a file each, and returns
// what it prints. A file that the script's reader refuses fails the test.
func Node(t testing.TB, script string, data ...[]byte) []byte {
	t.Helper()
	dir := folder(t)
	node, err := exec.LookPath("node")
	if err != nil {
		Missing(t, "Node.js")
	}
	if _, err := os.Stat(filepath.Join(dir, "node_modules")); err != nil {
		Missing(t, "checks/node_modules")
	}
	in, args := t.TempDir(), []string{filepath.Join(dir, script)}
	for i, d := range data {
		name := filepath.Join(in, strconv.Itoa(i))
		if err := os.WriteFile(name, d, 0o600); err != nil {
			t.Fatal(err)
		}
		args = append(args, name)
	}
	return run(t, exec.Command(node, args...))
}

// Browser is what drives the app's pages in a test: paths of Node, of Chromium and
// of the folder in which Node finds the modules that drive it.
type Browser struct{ Node, Chromium, Modules string }

// NewBrowser finds the browser and what drives it.
func NewBrowser(t testing.TB) Browser {
	t.Helper()
	b := Browser{Modules: folder(t) + string(filepath.Separator)}
	for _, v := range []struct {
		path         *string
		name, debian string
	}{{&b.Node, "node", "nodejs"}, {&b.Chromium, "chromium", "chromium"}} {
		path, err := exec.LookPath(v.name)
		if err != nil {
			Missing(t, v.name+" (on Debian: apt-get install "+v.debian+")")
		}
		*v.path = path
	}
	for _, module := range []string{"playwright-core", "axe-core"} {
		if _, err := os.Stat(filepath.Join(b.Modules, "node_modules", module)); err != nil {
			Missing(t, "checks/node_modules/"+module)
		}
	}
	return b
}

// Tool runs a program that others wrote and returns what it prints; debian is the
// package it comes in. Name it in install.sh too.
func Tool(t testing.TB, name, debian string, args ...string) []byte {
	t.Helper()
	path, err := exec.LookPath(name)
	if err != nil {
		Missing(t, name+" (on Debian: apt-get install "+debian+")")
	}
	return run(t, exec.Command(path, args...))
}

// Convert has LibreOffice open files, by name, and write each as another format,
// such as csv or pdf; the names of what it wrote come back in order. It starts
// slowly, so that many files at once take little longer than one.
func Convert(t testing.TB, files map[string][]byte, to string) []string {
	t.Helper()
	office, err := exec.LookPath("soffice")
	if err != nil {
		Missing(t, "LibreOffice (on Debian: apt-get install libreoffice-calc-nogui)")
	}
	in, out := t.TempDir(), t.TempDir()
	args := []string{"-env:UserInstallation=file://" + filepath.ToSlash(t.TempDir()), "--headless", "--convert-to", to, "--outdir", out}
	for _, name := range slices.Sorted(maps.Keys(files)) {
		path := filepath.Join(in, name)
		if err := os.WriteFile(path, files[name], 0o600); err != nil {
			t.Fatal(err)
		}
		args = append(args, path)
	}
	run(t, exec.Command(office, args...))
	made, err := filepath.Glob(filepath.Join(out, "*"))
	if err != nil || len(made) == 0 {
		t.Fatal("LibreOffice wrote nothing")
	}
	return made
}

func run(t testing.TB, c *exec.Cmd) []byte {
	t.Helper()
	var out, errs bytes.Buffer
	c.Stdout, c.Stderr = &out, &errs
	if err := c.Run(); err != nil {
		t.Fatalf("%s: %v\n%s", filepath.Base(c.Path), err, strings.TrimSpace(errs.String()))
	}
	return out.Bytes()
}
