package web

import (
	"crypto/sha256"
	"encoding/base64"
	"encoding/json"
	"io/fs"
	"mime"
	"net/http"
	"path"
	"strings"
)

// pages are the app's files. They are read once: the server holds them anyway.
type pages struct {
	files map[string]*page // by path, with its slash in front
}

type page struct {
	kind  string
	etag  string
	plain []byte
	gz    []byte
	br    []byte
}

// newPages reads a folder. A file's compressed companions (.gz, .br) are sent where
// the browser takes them.
func newPages(from fs.FS) *pages {
	p := &pages{files: map[string]*page{}}
	if from == nil {
		return p
	}
	_ = fs.WalkDir(from, ".", func(name string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || strings.HasPrefix(path.Base(name), ".") {
			return nil // what cannot be read is not served
		}
		if ext := path.Ext(name); ext == ".gz" || ext == ".br" {
			return nil
		}
		data, err := fs.ReadFile(from, name)
		if err != nil {
			return nil
		}
		sum := sha256.Sum256(data)
		v := &page{kind: pageType(name), etag: quoted(base64.RawURLEncoding.EncodeToString(sum[:12])), plain: data}
		v.gz, _ = fs.ReadFile(from, name+".gz")
		v.br, _ = fs.ReadFile(from, name+".br")
		p.files["/"+name] = v
		return nil
	})
	return p
}

// pageType is a file's type by its name; the system's own table is not asked, since
// it differs from machine to machine.
func pageType(name string) string {
	switch path.Ext(name) {
	case ".html":
		return "text/html; charset=utf-8"
	case ".js", ".mjs":
		return "text/javascript; charset=utf-8"
	case ".css":
		return "text/css; charset=utf-8"
	case ".svg":
		return "image/svg+xml"
	case ".wasm":
		return "application/wasm"
	case ".webmanifest":
		return "application/manifest+json"
	case ".json":
		return "application/json"
	case ".png":
		return "image/png"
	case ".ico":
		return "image/x-icon"
	case ".woff2":
		return "font/woff2"
	case ".txt":
		return "text/plain; charset=utf-8"
	}
	if t := mime.TypeByExtension(path.Ext(name)); t != "" {
		return t
	}
	return "application/octet-stream"
}

func (p *pages) at(name string) *page {
	if name == "/" {
		name = "/index.html"
	}
	return p.files[name]
}

func (p *pages) has(name string) bool { return p.at(name) != nil }

// ServeHTTP sends a file; the app's page for every other address, since the app
// itself finds its way from there.
func (p *pages) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	v := p.at(r.URL.Path)
	if v == nil {
		v = p.at("/")
	}
	if v == nil {
		http.Error(w, "the pages are not built into this program", http.StatusNotFound)
		return
	}
	h := w.Header()
	h.Set("Content-Type", v.kind)
	h.Set("ETag", v.etag)
	h.Set("Vary", "Accept-Encoding")
	h.Set("Cache-Control", "no-cache")
	if strings.HasPrefix(r.URL.Path, "/assets/") && p.has(r.URL.Path) {
		h.Set("Cache-Control", "public, max-age=31536000, immutable")
	}
	if r.Header.Get("If-None-Match") == v.etag {
		w.WriteHeader(http.StatusNotModified)
		return
	}
	body := v.plain
	switch takes := r.Header.Get("Accept-Encoding"); {
	case v.br != nil && strings.Contains(takes, "br"):
		body = v.br
		h.Set("Content-Encoding", "br")
	case v.gz != nil && strings.Contains(takes, "gzip"):
		body = v.gz
		h.Set("Content-Encoding", "gzip")
	}
	h.Set("Content-Length", itoa(len(body)))
	if r.Method != http.MethodHead {
		_, _ = w.Write(body) // the client is gone, or has it
	}
}

// handlePlain registers what is not part of the API.
func (s *Server) handlePlain() {
	plain := func(name string, do http.HandlerFunc) { s.mux.HandleFunc(s.named[name].Pattern(), do) }
	plain("page", s.pages.ServeHTTP)
	plain("metrics", s.metrics)
	plain("health", func(w http.ResponseWriter, r *http.Request) {
		if err := s.store.Ping(r.Context()); err != nil {
			s.log.Error("the database does not answer", "error", err)
			s.refuse(w, http.StatusServiceUnavailable, "the database does not answer")
			return
		}
		w.Header().Set("Content-Type", "text/plain; charset=utf-8")
		_, _ = w.Write([]byte("ok\n"))
	})
	plain("description", func(w http.ResponseWriter, _ *http.Request) {
		w.Header().Set("Content-Type", "application/openapi+json")
		_, _ = w.Write(s.description())
	})
	plain("see-job", s.seeJob)
	plain("see-drawing", s.seeDrawing)
	plain("share-style", func(w http.ResponseWriter, _ *http.Request) {
		w.Header().Set("Content-Type", "text/css; charset=utf-8")
		w.Header().Set("Cache-Control", "no-cache")
		_, _ = w.Write(shareStyle)
	})
}

// description is the API in OpenAPI 3.1.
func (s *Server) description() []byte {
	out, err := json.MarshalIndent(s.api.OpenAPI(), "", "  ")
	if err != nil {
		panic(err) // it was made from Go types
	}
	return append(out, '\n')
}

// Description is the API in OpenAPI 3.1, as JSON.
func (s *Server) Description() []byte { return s.description() }
