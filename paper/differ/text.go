package differ

import (
	"fmt"
	"slices"
	"strings"
)

// width is how many characters a line holds: a phone held upright.
const width = 46

// section is one part of the text: a title and what writes it. What a plan comes
// to hold besides is told by one more section.
type section struct {
	title string
	write func(*text)
}

var sections = []section{
	{"What is behind it", (*text).causes},
	{"Job and boards", (*text).job},
	{"Rooms, walls and posts", (*text).layout},
	{"Frames and fills", (*text).states},
	{"Bays", (*text).bays},
	{"Doors", (*text).doors},
	{"Boards and other pieces", (*text).pieces},
	{"Datum marks", (*text).marks},
	{"Setting out", (*text).setout},
	{"Order", (*text).order},
	{"What is bought and cut", (*text).cuts},
	{"Steps", (*text).work},
	{"Findings", (*text).findings},
}

// text writes a Diff for people.
type text struct {
	*Diff
	b      strings.Builder
	groups []causeGroup
	number []int          // of each cause: its group
	pos    map[string]int // of each bay in the new plan among its like
	kind   map[string]string
}

// Text is the difference as plain text, narrow enough for a phone.
func (d *Diff) Text() []byte {
	t := &text{Diff: d}
	if d.Empty() {
		t.line(0, "%s: nothing changed.", d.New.Job)
		return []byte(t.b.String())
	}
	t.group()
	t.places()
	t.head()
	told := false
	for _, s := range sections {
		part := &text{Diff: d, groups: t.groups, number: t.number, pos: t.pos, kind: t.kind}
		s.write(part)
		if part.b.Len() > 0 {
			told = true
			t.b.WriteString("\n" + s.title + "\n" + strings.Repeat("-", len(s.title)) + "\n" + part.b.String())
		}
	}
	if !told {
		t.line(0, "What changed is a detail that nobody builds by; --json tells it.")
	}
	return []byte(t.b.String())
}

// line writes one line, broken where the screen ends; what is broken hangs two
// further in.
func (t *text) line(indent int, format string, args ...any) {
	words := strings.Fields(fmt.Sprintf(format, args...))
	// What belongs together stays together: 11' 6 1/4", 3 of, × 5.
	words = glue(words)
	pad := strings.Repeat(" ", indent)
	cur := pad
	empty := true
	for _, w := range words {
		if !empty && len([]rune(cur))+1+len([]rune(w)) > width {
			t.b.WriteString(cur + "\n")
			cur, empty = pad+"  ", true
		}
		if !empty {
			cur += " "
		}
		cur += w
		empty = false
	}
	t.b.WriteString(cur + "\n")
}

// glue joins the words of a length, so that it does not break across lines.
func glue(words []string) []string {
	var out []string
	for _, w := range words {
		if n := len(out); n > 0 && partOfLength(out[n-1], w) {
			out[n-1] += " " + w
			continue
		}
		out = append(out, w)
	}
	return out
}

func partOfLength(a, b string) bool {
	digit := func(s string) bool { return s != "" && s[0] >= '0' && s[0] <= '9' }
	last := a[strings.LastIndexByte(a, ' ')+1:]
	switch {
	case a == "→" || a == "→ ":
		return false
	case strings.HasSuffix(last, "'") && digit(b) && strings.Contains(b, `"`): // 11' 6"
		return true
	case strings.HasSuffix(last, "'") && digit(b) && !strings.ContainsAny(b, "'/"): // 11' 6 1/4"
		return true
	case digit(strings.TrimLeft(last, "(+-≈")) && strings.Contains(b, "/") && strings.Contains(b, `"`) && digit(b): // 6 1/4"
		return true
	case digit(strings.TrimLeft(last, "(+-≈")) && (strings.HasPrefix(b, "mm") || strings.HasPrefix(b, "lb") || strings.HasPrefix(b, "kg")):
		return true
	}
	return false
}

