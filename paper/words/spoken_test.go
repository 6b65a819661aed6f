package words_test

import (
	"bytes"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"sync"
	"testing"
	"unicode"

	"github.com/goccy/go-yaml"
	"github.com/xuri/excelize/v2"

	"stallwright/engine/frame"
	"stallwright/engine/job"
	"stallwright/engine/kit"
	"stallwright/engine/phrase"
	"stallwright/engine/plan"
	"stallwright/paper/book"
	"stallwright/paper/draw"
	"stallwright/paper/packet"
	"stallwright/paper/views"
	"stallwright/paper/words"
	"stallwright/paper/workbook"
)

// worked keeps the examples that were worked through.
var worked sync.Map

// planned works an example through, once for all tests.
func planned(t *testing.T, file string) *plan.Plan {
	t.Helper()
	if p, ok := worked.Load(file); ok {
		return p.(*plan.Plan)
	}
	src, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	j, err := job.Read(file, src)
	if err != nil {
		t.Fatal(err)
	}
	kitFile, kitSrc, ok := kit.Shipped(j.Kit)
	if !ok {
		t.Fatalf("%s uses the kit %s", file, j.Kit)
	}
	k, err := kit.Read(kitFile, kitSrc)
	if err != nil {
		t.Fatal(err)
	}
	p, err := plan.Make(j, k)
	if err != nil {
		t.Fatal(err)
	}
	worked.Store(file, p)
	return p
}

// wordForm is a word: letters, three or more.
var wordForm = regexp.MustCompile(`\pL{3,}`)

// fileName is the name of a file, which no language changes.
var fileName = regexp.MustCompile(`[a-z-]+\.(csv|txt|json|pdf)`)

// cutShort is a word that found no room on a label.
var cutShort = regexp.MustCompile(`\pL+…`)

func split(text string) []string {
	text = fileName.ReplaceAllString(strings.ToLower(text), " ")
	return wordForm.FindAllString(cutShort.ReplaceAllString(text, " "), -1)
}

// vocabulary is every word of the Spanish catalogue.
func vocabulary(t *testing.T) map[string]bool {
	t.Helper()
	out := map[string]bool{}
	placeholder := regexp.MustCompile(`\{[^}]*\}`)
	files, err := fs.Glob(os.DirFS("catalogue/es"), "*.yaml")
	if err != nil || len(files) == 0 {
		t.Fatalf("no Spanish catalogue: %v", err)
	}
	var read func(v any)
	read = func(v any) {
		switch v := v.(type) {
		case string:
			for _, w := range split(placeholder.ReplaceAllString(v, " ")) {
				out[w] = true
			}
		case map[string]any:
			for _, form := range v {
				read(form)
			}
		}
	}
	for _, f := range files {
		text, err := os.ReadFile("catalogue/es/" + f)
		if err != nil {
			t.Fatal(err)
		}
		var doc map[string]any
		if err := yaml.Unmarshal(text, &doc); err != nil {
			t.Fatal(err)
		}
		for _, v := range doc {
			read(v)
		}
	}
	return out
}

// names are the words that no language changes: those of the job and of the
// places and pieces of its plan, and ids of the kit.
func names(p *plan.Plan) map[string]bool {
	out := map[string]bool{}
	add := func(texts ...string) {
		for _, s := range texts {
			for _, w := range split(s) {
				out[w] = true
			}
		}
	}
	j, l := p.Job, p.Layout
	add(j.Job, j.Farm.Name, j.Farm.Place, j.Farm.Contact, j.Farm.Notes, j.Lumber.Treatment, p.Kit.Kit)
	for i := range l.Structures {
		add(l.Structures[i].Name)
	}
	for i := range l.Posts {
		add(l.Posts[i].Name)
	}
	for i := range l.Walls {
		add(l.Walls[i].Name)
	}
	for i := range l.Runs {
		add(l.Runs[i].Name)
	}
	for i := range l.Bays {
		add(l.Bays[i].Name)
	}
	for i := range l.Rooms {
		add(l.Rooms[i].Name)
	}
	for i := range l.Aisles {
		add(l.Aisles[i].Name)
	}
	for i := range p.Fit.Pieces {
		add(p.Fit.Pieces[i].Label, p.Fit.Pieces[i].Item)
	}
	for i := range p.Takeoff.Lines {
		add(p.Takeoff.Lines[i].Item)
	}
	for i := range p.Findings {
		add(p.Findings[i].Place)
		for _, c := range p.Findings[i].Choices {
			for _, a := range c.Args {
				if key, ok := a.Value.(phrase.Name); ok && a.Name == "key" { // of the job's file
					add(string(key))
				}
			}
		}
	}
	for i := range p.Build.Operations {
		add(p.Build.Operations[i].ID)
	}
	for i := range j.Spots {
		add(j.Spots[i].Name)
	}
	return out
}

