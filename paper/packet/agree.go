package packet

import (
	"fmt"
	"math"

	"stallwright/engine/measure"
)

// deepest is the longest chain of reasons accepted; real ones have some ten
// steps.
const deepest = 200

// agree checks what types cannot: that names are there once, that references
// lead somewhere, and that sums add up.
func (r *reader) agree(d *Document) {
	a := &agreement{r: r}
	a.check(d)
	if len(a.faults) == 0 {
		return
	}
	r.want = map[string]int{}
	for _, f := range a.faults {
		r.want[f.path] = -1
	}
	r.walk(d) // once more, for the places
	for _, f := range a.faults {
		r.add(r.want[f.path], f.path, f.text, f.message, f.hint)
	}
}

// agreement gathers what does not agree, by path.
type agreement struct {
	r      *reader
	faults []fault
}

func (a *agreement) fault(path, format string, args ...any) {
	if len(a.faults) < 50 {
		a.faults = append(a.faults, fault{path: path, message: fmt.Sprintf(format, args...), hint: again})
	}
}

func (a *agreement) check(d *Document) {
	if d.Format != Format {
		a.fault("format", "the plan has format %d; this stallwright reads format %d", d.Format, Format)
		return
	}
	if _, err := measure.ParseSystem(d.Job.Units); err != nil {
		a.fault("job.units", "units are feet or metric")
	}
	a.reasons(d)
	n := a.names(d)
	a.layout(d, n)
	a.fitted(d, n)
	a.setout(d, n)
	a.order(d)
	a.work(d, n.pieces)
	for i := range d.Findings {
		switch d.Findings[i].Severity {
		case "note", "warning", "error":
		default:
			a.fault(fmt.Sprintf("findings[%d].severity", i), "a severity is note, warning or error")
		}
	}
}

// reasons lead to earlier ones only, so that no chain runs in a circle.
func (a *agreement) reasons(d *Document) {
	depth := make([]int, len(d.Reasons))
	for i := range d.Reasons {
		for k, from := range d.Reasons[i].From {
			path := fmt.Sprintf("reasons[%d].from[%d]", i, k)
			if from < 0 || from >= i {
				a.fault(path, "a reason comes from earlier ones only, here 0 to %d", i-1)
				continue
			}
			if depth[i] = max(depth[i], depth[from]+1); depth[i] > deepest {
				a.fault(path, "this chain of reasons is over %d steps long", deepest)
				return
			}
		}
	}
	why := func(at int, format string, args ...any) {
		if at < -1 || at >= len(d.Reasons) {
			a.fault(fmt.Sprintf(format, args...)+".reason", "there is no reason %d", at)
		}
	}
	for i := range d.Runs {
		why(d.Runs[i].Reason, "runs[%d]", i)
	}
	for i := range d.Bays {
		b := &d.Bays[i]
		why(b.Reason, "bays[%d]", i)
		if b.Taper != nil {
			why(b.Taper.Reason, "bays[%d].taper", i)
		}
		if b.Thick != nil {
			why(b.Thick.Reason, "bays[%d].thick", i)
		}
		for k := range b.Obstacles {
			why(b.Obstacles[k].Reason, "bays[%d].obstructions[%d]", i, k)
		}
		if b.Stack != nil {
			why(b.Stack.Reason, "bays[%d].stack", i)
		}
		if b.Grille != nil {
			why(b.Grille.Reason, "bays[%d].grille", i)
		}
		if b.Door != nil {
			why(b.Door.Reason, "bays[%d].door", i)
		}
	}
	for i := range d.Pieces {
		why(d.Pieces[i].Reason, "pieces[%d]", i)
	}
	for i := range d.Marks {
		why(d.Marks[i].Reason, "marks[%d]", i)
	}
	walkReasons(d.Setout, "setout", func(path string, at int) { why(at, "%s", path) })
	for i := range d.Takeoff {
		why(d.Takeoff[i].Reason, "takeoff[%d]", i)
	}
}

// named is what is there, by name.
type named struct{ structures, posts, walls, runs, rooms, bays, pieces map[string]bool }

func (a *agreement) names(d *Document) named {
	gather := func(list string, key string, n int, name func(i int) string) map[string]bool {
		all := make(map[string]bool, n)
		for i := range n {
			if all[name(i)] {
				a.fault(fmt.Sprintf("%s[%d].%s", list, i, key), "two %s are called %s", list, name(i))
			}
			all[name(i)] = true
		}
		return all
	}
	return named{
		gather("structures", "name", len(d.Structures), func(i int) string { return d.Structures[i].Name }),
		gather("posts", "name", len(d.Posts), func(i int) string { return d.Posts[i].Name }),
		gather("walls", "name", len(d.Walls), func(i int) string { return d.Walls[i].Name }),
		gather("runs", "name", len(d.Runs), func(i int) string { return d.Runs[i].Name }),
		gather("rooms", "name", len(d.Rooms), func(i int) string { return d.Rooms[i].Name }),
		gather("bays", "name", len(d.Bays), func(i int) string { return d.Bays[i].Name }),
		gather("pieces", "label", len(d.Pieces), func(i int) string { return d.Pieces[i].Label }),
	}
}

