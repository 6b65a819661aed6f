package walk

import (
	"fmt"
	"slices"
	"strings"

	"stallwright/engine/document"
	"stallwright/engine/job"
	"stallwright/engine/measure"
	"stallwright/engine/site"
)

// askFound asks for what nobody can draw beforehand: high spots of a room's floor,
// and what of the building crosses the walls of a structure.
func (w *Walk) askFound(t *site.Task) {
	q := Question{
		Kind: AskSpots, ID: "spots " + t.Place, Place: t.Place, How: w.words.Say(t.Hook), Type: w.say("walk.type-spots"),
		Ask: w.say("walk.ask-spots", named("room", t.Place)), Status: statusOf(t.State), task: t.Kind,
	}
	if t.Kind == site.TaskCrossings {
		q.Kind, q.ID, q.Type = AskCrossings, "crossings "+t.Place, w.say("walk.type-crossings")
		q.Ask = w.say("walk.ask-crossings", named("structure", t.Place))
	}
	for i := range w.entries {
		if e := &w.entries[i]; e.Asked == q.ID && !e.Skip {
			q.Status = Done
		}
	}
	w.questions = append(w.questions, q)
}

// spotName is a name for another high spot of a room.
func (w *Walk) spotName(room string) string {
	taken := map[string]bool{}
	for i := range w.plan.Job.Spots {
		taken[w.plan.Job.Spots[i].Name] = true
	}
	for i := range w.plan.Layout.Posts {
		taken[w.plan.Layout.Posts[i].Name] = true
	}
	for n := 1; ; n++ {
		if name := fmt.Sprintf("%s.high.%d", room, n); !taken[name] {
			return name
		}
	}
}

// spot adds a high spot to a room's floor; its rod is then asked for.
func (w *Walk) spot(words []string, text string) Reply {
	if len(words) < 2 {
		return Reply{Say: []string{w.say("walk.spot-how")}}
	}
	room := strings.Join(words[1:], " ")
	var rooms []string
	for i := range w.plan.Layout.Rooms {
		rooms = append(rooms, w.plan.Layout.Rooms[i].Name)
	}
	if !slices.Contains(rooms, room) {
		if near, ok := document.Nearest(room, rooms); ok {
			return Reply{Say: []string{w.say("walk.no-room-near", named("name", room), named("near", near))}}
		}
		return Reply{Say: []string{w.say("walk.no-room", named("name", room))}}
	}
	return Reply{Entry: &job.Entry{Asked: w.standing("spots " + room), Typed: text, Spot: &job.Spot{Name: w.spotName(room), Room: room}}}
}

// standing is a question's id where it stands now, so that what is found answers
// it.
func (w *Walk) standing(id string) string {
	if w.at == id {
		return id
	}
	return ""
}

// cross writes down what crosses a bay: its kind, then four lengths parted by
// commas: from the left web, width, above the finished floor, height.
func (w *Walk) cross(words []string, text string) Reply {
	if len(words) < 4 {
		return Reply{Say: []string{w.say("walk.cross-how")}}
	}
	bay, what := words[1], job.ObstructionKind(strings.ToLower(words[2]))
	i, ok := w.plan.Layout.Bay(bay)
	switch {
	case !ok:
		return Reply{Say: []string{sentence(w.unknownBay(bay)), w.say("walk.not-written")}}
	case !slices.Contains(what.Allowed(), string(what)):
		return Reply{Say: []string{w.say("walk.no-crossing", named("what", string(what)), named("among", strings.Join(what.Allowed(), ", "))), w.say("walk.not-written")}}
	}
	parts := strings.Split(strings.Join(words[3:], " "), ",")
	if len(parts) != 4 {
		return Reply{Say: []string{w.say("walk.cross-how"), w.say("walk.not-written")}}
	}
	var l [4]measure.Length
	for k, part := range parts {
		v, err := w.parse(&Question{Kind: AskLength}, part)
		if err != nil {
			v, err = w.parse(&Question{Kind: AskSmall}, part) // under a foot in inches alone
		}
		if err != nil || v < 0 || v > mostLength {
			return Reply{Say: []string{w.say("walk.no-length-at", named("text", strings.TrimSpace(part))), w.say("walk.cross-how")}}
		}
		l[k] = v
	}
	clear := w.plan.Fit.Bays[i].Clear
	switch {
	case l[1] <= 0 || l[3] <= 0:
		return Reply{Say: []string{w.say("walk.not-nothing"), w.say("walk.not-written")}}
	case l[0]+l[1] > clear:
		return Reply{Say: []string{w.say("walk.beyond-bay", named("bay", bay), named("clear", w.approx(clear))), w.say("walk.not-written")}}
	}
	e := &job.Entry{Typed: text, Crosses: &job.Obstruction{Bay: bay, What: what, Left: l[0], Width: l[1], AboveFloor: &l[2], Height: l[3]}}
	e.Asked = w.standing("crossings " + w.plan.Layout.Structures[w.plan.Layout.Bays[i].Structure].Name)
	return Reply{Entry: e}
}

