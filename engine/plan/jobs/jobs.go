// Package jobs draws jobs at random, for tests of what must hold of every job. It
// is imported by tests only.
package jobs

import (
	"fmt"
	"strings"

	"pgregory.net/rapid"
)

// jobText draws a job over one of the five structures and one of two kits: most
// are sound, some ask for what cannot be.
type jobText struct {
	t      *rapid.T
	metric bool
	b      strings.Builder
}

func (j *jobText) one(what string, from ...string) string {
	return rapid.SampledFrom(from).Draw(j.t, what)
}

// size draws a length between two numbers of inches, in sixteenths or, for a
// metric job, in millimetres.
func (j *jobText) size(what string, lo, hi int) string {
	if j.metric {
		return fmt.Sprintf("%d mm", rapid.IntRange(lo*254/10, hi*254/10).Draw(j.t, what))
	}
	n := rapid.IntRange(lo*16, hi*16).Draw(j.t, what)
	if j.one(what+" whole", "y", "y", "n") == "y" {
		return fmt.Sprintf("%d in", n/16)
	}
	return fmt.Sprintf("%d %d/16 in", n/16, n%16)
}

func (j *jobText) fill() string {
	switch j.one("fill", "boards", "boards", "grille", "grille", "window", "feeder", "open", "odd") {
	case "grille":
		return j.one("grille", "grille", "{fill: grille, below: 6}", "{fill: grille, below: 8, above: 3}", "{fill: grille, treated: 2}")
	case "window":
		return j.one("window", "{fill: window}", "{fill: window, sill: 7}", "{fill: window, from: "+j.size("from", 2, 80)+"}")
	case "feeder":
		return j.one("feeder", "feeder", "{fill: feeder, hand: right}", "{fill: feeder, below: 7, above: 1}")
	case "open":
		return "open"
	case "odd":
		return j.one("odd", "{fill: grille, grille: none}", "{fill: grille, below: 40}", "{fill: window, sill: 30}", "{fill: boards, treated: 50}", "{fill: grille, below: 1, above: 1}")
	}
	return "boards"
}

func (j *jobText) door() string {
	if j.metric {
		return j.one("door", "slide-1200", "slide-1200", "swing-1200", "swing-900", "pair-2400")
	}
	return j.one("door", "slide-48", "slide-48", "swing-48", "pair-96")
}

func (j *jobText) front() string {
	if j.one("front", "door", "door", "door", "whole") == "whole" {
		return j.fillWord()
	}
	return fmt.Sprintf("{door: %s, at: %s, slides: %s, hinge: %s, panels: %s}", j.door(),
		j.one("at", "left", "left", "right", "centre", j.size("place", 20, 120)), j.one("slides", "left", "right"), j.one("hinge", "left", "right"), j.fill())
}

func (j *jobText) fillWord() string { return j.one("whole", "boards", "grille", "open", "window") }

func (j *jobText) rooms(n int, width bool) {
	for i := range n {
		fmt.Fprintf(&j.b, "        - {kind: %s", j.one("kind", "stall", "stall", "stall", "foaling", "tack", "feed", "wash", "passage", "open"))
		if width && j.one("own width", "y", "n", "n") == "y" {
			fmt.Fprintf(&j.b, ", width: %s", j.size("width", 70, 190))
		}
		for _, side := range []string{"left", "right", "back"} {
			// Shared walls are stated once, by the room on their left.
			if (side == "right" || i == 0 || side == "back") && j.one(side, "y", "n", "n", "n") == "y" {
				fmt.Fprintf(&j.b, ", %s: %s", side, j.fill())
			}
		}
		if j.one("own front", "y", "n", "n") == "y" {
			fmt.Fprintf(&j.b, ", front: %s", j.front())
		}
		j.b.WriteString("}\n")
	}
}

