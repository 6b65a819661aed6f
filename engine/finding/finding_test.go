package finding

import "testing"

// Errors first; those of one severity stay in the order they were found.
func TestSort(t *testing.T) {
	fs := []Finding{{Place: "a"}, {Place: "b", Severity: Error}, {Place: "c", Severity: Warning}, {Place: "d", Severity: Error}, {Place: "e"}}
	if Worst(fs) != Error || Worst(fs[:1]) != Note || Worst(nil) != Note {
		t.Error("the worst is not the worst")
	}
	Sort(fs)
	order := ""
	for _, f := range fs {
		order += f.Place
	}
	if order != "bdcae" {
		t.Errorf("sorted as %s, want bdcae", order)
	}
}

func TestSeverityWords(t *testing.T) {
	for s, want := range map[Severity]string{Note: "note", Warning: "warning", Error: "error"} {
		if s.String() != want {
			t.Errorf("%d is %q, want %q", s, s, want)
		}
	}
}
