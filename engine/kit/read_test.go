package kit_test

import (
	"errors"
	"fmt"
	"os"
	"strings"
	"testing"
	"unicode/utf8"

	"stallwright/engine/document"
	"stallwright/engine/kit"
	"stallwright/engine/measure"
)

func checkKit(t testing.TB) string {
	t.Helper()
	src, err := os.ReadFile("../plan/testdata/check.yaml")
	if err != nil {
		t.Fatal(err)
	}
	return string(src)
}

func problems(t testing.TB, src string) document.Problems {
	t.Helper()
	_, err := kit.Read("kit.yaml", []byte(src))
	var ps document.Problems
	if err != nil && !errors.As(err, &ps) {
		t.Fatalf("an error that is no list of mistakes: %v", err)
	}
	return ps
}

func TestShippedKitsRead(t *testing.T) {
	if len(kit.ShippedNames()) < 2 {
		t.Errorf("ships %v", kit.ShippedNames())
	}
	units := map[measure.System]bool{}
	for _, name := range kit.ShippedNames() {
		file, src, ok := kit.Shipped(name)
		if !ok {
			t.Fatalf("%s does not ship", name)
		}
		k, err := kit.Read(file, src)
		if err != nil {
			t.Fatal(err)
		}
		if k.Kit != name {
			t.Errorf("%s calls itself %s", name, k.Kit)
		}
		units[k.Units] = true
	}
	if len(units) != 2 {
		t.Error("no kit in feet or none in metric")
	}
	for _, name := range []string{"", "none", "../check", "lines/fernhollow", `a\b`} {
		if _, _, ok := kit.Shipped(name); ok {
			t.Errorf("%q ships", name)
		}
	}
}

// place takes the mark › out of a text and gives its line and column.
func place(src string) (text string, line, column int) {
	before, after, _ := strings.Cut(src, "›")
	line = 1 + strings.Count(before, "\n")
	column = 1 + utf8.RuneCountInString(before[strings.LastIndexByte(before, '\n')+1:])
	return before + after, line, column
}

