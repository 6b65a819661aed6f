package job_test

import (
	"errors"
	"fmt"
	"strings"
	"testing"
	"unicode/utf8"

	"stallwright/engine/document"
	"stallwright/engine/job"
)

// sound is a job without a mistake that uses most keys.
const sound = `job: Alder Creek
date: 2026-05-04
units: feet
kit: fernhollow
farm: {name: Alder Creek Farm}
lumber:
  species: southern-pine
  coverage: 5 1/8"
  tongue: 3/8"
  lengths: [8', 12']
structures:
  - barn-row:
      name: A
      post: 5 1/2 in x 5 1/2 in
      spacing: 12'
      depth: 12'
      rooms:
        - stall
        - kind: tack
          front: {door: swing-48, at: left}
      dividers: grille
      back: {fill: window, sill: 8}
      offsets:
        - {post: A.a1, along: 1 in}
  - pen:
      name: P
      across: 60'
      section: 12'
      gate: {toward: 90°}
  - free-row:
      name: B
      width: 12'
      depth: 12'
      rooms: [stall]
  - free-barn:
      name: C
      width: 12'
      depth: 12'
      rooms: [stall]
      roof: {eave: 10', pitch: 4/12}
  - free-form:
      name: F
      posts:
        - {name: a, x: 0', y: 0', timber: 6 in}
        - {name: b, x: 12', y: 0', timber: 6 in}
      walls:
        - {name: south, posts: [a, b], assembly: timber-wall}
measurements:
  - {bay: A1-A2, width: 11' 6", at: 2026-05-03 14:10}
floors:
  - {post: A.a1, height: 0 in}
`

func problems(t testing.TB, src string) document.Problems {
	t.Helper()
	_, err := job.Read("job.yaml", []byte(src))
	var ps document.Problems
	if err != nil && !errors.As(err, &ps) {
		t.Fatalf("an error that is no list of mistakes: %v", err)
	}
	return ps
}

func TestSoundJobReads(t *testing.T) {
	j, err := job.Read("job.yaml", []byte(sound))
	if err != nil {
		t.Fatal(err)
	}
	if len(j.Structures) != 5 || j.Structures[1].Name() != "P" || j.Structures[0].BarnRow.Rooms[1].Kind != job.Tack {
		t.Errorf("%+v", j.Structures)
	}
}

// place takes the mark › out of a text and gives its line and column.
func place(t testing.TB, src string) (text string, line, column int) {
	t.Helper()
	before, after, ok := strings.Cut(src, "›")
	if !ok {
		t.Fatal("the text holds no mark")
	}
	line = 1 + strings.Count(before, "\n")
	column = 1 + utf8.RuneCountInString(before[strings.LastIndexByte(before, '\n')+1:])
	return before + after, line, column
}

