// Package schedule_test times engine/schedule on jobs of a stall builder's size
// and on published instances.
package schedule_test

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"testing"

	"stallwright/engine/schedule"
	"stallwright/engine/schedule/psplib"
)

// stalls is a made-up job of rows of stalls: two footings a stall that cure for
// two days, frames that two people stand, boards, grilles and a door, a crew of
// four with one laser and two drivers, and a working week of five days.
func stalls(n int) *schedule.Project {
	const (
		people = iota
		laser
		drivers
		rooms // and one for each stall after it
	)
	p := &schedule.Project{Resources: []schedule.Resource{{Name: "people", Capacity: 4}, {Name: "laser", Capacity: 1}, {Name: "drivers", Capacity: 2}}}
	full := schedule.Hours{Start: 7 * 60, Minutes: 540}
	p.Calendar.Days = []schedule.Hours{full, full, full, full, full, {}, {}}
	add := func(id string, minutes int64, whole bool, uses []schedule.Use, after ...schedule.Link) int {
		p.Activities = append(p.Activities, schedule.Activity{ID: id, Minutes: minutes, Whole: whole, After: after, Uses: uses})
		return len(p.Activities) - 1
	}
	ready := func(i int) schedule.Link { return schedule.Link{Activity: i} }
	last := -1
	for k := range n {
		p.Resources = append(p.Resources, schedule.Resource{Name: fmt.Sprint("stall ", k+1), Capacity: 2})
		use := func(crew, las, drv int64) []schedule.Use {
			return []schedule.Use{{Resource: people, Amount: crew}, {Resource: laser, Amount: las}, {Resource: drivers, Amount: drv}, {Resource: rooms + k, Amount: 1}}
		}
		id := func(s string) string { return fmt.Sprintf("%d %s", k+1, s) }
		set := add(id("set out"), 20, false, use(2, 1, 0))
		dig := add(id("dig"), 45, false, use(1, 0, 0), ready(set))
		pour := add(id("pour"), 30, true, use(2, 0, 0), ready(dig))
		frame := add(id("lay out the frame"), 25, false, use(1, 0, 0))
		bolt := add(id("bolt the frame"), 20, false, use(1, 0, 1), ready(frame))
		stand := add(id("stand the frame"), 15, true, use(2, 0, 0), ready(bolt), schedule.Link{Activity: pour, Lag: 48 * 60, Elapsed: true})
		if last >= 0 && k%25 != 0 {
			p.Activities[stand].After = append(p.Activities[stand].After, ready(last))
		}
		level := add(id("level"), 15, false, use(1, 1, 0), ready(stand))
		tight := add(id("square and tighten"), 20, false, use(1, 0, 1), ready(level))
		var walls []schedule.Link
		for w := range 3 {
			m := add(id(fmt.Sprint("measure ", w)), 10, false, use(2, 0, 0), ready(tight))
			c := add(id(fmt.Sprint("cut ", w)), 30, false, use(1, 0, 0), ready(m))
			b := add(id(fmt.Sprint("board ", w)), 35, false, use(1, 0, 0), ready(c))
			g := add(id(fmt.Sprint("grille ", w)), 10, true, use(2, 0, 0), ready(b))
			walls = append(walls, ready(add(id(fmt.Sprint("clamp ", w)), 8, false, use(1, 0, 1), ready(g))))
		}
		door := add(id("hang the door"), 30, true, use(2, 0, 1), walls...)
		add(id("adjust and check"), 15, false, use(1, 0, 0), ready(door))
		last = stand
	}
	return p
}

func gap(s *schedule.Schedule) float64 { return 100 * float64(s.Minutes-s.Bound) / float64(s.Bound) }

func BenchmarkStalls(b *testing.B) {
	for _, n := range []int{1, 10, 30, 100, 300} {
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			p := stalls(n)
			for b.Loop() {
				s, err := schedule.Solve(context.Background(), p, schedule.Options{})
				if err != nil {
					b.Fatal(err)
				}
				b.ReportMetric(gap(s), "gap-%")
				b.ReportMetric(float64(len(p.Activities)), "activities")
				b.ReportMetric(float64(s.Work)/1e6, "Msteps")
			}
		})
	}
}

// BenchmarkPublished solves the j30 instances that are at hand.
func BenchmarkPublished(b *testing.B) {
	dir := os.Getenv("STALLWRIGHT_DATA")
	if dir == "" {
		dir = "../../../shared/data"
	}
	names, _ := filepath.Glob(filepath.Join(dir, "psplib", "*.sm"))
	if len(names) == 0 {
		b.Skip("no instances; put .sm files of the project scheduling problem library in a folder psplib and name its parent in STALLWRIGHT_DATA")
	}
	for b.Loop() {
		sum, proven := 0.0, 0
		for _, name := range names {
			f, err := os.Open(name)
			if err != nil {
				b.Fatal(err)
			}
			p, err := psplib.Read(f)
			f.Close()
			if err != nil {
				b.Fatal(err)
			}
			s, err := schedule.Solve(context.Background(), p, schedule.Options{})
			if err != nil {
				b.Fatal(err)
			}
			sum += gap(s)
			if s.Proven {
				proven++
			}
		}
		b.ReportMetric(sum/float64(len(names)), "gap-%")
		b.ReportMetric(float64(proven), "proven")
	}
}