// printed are the parts of the packet that are read: all but the drawings, read
// already, and of long jobs the pictures of their steps, which take long to draw;
// the text of the steps is read of every job.
func printed(p *plan.Plan) []book.Part {
	out := []book.Part{book.Cover, book.Measure, book.Setout, book.Order, book.Picks, book.Saw, book.Labels, book.Checks, book.Owner}
	if len(p.Layout.Bays) <= 20 {
		out = append(out, book.Steps)
	}
	return out
}

// cited is a source in brackets, which is quoted by its own title.
var cited = regexp.MustCompile(`\[[^\]]{3,}\]`)

// spoken are all texts that a crew reads of a plan, by where they stand.
func spoken(t *testing.T, p *plan.Plan, w *words.Words) map[string][]string {
	t.Helper()
	out := map[string][]string{}
	for file, text := range map[string][]byte{
		"summary.txt": packet.Summary(p, w), "setout.txt": packet.Setout(p, w), "steps": packet.Steps(p, w, false),
	} {
		out[file] = strings.Split(string(text), "\n")
	}
	for _, c := range packet.Cautions(p) {
		out["cautions"] = append(out["cautions"], w.Say(c))
	}
	sheets, err := views.All(p, views.Options{Words: w})
	if err != nil {
		t.Fatal(err)
	}
	for _, s := range sheets {
		at := "drawing " + s.Name
		fits(t, at, s.Sheet)
		for _, text := range s.Texts() {
			out[at] = append(out[at], text.Text)
		}
		out[at] = append(out[at], s.Sheet.Title(), s.Description(), s.Title)
	}
	pages, err := book.Make(p, w, book.Options{Drawings: sheets, Only: printed(p)})
	if err != nil {
		t.Fatal(err)
	}
	for i, page := range pages.Pages {
		at := fmt.Sprintf("page %d (%s)", i+1, page.Label)
		fits(t, at, page.Sheet)
		var all []string
		for _, text := range page.Texts() {
			all = append(all, text.Text)
		}
		out[at] = []string{cited.ReplaceAllString(strings.Join(all, " "), " ")}
	}
	sheet, err := workbook.Make(p, w, workbook.Options{})
	if err != nil {
		t.Fatal(err)
	}
	table, err := excelize.OpenReader(bytes.NewReader(sheet))
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range table.GetSheetList() {
		rows, err := table.GetRows(name)
		if err != nil {
			t.Fatal(err)
		}
		at := "workbook, " + name
		out[at] = append(slices.Concat(rows...), name)
	}
	for _, e := range pages.Outline {
		out["outline"] = append(out["outline"], e.Title)
	}
	return out
}

// fits holds a sheet to having room for its longer words.
func fits(t *testing.T, at string, s *draw.Sheet) {
	t.Helper()
	for _, o := range draw.Overlaps(s) {
		t.Errorf("%s: %q stands on %q", at, o.A.Text, o.B.Text)
	}
	for _, text := range s.Shortened {
		t.Errorf("%s: %q is cut short", at, text)
	}
}

// A crew that reads Spanish meets no word that is not in the Spanish catalogue,
// but names and what the list says why.
func TestNoEnglishOnSpanishPaper(t *testing.T) {
	known := vocabulary(t)
	for w := range reviewed(t) {
		known[w] = true
	}
	if known["the"] || known["board"] || !known["tabla"] {
		t.Fatal("the Spanish vocabulary is not Spanish")
	}
	files, err := filepath.Glob("../../examples/*.yaml")
	if err != nil || len(files) < 5 {
		t.Fatalf("examples: %v %v", files, err)
	}
	for _, file := range append(files, "testdata/troubled.yaml") {
		t.Run(strings.TrimSuffix(filepath.Base(file), ".yaml"), func(t *testing.T) {
			t.Parallel()
			p := planned(t, file)
			w, err := words.For("es", p.Job.Units)
			if err != nil {
				t.Fatal(err)
			}
			own := names(p)
			read, strange := 0, map[string]string{}
			for at, texts := range spoken(t, p, w) {
				for _, text := range texts {
					if strings.Contains(text, "["+words.English+"]") || unsaid.MatchString(text) {
						t.Errorf("%s: %q", at, text)
					}
					for _, word := range split(text) {
						if read++; !known[word] && !own[word] {
							strange[word] = at + ": " + text
						}
					}
				}
			}
			for _, word := range sorted(strange) {
				t.Errorf("%q is no word of the Spanish catalogue nor a name; %s", word, strange[word])
			}
			if read < 500 {
				t.Errorf("only %d words were read", read)
			}
		})
	}
}

