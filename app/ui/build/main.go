// Command build makes the app's pages: TypeScript bundled, the engine built for
// the browser, and everything compressed beforehand. It is run in the top folder
// of the project and writes app/ui/dist. With -quick it compresses a little only,
// for who is at work on the pages.
package main

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"flag"
	"fmt"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"

	"github.com/evanw/esbuild/pkg/api"
)

const (
	home   = "app/ui"
	served = home + "/dist" // what the program takes in
)

// A build works in a folder of its own and puts it in place at the end: what the
// program takes in is whole at all times.
var (
	dist   = fmt.Sprintf("%s/.made-%d", home, os.Getpid())
	assets = dist + "/assets"
)

func main() {
	quick := flag.Bool("quick", false, "compress a little only")
	flag.Parse()
	err := run(*quick)
	if err := errors.Join(err, os.RemoveAll(dist)); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
}

func run(quick bool) error {
	if _, err := os.Stat(home + "/package.json"); err != nil {
		return fmt.Errorf("run this in the project's top folder: %w", err)
	}
	if err := modules(); err != nil {
		return err
	}
	if err := errors.Join(writeTypes(), writeWords()); err != nil {
		return err
	}
	if err := checkTypes(); err != nil {
		return err
	}
	if err := os.MkdirAll(assets, 0o755); err != nil {
		return err
	}
	engine, err := buildEngine()
	if err != nil {
		return err
	}
	names, err := bundle(engine)
	if err != nil {
		return err
	}
	if err := pages(names); err != nil {
		return err
	}
	if err := serviceWorker(); err != nil {
		return err
	}
	if err := compress(quick); err != nil {
		return err
	}
	return place()
}

// modules installs what the lock file names, unless it is installed already.
func modules() error {
	lock, err := os.ReadFile(home + "/package-lock.json")
	if err != nil {
		return err
	}
	mark := home + "/node_modules/.lock-sha256"
	sum := hash(lock)
	if had, err := os.ReadFile(mark); err == nil && string(had) == sum {
		return nil
	}
	if err := command(home, nil, "npm", "ci", "--no-audit", "--no-fund", "--loglevel=error"); err != nil {
		return err
	}
	return os.WriteFile(mark, []byte(sum), 0o644)
}

func checkTypes() error {
	return command(home, nil, filepath.FromSlash("node_modules/.bin/tsc"), "--noEmit")
}

// place puts what was made where the program takes it in.
func place() error {
	if err := os.WriteFile(dist+"/.keep", nil, 0o644); err != nil {
		return err
	}
	before := dist + "-before"
	if err := os.Rename(served, before); err != nil && !errors.Is(err, fs.ErrNotExist) {
		return err
	}
	return errors.Join(os.Rename(dist, served), os.RemoveAll(before))
}

// Code that is not run often is built without inlining: it makes an eighth of what a
// phone loads. What a finger waits for, and what searches, keeps it.
var (
	cold = []string{"stallwright", "github.com", "golang.org/x", "go.yaml.in"}
	hot  = []string{
		"stallwright/engine/measure", "stallwright/engine/reason", "stallwright/engine/kit", "stallwright/engine/fit", "stallwright/engine/takeoff",
		"stallwright/engine/cut/...", "stallwright/engine/schedule", "stallwright/engine/portable", "stallwright/paper/hidden", "github.com/expr-lang/expr/vm/...",
	}
)

// buildEngine builds the engine for the browser and gives its address.
func buildEngine() (string, error) {
	out := assets + "/engine.wasm"
	args := []string{"build", "-trimpath", "-ldflags=-s -w"}
	for _, p := range cold {
		args = append(args, "-gcflags="+p+"/...=-l")
	}
	for _, p := range hot {
		args = append(args, "-gcflags="+p+"=")
	}
	err := command(".", []string{"GOOS=js", "GOARCH=wasm"}, "go", append(args, "-o", out, "./app/page/wasm")...)
	if err != nil {
		return "", err
	}
	data, err := os.ReadFile(out)
	if err != nil {
		return "", err
	}
	name := "engine-" + hash(data)[:10] + ".wasm"
	return "/assets/" + name, os.Rename(out, assets+"/"+name)
}

