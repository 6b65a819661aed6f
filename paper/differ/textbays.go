package differ

import (
	"fmt"
	"slices"
	"strings"

	"stallwright/paper/packet"
)

// states tells frames and fills that have come further, or go back.
func (t *text) states() {
	for _, g := range gather(t.Runs, func(p *Part) string {
		for _, v := range p.Values {
			if v.Field == "frame_state" {
				return arrow(v.Old, v.New)
			}
		}
		return ""
	}) {
		t.line(0, "frame %s: %s", g.key, t.list(g.names()))
	}
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
		if !detail(v.Field) && !tiny(v) && !(t.otherKit && ofKitOnly(v.Field)) && !(otherDoor && ofDoor(v.Field)) {
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
			case v.Field != "state" && !tiny(v):
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
