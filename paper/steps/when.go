package steps

import (
	"strings"

	"stallwright/engine/build"
	"stallwright/paper/solid"
)

// index finds which operation brings each solid. Pieces say so themselves;
// hardware comes with the work it is for.
func (d *Drawer) index() {
	ops := d.build.Operations
	n := len(d.scene.Solids)
	d.appears = make([]int, n)
	d.stands, d.hangs = map[int]int{}, map[int]int{}
	d.byRun, d.byBay, d.byPost = map[int][]int{}, map[int][]int{}, map[int][]int{}
	d.from = make([][]int, len(d.Layout.Structures))
	d.portraits = map[string]int{}
	adds, at := map[int]int{}, map[work][]int{}
	for i := range ops {
		o := &ops[i]
		for _, p := range o.Adds {
			adds[p] = i
		}
		switch o.Kind {
		case build.Stand:
			if o.Place.Run >= 0 {
				d.stands[o.Place.Run] = i
			}
		case build.Hang:
			d.hangs[o.Place.Bay] = i
		}
		for _, key := range []work{{kind: o.Kind, bay: o.Place.Bay, post: -1, run: -1}, {kind: o.Kind, bay: -1, post: o.Place.Post, run: -1}, {bay: -1, post: o.Place.Post, run: -1}} {
			at[key] = append(at[key], i)
		}
		for _, u := range o.Parts {
			key := work{item: u.Item, run: o.Place.Run, bay: -1, post: -1}
			at[key] = append(at[key], i)
		}
	}
	for i := range d.scene.Solids {
		s := &d.scene.Solids[i]
		d.from[s.Structure] = append(d.from[s.Structure], i)
		if _, ok := d.portraits[s.Item]; !ok && s.Piece < 0 && s.Item != "" {
			d.portraits[s.Item] = i
		}
		if s.Run >= 0 {
			d.byRun[s.Run] = append(d.byRun[s.Run], i)
		}
		if s.Bay >= 0 {
			d.byBay[s.Bay] = append(d.byBay[s.Bay], i)
		}
		if s.Post >= 0 {
			d.byPost[s.Post] = append(d.byPost[s.Post], i)
		}
	}
	for i := range d.scene.Solids {
		s := &d.scene.Solids[i]
		d.appears[i] = len(ops)
		if op, ok := d.propOf[i]; ok {
			d.appears[i] = op
			continue
		}
		switch op, ok := adds[s.Piece]; {
		case s.Piece >= 0 && ok:
			d.appears[i] = op
		case s.Piece >= 0: // set aside
		case s.Kind == solid.Timber || s.Kind == solid.Building:
			d.appears[i] = -1
		default:
			d.appears[i] = d.hardware(s, adds, at)
		}
	}
	d.brought = make([][]int, len(ops))
	for i, op := range d.appears {
		if op >= 0 && op < len(d.brought) {
			d.brought[op] = append(d.brought[op], i)
		}
	}
}

// work is a kind of operation at a bay or a post, or an item taken at a run; -1
// and empty for what does not matter.
type work struct {
	kind           build.Kind
	item           string
	run, bay, post int
}

// hardware is the operation that brings what is no piece.
func (d *Drawer) hardware(s *solid.Solid, adds map[int]int, at map[work][]int) int {
	never := len(d.build.Operations)
	name := s.Name[strings.LastIndex(s.Name, "/")+1:]
	first := func(keys ...work) int {
		for _, k := range keys {
			if list := at[k]; len(list) > 0 {
				return list[0]
			}
		}
		return never
	}
	bay := func(k build.Kind) int { return first(work{kind: k, bay: s.Bay, run: -1, post: -1}) }
	post := func(k build.Kind) work { return work{kind: k, bay: -1, run: -1, post: s.Post} }
	switch {
	case strings.HasPrefix(name, "clamp"):
		return bay(build.Clamp)
	case strings.HasPrefix(name, "roller"), strings.HasPrefix(name, "hinge"):
		return bay(build.Rollers)
	case strings.HasPrefix(name, "handle"):
		return bay(build.Handle)
	case strings.HasSuffix(name, "stop"):
		return bay(build.Hang)
	case strings.HasPrefix(name, "track bracket"):
		return bay(build.Track)
	case strings.Contains(name, " lag"):
		return d.lag(s, adds)
	case strings.HasPrefix(name, "anchor"):
		return first(post(build.Anchor), post(build.Stand), post(""))
	case strings.Contains(name, "bracket"):
		return d.bracket(s, adds, at)
	case strings.Contains(name, "lugs"):
		for _, i := range d.byRun[s.Run] {
			if v := &d.scene.Solids[i]; v.Piece >= 0 && strings.HasSuffix(v.Name, " post") {
				return adds[v.Piece]
			}
		}
	case strings.HasSuffix(name, " pin"):
		pins := at[post(build.Pin)]
		switch {
		case len(pins) == 0:
			return never
		case strings.HasPrefix(name, "bottom"):
			return pins[0]
		}
		return pins[len(pins)-1]
	case name == "base":
		return first(post(build.Seat), post(build.Pour), post(""))
	}
	return never
}

// bracket comes with the bolts of its tube: with the first operation at its run,
// from the tube's own on, that takes brackets.
func (d *Drawer) bracket(s *solid.Solid, adds map[int]int, at map[work][]int) int {
	tube := 0
	prefix, _, _ := strings.Cut(s.Name, " ")
	item := d.Layout.Runs[s.Run].Assembly.Bracket
	for _, i := range d.byRun[s.Run] {
		v := &d.scene.Solids[i]
		if op, ok := adds[v.Piece]; ok && v.Piece >= 0 && strings.HasPrefix(v.Name, prefix) {
			tube = max(tube, op)
		}
	}
	for _, i := range at[work{item: item, run: s.Run, bay: -1, post: -1}] {
		if i >= tube {
			return i
		}
	}
	return tube
}

// lag comes with the channel or post that it holds.
func (d *Drawer) lag(s *solid.Solid, adds map[int]int) int {
	head, _, _ := strings.Cut(s.Name, " ") // run and side
	for _, i := range d.byRun[s.Run] {
		if v := &d.scene.Solids[i]; v.Piece >= 0 && strings.HasPrefix(v.Name, head+" ") {
			return adds[v.Piece]
		}
	}
	return len(d.build.Operations)
}