// Each row breaks the sound job in one way; › marks where the mistake must be
// told.
func TestMistakes(t *testing.T) {
	for _, c := range []struct{ old, new, message, hint string }{
		{"units: feet", "units: ›yards", "yards", "feet"},
		{"kit: fernhollow", "kit: fernhollow\n›heigth: 8'", "unknown key", "did you mean “height”"},
		{"job: Alder Creek\n", "›", "required key", "“job: ...”"},
		{"job: Alder Creek\n", "job: ›\" \"\n", "job is empty", "name"},
		{"date: 2026-05-04", "date: ›4 May 2026", "no date", "2026-05-04"},
		{"species: southern-pine", "species: ›pine", "not one of the allowed words", "southern-pine"},
		{"species: southern-pine", "species: ›other", "needs its density", "640 kg/m3"},
		{`coverage: 5 1/8"`, `coverage: ›5 1/8`, "unit", ""},
		{`coverage: 5 1/8"`, `coverage: ›5 1/8'`, "", ""},
		{`coverage: 5 1/8"`, `coverage: 1 ›nm`, "", ""},
		{`coverage: 5 1/8"`, `coverage: ›1 mm`, "under", "unit"},
		{`coverage: 5 1/8"`, `coverage: ›3'`, "over", "unit"},
		{`coverage: 5 1/8"`, `ten_boards: ›5 1/8"`, "under", "unit"},
		{`coverage: 5 1/8"`, "coverage: 5 1/8\"\n  ten_boards: ›60\"", "not ten times", "keep the one"},
		{`tongue: 3/8"`, `tongue: ›3"`, "50 mm", "square"},
		{"lengths: [8', 12']", "lengths: ›[]", "too few", "at least 1"},
		{"lengths: [8', 12']", "lengths: [8', ›200']", "no yard sells", "8'"},
		{"spacing: 12'", "spacing: ›0'", "stand this far apart", "12'"},
		{"spacing: 12'", "spacing: ›[12', 12', 12']", "3 post spacings are given, but the rooms take 2", "one for each"},
		{"depth: 12'\n      rooms:\n        - stall\n", "depth: ›-12'\n      rooms:\n        - stall\n", "more than nothing", "12'"},
		{"depth: 12'\n      rooms:\n        - stall\n", "depth: 900 ›km\n      rooms:\n        - stall\n", "", ""},
		{"depth: 12'\n      rooms:\n        - stall\n", "depth: ›900 m\n      rooms:\n        - stall\n", "over", "unit"},
		{"name: A\n", "name: A\n      rows: facing\n", "aisle must be more than nothing", ""},
		{"name: A\n", "name: A\n      aisle: ›12'\n", "only rows that face", "rows: facing"},
		{"name: A\n", "name: ›A-1\n", `cannot hold '-'`, "letters"},
		{"name: A\n", "name: ›\"" + strings.Repeat("A", 41) + "\"\n", "longer than 40", "shorten"},
		{"name: P\n", "name: ›A\n", "given twice", "its own"},
		{"- stall\n        - kind: tack", "- ›stal\n        - kind: tack", `"stal" is no room`, "did you mean stall"},
		{"- kind: tack", "- kind: tack\n          spans: ›0", "out of range", "from 1 to 20"},
		{"- kind: tack", "- kind: tack\n          width: ›12'", "between standing posts", "spacing"},
		{"at: left}", "at: left, span: ›2}", "only 1 post spacings", "from 1"},
		{"at: left}", "at: ›middle}", "no place for a doorway", "left, centre or right"},
		{"at: left}", "at: ›0 in}", "cannot stand at the left post", "measure from"},
		{"at: left}", "at: ›-4'}", "cannot stand at the left post", "measure from"},
		{"front: {door: swing-48, at: left}", "front: ›{door: swing-48, whole: boards}", "either a doorway or one fill", "leave out"},
		{"dividers: grille", "dividers: ›bars", `"bars" is no fill`, "boards"},
		{"dividers: grille", "dividers: {fill: boards, below: ›9}", "below does not belong to a fill of boards", "leave it out"},
		{"{fill: window, sill: 8}", "{fill: window, sill: ›0}", "out of range", "at least 1"},
		{"{fill: window, sill: 8}", "{fill: window, from: ›0 in}", "more than nothing", ""},
		{"along: 1 in}", "along: ›20'}", "belongs elsewhere in the grid", "spacing"},
		{"- {post: A.a1, along: 1 in}", "- {post: A.a1, along: 1 in}\n        - {post: ›A.a1, across: 1 in}", "moved twice", "add the two up"},
		{"across: 60'", "across: 60'\n      sections: ›2", "out of range", "from 3 to 400"},
		{"across: 60'", "across: 60'\n      sections: 16", "say the size twice", "leave out"},
		{"across: 60'\n      section: 12'\n", "section: 12'\n", "size is not given", "across"},
		{"toward: 90°", "toward: 90 ›in", "", ""},
		{"      width: 12'\n      depth: 12'\n      rooms: [stall]\n  - free-barn", "      width: 12'\n      depth: 12'\n      rooms: [{kind: stall, spans: ›2}]\n  - free-barn", "no post spacings", "width"},
		{"      roof: {eave: 10', pitch: 4/12}\n", "", "no roof is given", "free-row"},
		{"pitch: 4/12", "pitch: ›60/12", "no roof has this pitch", "4/12"},
		{"name: B\n", "name: B\n      roof: ›{eave: 10', pitch: 4/12}\n", "bears no roof", "free-barn"},
		{"timber: 6 in}\n        - {name: b", "timber: 6 in}\n        - {name: b, x: 3', y: 3', timber: 6 in}\n        - {name: ›b", "given twice", "its own"},
		{"{name: b, x: 12', y: 0', timber: 6 in}", "›{name: b, x: 12', y: 0'}", "standing timber or a steel post", "timber"},
		{"posts: [a, b]", "posts: ›[a, c]", `no post "c"`, ""},
		{"posts: [a, b]", "posts: ›[a, a, b]", "from a post to itself", "two different"},
		{"posts: [a, b]", "posts: ›[a]", "too few", ""},
		{"assembly: timber-wall}", "assembly: timber-wall, doors: [{run: ›2, front: {}}]}", "only 1 runs", ""},
		{"at: 2026-05-03 14:10", "at: ›yesterday", "no time", "2026-05-03"},
		{`width: 11' 6", at`, `width: ›0 in, at`, "no opening has this width", "tape"},
		{"height: 0 in}", "height: ›20'}", "is a slip", "sign"},
		{"- {post: A.a1, height: 0 in}", "- {post: A.a1, height: 0 in}\n  - {post: ›A.a1, height: 1 in}", "given twice", "right"},
		{"kit: fernhollow", "kit: fernhollow\nheight: ›25 m", "a wall this high", "unit"},
	} {
		if strings.Count(sound, c.old) != 1 {
			t.Errorf("the sound job holds %q %d times", c.old, strings.Count(sound, c.old))
			continue
		}
		src := strings.Replace(sound, c.old, c.new, 1)
		line, column := 0, 0
		if strings.Contains(src, "›") {
			src, line, column = place(t, src)
		}
		ps := problems(t, src)
		if len(ps) != 1 {
			t.Errorf("%q: %d mistakes told, want one:\n%v", c.new, len(ps), ps)
			continue
		}
		p := ps[0]
		if line != 0 && (p.Pos.Line != line || p.Pos.Column != column) || p.Pos.File != "job.yaml" || p.Pos.Line == 0 {
			t.Errorf("%q: told at %s, want %d:%d: %s", c.new, p.Pos, line, column, p.Message)
		}
		if !strings.Contains(p.Message, c.message) || !strings.Contains(p.Hint, c.hint) || p.Message == "" {
			t.Errorf("%q: says %q, hint %q; want %q and %q", c.new, p.Message, p.Hint, c.message, c.hint)
		}
	}
}