// crossVerdict tells what is cut, or what meets what crosses.
func (w *Walk) crossVerdict(o *job.Obstruction) []string {
	out := []string{w.say("walk.crosses", named("bay", o.Bay))}
	i, ok := w.plan.Layout.Bay(o.Bay)
	if !ok {
		return out
	}
	n := 0
	for k := range w.plan.Fit.Obstructions {
		if v := &w.plan.Fit.Obstructions[k]; v.Bay == i {
			n += len(v.Cut)
		}
	}
	if n > 0 {
		out = append(out, w.say("walk.crosses-cuts", number("n", n)))
	}
	return append(out, w.faults(o.Bay)...)
}

// spotsVerdict tells that the floor is even, or which spot is read next.
func (w *Walk) spotsVerdict(q Question) []string {
	for i := range w.plan.Job.Spots {
		if s := &w.plan.Job.Spots[i]; s.Room == q.Place {
			return []string{w.say("walk.spot-added", named("spot", s.Name))}
		}
	}
	return []string{w.say("walk.noted")}
}

// askOpening asks for a whole front between the faces of its standing posts, at
// three heights, before its frame is made.
func (w *Walk) askOpening(t *site.Task) {
	read := w.heights[t.Bay]
	// What the job itself holds, and what was read before the frame stood: the frame
	// is made to it.
	counted := t.State != site.Open && read == (job.Width{})
	for _, h := range heights {
		q := Question{
			ID: "opening " + t.Bay + " " + string(h), Kind: AskLength, Place: t.Bay, How: w.words.Say(t.Hook), Watch: w.notes(t), Type: w.typeLength(), Status: Open,
			Ask: w.say("walk.ask-opening", named("run", t.Bay), named("height", strings.ToUpper(w.words.Say(heightWord(h))))), Expected: t.Expected, Known: t.Known, Drawn: t.Drawn,
			task: t.Kind, bay: t.Bay, height: h, run: t.Bay, Read: heightOf(read, h),
		}
		q.HasRead = q.Read > 0
		switch {
		case q.HasRead && t.State == site.Suspicious && (q.Read-t.Expected).Abs() > farOff:
			q.Status = Doubtful
		case q.HasRead || counted:
			q.Status = Done
		}
		w.questions = append(w.questions, q)
	}
}

// openingVerdict tells what the frame is made to.
func (w *Walk) openingVerdict(q Question) []string {
	i, ok := w.plan.Layout.Run(q.run)
	if !ok || !w.plan.Layout.Runs[i].Measured {
		return []string{w.say("walk.noted")}
	}
	out := []string{w.say("walk.frame-made", named("run", q.run), named("clear", w.approx(w.plan.Layout.Runs[i].Clear)))}
	if missing := w.missingOf(q); len(missing) > 0 {
		out[0] += " " + w.say("walk.still-to-read", named("heights", strings.Join(missing, ", ")))
	}
	return append(out, w.faults(q.run)...)
}

// missingOf lists the heights of an opening still to be read.
func (w *Walk) missingOf(q Question) []string {
	var out []string
	for _, h := range heights {
		if o := w.find(widthID(&q, h)); o != nil && !o.HasRead && o.Status != Done {
			out = append(out, w.words.Say(heightWord(h)))
		}
	}
	return out
}

// widthID is the id of the question at another height of the same bay or front.
func widthID(q *Question, h job.Height) string {
	if q.task == site.TaskOpening {
		return "opening " + q.bay + " " + string(h)
	}
	return "width " + q.bay + " " + string(h)
}
