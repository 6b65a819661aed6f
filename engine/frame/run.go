package frame

import (
	"fmt"

	"stallwright/engine/document"
	"stallwright/engine/job"
	"stallwright/engine/kit"
	"stallwright/engine/measure"
	"stallwright/engine/phrase"
	"stallwright/engine/reason"
)

// wish is what a structure asks of one run.
type wish struct {
	name     string // of the run, and of its bay where it has one only
	wall     int
	role     job.WallRole
	from, to int
	centres  measure.Length // between the posts' axes where that is made, not measured; else zero
	assembly string         // id; a fill may ask for another
	fill     *job.Fill
	front    *job.Front // set where the run may have a doorway
	door     string     // id of the kit's door
	room     int
	height   measure.Length
	pos      document.Pos // where the job speaks of it
	path     string
}

// run frames one run and divides it into bays. It returns the run's index, or
// -1 where the job's mistakes leave nothing to frame.
func (b *builder) run(w wish) int {
	before := b.r.Len()
	i := b.frame(w)
	if b.r.Len() > before {
		b.failed = append(b.failed, w.name)
	}
	return i
}

// frame does what run says.
func (b *builder) frame(w wish) int {
	id := w.assembly
	if w.fill != nil && w.fill.Assembly != "" {
		id = w.fill.Assembly
	}
	a := b.kit.Assembly(id)
	if a == nil {
		b.problem(w.pos, w.path, id, fmt.Sprintf("%s: the kit %s has no assembly %q", w.name, b.kit.Kit, id), nearest(id, b.assemblies()))
		return -1
	}
	r := Run{
		Name: w.name, Structure: b.out.Walls[w.wall].Structure, Wall: w.wall, Role: w.role,
		From: w.from, To: w.to, Assembly: a, Height: w.height,
	}
	if !b.heights(&r, w) || !b.ends(&r, w) {
		return -1
	}
	b.out.Runs = append(b.out.Runs, r)
	i := len(b.out.Runs) - 1
	b.runs[r.Name] = i
	b.out.Walls[w.wall].Runs = append(b.out.Walls[w.wall].Runs, i)
	if w.room >= 0 {
		b.out.Rooms[w.room].Runs = append(b.out.Rooms[w.room].Runs, i)
	}
	b.divide(i, w)
	return i
}

func (b *builder) assemblies() []string {
	ids := make([]string, len(b.kit.Assemblies))
	for i := range b.kit.Assemblies {
		ids[i] = b.kit.Assemblies[i].ID
	}
	return ids
}

// maxZone is more than any wall's boards stand high; beyond it a rule of the kit
// is wrong.
const maxZone = 20 * measure.Metre

// heights works out datum and board zone by the kit's rules.
func (b *builder) heights(r *Run, w wish) bool {
	a := r.Assembly
	f := kit.Facts{Height: w.height}
	var err error
	if r.Datum, err = a.Datum.Length(&f); err == nil {
		f.Datum = r.Datum
		r.Zone, err = a.Zone.Length(&f)
	}
	if err != nil {
		b.problem(w.pos, w.path, "", fmt.Sprintf("%s: %v", w.name, err), "mend the assembly "+a.ID+" of the kit")
		return false
	}
	if r.Zone > maxZone || r.Datum > maxZone {
		b.problem(w.pos, w.path, "", fmt.Sprintf("%s: the kit's rules give a datum of %s and a board zone of %s", w.name, b.show(r.Datum), b.show(r.Zone)), "mend the assembly "+a.ID+" of the kit")
		return false
	}
	if r.Zone <= 0 || r.Datum < 0 {
		b.problem(w.pos, w.path, "", fmt.Sprintf("%s: a wall %s high leaves no room for boards", w.name, b.show(w.height)), "a higher wall")
		return false
	}
	src := b.kitSource("assemblies "+a.ID+".zone", a.Of("zone"))
	r.WhyZone = reason.Of(phrase.Of("why.board-zone"), phrase.Length(r.Zone), a.Zone.Say(), src,
		reason.Given(phrase.Of("why.wall-height"), phrase.Length(w.height), phrase.Of("source.job-or-kit")),
		reason.Of(phrase.Of("why.datum-above-floor"), phrase.Length(r.Datum), a.Datum.Say(), b.kitSource("assemblies "+a.ID+".datum", a.Of("datum"))))
	return true
}

// kitSource names a place in the kit.
func (b *builder) kitSource(what string, pos document.Pos) phrase.Phrase {
	return b.kit.Line(what, pos.Line)
}

