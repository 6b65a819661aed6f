package views

import (
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"stallwright/engine/plan/plantest"
	"stallwright/paper/draw"
)

// Structures whose names are as long as a job may have them (40 letters, and some for rooms) are set out like any
// others: posts go by the end of their names, and each sheet has the whole name.
func TestLongNamesAreSetOut(t *testing.T) {
	for _, example := range []string{"harrow-field-pen", "two-oaks-free-row", "nordlia-free-barn", "old-dairy-free-form", "alder-creek-barn-row"} {
		src, err := os.ReadFile(filepath.Join("..", "..", "examples", example+".yaml"))
		if err != nil {
			t.Fatal(err)
		}
		text := string(src)
		old := regexp.MustCompile(`(?m)name: ([A-Z])$`).FindStringSubmatch(text)[1]
		for _, long := range []string{"North barn row", "The north wing of the barn by the mill", strings.Repeat("Stall_", 6) + "two"} {
			renamed := regexp.MustCompile(`(?m)name: `+old+`$`).ReplaceAllString(text, "name: "+long)
			renamed = regexp.MustCompile(`\b`+old+`(\.[a-z]|[0-9]+\b|-[0-9lrcg])`).ReplaceAllString(renamed, long+"$1")
			p := plantest.Make(t, example+".yaml", renamed)
			sheets, err := Setout(p, Options{})
			if err != nil {
				t.Errorf("%s, %s: %v", example, long, err)
				continue
			}
			for _, s := range sheets {
				if o := draw.Overlaps(s.Sheet); len(o) > 0 {
					t.Errorf("%s, %s: %q stands on %q", example, s.Name, o[0].A.Text, o[0].B.Text)
				}
				if o := draw.Outside(s.Sheet); len(o) > 0 {
					t.Errorf("%s, %s: %q leaves the frame", example, s.Name, o[0].Text)
				}
				whole := ""
				for _, b := range s.Texts() {
					whole += b.Text
				}
				if !strings.Contains(strings.ReplaceAll(whole, " ", ""), strings.ReplaceAll(long, " ", "")) {
					t.Errorf("%s, %s: the name of the structure stands nowhere in full", example, s.Name)
				}
			}
		}
	}
}