// Each row breaks the check kit in one way; › marks where the mistake must be
// told. A row without it needs only the line's start or another place.
func TestMistakes(t *testing.T) {
	sound := checkKit(t)
	for _, c := range []struct{ old, new, message, hint string }{
		{"kit: check\n", "kit: check\n›kitchen: 1\n", "unknown key", ""},
		{`engage: 3/4"`, `engage: ›0"`, "engage must be more than nothing", "measured"},
		{`end_play: 1/4"`, `end_play: ›-1/4"`, "between nothing and 100 m", "sign"},
		{"length: clear - end_play", "length: ›clear - play", `unknown name play`, "small expression"},
		{"length: clear - end_play", "length: ›clear * clear", "mismatched types", "small expression"},
		{"length: clear - end_play", "length: ›3", "must come to a length, but comes to a count", ""},
		{"length: clear - end_play", "length: ›zone", `"zone" is not known here; known here: clear, end_play`, ""},
		{"length: clear - end_play", "length: ›clear - L(\"2 quarters\")", "2 quarters", ""},
		{"web: 3/16\"", "web: ›0\"", "web must be more than nothing", ""},
		{"inside: 1 3/4\"\n    leg: 1 1/2\"", "inside: 1 3/4\"\n    leg: ›15/16\"", "leg is under engage + end_play", `at least 1"`},
		{"{id: hinge, name: hinge, mass: 2 lb}", "{id: hinge, name: hinge, mass: 2 lb}\n  - {id: ›roller, name: hinge, mass: 2 lb}", `the id "roller" is given twice`, "of its own"},
		{"height: zone, per: 3 lb/ft}", "height: zone}", "needs a mass", "mass: 24 lb"},
		{"plate: 1/4\", mass: 1 lb", "plate: 1/4\", mass: -1 lb", "mass of bracket must lie between", "sign"},
		{"least: 1/2\", most: 2 1/2\"", "least: 1/2\", most: ›7/8\"", "no travel", "most"},
		{"widths: [44\", 64\", 88\", 112\", 140\"]", "widths: ›[12\", 64\"]", "vanish when trimmed", "end to end"},
		{"mesh: 2\", trim: 6\", per: 7 lb/ft}\n  - {id: mesh-narrow", "trim: 6\", per: 7 lb/ft}\n  - {id: mesh-narrow", "either mesh, or bar, pitch and margin", "mesh: 2"},
		{"margin: 3 1/2\", trim: 3\"", "margin: 3 1/2\", trim: ›3 1/16\"", "cut into the first bar", `at most 3"`},
		{"bar: 1\", pitch: 3\"", "bar: 1\", pitch: ›1\"", "the bars touch", "centre to centre"},
		{"height: 31 3/8\", lower: 1\", upper: 3/4\", mesh: 2\", trim: 6\", per: 7 lb/ft}\n  - {id: mesh-narrow", "height: ›1 3/4\", lower: 1\", upper: 3/4\", mesh: 2\", trim: 6\", per: 7 lb/ft}\n  - {id: mesh-narrow", "no higher than what its two channels swallow", ""},
		{"height: 91 1/2\"", "height: 90 3/4\"", "the panels add up to 7' 7\"", "fit the leaf"},
		{"width: 51 1/2\"", "width: ›50 7/8\"", "lap both jambs", `at least 4' 3"`},
		{"stem_least: 1 1/4\"\n      stem_most: 2 3/4\"", "stem_least: 1 1/4\"\n      stem_most: ›1 1/4\"", "no range", ""},
		{"anti_lift: 1\"", "anti_lift: ›3\"", "no room for the leaf", "stem_most"},
		{"track: track\n", "track: ›trak\n", `no component "trak"`, "did you mean track"},
		{"track: track\n", "track: ›bolt\n", `"bolt" is a fastener, which does not belong here`, ""},
		{"- {use: roller, count: 2}", "- {use: roller, count: ›2 / 2}", "comes to a broken number; to divide and stay whole", ""},
		{"- {use: roller, count: 2}", "- {use: roller, count: ›two}", "unknown name two", ""},
		{"- {use: roller, count: 2}", "- {use: ›rollr, count: 2}", `no component "rollr"`, "did you mean roller"},
		{"kind: swing\n", "kind: ›swinging\n", "not one of the allowed words", "swing"},
		{"    hinge: {hinge_gap: 1/2\", latch_gap: 3/8\", latch_most: 1\", floor_gap: 2\"}\n", "", "two-leaf door needs hinge", "gaps"},
		{"{id: foot, name: foot plate, kind: ground, size: 6\", mass: 3 lb}", "›{id: foot, name: foot plate, kind: pier, mass: 3 lb}", "a pier needs a diameter and a depth", "frost"},
		{"lengths: [8\"]", "lengths: ›[]", "at least one length", ""},
		{"lengths: [8\"]", "lengths: ›[0\"]", "more than nothing", ""},
		{"ends: channel\n    end: u\n", "ends: channel\n    end: ›corner\n", `"corner" is a post, which does not belong here`, "one of: u"},
		{"restraint: screwed\n", "restraint: ›screws\n", "not one of the allowed words", "screwed"},
		{"end: u\n    restraint: screwed\n", "end: u\n    restraint: screwed\n    clamp: ›clamp\n", "no tube above it to clamp from", ""},
		{"pen: {section: pen-section, gate: pen-section", "pen: {section: ›timber-wall, gate: pen-section", "has channel ends, which do not suit here", "own"},
		{"sections: [12']", "sections: ›[]", "at least one section length", ""},
		{"front: stall-front, divider", "front: ›stall-fronts, divider", `no assembly "stall-fronts"`, "did you mean stall-front"},
		{"corner: column, line: column", "corner: ›tee, line: column", "does not suit here", "roof"},
		{"use: lag-half, count: 2, length: 'L(\"3 1/2 in\")', where", "use: lag-half, count: 2, where", "bought in 3 lengths; say which", "length"},
		{"when: structure == \"pen\"", "when: ›structure", "must come to true or false, but comes to text", ""},
		{"when: structure == \"pen\"", "when: ›clear > 3", "", ""},
		{"{for: bolt, count", "{for: ›bolts, count", "neither a component nor a kind", "bolt"},
		{"{id: roller, name: roller, mass: 2 lb}", "{id: roller, name: roller, mass: 2 lb, with: [{use: ›roller, count: 1}]}", "comes with roller again", "circle"},
		{"{id: roller, name: roller, mass: 2 lb}\n  - {id: hinge, name: hinge, mass: 2 lb}", "{id: roller, name: roller, mass: 2 lb, with: [{use: hinge, count: 1}]}\n  - {id: hinge, name: hinge, mass: 2 lb, with: [{use: roller, count: 1}]}", "which comes with", "circle"},
		{"length: clear - end_play", "length: ›" + strings.Repeat("(", 500) + "clear" + strings.Repeat(")", 500), "more than 400", ""},
	} {
		if strings.Count(sound, c.old) < 1 {
			t.Errorf("the check kit holds no %q", c.old)
			continue
		}
		src := strings.Replace(sound, c.old, c.new, 1)
		line, column := 0, 0
		if strings.Contains(src, "›") {
			src, line, column = place(src)
		}
		ps := problems(t, src)
		if len(ps) != 1 {
			t.Errorf("%q: %d mistakes told, want one:\n%v", c.new, len(ps), ps)
			continue
		}
		p := ps[0]
		if line != 0 && (p.Pos.Line != line || p.Pos.Column != column) || p.Pos.Line == 0 {
			t.Errorf("%q: told at %s, want %d:%d: %s", c.new, p.Pos, line, column, p.Message)
		}
		if !strings.Contains(p.Message, c.message) || !strings.Contains(p.Hint, c.hint) || p.Message == "" {
			t.Errorf("%q: says %q, hint %q; want %q and %q", c.new, p.Message, p.Hint, c.message, c.hint)
		}
	}
}

