package schedule

import (
	"context"
	"testing"

	"pgregory.net/rapid"
)

// Whatever somebody writes is scheduled soundly or refused with a text; it never
// panics and never runs on.
func TestWildProjectsAreScheduledOrRefused(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		wild := rapid.IntRange(0, 3).Draw(t, "wild") == 0
		number := func(small int64) *rapid.Generator[int64] {
			if !wild {
				return rapid.Int64Range(0, small)
			}
			return rapid.OneOf(rapid.Int64Range(0, small), rapid.Int64Range(0, small), rapid.SampledFrom([]int64{-1, 1440, 1441, maxMinutes, maxMinutes + 1, 1 << 62, -1 << 63}))
		}
		hours := rapid.Custom(func(t *rapid.T) Hours {
			return Hours{Start: number(1000).Draw(t, "start"), Minutes: number(500).Draw(t, "minutes")}
		})
		p := &Project{Calendar: Calendar{Days: rapid.SliceOfN(hours, 0, 3).Draw(t, "days")}}
		if rapid.Bool().Draw(t, "except") {
			p.Calendar.Except = []Except{{Day: number(9).Draw(t, "day"), Hours: hours.Draw(t, "hours")}}
		}
		for range rapid.IntRange(0, 2).Draw(t, "resources") {
			p.Resources = append(p.Resources, Resource{Name: "r", Capacity: number(4).Draw(t, "capacity")})
		}
		n := rapid.IntRange(0, 6).Draw(t, "activities")
		for i := range n {
			a := Activity{ID: string(rune('A' + i)), Minutes: number(600).Draw(t, "minutes"), Whole: rapid.Bool().Draw(t, "whole")}
			for range rapid.IntRange(0, 2).Draw(t, "links") {
				low, high := 0, i-1
				if wild {
					low, high = -1, n
				}
				if high < low {
					continue
				}
				a.After = append(a.After, Link{rapid.IntRange(low, high).Draw(t, "to"), number(3000).Draw(t, "lag"), rapid.Bool().Draw(t, "elapsed")})
			}
			for range rapid.IntRange(0, 3).Draw(t, "uses") {
				a.Uses = append(a.Uses, Use{rapid.IntRange(0, 1).Draw(t, "resource"), number(2).Draw(t, "amount")})
			}
			p.Activities = append(p.Activities, a)
		}
		if len(p.Calendar.Days) > 0 && !wild {
			p.Calendar.Days = append(p.Calendar.Days, Hours{Start: 400, Minutes: 600})
		}
		s, err := Solve(context.Background(), p, Options{Work: 20_000})
		if err != nil {
			if err.Error() == "" {
				t.Fatal("an error without a text")
			}
			return
		}
		if s.Bound > s.Minutes || s.Minutes < 0 {
			t.Fatalf("minutes %d, bound %d", s.Minutes, s.Bound)
		}
		for i, v := range s.Planned {
			for _, l := range p.Activities[i].After {
				if s.Planned[l.Activity].FinishAt > v.StartAt || v.Start.Before(s.Planned[l.Activity].Finish) {
					t.Fatalf("%d starts %v, before %d ends %v", i, v.Start, l.Activity, s.Planned[l.Activity].Finish)
				}
			}
		}
	})
}
