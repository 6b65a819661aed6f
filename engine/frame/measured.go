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

// Because gives the reason for the distance between the axes of two posts, by
// name; nil where it has none to give.
type Because func(from, to string) *reason.Reason

// BuildAt frames a job whose standing timber was measured: a timber post whose
// name is among places stands there instead of where it was drawn, in the
// coordinates of its own structure. Steel posts and pens are made to the drawing
// and stay. why, if given, is asked for the reason behind each distance between
// posts that moved. The error is as Build's.
func BuildAt(j *job.Job, k *kit.Kit, places map[string]Point, why ...Because) (*Layout, error) {
	b := newBuilder(j, k)
	b.places = places
	if len(why) > 0 {
		b.because = why[0]
	}
	return b.build()
}

// stands is where a post stands.
func (b *builder) stands(p *Post) Point {
	if at, ok := b.places[p.Name]; ok && p.Kind == Timber {
		return at
	}
	return p.At
}

// whyCentres is the reason for the distance between the axes of a run's posts.
func (b *builder) whyCentres(r *Run, w wish, from, to *Post) *reason.Reason {
	if b.because != nil && w.centres == 0 && from.Kind == Timber && to.Kind == Timber {
		if why := b.because(from.Name, to.Name); why != nil {
			return why
		}
	}
	return reason.Given(phrase.Of("why.axes", phrase.With("from", phrase.Name(from.Name)), phrase.With("to", phrase.Name(to.Name))), phrase.Length(r.Centres), phrase.Of("source.job-at", phrase.With("path", phrase.Name(w.path)), phrase.With("at", phrase.Name(w.pos.String()))))
}

// Lines that a tape between faces or corners needs: posts look at each other
// when the one stands out of the other's line by no more than a third of the
// way, and across from each other when by more than a twentieth.
const (
	facingPart = 3
	acrossPart = 20
)

// InLine says whether two posts stand in a line of their structure, so that a
// face of the one looks at a face of the other.
func InLine(p, q Point) bool {
	dx, dy := q.Sub(p).X.Abs(), q.Sub(p).Y.Abs()
	return facingPart*min(dx, dy) <= max(dx, dy)
}

// Across says whether two posts stand across a bay, so that a corner of the one
// looks at a corner of the other.
func Across(p, q Point) bool {
	dx, dy := q.Sub(p).X.Abs(), q.Sub(p).Y.Abs()
	return acrossPart*min(dx, dy) > max(dx, dy)
}

// readings checks the names by which the job speaks of what was read on site.
func (b *builder) readings(posts []string) {
	marks := append([]string(nil), posts...)
	spots := map[string]bool{}
	for i := range b.job.Spots {
		s := &b.job.Spots[i]
		path := fmt.Sprintf("spots[%d]", i)
		if _, ok := b.out.postByName[s.Name]; ok {
			b.problem(s.Of("name"), path+".name", s.Name, fmt.Sprintf("a post is called %s already", s.Name), "give the spot a name of its own")
		}
		spots[s.Name] = true
		marks = append(marks, s.Name)
		b.spot(s, path)
	}
	levelled := map[int]string{} // structure: a post that was levelled
	for i := range b.job.Readings {
		r := &b.job.Readings[i]
		path := fmt.Sprintf("readings[%d].%s", i, r.Kind())
		if r.Kind() == job.ReadLevel {
			if p, ok := b.out.postByName[r.Level]; ok {
				levelled[b.out.Posts[p].Structure] = r.Level
			} else if !spots[r.Level] {
				b.noPost(r.Of("level"), path, r.Level, "post or spot", marks)
			}
			continue
		}
		b.reading(r, path, posts)
	}
	for i := range b.job.Floors {
		f := &b.job.Floors[i]
		if p, ok := b.out.postByName[f.Post]; ok {
			if name, both := levelled[b.out.Posts[p].Structure]; both {
				b.problem(f.Pos(), fmt.Sprintf("floors[%d]", i), f.Post,
					fmt.Sprintf("the floor at %s is stated, but %s of the same structure has level readings: they need not count from one line", f.Post, name), "keep the level readings; leave floors out for this structure")
			}
		}
	}
	for i := range b.job.Structures {
		if t := b.job.Structures[i].Trusses; t != nil {
			if _, ok := b.out.postByName[t.Post]; !ok {
				b.noPost(t.Of("post"), fmt.Sprintf("structures[%d].trusses.post", i), t.Post, "post", posts)
			}
		}
	}
}

