// Package ical writes days of work as an iCalendar file (RFC 5545), for the
// calendars people carry. In come plain dates and times; out comes the file.
//
// Times are local and floating (RFC 5545 section 3.3.5, form 1): seven o'clock is
// seven where the crew is. Nothing comes from a clock: the stamp of each event is
// the date the job was given. What always holds: lines are folded at 75 octets
// and end in CR LF, text is escaped, every event has its own UID, and the same
// calendar gives the same bytes.
package ical

import (
	"bytes"
	"fmt"
	"strings"
	"time"
	"unicode"
	"unicode/utf8"
)

// Date is a day of the calendar.
type Date struct {
	Year  int
	Month time.Month
	Day   int
}

// ParseDate reads a date such as 2026-05-04.
func ParseDate(s string) (Date, error) {
	t, err := time.Parse(time.DateOnly, s)
	if err != nil {
		return Date{}, fmt.Errorf("%q is not a date such as 2026-05-04", s)
	}
	return dateOf(t), nil
}

func dateOf(t time.Time) Date { return Date{t.Year(), t.Month(), t.Day()} }

func (d Date) time() time.Time { return time.Date(d.Year, d.Month, d.Day, 0, 0, 0, 0, time.UTC) }

// Add is the date some days later.
func (d Date) Add(days int64) Date { return dateOf(d.time().AddDate(0, 0, int(days))) }

// Weekday is the day of the week.
func (d Date) Weekday() time.Weekday { return d.time().Weekday() }

// String writes the date as 2026-05-04.
func (d Date) String() string { return d.time().Format(time.DateOnly) }

// valid reports a date that the calendar has, in the years the format can write.
func (d Date) valid() bool { return d.Year >= 1 && d.Year <= 9999 && dateOf(d.time()) == d }

// Event is one entry.
type Event struct {
	UID         string // the same entry keeps it from one file to the next
	Summary     string
	Description string // may have several lines
	Location    string
	Day         Date
	// From and To are minutes of the day, To at most 1440. Both zero: all day.
	From, To int64
}

// Calendar is a file.
type Calendar struct {
	Name   string
	Stamp  Date // when what it tells was settled: the job's date
	Number int  // of the revision; an entry with a higher one replaces the one before
	Events []Event
}

const product = "-//Stallwright//crew days//EN"

// Write writes the file. The error names the first event that is wrong.
func (c *Calendar) Write() ([]byte, error) {
	if err := c.check(); err != nil {
		return nil, err
	}
	w := &writer{}
	w.line("BEGIN", "VCALENDAR")
	w.line("VERSION", "2.0")
	w.line("PRODID", product)
	w.line("CALSCALE", "GREGORIAN")
	if c.Name != "" {
		w.text("NAME", c.Name) // RFC 7986 section 5.1
		w.text("X-WR-CALNAME", c.Name)
	}
	for i := range c.Events {
		w.event(c, &c.Events[i])
	}
	w.line("END", "VCALENDAR")
	return w.Bytes(), nil
}

func (c *Calendar) check() error {
	if !c.Stamp.valid() {
		return fmt.Errorf("the calendar's date %d-%02d-%02d is not a day of the years 1 to 9999", c.Stamp.Year, int(c.Stamp.Month), c.Stamp.Day)
	}
	if c.Number < 0 {
		return fmt.Errorf("revision %d is below zero", c.Number)
	}
	seen := map[string]bool{}
	for i := range c.Events {
		e := &c.Events[i]
		switch {
		case strings.TrimSpace(e.UID) == "":
			return fmt.Errorf("event %d (%s) has no UID", i+1, e.Summary)
		case seen[e.UID]:
			return fmt.Errorf("event %d (%s) has the UID of another one, %s", i+1, e.Summary, e.UID)
		case !e.Day.valid():
			return fmt.Errorf("event %d (%s) is on %d-%02d-%02d, which is not a day of the years 1 to 9999", i+1, e.Summary, e.Day.Year, int(e.Day.Month), e.Day.Day)
		case e.From < 0 || e.To > 24*60 || e.From > e.To:
			return fmt.Errorf("event %d (%s) lasts from minute %d to minute %d of its day; it must end after it starts, by minute 1440", i+1, e.Summary, e.From, e.To)
		}
		seen[e.UID] = true
	}
	return nil
}

// writer writes content lines.
type writer struct{ bytes.Buffer }

func (w *writer) event(c *Calendar, e *Event) {
	w.line("BEGIN", "VEVENT")
	w.text("UID", e.UID)
	w.line("DTSTAMP", c.Stamp.time().Format("20060102T150405Z"))
	w.line("SEQUENCE", fmt.Sprint(c.Number))
	if e.From == 0 && e.To == 0 {
		w.line("DTSTART;VALUE=DATE", e.Day.time().Format("20060102"))
		w.line("DTEND;VALUE=DATE", e.Day.Add(1).time().Format("20060102"))
	} else {
		w.line("DTSTART", local(e.Day, e.From))
		w.line("DTEND", local(e.Day, e.To))
	}
	w.text("SUMMARY", e.Summary)
	if e.Location != "" {
		w.text("LOCATION", e.Location)
	}
	if e.Description != "" {
		w.text("DESCRIPTION", e.Description)
	}
	w.line("END", "VEVENT")
}

// local is a floating time: no zone, no Z.
func local(d Date, minute int64) string {
	return d.time().Add(time.Duration(minute) * time.Minute).Format("20060102T150405")
}

// text writes a TEXT value (section 3.3.11): backslash, comma, semicolon and line
// feed are escaped; other control characters have no place in it.
func (w *writer) text(name, value string) {
	var b strings.Builder
	for _, r := range strings.ReplaceAll(value, "\r\n", "\n") {
		switch {
		case r == '\\' || r == ',' || r == ';':
			b.WriteByte('\\')
			b.WriteRune(r)
		case r == '\n' || r == '\r':
			b.WriteString(`\n`)
		case unicode.IsControl(r):
			b.WriteByte(' ')
		default:
			b.WriteRune(r) // broken UTF-8 comes as U+FFFD
		}
	}
	w.line(name, b.String())
}

// line writes a content line, folded so that no line of the file is longer than
// 75 octets and no character is torn apart (section 3.1).
func (w *writer) line(name, value string) {
	rest, room := name+":"+value, 75
	for len(rest) > room {
		n := room
		for n > 0 && !utf8.RuneStart(rest[n]) {
			n--
		}
		w.WriteString(rest[:n] + "\r\n ")
		rest, room = rest[n:], 74
	}
	w.WriteString(rest + "\r\n")
}