// there says of a reference that leads nowhere.
func (a *agreement) there(all map[string]bool, name, what, format string, args ...any) {
	if !all[name] {
		a.fault(fmt.Sprintf(format, args...), "there is no %s %q in this plan", what, name)
	}
}

func (a *agreement) layout(d *Document, n named) {
	for i := range d.Posts {
		a.there(n.structures, d.Posts[i].Structure, "structure", "posts[%d].structure", i)
	}
	for i := range d.Walls {
		a.there(n.structures, d.Walls[i].Structure, "structure", "walls[%d].structure", i)
		for k, v := range d.Walls[i].Runs {
			a.there(n.runs, v, "run", "walls[%d].runs[%d]", i, k)
		}
	}
	for i := range d.Runs {
		v := &d.Runs[i]
		a.there(n.walls, v.Wall, "wall", "runs[%d].wall", i)
		a.there(n.posts, v.From, "post", "runs[%d].from", i)
		a.there(n.posts, v.To, "post", "runs[%d].to", i)
		for k, b := range v.Bays {
			a.there(n.bays, b, "bay", "runs[%d].bays[%d]", i, k)
		}
		for k, p := range v.DoorPosts {
			a.there(n.posts, p, "post", "runs[%d].door_posts[%d]", i, k)
		}
	}
	for i := range d.Rooms {
		for k, p := range d.Rooms[i].Corners {
			a.there(n.posts, p, "post", "rooms[%d].corners[%d]", i, k)
		}
		for k, v := range d.Rooms[i].Runs {
			a.there(n.runs, v, "run", "rooms[%d].runs[%d]", i, k)
		}
	}
}

func (a *agreement) fitted(d *Document, n named) {
	for i := range d.Bays {
		b := &d.Bays[i]
		a.there(n.runs, b.Run, "run", "bays[%d].run", i)
		if b.Room != "" {
			a.there(n.rooms, b.Room, "room", "bays[%d].room", i)
		}
		for k := range b.Obstacles {
			for l, p := range b.Obstacles[k].Cuts {
				a.there(n.pieces, p, "piece", "bays[%d].obstructions[%d].cuts[%d]", i, k, l)
			}
		}
		for k := range b.Courses {
			for l, p := range b.Courses[k].Pieces {
				a.there(n.pieces, p, "piece", "bays[%d].courses[%d].pieces[%d]", i, k, l)
			}
		}
	}
	for i := range d.Pieces {
		if p := &d.Pieces[i]; !n.bays[p.Place] && !n.runs[p.Place] && !n.posts[p.Place] {
			a.fault(fmt.Sprintf("pieces[%d].place", i), "there is no bay, run or post %q in this plan", p.Place)
		}
	}
	for i := range d.Marks {
		a.there(n.posts, d.Marks[i].Post, "post", "marks[%d].post", i)
		for k, v := range d.Marks[i].Runs {
			a.there(n.runs, v, "run", "marks[%d].runs[%d]", i, k)
		}
	}
}

// order checks the sums of the take-off.
func (a *agreement) order(d *Document) {
	type key struct {
		item    string
		length  int64
		treated bool
	}
	seen := map[key]bool{}
	var mass int64
	for i := range d.Takeoff {
		l := &d.Takeoff[i]
		at := fmt.Sprintf("takeoff[%d]", i)
		if k := (key{l.Item, l.LengthNM, l.Treated}); seen[k] {
			a.fault(at+".item", "the order holds %s of this length twice", l.Item)
		} else {
			seen[k] = true
		}
		if l.Count < 0 || l.Buy < 0 || l.Spares < 0 || l.Buy+l.Spares != l.Order {
			a.fault(at+".order", "%d to buy and %d spare do not make an order of %d", l.Buy, l.Spares, l.Order)
		}
		sum := 0
		for k := range l.Places {
			if l.Places[k].Count < 0 || l.Places[k].Count > most {
				a.fault(fmt.Sprintf("%s.places[%d].count", at, k), "no place takes %d", l.Places[k].Count)
				return
			}
			sum = min(sum+l.Places[k].Count, most+1)
		}
		if sum != l.Count {
			a.fault(at+".count", "%d are needed, but the places take %d", l.Count, sum)
		}
		if l.MassUG < 0 {
			a.fault(at+".mass_ug", "nothing weighs less than nothing")
			return
		}
		mass = measure.Sum(mass, l.MassUG)
	}
	if d.MassUG != mass || mass == math.MaxInt64 {
		a.fault("mass_ug", "the order weighs %d micrograms, its lines %d", d.MassUG, mass)
	}
}
