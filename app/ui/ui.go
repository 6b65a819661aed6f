// Package ui holds the pages and scripts of the app, as built by ./build into
// dist. Where they were not built, it holds one page that says so.
package ui

import (
	"embed"
	"io/fs"
)

//go:embed all:dist
var dist embed.FS

//go:embed unbuilt
var unbuilt embed.FS

// Files are what the server hands out: index.html at the top, everything that
// never changes under its name in assets, each also as .br and .gz. built is
// false where nothing but the page that says so is there.
func Files() (files fs.FS, built bool) {
	files, err := fs.Sub(dist, "dist")
	if err == nil {
		if _, err = fs.Stat(files, "index.html"); err == nil {
			return files, true
		}
	}
	files, err = fs.Sub(unbuilt, "unbuilt")
	if err != nil {
		panic(err) // the embedded folder has a valid name
	}
	return files, false
}
