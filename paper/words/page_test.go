package words

import (
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"testing"
)

// Pages name a message by its key in quotes; say gives it its values by name.
var (
	pageKey    = regexp.MustCompile(`"(app\.[a-z0-9]+(?:-[a-z0-9]+)*)"`)
	pageCall   = regexp.MustCompile(`\bsay\(\s*"(app\.[a-z0-9-]+)"\s*(?:,\s*\{([^{}]*)\}\s*)?\)`)
	pageValue  = regexp.MustCompile(`(?:^|,)\s*([a-z0-9]+)\s*(?::|,|$)`)
	pageNested = regexp.MustCompile(`\([^()]*\)`)
)

// pageUses are the places in the app's pages that name a message. The values of a
// call are checked by the build, too: each key has its type there.
func pageUses(t *testing.T) []use {
	t.Helper()
	var out []use
	err := filepath.WalkDir(root+"/app/ui/src", func(path string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if d.IsDir() && d.Name() == "made" {
			return filepath.SkipDir // made from the catalogue
		}
		if ext := filepath.Ext(path); ext != ".ts" && ext != ".tsx" {
			return nil
		}
		text, err := os.ReadFile(path)
		if err != nil {
			return err
		}
		for _, m := range pageKey.FindAllStringSubmatch(string(text), -1) {
			out = append(out, use{at: filepath.ToSlash(path), key: m[1]})
		}
		for _, m := range pageCall.FindAllStringSubmatch(string(text), -1) {
			u := use{at: filepath.ToSlash(path), key: m[1], all: true}
			for _, v := range pageValue.FindAllStringSubmatch(pageNested.ReplaceAllString(m[2], ""), -1) {
				u.values = append(u.values, v[1])
			}
			out = append(out, u)
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	if len(out) < 100 {
		t.Errorf("only %d messages are said by the pages; the search has lost its way", len(out))
	}
	return out
}

// What Area gives back is what a file may hold: read again, it is the same.
func TestAreaIsAsWritten(t *testing.T) {
	c, err := Shipped()
	if err != nil {
		t.Fatal(err)
	}
	for _, l := range c.Languages() {
		all, err := c.entries(l.Tag)
		if err != nil {
			t.Fatal(err)
		}
		list, err := c.Area(l.Tag, "walk")
		if err != nil || len(list) < 50 {
			t.Fatalf("%s: %d messages, %v", l.Tag, len(list), err)
		}
		for _, m := range list {
			e := all.of[m.Key]
			if !slices.Equal(m.Values, e.names()) || m.Plural != e.plural || len(m.Texts) != len(e.forms) {
				t.Errorf("%s %s: %+v", l.Tag, m.Key, m)
			}
			for name, text := range m.Texts {
				again, err := split(text)
				if err != nil || !slices.Equal(again, e.forms[formNames[name]]) {
					t.Errorf("%s %s %s: %q reads as %v, %v", l.Tag, m.Key, name, text, again, err)
				}
			}
		}
	}
	braces := []segment{{literal: "a { b } "}, {name: "v", capital: true}, {literal: "}"}}
	again, err := split(written(braces))
	if err != nil || written(again) != "a {{ b }} {^v}}}" {
		t.Errorf("%q reads as %v, %v", written(braces), again, err)
	}
}
