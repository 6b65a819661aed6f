package ical

import (
	"bytes"
	"encoding/json"
	"fmt"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"stallwright/checks"
)

// seen is a file as the independent reader (npm ical.js) sees it.
type seen struct {
	Name, Version, Product string
	Events                 []struct {
		UID, Summary, Description, Location string
		Start, End, Stamp                   moment
		Sequence                            int
	}
}

type moment struct {
	Text string
	Date bool
	Zone string
}

func read(t testing.TB, data []byte) seen {
	t.Helper()
	var s seen
	if err := json.Unmarshal(checks.Node(t, "ical.mjs", data), &s); err != nil {
		t.Fatal(err)
	}
	return s
}

func sample() *Calendar {
	stamp, _ := ParseDate("2026-05-04")
	return &Calendar{Name: "Three Meadows; crew, days", Stamp: stamp, Number: 3, Events: []Event{
		{UID: "day-1@three-meadows", Summary: "Löwe, stall L1; set out", Location: "Three Meadows\\barn", Description: "7:00 stake\n8:30 dig, 45 min; two people\r\n" + strings.Repeat("Ã¤ – long line ", 20), Day: Date{2026, 12, 31}, From: 7 * 60, To: 16*60 + 30},
		{UID: "off", Summary: "closed", Day: Date{2028, 2, 29}},
		{UID: "midnight", Summary: "late", Day: Date{2026, 12, 31}, From: 1380, To: 1440},
	}}
}

func TestAnotherReaderSeesTheSameEvents(t *testing.T) {
	c := sample()
	data, err := c.Write()
	if err != nil {
		t.Fatal(err)
	}
	s := read(t, data)
	if s.Name != "vcalendar" || s.Version != "2.0" || len(s.Events) != 3 {
		t.Fatalf("%+v", s)
	}
	want := []struct{ start, end string }{
		{"2026-12-31T07:00:00", "2026-12-31T16:30:00"}, {"2028-02-29", "2028-03-01"}, {"2026-12-31T23:00:00", "2027-01-01T00:00:00"},
	}
	for i, e := range s.Events {
		w := c.Events[i]
		if e.UID != w.UID || e.Summary != w.Summary || e.Location != w.Location || e.Description != strings.ReplaceAll(w.Description, "\r\n", "\n") {
			t.Errorf("event %d: %+v", i, e)
		}
		if e.Start.Text != want[i].start || e.End.Text != want[i].end || e.Start.Date != (i == 1) || e.Start.Zone == "UTC" {
			t.Errorf("event %d lasts from %+v to %+v, want %v", i, e.Start, e.End, want[i])
		}
		if e.Stamp.Text != "2026-05-04T00:00:00Z" || e.Sequence != 3 {
			t.Errorf("event %d is stamped %+v, revision %d", i, e.Stamp, e.Sequence)
		}
	}
}

// RFC 5545 section 3.1: lines end in CR LF and are at most 75 octets; unfolding
// (CR LF and a space removed) gives back what was written.
func TestLinesAreFoldedAndUnfold(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.StringN(0, 300, -1).Draw(t, "text")
		w := &writer{}
		w.text("SUMMARY", text)
		out := w.String()
		if !strings.HasSuffix(out, "\r\n") {
			t.Fatalf("%q does not end in CR LF", out)
		}
		for line := range strings.SplitSeq(strings.TrimSuffix(out, "\r\n"), "\r\n") {
			if len(line) > 75 || strings.ContainsAny(line, "\r\n") || !bytes.Equal([]byte(line), []byte(strings.ToValidUTF8(line, "?"))) {
				t.Fatalf("line %q", line)
			}
		}
		whole := strings.TrimSuffix(strings.ReplaceAll(out, "\r\n ", ""), "\r\n")
		plain := strings.NewReplacer(`\\`, `\`, `\,`, ",", `\;`, ";", `\n`, "\n").Replace(strings.TrimPrefix(whole, "SUMMARY:"))
		if want := expected(text); plain != want {
			t.Fatalf("unfolds to %q, want %q", plain, want)
		}
	})
}

// expected is the text with what TEXT cannot hold replaced.
func expected(s string) string {
	s = strings.ReplaceAll(s, "\r\n", "\n")
	return strings.Map(func(r rune) rune {
		switch {
		case r == '\n' || r == '\r':
			return '\n'
		case r < ' ' || r >= 0x7f && r < 0xa0:
			return ' '
		}
		return r
	}, strings.ToValidUTF8(s, "\ufffd"))
}

func TestWhatIsWrongIsNamed(t *testing.T) {
	for name, spoil := range map[string]func(*Calendar){
		"no UID":       func(c *Calendar) { c.Events[1].UID = " " },
		"another one":  func(c *Calendar) { c.Events[1].UID = c.Events[0].UID },
		"2026-02-30":   func(c *Calendar) { c.Events[1].Day = Date{2026, 2, 30} },
		"minute 500":   func(c *Calendar) { c.Events[1].From, c.Events[1].To = 600, 500 },
		"revision -1":  func(c *Calendar) { c.Number = -1 },
		"years 1 to 9": func(c *Calendar) { c.Stamp = Date{} },
	} {
		c := sample()
		spoil(c)
		if _, err := c.Write(); err == nil || !strings.Contains(err.Error(), name) {
			t.Errorf("error %v does not tell %q", err, name)
		}
	}
}

// 29 February and the end of a year, by the Gregorian rule.
func TestDatesAdd(t *testing.T) {
	for _, c := range []struct {
		from string
		days int64
		want string
	}{{"2028-02-28", 1, "2028-02-29"}, {"2100-02-28", 1, "2100-03-01"}, {"2026-12-31", 1, "2027-01-01"}, {"2026-05-04", 365, "2027-05-04"}} {
		d, err := ParseDate(c.from)
		if err != nil {
			t.Fatal(err)
		}
		if got := d.Add(c.days).String(); got != c.want {
			t.Errorf("%s and %d days is %s, want %s", c.from, c.days, got, c.want)
		}
	}
	if _, err := ParseDate("4 May"); err == nil || !strings.Contains(fmt.Sprint(err), "2026-05-04") {
		t.Errorf("error %v shows no date as it should be", err)
	}
}
