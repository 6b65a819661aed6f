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
			if !slices.Contains(leave, v.Field) {
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
	t.changedParts(list, "wall ", "bays", "built", "centres", "drawn_clear", "door_posts", "wall", "from", "to", "structure")
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

// states tells bays that were measured, or are no longer.
func (t *text) states() {
	for _, g := range gather(t.Bays, func(p *Part) string {
		for _, v := range p.Values {
			if v.Field == "state" {
				return v.Old + " → " + v.New
			}
		}
		return ""
	}) {
		t.line(0, "%s: %s", g.key, t.list(g.names()))
	}
}

// detail are fields of a bay that follow from what is told, or that nobody acts
// on; --json tells them.
func detail(field string) bool {
	switch field {
	case "stack", "state", "run", "room", "hold_left", "hold_right", "drawn_clear", "courses.places", "courses.pieces", "stack.top", "stack.slack", "stack.zone", "grille.z", "grille.cut_ends",
		"door.gap_from", "door.gap_to", "door.stem_from", "door.stem_to", "door.track.from", "door.track.to", "door.track.parked_from", "door.track.parked_to",
		"window.x", "window.sill", "window.head", "feeder.z", "feeder.top":
		return true
	}
	return false
}

// ofDoor are fields that come with another door.
func ofDoor(field string) bool {
	switch field {
	case "board", "courses", "door.kind", "door.lap", "door.rise", "door.latch", "door.boards_from_above", "door.boards_from_below":
		return true
	}
	return false
}

// ofKitOnly are fields that are another part's own with another kit.
func ofKitOnly(field string) bool {
	return strings.HasPrefix(field, "grille.") && field != "grille.item" && field != "grille.width" || field == "stack.clamp" || strings.HasPrefix(field, "window.") && field != "window.item"
}

// bays tells the walls' bays, doors apart.
func (t *text) bays() { t.fills(false) }

func (t *text) doors() { t.fills(true) }

func (t *text) fills(door bool) {
	for _, g := range gather(t.Bays, func(p *Part) string {
		if t.isDoor(p) != door {
			return ""
		}
		lines := t.bayLines(p)
		if len(lines) == 0 {
			return ""
		}
		return strings.Join(lines, "\n") + "\x00" + t.why(p.Causes)
	}) {
		lines, why, _ := strings.Cut(g.key, "\x00")
		t.line(0, "%s %s", t.list(g.names()), why)
		for s := range strings.Lines(lines) {
			t.line(2, "%s", s)
		}
	}
}

func (t *text) isDoor(p *Part) bool {
	b := t.bay(p.New, t.new)
	if b == nil {
		b = t.bay(p.Old, t.old)
	}
	return b != nil && b.Door != nil
}

func (t *text) bay(name string, d *packet.Document) *packet.BayDoc {
	for i := range d.Bays {
		if d.Bays[i].Name == name {
			return &d.Bays[i]
		}
	}
	return nil
}

// bayLines tells one bay: what it is if it is new, that it is gone, or what
// changed.
func (t *text) bayLines(p *Part) []string {
	switch {
	case p.Old == "" || p.New == "":
		b, what := t.bay(p.New, t.new), "new: "
		if b == nil {
			b, what = t.bay(p.Old, t.old), "gone: "
		}
		if b.Fill == "open" {
			return nil // nothing stands there
		}
		return []string{what + t.bayWords(b)}
	}
	var lines []string
	otherDoor := slices.ContainsFunc(p.Values, func(v Value) bool { return v.Field == "door.item" })
	for _, v := range p.Values {
		if !detail(v.Field) && !(t.otherKit && ofKitOnly(v.Field)) && !(otherDoor && ofDoor(v.Field)) {
			lines = append(lines, t.value(v))
		}
	}
	if !t.otherKit {
		lines = append(lines, t.track(p.Values)...)
	}
	if len(lines) == 0 && !onlyNames(p.Values) {
		for _, v := range p.Values {
			switch {
			case v.Field == "courses.places":
				lines = append(lines, "courses stand at other heights")
			case v.Field != "state":
				lines = append(lines, t.value(v))
			}
		}
	}
	if p.Renamed() && len(lines) > 0 {
		lines = append([]string{"was called " + p.Old}, lines...)
	}
	return lines
}

// track tells where a track goes now; all four ends mostly move by the same.
func (t *text) track(list []Value) []string {
	var lines []string
	var by []int64
	for _, v := range list {
		if along(v.Field) && v.OldNM != nil && v.NewNM != nil {
			by = append(by, *v.NewNM-*v.OldNM)
			lines = append(lines, t.value(v))
		}
	}
	slices.Sort(by)
	if by = slices.Compact(by); len(by) != 1 || len(lines) < 4 {
		return lines
	}
	way := "right"
	if by[0] < 0 {
		way = "left"
	}
	return []string{fmt.Sprintf("track and parked leaf %s further %s", t.show(abs(by[0])), way)}
}

func along(field string) bool {
	return strings.HasPrefix(field, "door.track.from") || strings.HasPrefix(field, "door.track.to") || strings.HasPrefix(field, "door.track.parked_")
}

func onlyNames(list []Value) bool {
	for _, v := range list {
		if v.Field != "run" && v.Field != "room" && v.Field != "state" && v.Field != "courses.pieces" {
			return false
		}
	}
	return true
}

func (t *text) bayWords(b *packet.BayDoc) string {
	s := b.Fill
	if b.Door != nil {
		s = b.Door.Item
	}
	s += ", clear " + t.show(b.ClearNM)
	if b.BoardNM > 0 && b.Door == nil {
		s += ", " + courses(b.Courses) + ", board " + t.show(b.BoardNM)
	}
	return s
}

// marks tells where the datum line is marked differently.
func (t *text) marks() {
	for _, g := range gather(t.Marks, func(p *Part) string {
		switch {
		case p.Old == "":
			return "new"
		case p.New == "":
			return "gone"
		}
		for _, v := range p.Values {
			if v.Field == "height" {
				return t.value(v) + "\x00" + t.why(p.Causes)
			}
		}
		return ""
	}) {
		s, why, _ := strings.Cut(g.key, "\x00")
		t.line(0, "%s: %s %s", s, t.list(slices.Compact(g.names())), why)
	}
}
