// Package story plays the app's whole story in a real browser against the real
// server: from a new job to the signed-off row, with the network cut in between, on
// a phone's screen and a desktop's, by several people at once.
//
// The story itself is told by the Node programs beside this file; they need
// Chromium (Debian's), Node and the modules pinned in checks/. Where something is
// missing the test is skipped and says what; with STALLWRIGHT_READERS set that is
// an error. STALLWRIGHT_SCREENS names a folder that gets pictures of every page.
package story

import (
	"bufio"
	"bytes"
	"context"
	"crypto/ecdsa"
	"crypto/elliptic"
	"crypto/rand"
	"crypto/x509"
	"encoding/pem"
	"io"
	"io/fs"
	"math/big"
	"net"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"syscall"
	"testing"
	"time"

	"stallwright/checks"
)

// root is the top of the module.
const root = "../../.."

// within is how long one part may take at the most; it takes a fraction of that.
const within = 8 * time.Minute

// One phone's story and one desktop's, each with a second device that looks on;
// then the office's, the doors' and the languages'.
func TestStory(t *testing.T) {
	if testing.Short() {
		t.Skip("the story in the browser takes a minute")
	}
	b := checks.NewBrowser(t)
	build(t)
	program := filepath.Join(t.TempDir(), "stallwright")
	command(t, root, "go", "build", "-o", program, "./cmd/stallwright")
	open := serve(t, program, t.TempDir(), "--listen", "127.0.0.1:0")
	for _, part := range [][]string{{"crew", "phone"}, {"crew", "desktop"}, {"office"}, {"words"}} {
		t.Run(strings.Join(part, " "), func(t *testing.T) {
			t.Parallel()
			play(t, b, open, part...)
		})
	}
	t.Run("shop", func(t *testing.T) {
		t.Parallel()
		play(t, b, serve(t, program, t.TempDir(), "--listen", "127.0.0.1:0", "--demo"), "shop")
	})
	t.Run("doors", func(t *testing.T) {
		t.Parallel()
		play(t, b, guarded(t, program), "doors")
	})
}

// guarded starts a server as it stands on a network: https, and nobody comes in
// without an account.
func guarded(t *testing.T, program string) string {
	dir := t.TempDir()
	for _, who := range [][2]string{{"Olga", "owner"}, {"Cris", "crew"}, {"Sam", "saw"}} {
		c := exec.Command(program, "account", "add", who[0], "--role", who[1], "--data", dir)
		c.Stdin = strings.NewReader("four words are good\n")
		if out, err := c.CombinedOutput(); err != nil {
			t.Fatalf("%v: %s", err, out)
		}
	}
	cert, key := certificate(t)
	return serve(t, program, dir, "--listen", "0.0.0.0:0", "--tls-cert", cert, "--tls-key", key)
}

// play runs one part of the story.
func play(t *testing.T, b checks.Browser, address string, part ...string) {
	ctx, stop := context.WithTimeout(context.Background(), within)
	defer stop()
	c := exec.CommandContext(ctx, b.Node, append([]string{"main.mjs"}, part...)...)
	c.Env = append(os.Environ(), "STORY_ADDRESS="+address, "STORY_MODULES="+b.Modules, "STORY_CHROMIUM="+b.Chromium)
	var out bytes.Buffer
	c.Stdout, c.Stderr = &out, &out
	if err := c.Run(); err != nil {
		t.Fatalf("%v\n%s", err, out.String())
	}
	if out.Len() > 0 {
		t.Log("\n" + out.String())
	}
}

var ready = regexp.MustCompile(`ready: (https?)://(\S+)`)

// serve starts the program and gives its address on this machine.
func serve(t *testing.T, program, dir string, args ...string) string {
	t.Helper()
	var errs bytes.Buffer
	c := exec.Command(program, append([]string{"serve", "--quiet", "--data", dir}, args...)...)
	c.Stderr = &errs
	out, err := c.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := c.Start(); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		_ = c.Process.Signal(syscall.SIGTERM)
		_ = c.Wait() // it was told to end
		if s := errs.String(); strings.Contains(s, "panic") {
			t.Errorf("the server told: %s", s)
		}
	})
	first, _ := bufio.NewReader(out).ReadString('\n')
	m := ready.FindStringSubmatch(first)
	if m == nil {
		t.Fatalf("the server does not start: %q %s", first, errs.String())
	}
	go func() { _, _ = io.Copy(io.Discard, out) }()
	_, port, err := net.SplitHostPort(m[2])
	if err != nil {
		t.Fatal(err)
	}
	return m[1] + "://127.0.0.1:" + port
}

// build builds the pages unless they are as new as what they are made from.
func build(t *testing.T) {
	t.Helper()
	made, err := os.Stat(root + "/app/ui/dist/index.html")
	if err == nil && !newer(t, made.ModTime()) {
		return
	}
	if _, err := exec.LookPath("npm"); err != nil {
		checks.Missing(t, "npm, to build the pages (on Debian: apt-get install npm)")
	}
	command(t, root, "go", "run", "./app/ui/build", "-quick")
}

// newer says whether a source of the pages was changed after a time.
func newer(t *testing.T, than time.Time) bool {
	t.Helper()
	for _, dir := range []string{"app/ui/src", "app/ui/static", "app/ui/package-lock.json", "app/page", "app/walk", "app/sawing", "app/record", "engine", "paper"} {
		changed := false
		err := filepath.WalkDir(filepath.Join(root, dir), func(path string, d fs.DirEntry, err error) error {
			if err != nil || d.IsDir() && (d.Name() == "testdata" || d.Name() == "made") {
				if err == nil {
					err = filepath.SkipDir
				}
				return err
			}
			if d.IsDir() || strings.HasSuffix(path, "_test.go") {
				return nil
			}
			i, err := d.Info()
			if err == nil && i.ModTime().After(than) {
				changed = true
				return filepath.SkipAll
			}
			return err
		})
		if err != nil {
			t.Fatal(err)
		}
		if changed {
			return true
		}
	}
	return false
}

func command(t *testing.T, dir, name string, args ...string) {
	t.Helper()
	c := exec.Command(name, args...)
	c.Dir = dir
	if out, err := c.CombinedOutput(); err != nil {
		t.Fatalf("%s %s: %v\n%s", name, strings.Join(args, " "), err, out)
	}
}

// certificate makes one for this machine, for the time of a test.
func certificate(t *testing.T) (cert, key string) {
	t.Helper()
	k, err := ecdsa.GenerateKey(elliptic.P256(), rand.Reader)
	if err != nil {
		t.Fatal(err)
	}
	now := time.Now()
	template := &x509.Certificate{SerialNumber: big.NewInt(1), NotBefore: now.Add(-time.Hour), NotAfter: now.Add(time.Hour), IPAddresses: []net.IP{net.IPv4(127, 0, 0, 1)}}
	der, err := x509.CreateCertificate(rand.Reader, template, template, &k.PublicKey, k)
	if err != nil {
		t.Fatal(err)
	}
	raw, err := x509.MarshalECPrivateKey(k)
	if err != nil {
		t.Fatal(err)
	}
	dir := t.TempDir()
	cert, key = filepath.Join(dir, "cert.pem"), filepath.Join(dir, "key.pem")
	for name, b := range map[string]*pem.Block{cert: {Type: "CERTIFICATE", Bytes: der}, key: {Type: "EC PRIVATE KEY", Bytes: raw}} {
		if err := os.WriteFile(name, pem.EncodeToMemory(b), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	return cert, key
}