// ends works out what stands at each end and the drawn clear width.
func (b *builder) ends(r *Run, w wish) bool {
	a := r.Assembly
	from, to := &b.out.Posts[r.From], &b.out.Posts[r.To]
	if r.Centres = w.centres; r.Centres == 0 {
		r.Centres = distance(from.At, to.At)
	}
	var own End
	switch a.Ends {
	case kit.EndsChannel:
		r.Channel = b.kit.Channel(a.End)
		own = End{Reach: r.Channel.Web, Leg: r.Channel.Leg, Inside: r.Channel.Inside}
	case kit.EndsMounted, kit.EndsOwn:
		r.EndPost = b.kit.Post(a.End)
		own = End{Reach: r.EndPost.Reach, Leg: r.EndPost.Leg, Inside: r.EndPost.Inside}
	}
	for side, p := range []*Post{from, to} {
		e := own
		switch {
		case a.Ends == kit.EndsShared && p.Item != nil:
			e = End{Reach: p.Item.Reach, Leg: p.Item.Leg, Inside: p.Item.Inside}
		case a.Ends == kit.EndsShared:
			b.problem(w.pos, w.path, a.ID, fmt.Sprintf("%s: the assembly %s stands between steel posts, but %s is %s", w.name, a.ID, p.Name, p.Kind), "an assembly with channel or mounted ends, or a steel post")
			return false
		case a.Ends == kit.EndsOwn && p.Kind != Joint:
			b.problem(w.pos, w.path, a.ID, fmt.Sprintf("%s: the assembly %s brings its own uprights and is pinned, but %s is %s", w.name, a.ID, p.Name, p.Kind), "an assembly with channel, mounted or shared ends; pinned sections make pens")
			return false
		case a.Ends != kit.EndsOwn && p.Kind != Timber:
			b.problem(w.pos, w.path, a.ID, fmt.Sprintf("%s: the assembly %s is lagged to timber, but %s is %s", w.name, a.ID, p.Name, p.Kind), "an assembly with shared ends, or a timber post")
			return false
		case a.Ends != kit.EndsOwn:
			e.Reach += b.halfTimber(p, from, to)
		}
		e.Post = []int{r.From, r.To}[side]
		r.Ends[side] = e
	}
	r.Clear = r.Centres - r.Ends[0].Reach - r.Ends[1].Reach
	if r.Clear <= r.Ends[0].Leg+r.Ends[1].Leg {
		b.problem(w.pos, w.path, "", fmt.Sprintf("%s: between %s and %s, %s apart, no opening is left", w.name, from.Name, to.Name, b.show(r.Centres)), "posts further apart")
		return false
	}
	r.Why = reason.Of(phrase.Of("why.drawn-clear-of", phrase.With("place", phrase.Name(r.Name))), phrase.Length(r.Clear), phrase.Of("rule.centres"), phrase.Of("source.assembly", phrase.With("assembly", phrase.Name(a.ID)), phrase.With("kit", phrase.Name(b.kit.Kit))),
		b.whyCentres(r, w, from, to),
		reason.Given(phrase.Of("why.axis-to-web", phrase.With("post", phrase.Name(from.Name))), phrase.Length(r.Ends[0].Reach), b.reachSource(r, from)),
		reason.Given(phrase.Of("why.axis-to-web", phrase.With("post", phrase.Name(to.Name))), phrase.Length(r.Ends[1].Reach), b.reachSource(r, to)))
	r.Drawn = r.Clear
	b.standing(r, from, to)
	return true
}

// standing takes what was measured between standing timber: there the run is
// made to the opening, not the opening to the run.
func (b *builder) standing(r *Run, from, to *Post) {
	if from.Kind != Timber || to.Kind != Timber {
		return
	}
	m := b.measured[r.Name]
	if m == nil {
		return
	}
	r.Measured, r.Clear = true, m.Width.Least()
	rule, read := phrase.Of("rule.narrowest-posts"), reason.Given(phrase.Of("why.clear"), phrase.Length(r.Clear), m.Cite())
	if m.From == job.FromFaces {
		// The end posts lagged to the timber take their room on both sides.
		stands := r.Ends[0].Reach - b.halfTimber(from, from, to) + r.Ends[1].Reach - b.halfTimber(to, from, to)
		read = reason.Of(phrase.Of("why.clear"), phrase.Length(r.Clear-stands), phrase.Of("rule.face-less"), phrase.Phrase{},
			reason.Given(phrase.Of("why.face-to-face"), phrase.Length(r.Clear), m.Cite()), reason.Given(phrase.Of("why.on-posts"), phrase.Length(stands), phrase.Of("source.kit", phrase.With("kit", phrase.Name(b.kit.Kit)))))
		r.Clear -= stands
	}
	r.Centres = r.Clear + r.Ends[0].Reach + r.Ends[1].Reach
	r.Why = reason.Of(phrase.Of("why.clear-of", phrase.With("place", phrase.Name(r.Name))), phrase.Length(r.Clear), rule, phrase.Phrase{}, read, reason.Given(phrase.Of("why.drawn-clear"), phrase.Length(r.Drawn), phrase.Of("source.job")))
}

