package differ

import (
	"strings"
)

// causeGroup is the same thing that changed at several places.
type causeGroup struct {
	what    string // with … for names
	members []member
}

// member is one place of a group.
type member struct {
	names []string
	cause int
}

// group gathers causes that say the same of different places.
func (t *text) group() {
	at := map[string]int{}
	t.number = make([]int, len(t.Causes))
	for i, c := range t.Causes {
		masked, found := t.names.mask(c.What)
		if c.Of != "" {
			found = []string{c.Of}
		}
		key := masked
		if measured(c) {
			key = "measured" // whatever was read where, a round with the tape is one thing
		} else {
			key += "\x00" + c.Old + "\x00" + c.New + "\x00" + pathless(c.OldSource) + "\x00" + pathless(c.NewSource)
		}
		g, ok := at[key]
		if !ok {
			g = len(t.groups)
			at[key] = g
			t.groups = append(t.groups, causeGroup{what: masked})
		}
		t.groups[g].members = append(t.groups[g].members, member{found, i})
		t.number[i] = g
	}
}

func measured(c Cause) bool {
	return strings.HasPrefix(c.NewSource, "measured") || strings.HasPrefix(c.OldSource, "measured")
}

// pathless takes indices out of a job's path, so that walls of two structures
// or rooms read alike.
func pathless(source string) string {
	return strings.Map(func(r rune) rune {
		if r >= '0' && r <= '9' {
			return -1
		}
		return r
	}, unplaced(source))
}

// causes tells the inputs that differ, each group with its number.
func (t *text) causes() {
	for g := range t.groups {
		t.causeGroup(g)
	}
}

func (t *text) causeGroup(g int) {
	group := &t.groups[g]
	first := t.Causes[group.members[0].cause]
	if measured(first) {
		t.line(0, "[%d] %s", g+1, tapeWords(t.Causes, group.members))
		t.readings(group.members)
		return
	}
	title := first.What
	if len(group.members) > 1 {
		title = group.what
	}
	if len(first.Part) > 0 {
		t.line(0, "[%d] %s %s", g+1, title, arrow(first.Old, first.New))
		t.parts(first.Part)
		return
	}
	t.line(0, "[%d] %s: %s", g+1, title, t.sides(first))
	if len(group.members) > 1 {
		var names []string
		for _, m := range group.members {
			names = append(names, strings.Join(m.names, "–"))
		}
		t.line(4, "at %s", t.list(names))
	}
	t.source(first)
}

// sides are a cause's two values, or its two rules where the values are one.
func (t *text) sides(c Cause) string {
	switch {
	case c.Old == "" && c.New != "" && c.OldSource == "":
		return "now " + c.New
	case c.New == "" && c.OldSource != "" && c.NewSource == "":
		return "was " + c.Old + ", now none"
	case c.Old == c.New:
		return c.New + ", the same"
	}
	return arrow(c.Old, c.New)
}

// source tells where the two values stand, short.
func (t *text) source(c Cause) {
	o, n := short(c.OldSource), short(c.NewSource)
	switch {
	case n == o || o == "":
		if n != "" && n != "job" && n != "job or kit" {
			t.line(4, "%s", n)
		}
	case n == "":
		t.line(4, "was: %s", o)
	default:
		t.line(4, "was: %s", o)
		t.line(4, "now: %s", n)
	}
}

// short is a source without the folder a job lies in.
func short(source string) string {
	if placeAlone.MatchString(source) {
		return "job, line " + lineOf(source)
	}
	if at := placeAtEnd.FindString(source); strings.Count(at, ":") >= 2 {
		return placeAtEnd.ReplaceAllString(source, "") + " (line " + lineOf(strings.Trim(at, " ()")) + ")"
	}
	return source
}

func lineOf(pos string) string {
	parts := strings.Split(pos, ":")
	return parts[len(parts)-2]
}

// tapeWords says what kind of measuring a group is.
func tapeWords(all []Cause, members []member) string {
	fresh, again, gone, released := 0, 0, 0, 0
	for _, m := range members {
		c := all[m.cause]
		switch {
		case strings.Contains(c.NewSource, "release"):
			released++
		case !strings.HasPrefix(c.OldSource, "measured"):
			fresh++
		case !strings.HasPrefix(c.NewSource, "measured"):
			gone++
		default:
			again++
		}
	}
	switch {
	case released == len(members):
		return "released"
	case released > 0:
		return "measured or released"
	case again == 0 && gone == 0:
		return "measured"
	case fresh == 0 && gone == 0:
		return "measured again"
	case fresh == 0 && again == 0:
		return "readings taken out"
	}
	return "readings"
}

// readings tells readings, those taken in one go together. A wall that takes its
// width from its bay's readings is not told beside them.
func (t *text) readings(members []member) {
	read := map[string]bool{}
	for _, m := range members {
		if c := t.Causes[m.cause]; strings.Contains(c.What, " at the ") {
			read[c.Of] = true
		}
	}
	last := Cause{}
	for _, m := range members {
		c := t.Causes[m.cause]
		if c.What == "clear width" && read[c.Of] {
			continue
		}
		src := Cause{OldSource: ifMeasured(c.OldSource), NewSource: ifMeasured(c.NewSource)}
		if last.OldSource+last.NewSource != "" && (last.OldSource != src.OldSource || last.NewSource != src.NewSource) {
			t.source(last)
		}
		last = src
		t.reading(m)
	}
	t.source(last)
}

// reading tells one reading, old and new.
func (t *text) reading(m member) {
	c := t.Causes[m.cause]
	what := strings.TrimPrefix(c.What, "clear width at the ")
	if c.Of != "" {
		what = c.Of + " " + what
	} else if len(m.names) > 0 {
		what = m.names[0]
	}
	old, new := how(c.OldSource, c.Old)+none(c.Old), how(c.NewSource, c.New)+none(c.New)
	switch {
	case old == new:
		t.line(4, "%s: %s, the same", what, new)
	case old == "drawn "+new:
		t.line(4, "%s: %s, as drawn", what, new)
	case strings.HasSuffix(new, " "+old):
		t.line(4, "%s: measured → %s", what, new)
	default:
		t.line(4, "%s: %s → %s", what, old, new)
	}
}

// how says of a width that no tape gave where it is from.
func how(source, value string) string {
	switch {
	case value == "" || strings.HasPrefix(source, "measured"):
		return ""
	case strings.Contains(source, "release"):
		return "released at "
	}
	return "drawn "
}

func ifMeasured(s string) string {
	if strings.HasPrefix(s, "measured") {
		return s
	}
	return ""
}

// parts tells the first few inputs that came with another kit.
func (t *text) parts(list []Cause) {
	const few = 6
	told := map[string]bool{}
	var lines []string
	for _, c := range list {
		masked, _ := t.names.mask(c.What)
		s := masked + ": " + t.sides(c)
		if !told[s] {
			told[s] = true
			lines = append(lines, s)
		}
	}
	for i, s := range lines {
		if i == few {
			t.line(4, "and %d more (--json tells all)", len(lines)-few)
			return
		}
		t.line(4, "%s", s)
	}
}
