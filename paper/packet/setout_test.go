package packet_test

import (
	"bytes"
	"encoding/csv"
	"flag"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"stallwright/engine/measure"
	"stallwright/engine/plan"
	"stallwright/engine/plan/plantest"
	"stallwright/paper/packet"
	"stallwright/paper/words"
)

var update = flag.Bool("update", false, "write the golden texts anew")

// golden compares a text with the one kept beside the tests, which people have
// read; -update writes it anew.
func golden(t *testing.T, name string, got []byte) {
	t.Helper()
	file := filepath.Join("testdata", name)
	if *update {
		if err := os.MkdirAll("testdata", 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(file, got, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(got, want) {
		t.Errorf("%s differs from what was read and kept; look at it, then go test -update\n%s", file, got)
	}
}

// setoutSheet is a plan's setting-out sheet in a language.
func setoutSheet(t *testing.T, p *plan.Plan, lang string) []byte {
	t.Helper()
	w, err := words.For(lang, p.Job.Units)
	if err != nil {
		t.Fatal(err)
	}
	return packet.Setout(p, w)
}

// The sheets of a levelled hillside with one pier set wrong, of facing rows and of
// standing timber, as kept.
func TestSetoutSheets(t *testing.T) {
	src, err := os.ReadFile(filepath.Join("testdata", "hillside.yaml"))
	if err != nil {
		t.Fatal(err)
	}
	golden(t, "hillside-setout.txt", setoutSheet(t, plantest.Make(t, "hillside.yaml", src), "en"))
	golden(t, "nordlia-setout.txt", setoutSheet(t, example(t, "nordlia-free-barn"), "en"))
	golden(t, "hillside-setout-es.txt", setoutSheet(t, plantest.Make(t, "hillside.yaml", src), "es"))
	golden(t, "alder-creek-setout.txt", setoutSheet(t, example(t, "alder-creek-barn-row"), "en"))
}

// A sheet is read outdoors: no line runs off a page, nothing between two marks of
// the tape, no number without its unit or name, every stake named.
func TestSetoutSheetIsReadable(t *testing.T) {
	for n := range 2 * len(examples(t)) {
		name, lang := examples(t)[n/2], []string{"en", "es"}[n%2]
		p := example(t, name)
		sheet := string(setoutSheet(t, p, lang))
		if strings.Contains(sheet, "[en]") || strings.Contains(sheet, "[setout") || strings.Contains(sheet, "?}") {
			t.Errorf("%s lacks words in %s:\n%s", name, lang, sheet)
		}
		for i, line := range strings.Split(sheet, "\n") {
			if len([]rune(line)) > 115 || strings.ContainsAny(line, "\t≈") || strings.TrimRight(line, " ") != line {
				t.Errorf("%s, line %d: %q", name, i+1, line)
			}
		}
		for i := range p.Setout.Structures {
			s := &p.Setout.Structures[i]
			var stakes []string
			if s.Pen != nil {
				for _, q := range s.Pen.Piers {
					stakes = append(stakes, q.Name)
				}
			}
			if s.Grid != nil {
				for _, q := range s.Grid.Stakes {
					stakes = append(stakes, q.Name)
				}
			}
			for _, stake := range stakes {
				if !strings.Contains(sheet, "  "+stake+" ") {
					t.Errorf("%s: %s has no row", name, stake)
				}
			}
		}
	}
}

// In the list each reading is the exact value beside it, to the nearest mark.
func TestSetoutListIsExact(t *testing.T) {
	for _, name := range examples(t) {
		p := example(t, name)
		files, err := packet.Files(p, packet.Options{})
		if err != nil {
			t.Fatal(err)
		}
		rows, lengths := [][]string{}, 0
		for _, f := range files {
			if f.Name == "setout.csv" {
				if rows, err = csv.NewReader(bytes.NewReader(f.Data)).ReadAll(); err != nil {
					t.Fatal(err)
				}
			}
		}
		mark := measure.SixteenthInch
		if p.Job.Units == measure.Metric {
			mark = measure.Millimetre
		}
		for _, r := range rows[1:] {
			if r[6] == "" {
				continue
			}
			lengths++
			read, err := measure.ParseLength(strings.TrimPrefix(r[5], "'"), measure.NoUnit)
			if err != nil {
				t.Fatalf("%s: %q: %v", name, r, err)
			}
			mm, err := strconv.ParseFloat(strings.TrimPrefix(r[6], "'"), 64)
			if err != nil {
				t.Fatalf("%s: %q: %v", name, r, err)
			}
			if d := read.Millimetres() - mm; d > mark.Millimetres()/2+1e-6 || d < -mark.Millimetres()/2-1e-6 {
				t.Errorf("%s: %q", name, r)
			}
		}
		if lengths == 0 {
			t.Errorf("%s: no lengths in setout.csv", name)
		}
	}
}