// bundle bundles the scripts and styles. It gives their addresses by entry point.
func bundle(engine string) (map[string]string, error) {
	root, err := exec.Command("go", "env", "GOROOT").Output()
	if err != nil {
		return nil, fmt.Errorf("go env GOROOT: %w", err)
	}
	glue := filepath.Join(strings.TrimSpace(string(root)), "lib", "wasm", "wasm_exec.js")
	worker, err := build(api.BuildOptions{
		EntryPoints: []string{home + "/src/engine.worker.ts"},
		Define:      map[string]string{"ENGINE": quote(engine)},
		Alias:       map[string]string{"go-glue": glue},
		Format:      api.FormatIIFE,
	})
	if err != nil {
		return nil, err
	}
	pages, err := build(api.BuildOptions{
		EntryPoints:     []string{home + "/src/main.tsx", home + "/src/style.css"},
		Define:          map[string]string{"WORKER": quote(worker["engine.worker.ts"])},
		Format:          api.FormatESModule,
		Splitting:       true,
		JSX:             api.JSXAutomatic,
		JSXImportSource: "preact",
	})
	return pages, err
}

func build(o api.BuildOptions) (map[string]string, error) {
	o.Bundle, o.Write, o.Metafile = true, true, true
	o.MinifyWhitespace, o.MinifyIdentifiers, o.MinifySyntax = true, true, true
	o.Target = api.ES2022
	o.Charset = api.CharsetUTF8
	o.LegalComments = api.LegalCommentsLinked
	o.Outdir = assets
	o.EntryNames, o.ChunkNames = "[name]-[hash]", "[name]-[hash]"
	o.LogLevel = api.LogLevelWarning
	r := api.Build(o)
	if len(r.Errors) > 0 {
		return nil, errors.New("the scripts could not be bundled")
	}
	var meta struct {
		Outputs map[string]struct {
			EntryPoint string `json:"entryPoint"`
		} `json:"outputs"`
	}
	if err := json.Unmarshal([]byte(r.Metafile), &meta); err != nil {
		return nil, err
	}
	names := map[string]string{}
	for path, v := range meta.Outputs {
		if v.EntryPoint != "" {
			names[filepath.Base(v.EntryPoint)] = "/assets/" + filepath.Base(path)
		}
	}
	return names, nil
}

// pages writes the page with the addresses in it, and what stands beside it.
func pages(names map[string]string) error {
	page, err := os.ReadFile(home + "/src/index.html")
	if err != nil {
		return err
	}
	text := strings.NewReplacer("{{main}}", names["main.tsx"], "{{style}}", names["style.css"]).Replace(string(page))
	if strings.Contains(text, "{{") {
		return errors.New("index.html: a place was not filled in")
	}
	if err := os.WriteFile(dist+"/index.html", []byte(text), 0o644); err != nil {
		return err
	}
	return os.CopyFS(dist, os.DirFS(home+"/static"))
}

// serviceWorker bundles the worker that keeps the pages for times without signal.
// It knows every file by name, and changes whenever one of them does.
func serviceWorker() error {
	var files []string
	all := sha256.New()
	err := filepath.WalkDir(dist, func(path string, d os.DirEntry, err error) error {
		if err != nil || d.IsDir() || d.Name() == ".keep" || strings.HasSuffix(path, ".txt") {
			return err
		}
		data, err := os.ReadFile(path)
		if err != nil {
			return err
		}
		address := strings.TrimPrefix(filepath.ToSlash(path), dist)
		fmt.Fprintf(all, "%s %x\n", address, sha256.Sum256(data))
		files = append(files, address)
		return nil
	})
	if err != nil {
		return err
	}
	slices.Sort(files)
	list, err := json.Marshal(files)
	if err != nil {
		return err
	}
	r := api.Build(api.BuildOptions{
		EntryPoints: []string{home + "/src/service.worker.ts"},
		Define:      map[string]string{"FILES": string(list), "VERSION": quote(hex.EncodeToString(all.Sum(nil))[:12])},
		Bundle:      true, Write: true, Format: api.FormatIIFE, Target: api.ES2022,
		MinifyWhitespace: true, MinifySyntax: true, LogLevel: api.LogLevelWarning,
		Outfile: dist + "/service-worker.js",
	})
	if len(r.Errors) > 0 {
		return errors.New("the service worker could not be bundled")
	}
	return nil
}

func command(dir string, env []string, name string, args ...string) error {
	c := exec.Command(name, args...)
	c.Dir, c.Stdout, c.Stderr = dir, os.Stdout, os.Stderr
	c.Env = append(os.Environ(), env...)
	if err := c.Run(); err != nil {
		return fmt.Errorf("%s %s: %w", name, strings.Join(args, " "), err)
	}
	return nil
}

func hash(data []byte) string {
	sum := sha256.Sum256(data)
	return hex.EncodeToString(sum[:])
}

func quote(s string) string {
	out, err := json.Marshal(s)
	if err != nil {
		panic(err) // a text can always be written
	}
	return string(out)
}