// All mistakes are told at once, those of the text and those of its sense
// together, and none that only follows from another.
func TestAllMistakesAtOnce(t *testing.T) {
	src := sound
	for _, c := range [][2]string{
		{"units: feet", "units: yards"},                    // line 3: no such word
		{"species: southern-pine", "species: other"},       // line 7: needs a density
		{`coverage: 5 1/8"`, `coverage: 5`},                // line 8: no unit
		{"spacing: 12'", "spacing: -12'"},                  // line 15: nothing or less
		{"- kind: tack", "- kind: tak"},                    // line 19: no such room
		{"across: 60'", "acros: 60'"},                      // line 27: unknown key
		{"pitch: 4/12", "pitch: 60/12"},                    // line 40: no such pitch
		{"posts: [a, b]", "posts: [a, c]"},                 // line 47: no such post
		{"at: 2026-05-03 14:10", "at: noon, wide: 12'"},    // line 49: no time, unknown key
		{"- {post: A.a1, height: 0 in}", "- {post: A.a1}"}, // line 51: height is missing
	} {
		if !strings.Contains(src, c[0]) {
			t.Fatalf("no %q", c[0])
		}
		src = strings.Replace(src, c[0], c[1], 1)
	}
	want := []int{3, 7, 8, 15, 19, 27, 40, 47, 49, 51}
	got := map[int]int{}
	for _, p := range problems(t, src) {
		got[p.Pos.Line]++
	}
	for _, l := range want {
		if got[l] == 0 {
			t.Errorf("nothing is told of line %d", l)
		}
		delete(got, l)
	}
	for l, n := range got {
		if l != 26 { // the pen without across has no size: true, and said where the pen is
			t.Errorf("%d mistakes told of line %d, which has none", n, l)
		}
	}
}

