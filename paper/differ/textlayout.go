package differ

import (
	"fmt"
	"slices"
	"strings"

	"stallwright/paper/packet"
)

// job tells what the job says of itself differently. The revision stands in the
// head already.
func (t *text) job() {
	for _, v := range t.Job {
		if v.Field != "revision" {
			t.line(0, "%s", t.value(v))
		}
	}
}

// alike gathers parts that read the same but for their names.
type alike struct {
	key   string
	parts []*Part
}

func gather(list []Part, key func(*Part) string) []alike {
	at := map[string]int{}
	var out []alike
	for i := range list {
		k := key(&list[i])
		if k == "" {
			continue
		}
		n, ok := at[k]
		if !ok {
			n = len(out)
			at[k] = n
			out = append(out, alike{key: k})
		}
		out[n].parts = append(out[n].parts, &list[i])
	}
	return out
}

func (a *alike) names() []string {
	var out []string
	for _, p := range a.parts {
		out = append(out, p.Name())
	}
	return out
}

// layout tells rooms, then walls, then posts.
func (t *text) layout() {
	t.cameAndWent("structure", t.Structures, func(string, *packet.Document) string { return "" })
	t.cameAndWent("", t.Rooms, roomWords)
	t.renamed()
	t.changedParts(t.Structures, "", "sections_nm")
	t.changedParts(t.Rooms, "", "corners", "runs")
	t.changedParts(t.Aisles, "", "")
	t.runs()
	if t.otherKit {
		t.line(0, "Walls and posts are those of the other kit.")
		return
	}
	t.posts()
}

// roomWords is a room's kind and size.
func roomWords(name string, d *packet.Document) string {
	for i := range d.Rooms {
		if r := &d.Rooms[i]; r.Name == name {
			return fmt.Sprintf("%s, %s x %s", r.Kind, r.Width, r.Depth)
		}
	}
	return ""
}

func (t *text) cameAndWent(kind string, list []Part, words func(string, *packet.Document) string) {
	for _, g := range gather(list, func(p *Part) string {
		switch {
		case p.Old == "":
			return "+ " + words(p.New, t.new) + "\x00" + t.why(p.Causes)
		case p.New == "":
			return "- " + words(p.Old, t.old) + "\x00" + t.why(p.Causes)
		}
		return ""
	}) {
		w, why, _ := strings.Cut(g.key, "\x00")
		s := w[:2]
		if kind != "" {
			s += kind + " "
		}
		s += t.list(g.names())
		if w[2:] != "" {
			s += ": " + w[2:]
		}
		t.line(0, "%s %s", s, why)
	}
}

// renamed tells structures and rooms that are called another name now; the names
// of what is in them follow.
func (t *text) renamed() {
	told := false
	for i := range t.Structures {
		if p := &t.Structures[i]; p.Renamed() {
			t.line(0, "%s is now called %s", p.Old, p.New)
			told = true
		}
	}
	for i := range t.Rooms {
		if p := &t.Rooms[i]; p.Renamed() && !t.numbered(p) {
			t.line(0, "%s is now called %s", p.Old, p.New)
			told = true
		}
	}
	if told {
		t.line(2, "what is in them follows: mark its pieces anew")
	}
}

// follows says whether a new name follows from that of a structure or of rooms:
// A1-A2 from A1 and A2.
func (t *text) follows(p *Part) bool { return t.follow(p.Old) == p.New }

func (t *text) follow(old string) string {
	parts := strings.Split(old, "-")
	for i, s := range parts {
		parts[i] = t.roomNow(s)
	}
	return strings.Join(parts, "-")
}

// roomNow is what a room or structure, or what is numbered in it, is called now.
func (t *text) roomNow(name string) string {
	for i := range t.Rooms {
		if p := &t.Rooms[i]; p.Old == name && p.New != "" && !t.numbered(p) {
			return p.New
		}
	}
	for i := range t.Structures {
		if p := &t.Structures[i]; p.Renamed() {
			if rest, ok := strings.CutPrefix(name, p.Old); ok && (rest == "" || strings.TrimLeft(rest, "0123456789") == "" || rest[0] == '.') {
				return p.New + rest
			}
		}
	}
	return name
}

// numbered says whether a room's new name is its old one under its structure's
// new name.
func (t *text) numbered(p *Part) bool {
	for i := range t.Structures {
		if s := &t.Structures[i]; s.Renamed() && strings.TrimPrefix(p.Old, s.Old) == strings.TrimPrefix(p.New, s.New) {
			return true
		}
	}
	return false
}

// changedParts tells values that changed, the same ones once, leaving out fields
// that only follow.
func (t *text) changedParts(list []Part, kind string, leave ...string) {
	for _, g := range gather(list, func(p *Part) string {
		if p.Old == "" || p.New == "" {
			return ""
		}
		var lines []string
		for _, v := range p.Values {
			if !slices.Contains(leave, v.Field) && !tiny(v) {
				lines = append(lines, t.value(v))
			}
		}
		if len(lines) == 0 {
			return ""
		}
		return strings.Join(lines, "\n") + "\x00" + t.why(p.Causes)
	}) {
		lines, why, _ := strings.Cut(g.key, "\x00")
		t.line(0, "%s%s %s", kind, t.list(g.names()), why)
		for s := range strings.Lines(lines) {
			t.line(2, "%s", s)
		}
	}
}

// runs tells walls that came, went, or have other ends. Where a bay has its
// run's name, the bay tells the rest.
func (t *text) runs() {
	var list []Part
	rooms := t.roomsCame()
	for _, p := range t.Runs {
		if (p.Old == "" || p.New == "") && rooms[t.why(p.Causes)] {
			continue // comes and goes with its room
		}
		list = append(list, p)
	}
	t.cameAndWent("wall", list, func(string, *packet.Document) string { return "" })
	for i := range list {
		// A wall named after its rooms goes with them; only the rest is told.
		if p := &list[i]; p.Renamed() && !t.follows(p) {
			t.line(0, "wall %s is now called %s: mark its boards anew", p.Old, p.New)
		}
	}
	if t.otherKit {
		return
	}
	t.changedParts(list, "wall ", "bays", "frame_state", "built", "centres", "drawn_clear", "door_posts", "wall", "from", "to", "structure")
}

// roomsCame are the causes of rooms that came and went.
func (t *text) roomsCame() map[string]bool {
	m := map[string]bool{}
	for i := range t.Rooms {
		if p := &t.Rooms[i]; p.Old == "" || p.New == "" {
			m[t.why(p.Causes)] = true
		}
	}
	return m
}

// posts tells posts that came, went, moved or are another kind. Where each moved
// to is on the plan.
func (t *text) posts() {
	var came, went, moved []string
	var other []Part
	for _, p := range t.Posts {
		switch {
		case p.Old == "":
			came = append(came, p.New)
		case p.New == "":
			went = append(went, p.Old)
		default:
			at := false
			var rest []Value
			for _, v := range p.Values {
				if tiny(v) {
					continue
				}
				if v.Field == "x" || v.Field == "y" || v.Field == "turn" {
					at = true
				} else if v.Field != "structure" {
					rest = append(rest, v)
				}
			}
			if at {
				moved = append(moved, p.New)
			}
			if len(rest) > 0 {
				p.Values = rest
				other = append(other, p)
			}
		}
	}
	for _, v := range []struct {
		what  string
		names []string
	}{{"+ posts", came}, {"- posts", went}, {"posts that moved:", moved}} {
		if len(v.names) > 0 {
			t.line(0, "%s %s", v.what, t.list(v.names))
		}
	}
	t.changedParts(other, "post ", "")
}