func (b *builder) reachSource(r *Run, p *Post) phrase.Phrase {
	switch {
	case r.Channel != nil:
		return phrase.Of("source.half-and-web", phrase.With("channel", b.kit.Called(r.Channel.ID, r.Channel.ID)))
	case r.EndPost != nil && r.Assembly.Ends == kit.EndsMounted:
		return phrase.Of("source.half-and-reach", phrase.With("post", b.kit.Called(r.EndPost.ID, r.EndPost.ID)))
	case r.EndPost != nil:
		return b.kitSource("posts "+r.EndPost.ID+".reach", r.EndPost.Of("reach"))
	}
	return b.kitSource("posts "+p.Item.ID+".reach", p.Item.Of("reach"))
}

// halfTimber is from a timber post's axis to the face that looks along the run.
func (b *builder) halfTimber(p, from, to *Post) measure.Length {
	d := to.At.Sub(from.At)
	if d.X.Abs() >= d.Y.Abs() {
		return p.Along / 2
	}
	return p.Across / 2
}

// bay adds one bay; the job may have changed it by name.
func (b *builder) bay(v Bay, w wish) int {
	v.Pos = w.pos
	if c, ok := b.job.Bays[v.Name]; ok {
		b.change(&v, c)
	}
	if _, twice := b.out.bayByName[v.Name]; twice {
		b.problem(w.pos, w.path, v.Name, fmt.Sprintf("two bays are called %s", v.Name), "give rows and rooms names of their own")
	}
	b.out.Bays = append(b.out.Bays, v)
	i := len(b.out.Bays) - 1
	b.out.bayByName[v.Name] = i
	b.out.Runs[v.Run].Bays = append(b.out.Runs[v.Run].Bays, i)
	return i
}

// change applies what the job says of one bay.
func (b *builder) change(v *Bay, c job.BayChange) {
	v.Pos = c.Pos()
	b.shimmable(v, c)
	path := "bays." + v.Name
	switch {
	case c.Fill != nil && v.IsDoor():
		b.problem(c.Of("fill"), path+".fill", v.Name, fmt.Sprintf("%s is a doorway; it is filled by a door", v.Name), "change the front, or door here")
	case c.Fill != nil && c.Fill.Assembly != "":
		b.problem(c.Fill.Of("assembly"), path+".fill.assembly", c.Fill.Assembly, "a single bay cannot be built another way than its run", "state the assembly where the wall is stated")
	case c.Fill != nil:
		v.Fill = *c.Fill
	}
	if (c.Door != "" || c.Slides != "") && !v.IsDoor() {
		b.problem(c.Pos(), path, v.Name, fmt.Sprintf("%s has no door", v.Name), "name the bay of a doorway; they end in -door")
		return
	}
	if c.Door != "" {
		d := b.kit.Door(c.Door)
		switch {
		case d == nil:
			b.problem(c.Of("door"), path+".door", c.Door, fmt.Sprintf("the kit %s has no door %q", b.kit.Kit, c.Door), nearest(c.Door, b.doors()))
		case d.Opening != v.Clear:
			b.problem(c.Of("door"), path+".door", c.Door, fmt.Sprintf("%s is made for an opening of %s, but %s is drawn %s wide", d.ID, b.show(d.Opening), v.Name, b.show(v.Clear)), "state the door in the front, so that the door posts move with it")
		default:
			v.Door = d
		}
	}
	if c.Slides != "" {
		v.Slides = c.Slides
	}
}

// shimmable refuses shims where no channel is lagged to timber.
func (b *builder) shimmable(v *Bay, c job.BayChange) {
	if c.Shim && b.out.Runs[v.Run].Channel == nil {
		b.problem(c.Of("shim"), "bays."+v.Name+".shim", v.Name, fmt.Sprintf("%s is held by a frame, not by channels lagged to timber: nothing can be shimmed there", v.Name), "tighten and square the frame; leave shim out")
	}
}

func (b *builder) doors() []string {
	ids := make([]string, len(b.kit.Doors))
	for i := range b.kit.Doors {
		ids[i] = b.kit.Doors[i].ID
	}
	return ids
}