// Hostile texts: a clear list of mistakes, in bounded time.
func TestHostileTexts(t *testing.T) {
	deep := strings.Repeat("a: {", 2000)
	var bomb strings.Builder
	bomb.WriteString("a: &a [x, x]\n")
	for c := 'b'; c <= 'z'; c++ {
		fmt.Fprintf(&bomb, "%c: &%c [*%c, *%c, *%c]\n", c, c, c-1, c-1, c-1)
	}
	rows := func(n int) string {
		return strings.Replace(sound, "rooms: [stall]\n  - free-barn", "rooms: ["+strings.Repeat("stall, ", n)+"stall]\n  - free-barn", 1)
	}
	for name, src := range map[string]string{
		"empty":         "",
		"blank":         " \n\n\t\n",
		"comment":       "# nothing\n",
		"a scalar":      "12'",
		"a list":        "- a\n- b\n",
		"ten megabytes": sound + "#" + strings.Repeat("x", 10<<20),
		"deep nesting":  deep,
		"deep brackets": strings.Repeat("[", 100_000),
		"deep indentation": func() string {
			s := ""
			for i := range 500 {
				s += strings.Repeat(" ", i) + "a:\n"
			}
			return s
		}(),
		"alias bomb":        bomb.String(),
		"alias cycle":       "a: &a [*a]\n",
		"merge":             sound + "<<: *x\n",
		"not UTF-8":         strings.Replace(sound, "Alder", "Ald\xffer", 1),
		"UTF-16":            "\xff\xfej\x00o\x00b\x00",
		"NUL":               strings.Replace(sound, "Alder", "Al\x00der", 1),
		"absurd length":     strings.Replace(sound, "depth: 12'\n      rooms:\n", "depth: "+strings.Repeat("9", 5000)+"'\n      rooms:\n", 1),
		"too many rooms":    rows(3000),
		"too many spans":    strings.Replace(rows(1), "spacing: 12'", "spacing: 12'\n      second: ["+strings.Repeat("{spans: 20}, ", 200)+"{spans: 20}]\n      rows: facing\n      aisle: 12'", 1),
		"two documents":     sound + "---\n" + sound,
		"two keys":          sound + "job: again\n",
		"structure of two":  strings.Replace(sound, "  - pen:\n", "    pen:\n", 1),
		"structure of none": strings.Replace(sound, "structures:\n", "structures:\n  - {}\n", 1),
		"no structures":     sound[:strings.Index(sound, "structures:")] + "structures: []\n",
	} {
		t.Run(name, func(t *testing.T) {
			ps := problems(t, src)
			if len(ps) == 0 {
				t.Fatal("no mistake told")
			}
			if len(ps) > document.MaxProblems+1 {
				t.Errorf("%d mistakes told", len(ps))
			}
			for _, p := range ps {
				if p.Message == "" || strings.Contains(p.Message, "goccy") || len(p.String()) > 4000 {
					t.Errorf("%.200s", p.String())
				}
			}
		})
	}
}

func FuzzReadJob(f *testing.F) {
	f.Add([]byte(sound))
	seed(f)
	f.Fuzz(func(t *testing.T, src []byte) {
		j, err := job.Read("job.yaml", src)
		var ps document.Problems
		switch {
		case err == nil && j == nil:
			t.Fatal("neither job nor mistakes")
		case err != nil && (!errors.As(err, &ps) || len(ps) == 0):
			t.Fatalf("an error that is no list of mistakes: %v", err)
		case err == nil:
			b := j.Lumber.Board()
			if b.Coverage <= 0 || b.Thickness <= 0 || b.Tongue < 0 || b.Density <= 0 {
				t.Fatalf("a board that is none: %+v", b)
			}
		}
		_ = ps.Error()
	})
}