func (j *jobText) row(kind string) {
	n := rapid.IntRange(1, 4).Draw(j.t, "rooms")
	rows := map[string][]string{"barn-row": {"one", "facing", "back-to-back"}, "free-row": {"single", "facing"}, "free-barn": {"single", "facing"}}[kind]
	r := j.one("rows", rows...)
	fmt.Fprintf(&j.b, "  - %s:\n      name: A\n      rows: %s\n      depth: %s\n", kind, r, j.size("depth", 90, 190))
	if r == "facing" {
		fmt.Fprintf(&j.b, "      aisle: %s\n", j.size("aisle", 90, 190))
	}
	if kind == "barn-row" {
		fmt.Fprintf(&j.b, "      post: %s\n      spacing: %s\n", j.size("post", 4, 8), j.size("spacing", 90, 190))
		if j.one("moved", "y", "n") == "y" {
			fmt.Fprintf(&j.b, "      offsets: [{post: A.b1, along: %s}]\n", j.size("offset", 1, 2))
		}
	} else {
		fmt.Fprintf(&j.b, "      width: %s\n", j.size("width", 90, 190))
	}
	if kind == "free-barn" {
		fmt.Fprintf(&j.b, "      roof: {eave: %s, pitch: 4/12}\n", j.size("eave", 100, 140))
	}
	for _, key := range []string{"dividers", "sides", "back"} {
		fmt.Fprintf(&j.b, "      %s: %s\n", key, j.fill())
	}
	fmt.Fprintf(&j.b, "      fronts: %s\n      rooms:\n", j.front())
	j.rooms(n, kind != "barn-row")
}

func (j *jobText) pen() {
	j.b.WriteString("  - pen:\n      name: P\n")
	switch j.one("pen by", "sections", "across", "both") {
	case "sections":
		fmt.Fprintf(&j.b, "      sections: %d\n      section: %s\n", rapid.IntRange(3, 24).Draw(j.t, "sections"), j.size("section", 60, 170))
	case "across":
		fmt.Fprintf(&j.b, "      across: %s\n      measured: %s\n", j.size("across", 300, 900), j.one("measured", "pins", "flats", "corners"))
	case "both":
		fmt.Fprintf(&j.b, "      across: %s\n      sections: %d\n", j.size("across", 300, 900), rapid.IntRange(8, 24).Draw(j.t, "sections"))
	}
	if j.one("gate", "y", "n") == "y" {
		fmt.Fprintf(&j.b, "      gate: {length: %s, toward: %d°}\n", j.size("gate length", 90, 190), rapid.IntRange(0, 359).Draw(j.t, "toward"))
	}
	if j.one("different", "y", "n", "n") == "y" {
		fmt.Fprintf(&j.b, "      different: [{at: 3, length: %s}]\n", j.size("different", 60, 170))
	}
	fmt.Fprintf(&j.b, "      fill: %s\n", j.one("pen fill", "boards", "boards", "grille", "open"))
}

func (j *jobText) form() {
	timber := j.one("posts", "timber", "steel")
	post, assembly, bay := "timber: "+j.size("thick", 4, 8), "timber-wall", "barn-front"
	if j.metric {
		bay = "timber-frame"
	}
	if timber == "steel" {
		post, assembly, bay = "post: line-post", "free-wall", "free-wall"
		if j.metric {
			post, assembly, bay = "post: tee-70", "free-frame", "free-frame"
		}
	}
	w, d := j.size("w", 90, 190), j.size("d", 90, 190)
	zero := "0 in"
	if j.metric {
		zero = "0 mm"
	}
	fmt.Fprintf(&j.b, "  - free-form:\n      name: F\n      height: %s\n      posts:\n", j.size("height", 60, 110))
	for _, v := range [][3]string{{"a", zero, zero}, {"b", w, zero}, {"c", w, d}, {"d", zero, d}} {
		fmt.Fprintf(&j.b, "        - {name: %s, x: %s, y: %s, %s}\n", v[0], v[1], v[2], post)
	}
	fmt.Fprintf(&j.b, "      walls:\n        - {name: south, role: front, posts: [a, b], assembly: %s, doors: [{run: 1, front: %s}]}\n", bay, j.front())
	for _, v := range [][2]string{{"east", "[b, c]"}, {"north", "[c, d]"}, {"west", "[d, a]"}} {
		fmt.Fprintf(&j.b, "        - {name: %s, posts: %s, assembly: %s, fill: %s}\n", v[0], v[1], assembly, j.fill())
	}
}

