package workbook

import (
	"fmt"
	"slices"
	"strings"

	"stallwright/engine/fit"
	"stallwright/engine/kit"
	"stallwright/engine/measure"
	"stallwright/engine/takeoff"
	"stallwright/paper/words"
)

// takeoff is the order: what is needed, bought and kept as spares, and its mass.
func (b *book) takeoff() *sheet {
	s := &sheet{name: b.say("workbook.takeoff"), columns: []column{
		{b.say("workbook.class"), text, 16, false},
		{b.say("workbook.item"), text, 26, false},
		{b.say("workbook.name"), label, 40, false},
		{b.say("workbook.treated"), centred, 14, false},
		{b.say("workbook.length"), text, 24, false},
		{b.unit("workbook.length-mm", "workbook.length-in"), number, 14, false},
		{b.say("workbook.needed"), count, 14, false},
		{b.say("workbook.buy"), count, 14, true},
		{b.say("workbook.spares"), count, 14, true},
		{b.say("workbook.order"), count, 14, true},
		{b.unit("workbook.each-kg", "workbook.each-lb"), number, 14, false},
		{b.unit("workbook.mass-kg", "workbook.mass-lb"), amount, 14, true},
		{b.say("workbook.places"), label, 60, false},
	}}
	for i := range b.p.Takeoff.Lines {
		l := &b.p.Takeoff.Lines[i]
		var places []string
		for _, v := range l.Places {
			places = append(places, fmt.Sprintf("%s\u00a0×\u00a0%d", v.Name, v.Count))
		}
		each := 0.0
		if l.Order > 0 {
			each = b.mass(l.Mass) / float64(l.Order)
		}
		s.rows = append(s.rows, []any{
			b.class(l.Class), l.Item, b.item(l.Item, l.Name), b.yes(l.Treated), b.tape(l.Length), b.size(l.Length),
			l.Count, l.Buy, l.Spares, formula{"{H}+{I}", float64(l.Buy + l.Spares)}, each, formula{"{J}*{K}", float64(l.Order) * each},
			strings.Join(places, ", "),
		})
	}
	return s
}

// alike is pieces that are cut alike.
type alike struct {
	item    string
	treated bool
	length  measure.Length
	work    string
	state   fit.State
}

// cutList gathers the pieces that are cut, longest first within each material.
func (b *book) cutList() *sheet {
	s := &sheet{name: b.say("workbook.cut-list"), columns: []column{
		{b.say("workbook.item"), text, 26, false},
		{b.say("workbook.name"), label, 40, false},
		{b.say("workbook.treated"), centred, 14, false},
		{b.say("workbook.length"), text, 24, false},
		{b.unit("workbook.length-mm", "workbook.length-in"), number, 14, false},
		{b.say("workbook.count"), count, 14, true},
		{b.unit("workbook.run-m", "workbook.run-ft"), amount, 14, true},
		{b.say("workbook.work"), label, 40, false},
		{b.say("workbook.state"), text, 16, false},
		{b.say("workbook.labels"), label, 70, false},
	}}
	names := map[string]string{fit.Lumber: ""}
	for i := range b.p.Takeoff.Needs {
		names[b.p.Takeoff.Needs[i].Item] = b.p.Takeoff.Needs[i].Name
	}
	order, labels := b.gather()
	for _, k := range order {
		n := len(labels[k])
		s.rows = append(s.rows, []any{
			k.item, b.item(k.item, names[k.item]), b.yes(k.treated), b.p.Show(k.length), b.size(k.length),
			n, formula{fmt.Sprintf("{E}*{F}/%d", b.perRun()), b.length(k.length) * float64(n) / float64(b.perRun())},
			k.work, b.w.Say(words.State(k.state)), strings.Join(labels[k], " "),
		})
	}
	return s
}

func (b *book) gather() ([]alike, map[alike][]string) {
	var order []alike
	labels := map[alike][]string{}
	for i := range b.p.Fit.Pieces {
		v := &b.p.Fit.Pieces[i]
		if !v.Cut {
			continue
		}
		k := alike{v.Item, v.Treated, v.Length, b.work(v), v.State}
		if labels[k] == nil {
			order = append(order, k)
		}
		labels[k] = append(labels[k], v.Label)
	}
	slices.SortStableFunc(order, func(x, y alike) int {
		switch {
		case x.item != y.item:
			return strings.Compare(x.item, y.item)
		case x.treated != y.treated:
			if x.treated {
				return -1
			}
			return 1
		case x.length != y.length:
			if x.length > y.length {
				return -1
			}
			return 1
		}
		return strings.Compare(x.work, y.work)
	})
	return order, labels
}

// pieces lists every piece by its label.
func (b *book) pieces() *sheet {
	s := &sheet{name: b.say("workbook.pieces"), columns: []column{
		{b.say("workbook.label"), text, 26, false},
		{b.say("workbook.item"), text, 26, false},
		{b.say("workbook.place"), text, 24, false},
		{b.say("workbook.course"), count, 14, false},
		{b.say("workbook.length"), text, 24, false},
		{b.unit("workbook.length-mm", "workbook.length-in"), number, 14, false},
		{b.unit("workbook.covers-mm", "workbook.covers-in"), number, 14, false},
		{b.say("workbook.treated"), centred, 14, false},
		{b.say("workbook.work"), label, 44, false},
		{b.say("workbook.state"), text, 16, false},
		{b.say("workbook.count"), count, 14, true},
	}}
	for i := range b.p.Fit.Pieces {
		v := &b.p.Fit.Pieces[i]
		var course any
		if v.Course > 0 {
			course = v.Course
		}
		s.rows = append(s.rows, []any{
			v.Label, v.Item, b.p.Place(v), course, b.tape(v.Length), b.size(v.Length), b.size(v.Height), b.yes(v.Treated), b.work(v), b.w.Say(words.State(v.State)), 1,
		})
	}
	return s
}

// size is a length as a number, or nothing for what has none.
func (b *book) size(l measure.Length) any {
	if l == 0 {
		return nil
	}
	return b.length(l)
}

// tape is a length as the tape shows it, or nothing.
func (b *book) tape(l measure.Length) any {
	if l == 0 {
		return nil
	}
	return b.p.Show(l)
}

func (b *book) yes(v bool) any {
	if v {
		return b.say("workbook.yes")
	}
	return nil
}

func (b *book) item(id, name string) string {
	if name == "" {
		return id
	}
	return b.w.Say(words.Item(b.p.Kit.Kit, id, name))
}

// classes are what classes of things are called.
var classes = map[kit.Class]string{
	takeoff.ClassLumber: "workbook.class-lumber", kit.ClassPost: "workbook.class-post", kit.ClassTube: "workbook.class-tube",
	kit.ClassChannel: "workbook.class-channel", kit.ClassBracket: "workbook.class-bracket", kit.ClassGrille: "workbook.class-grille",
	kit.ClassDoor: "workbook.class-door", kit.ClassWindow: "workbook.class-window", kit.ClassFeeder: "workbook.class-feeder",
	kit.ClassClamp: "workbook.class-clamp", kit.ClassPart: "workbook.class-part", kit.ClassBase: "workbook.class-base",
	kit.ClassFastener: "workbook.class-fastener",
}

func (b *book) class(c kit.Class) string {
	if key, ok := classes[c]; ok {
		return b.say(key)
	}
	return string(c)
}

// work is what is done to a piece besides cutting it to length.
func (b *book) work(v *fit.Piece) string {
	var do []string
	for _, t := range b.p.Todo(v) {
		do = append(do, b.w.Say(t))
	}
	return strings.Join(do, "; ")
}
