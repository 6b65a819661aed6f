// Command build makes the app's pages: TypeScript bundled, the engine built for
// the browser, and everything compressed beforehand. It is run in the top folder
// of the project and writes app/ui/dist.
package main

import (
	"bytes"
	"compress/gzip"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"

	"github.com/andybalholm/brotli"
	"github.com/evanw/esbuild/pkg/api"
)

const (
	home   = "app/ui"
	dist   = home + "/dist"
	assets = dist + "/assets"
)

func main() {
	if err := run(); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
}

func run() error {
	if _, err := os.Stat(home + "/package.json"); err != nil {
		return fmt.Errorf("run this in the project's top folder: %w", err)
	}
	if err := modules(); err != nil {
		return err
	}
	if err := writeTypes(); err != nil {
		return err
	}
	if err := checkTypes(); err != nil {
		return err
	}
	if err := clear(); err != nil {
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
	return compress()
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

// clear empties dist of what an earlier build left.
func clear() error {
	entries, err := os.ReadDir(dist)
	if err != nil {
		return err
	}
	for _, e := range entries {
		if e.Name() != ".keep" {
			if err := os.RemoveAll(filepath.Join(dist, e.Name())); err != nil {
				return err
			}
		}
	}
	return os.MkdirAll(assets, 0o755)
}

// buildEngine builds the engine for the browser and gives its address.
func buildEngine() (string, error) {
	out := assets + "/engine.wasm"
	err := command(".", []string{"GOOS=js", "GOARCH=wasm"}, "go", "build", "-trimpath", "-ldflags=-s -w", "-o", out, "./app/page/wasm")
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
		fmt.Fprintf(all, "%s %x\n", path, sha256.Sum256(data))
		files = append(files, strings.TrimPrefix(filepath.ToSlash(path), dist))
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

// compress writes .gz and .br beside every file that gets smaller, and tells
// sizes of what a phone loads.
func compress() error {
	return filepath.WalkDir(dist, func(path string, d os.DirEntry, err error) error {
		if err != nil || d.IsDir() || d.Name() == ".keep" || strings.HasSuffix(path, ".br") || strings.HasSuffix(path, ".gz") {
			return err
		}
		data, err := os.ReadFile(path)
		if err != nil || len(data) < 1024 {
			return err
		}
		var zipped, small bytes.Buffer
		z, err := gzip.NewWriterLevel(&zipped, gzip.BestCompression)
		if err != nil {
			return err
		}
		b := brotli.NewWriterLevel(&small, brotli.BestCompression)
		if _, err := z.Write(data); err != nil {
			return err
		}
		if _, err := b.Write(data); err != nil {
			return err
		}
		if err := errors.Join(z.Close(), b.Close()); err != nil {
			return err
		}
		if small.Len() >= len(data) {
			return nil
		}
		fmt.Printf("%9d %9d  %s\n", len(data), small.Len(), strings.TrimPrefix(filepath.ToSlash(path), dist))
		if err := os.WriteFile(path+".gz", zipped.Bytes(), 0o644); err != nil {
			return err
		}
		return os.WriteFile(path+".br", small.Bytes(), 0o644)
	})
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
