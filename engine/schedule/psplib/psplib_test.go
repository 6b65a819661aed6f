package psplib_test

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"testing"

	"stallwright/engine/schedule"
	"stallwright/engine/schedule/psplib"
)

// Lengths of the shortest schedules of j301_1 to j301_10, from the library's
// list of optima (Kolisch & Sprecher 1997, j30).
var optima = []int64{43, 47, 47, 62, 39, 48, 60, 53, 49, 45}

func folder(t testing.TB) string {
	dir := os.Getenv("STALLWRIGHT_DATA")
	if dir == "" {
		dir = "../../../../shared/data"
	}
	dir = filepath.Join(dir, "psplib")
	if _, err := os.Stat(dir); err != nil {
		t.Skipf("no instances at %s; put j301_1.sm to j301_10.sm of the project scheduling problem library in the folder psplib and name its parent in STALLWRIGHT_DATA", dir)
	}
	return dir
}

func read(t testing.TB, name string) *schedule.Project {
	f, err := os.Open(name)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	p, err := psplib.Read(f)
	if err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	return p
}

func TestShortestSchedulesAreFoundAndProven(t *testing.T) {
	dir := folder(t)
	for k, want := range optima {
		name := filepath.Join(dir, fmt.Sprintf("j301_%d.sm", k+1))
		p := read(t, name)
		s, err := schedule.Solve(context.Background(), p, schedule.Options{})
		if err != nil {
			t.Fatal(err)
		}
		t.Logf("%d activities: %d bound %d work %d", len(p.Activities), s.Minutes, s.Bound, s.Work)
		if s.Minutes != want || !s.Proven {
			t.Errorf("j301_%d takes %d (bound %d, proven %v), want %d", k+1, s.Minutes, s.Bound, s.Proven, want)
		}
	}
}