// Kinds are the structures that jobs are drawn over.
var Kinds = []string{"pen", "barn-row", "free-row", "free-barn", "free-form"}

// Draw draws the text of a whole job over one kind of structure. Most are sound,
// some ask for what cannot be: job.Read or plan.Make then refuses them.
func Draw(t *rapid.T, kind string) string {
	j := &jobText{t: t, metric: rapid.Bool().Draw(t, "metric")}
	units, line := "feet", "fernhollow"
	if j.metric {
		units, line = "metric", "nordhag"
	}
	fmt.Fprintf(&j.b, "job: drawn\nunits: %s\nkit: %s\nfarm: {name: Drawn}\n", units, line)
	if j.metric {
		fmt.Fprintf(&j.b, "lumber: {species: spruce-pine-fir, thickness: 40 mm, tongue: %d mm, lengths: [3 m, 4 m, 5 m], coverage: %d mm}\n", rapid.IntRange(0, 15).Draw(t, "tongue"), rapid.IntRange(90, 180).Draw(t, "coverage"))
	} else {
		fmt.Fprintf(&j.b, "lumber: {species: southern-pine, tongue: %s, lengths: [8 ft, 12 ft, 16 ft], ten_boards: %s}\n", j.one("tongue", "0 in", "1/4 in", "3/8 in", "1/2 in"), j.size("ten boards", 40, 72))
	}
	if j.one("own height", "y", "n") == "y" {
		fmt.Fprintf(&j.b, "height: %s\n", j.size("height", 60, 120))
	}
	j.b.WriteString("structures:\n")
	switch kind {
	case "pen":
		j.pen()
	case "free-form":
		j.form()
	default:
		j.row(kind)
	}
	j.onSite(kind)
	return j.b.String()
}

// onSite draws what was measured of one bay, and what crosses it.
func (j *jobText) onSite(kind string) {
	bay := map[string]string{"pen": "P-2", "free-form": "west", "barn-row": "A1-left", "free-row": "A1-left", "free-barn": "A1-left"}[kind]
	if j.one("tapers", "y", "n") == "y" {
		inch := 16
		if j.metric {
			inch = 25
		}
		base, most := inch*rapid.IntRange(60, 180).Draw(j.t, "width"), inch
		if j.one("steep", "n", "n", "y") == "y" {
			most *= 12
		}
		read := func(what string) string {
			n := base + rapid.IntRange(0, most).Draw(j.t, what)
			if j.metric {
				return fmt.Sprintf("%d mm", n)
			}
			return fmt.Sprintf("%d %d/16 in", n/16, n%16)
		}
		fmt.Fprintf(&j.b, "measurements:\n  - {bay: %s, width: {bottom: %s, middle: %s, top: %s}}\n", bay, read("bottom"), read("middle"), read("top"))
		if shim := j.one("shim", "no", "no", "false", "true"); shim != "no" && kind == "barn-row" {
			fmt.Fprintf(&j.b, "bays: {%s: {shim: %s}}\n", bay, shim)
		}
	}
	if j.one("crossed", "y", "n") == "n" {
		return
	}
	j.b.WriteString("obstructions:\n")
	for range rapid.IntRange(1, 3).Draw(j.t, "obstructions") {
		fmt.Fprintf(&j.b, "  - {bay: %s, what: %s, left: %s, %s: %s, height: %s", bay, j.one("what", "brace", "girt", "curb", "pipe", "track", "other"),
			j.size("left", 1, 150), j.one("from", "above_datum", "above_floor"), j.size("up", 1, 90), j.size("high", 1, 20))
		if j.one("band", "y", "n") == "n" {
			fmt.Fprintf(&j.b, ", width: %s", j.size("wide", 1, 60))
		}
		if j.one("through", "y", "n") == "n" {
			fmt.Fprintf(&j.b, ", face: %s, into: %s", j.one("face", "front", "back"), j.one("into", "0 mm", "1/2 in", "12 mm", "1 in"))
		}
		j.b.WriteString("}\n")
	}
}