// head says which plans these are and, in a few lines, what changed.
func (t *text) head() {
	t.line(0, "%s", t.New.Job)
	t.line(0, "%s", arrow(fmt.Sprintf("revision %d", t.Old.Revision), fmt.Sprintf("revision %d", t.New.Revision)))
	for _, u := range t.Use {
		if u.Kind == "board" && u.Recut+u.Again+u.New+u.Gone > 0 {
			t.line(0, "boards: %d as they are%s", u.Keep, tally(u))
		}
	}
	delta := t.NewMassUG - t.OldMassUG
	switch {
	case delta == 0 && len(t.Diff.Order) == 0:
		t.line(0, "order: the same")
	default:
		t.line(0, "order: %s", t.massChange(t.OldMassUG, t.NewMassUG))
	}
}

func tally(u Use) string {
	s := ""
	for _, v := range []struct {
		n    int
		what string
	}{{u.Recut, "cut shorter"}, {u.Again, "cut anew"}, {u.New, "new"}, {u.Gone, "no longer needed"}} {
		if v.n > 0 {
			s += fmt.Sprintf(", %d %s", v.n, v.what)
		}
	}
	return s
}

func arrow(old, new string) string {
	if old == new {
		return old
	}
	return none(old) + " → " + none(new)
}

func none(s string) string {
	if s == "" {
		return "none"
	}
	return s
}

// massChange is a mass before and after, and by how much.
func (t *text) massChange(old, new int64) string {
	if old == new {
		return t.mass(old) + ", unchanged"
	}
	sign := "+"
	if new < old {
		sign = "-"
	}
	return arrow(t.mass(old), t.mass(new)) + " (" + sign + t.mass(abs(new-old)) + ")"
}

func abs(v int64) int64 {
	if v < 0 {
		return -v
	}
	return v
}

// value is a change with its amount where it is a length.
func (t *text) value(v Value) string {
	s := v.What + " " + arrow(v.Old, v.New)
	if v.OldNM != nil && v.NewNM != nil {
		d := *v.NewNM - *v.OldNM
		sign := "+"
		if d < 0 {
			sign = "-"
		}
		s += " (" + sign + t.show(abs(d)) + ")"
	}
	return s
}

// tiny says of a length that it changed by less than can be shown, as corners of
// a turned grid do; --json tells it.
func tiny(v Value) bool { return v.OldNM != nil && v.NewNM != nil && v.Old == v.New }

// places numbers bays, runs and posts along each wall or line of posts, doors
// apart from the rest, so that neighbours are told as from … to.
func (t *text) places() {
	t.pos, t.kind = map[string]int{}, map[string]string{}
	n := map[string]int{}
	wall := map[string]string{} // of each run
	add := func(kind, name string) {
		t.pos[name], t.kind[name] = n[kind], kind
		n[kind]++
	}
	for i := range t.new.Posts {
		add("post "+strings.TrimRight(t.new.Posts[i].Name, "0123456789"), t.new.Posts[i].Name)
	}
	for i := range t.new.Runs {
		r := &t.new.Runs[i]
		wall[r.Name] = r.Wall
		add("run "+r.Wall, r.Name)
	}
	for i := range t.new.Bays {
		b := &t.new.Bays[i]
		kind := "bay"
		if b.Door != nil {
			kind = "door"
		}
		if len(b.Courses) > 0 || b.Door != nil {
			add(kind+" "+wall[b.Run], b.Name)
		}
	}
}

// list writes names, neighbours in the plan as from … to (how many).
func (t *text) list(names []string) string {
	var out []string
	for i := 0; i < len(names); {
		n := i + 1
		for n < len(names) && t.adjoins(names[n-1], names[n]) {
			n++
		}
		switch {
		case n-i >= 4:
			out = append(out, fmt.Sprintf("%s … %s (%d)", names[i], names[n-1], n-i))
		default:
			out = append(out, names[i:n]...)
		}
		i = n
	}
	return strings.Join(out, ", ")
}

func (t *text) adjoins(a, b string) bool {
	i, ok := t.pos[a]
	j, also := t.pos[b]
	return ok && also && t.kind[a] == t.kind[b] && j == i+1
}

// why writes the numbers of the causes' groups.
func (t *text) why(list []int) string {
	var numbers []int
	for _, c := range list {
		numbers = append(numbers, t.number[c]+1)
	}
	slices.Sort(numbers)
	s := ""
	for _, n := range slices.Compact(numbers) {
		s += fmt.Sprintf("[%d]", n)
	}
	return s
}