// Every English word that names are made of is explained to those who read no
// English; a free form's names are its job's own.
func TestWordsInNamesAreExplained(t *testing.T) {
	files, err := filepath.Glob("../../examples/*.yaml")
	if err != nil {
		t.Fatal(err)
	}
	for _, file := range files {
		p := planned(t, file)
		w, err := words.For("es", p.Job.Units)
		if err != nil {
			t.Fatal(err)
		}
		free := false
		for i := range p.Layout.Structures {
			free = free || p.Layout.Structures[i].Kind == frame.FreeForm
		}
		told := w.InNames(p)
		for i := range p.Fit.Pieces {
			for _, word := range regexp.MustCompile(`[a-z]{3,}`).FindAllString(p.Fit.Pieces[i].Label, -1) {
				if !free && !strings.Contains(told, word+" = ") {
					t.Fatalf("%s: the word %s in %s is not explained: %s", file, word, p.Fit.Pieces[i].Label, told)
				}
			}
		}
		if english, _ := words.For("en", p.Job.Units); english.InNames(p) != "" {
			t.Errorf("%s: English is explained to those who read it", file)
		}
	}
}

// A finding says the same in its phrase as in its sentence, the same numbers in
// the same order.
func TestFindingsSayTheSameTwice(t *testing.T) {
	number := regexp.MustCompile(`≈?-?(\d+' )?\d+( \d+/\d+|/\d+|\.\d+)?("| mm)`)
	said := map[string]bool{}
	files, err := filepath.Glob("../../examples/*.yaml")
	if err != nil {
		t.Fatal(err)
	}
	for _, file := range append(files, "testdata/troubled.yaml") {
		p := planned(t, file)
		w, err := words.For(words.English, p.Job.Units)
		if err != nil {
			t.Fatal(err)
		}
		for i := range p.Findings {
			f := &p.Findings[i]
			if f.Say.Empty() {
				continue
			}
			said[f.Say.Key] = true
			sentence, phrase := number.FindAllString(f.Message, -1), number.FindAllString(w.Say(f.Say), -1)
			if len(phrase) > len(sentence) || !slices.Equal(phrase, sentence[:len(phrase)]) {
				t.Errorf("%s: %s %s\nsentence: %s\nphrase:   %s", file, f.Code, f.Place, f.Message, w.Say(f.Say))
			}
		}
	}
	if len(said) < 10 {
		t.Errorf("only %d phrases were met: %v", len(said), said)
	}
}

// What is done to a piece is the same in the saw's words and in the reasons'.
func TestWorkIsSaidTheSameTwice(t *testing.T) {
	files, err := filepath.Glob("../../examples/*.yaml")
	if err != nil {
		t.Fatal(err)
	}
	met := 0
	for _, file := range append(files, "testdata/troubled.yaml") {
		p := planned(t, file)
		w, err := words.For(words.English, p.Job.Units)
		if err != nil {
			t.Fatal(err)
		}
		for i := range p.Fit.Pieces {
			v := &p.Fit.Pieces[i]
			var do []string
			for _, phrase := range p.Todo(v) {
				met++
				do = append(do, w.Say(phrase))
			}
			if got, want := strings.Join(do, "; "), p.Work(v); got != want {
				t.Errorf("%s: %s: %q, want %q", file, v.Label, got, want)
			}
		}
	}
	if met < 100 {
		t.Errorf("only %d pieces of work were met", met)
	}
}

// unsaid is what stands where a value or a whole message is missing.
var unsaid = regexp.MustCompile(`\{[a-z0-9-]+\?\}|\[[a-z]+(-[a-z]+)*\.[a-z0-9-]+`)

func sorted(m map[string]string) []string {
	var out []string
	for k := range m {
		out = append(out, k)
	}
	slices.Sort(out)
	return out
}

// reviewed are words of Spanish paper that are in no catalogue, each with why.
func reviewed(t *testing.T) map[string]string {
	t.Helper()
	text, err := os.ReadFile("testdata/known.yaml")
	if err != nil {
		t.Fatal(err)
	}
	var out map[string]string
	if err := yaml.Unmarshal(text, &out); err != nil {
		t.Fatal(err)
	}
	for w, why := range out {
		if strings.TrimSpace(why) == "" || strings.ToLower(w) != w || strings.IndexFunc(w, unicode.IsSpace) >= 0 {
			t.Errorf("known.yaml: %q: %q", w, why)
		}
	}
	return out
}
