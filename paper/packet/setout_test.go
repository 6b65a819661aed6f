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
	"stallwright/paper/packet"
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

// The sheets of a levelled hillside with one pier set wrong, of facing rows and of
// standing timber, as kept.
func TestSetoutSheets(t *testing.T) {
	src, err := os.ReadFile(filepath.Join("testdata", "hillside.yaml"))
	if err != nil {
		t.Fatal(err)
	}
	golden(t, "hillside-setout.txt", packet.Setout(planOf(t, "hillside.yaml", src)))
	golden(t, "nordlia-setout.txt", packet.Setout(example(t, "nordlia-free-barn")))
	golden(t, "alder-creek-setout.txt", packet.Setout(example(t, "alder-creek-barn-row")))
}

// A sheet is read outdoors: no line runs off a page, nothing between two marks of
// the tape, no number without its unit or name, every stake named.
func TestSetoutSheetIsReadable(t *testing.T) {
	for _, name := range examples(t) {
		p := example(t, name)
		sheet := string(packet.Setout(p))
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
		files, err := packet.Files(p, "")
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
