package job

import "time"

// timeLayouts are the ways a time may be written, the day alone first.
var timeLayouts = []string{"2006-01-02", "2006-01-02 15:04", "2006-01-02T15:04", time.RFC3339}

// readTime reads a time. dayOnly: no hour is given. Without an offset it is taken
// as it stands.
func readTime(at string) (t time.Time, dayOnly, ok bool) {
	for i, layout := range timeLayouts {
		if t, err := time.Parse(layout, at); err == nil {
			return t, i == 0, true
		}
	}
	return time.Time{}, false, false
}

// offset says whether a time states how far it is from UTC.
func offset(at string) bool {
	_, err := time.Parse(time.RFC3339, at)
	return err == nil
}

// clockTime is a time as a person reads it, as the clock on site showed it:
// 2026-05-03 14:10.
func clockTime(at string) string {
	if t, err := time.Parse(time.RFC3339, at); err == nil {
		return t.Format("2006-01-02 15:04")
	}
	return at
}

// Before says whether one time is known to be earlier than another: both are
// stated, and differ as far as both go. Where only one states its offset from
// UTC, the clocks' faces are compared.
func Before(a, b string) bool {
	s, sDay, ok1 := readTime(a)
	t, tDay, ok2 := readTime(b)
	if !ok1 || !ok2 {
		return false
	}
	if offset(a) != offset(b) || sDay || tDay {
		s, t = shown(s), shown(t)
	}
	if sDay || tDay {
		s, t = s.Truncate(24*time.Hour), t.Truncate(24*time.Hour)
	}
	return s.Before(t)
}

// shown is what a clock on site showed, taken as UTC.
func shown(t time.Time) time.Time {
	return time.Date(t.Year(), t.Month(), t.Day(), t.Hour(), t.Minute(), t.Second(), t.Nanosecond(), time.UTC)
}