// Mistakes of the text and of its sense are told together.
func TestAllMistakesAtOnce(t *testing.T) {
	src := checkKit(t)
	var want []int
	for _, c := range [][2]string{
		{"units: feet", "units: ›miles"},
		{`engage: 3/4"`, `engage: ›0"`},
		{"restraint: screwed", "restraint: ›nailed"},
		{"{use: hinge, count: 3}", "{use: ›hing, count: 3}"},
		{"when: structure == \"pen\"", "when: ›structure"},
	} {
		src = strings.Replace(src, c[0], c[1], 1)
		if !strings.Contains(src, "›") {
			t.Fatalf("no %q", c[0])
		}
		var line int
		src, line, _ = place(src)
		want = append(want, line)
	}
	got := map[int]int{}
	for _, p := range problems(t, src) {
		got[p.Pos.Line]++
	}
	for _, l := range want {
		if got[l] != 1 {
			t.Errorf("line %d: %d mistakes told, want one", l, got[l])
		}
		delete(got, l)
	}
	if len(got) > 0 {
		t.Errorf("told of further lines: %v", got)
	}
}

// Hostile kits: a clear list of mistakes, in bounded time and memory.
func TestHostileKits(t *testing.T) {
	sound := checkKit(t)
	// Each of twenty parts comes with thirty of the next: 30^20 lines in all.
	var parts strings.Builder
	for i := range 20 {
		fmt.Fprintf(&parts, "  - {id: deep%d, name: deep, mass: 1 lb, with: [%s]}\n", i, strings.Repeat(fmt.Sprintf("{use: deep%d, count: 1}, ", i+1), 30))
	}
	parts.WriteString("  - {id: deep20, name: deep, mass: 1 lb}\n")
	for name, src := range map[string]string{
		"empty":          "",
		"a list":         "- a\n",
		"ten megabytes":  sound + "#" + strings.Repeat("x", 10<<20),
		"deep nesting":   strings.Repeat("a: {", 2000),
		"not UTF-8":      strings.Replace(sound, "Check line", "Ch\xe9ck", 1),
		"parts in parts": strings.Replace(sound, "parts:\n", "parts:\n"+parts.String(), 1),
		"absurd mass":    strings.Replace(sound, "mass: 40 lb", "mass: 900 t", 1),
		"absurd size":    strings.Replace(sound, `width: 36"`, `width: 90 km`, 1),
		"long rule":      strings.Replace(sound, "clear - end_play", strings.Repeat("(", 100_000)+"clear", 1),
		"no posts":       "kit: a\ntitle: a\nversion: 1\nunits: feet\nboard: {end_play: 1 in, engage: 1 in, least_rip: 1 in, most_gap: 1 in}\nposts: []\nfasteners: []\nassemblies: []\nuses: {pen: {}}\njoints: []\n",
	} {
		t.Run(name, func(t *testing.T) {
			ps := problems(t, src)
			if len(ps) == 0 {
				t.Fatal("no mistake told")
			}
			for _, p := range ps {
				if p.Message == "" || len(p.String()) > 4000 {
					t.Errorf("%.200s", p.String())
				}
			}
		})
	}
}

func FuzzReadKit(f *testing.F) {
	f.Add([]byte(checkKit(f)))
	for _, name := range kit.ShippedNames() {
		_, src, _ := kit.Shipped(name)
		f.Add(src)
	}
	broken, err := os.ReadFile("testdata/broken.yaml")
	if err != nil {
		f.Fatal(err)
	}
	f.Add(broken)
	f.Fuzz(func(t *testing.T, src []byte) {
		k, err := kit.Read("kit.yaml", src)
		var ps document.Problems
		switch {
		case err == nil && k == nil:
			t.Fatal("neither kit nor mistakes")
		case err != nil && (!errors.As(err, &ps) || len(ps) == 0):
			t.Fatalf("an error that is no list of mistakes: %v", err)
		case err == nil && (k.Board.Engage <= 0 || k.Board.Mark <= 0 || k.Board.EndPlay < 0):
			t.Fatalf("a board rule that is none: %+v", k.Board)
		}
		_ = ps.Error()
	})
}