func (b *builder) noPost(pos document.Pos, path, name, what string, among []string) {
	if !b.unframed(name) {
		b.problem(pos, path, name, fmt.Sprintf("there is no %s %q", what, name), nearest(name, among))
	}
}

// spot checks where a spot is said to lie.
func (b *builder) spot(s *job.Spot, path string) {
	if s.Bay != "" {
		i, isBay := b.out.bayByName[s.Bay]
		run, isRun := b.runs[s.Bay]
		if isBay {
			run = b.out.Bays[i].Run
		}
		switch {
		case !isBay && !isRun && !b.unframed(s.Bay):
			b.problem(s.Of("bay"), path+".bay", s.Bay, fmt.Sprintf("there is no bay %q", s.Bay), nearest(s.Bay, b.out.BayNames()))
		case (isBay || isRun) && s.Along > b.out.Runs[run].Centres:
			b.problem(s.Of("along"), path+".along", s.Along.String(), fmt.Sprintf("the posts of %s are only %s apart", s.Bay, b.show(b.out.Runs[run].Centres)), "measure from the left post's axis")
		}
	}
	if s.Room == "" {
		return
	}
	var rooms []string
	for i := range b.out.Rooms {
		if b.out.Rooms[i].Name == s.Room {
			return
		}
		rooms = append(rooms, b.out.Rooms[i].Name)
	}
	if !b.unframed(s.Room) {
		b.problem(s.Of("room"), path+".room", s.Room, fmt.Sprintf("there is no room %q", s.Room), nearest(s.Room, rooms))
	}
}

// reading checks the posts of a reading that is no level reading.
func (b *builder) reading(r *job.Reading, path string, posts []string) {
	var at []*Post
	for i, name := range r.Posts() {
		pos := r.Of(fmt.Sprintf("%s[%d]", r.Kind(), i))
		if r.Kind() == job.ReadPlumb {
			pos = r.Of("plumb")
		}
		p, ok := b.out.postByName[name]
		switch {
		case !ok:
			b.noPost(pos, path, name, "post", posts)
		case b.out.Posts[p].Kind == Door:
			b.problem(pos, path, name, fmt.Sprintf("%s is a door post: it stands where its frame puts it", name), "read between the posts the frame stands between; the bays' widths go under measurements")
		default:
			at = append(at, &b.out.Posts[p])
		}
	}
	if len(at) < len(r.Posts()) || len(at) == 0 {
		return
	}
	for _, p := range at[1:] {
		if p.Structure != at[0].Structure {
			b.problem(r.Pos(), path, p.Name, fmt.Sprintf("%s and %s belong to different structures, each drawn from a zero of its own", at[0].Name, p.Name), "read within one structure; level readings may join them")
			return
		}
	}
	if k := r.Kind(); len(at) == 2 && (k == job.ReadDistance || k == job.ReadDiagonal) {
		b.touch(r, path, at[0], at[1])
	}
}

// touch checks that the posts have what the tape is said to have touched.
func (b *builder) touch(r *job.Reading, path string, p, q *Post) {
	switch {
	case p.Kind == Joint && r.Has("between") && r.Between != job.BetweenAxes:
		b.problem(r.Of("between"), path, string(r.Between), "the joints of a pen are read from pin to pin", "leave between out")
	case p.Kind == Joint || r.Touched() == job.BetweenAxes:
	case r.Kind() == job.ReadDistance && !InLine(p.At, q.At):
		b.problem(r.Pos(), path, q.Name, fmt.Sprintf("%s and %s do not look at each other: they stand across a bay", p.Name, q.Name), "write it as a diagonal, or add between: axes")
	case r.Kind() == job.ReadDiagonal && !Across(p.At, q.At):
		b.problem(r.Pos(), path, q.Name, fmt.Sprintf("%s and %s stand in one line, not across a bay", p.Name, q.Name), "write it as a distance, or add between: axes")
	}
}

// Sides is how thick a timber or steel post is along x and across it, in the
// coordinates of its structure; a joint is a pin and has no thickness.
func (p *Post) Sides() (x, y measure.Length) {
	if p.Kind == Joint {
		return 0, 0
	}
	return p.Along, p.Across
}
