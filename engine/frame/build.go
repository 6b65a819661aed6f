package frame

import (
	"fmt"
	"math/big"
	"strings"

	"stallwright/engine/document"
	"stallwright/engine/job"
	"stallwright/engine/kit"
	"stallwright/engine/measure"
)

// builder gathers a layout and what is wrong with the job on the way.
type builder struct {
	job  *job.Job
	kit  *kit.Kit
	out  *Layout
	r    *document.Reporter
	runs map[string]int // runs by name
	// failed names the runs that the job's mistakes left unframed; an empty name
	// stands for a whole structure.
	failed []string
	// measured holds the latest measurement of each bay or run, by name.
	measured map[string]*job.Measurement
	places   map[string]Point // where timber posts were found to stand; see BuildAt
	because  Because
}

// Build frames a job with a kit. The error, when there is one, is
// document.Problems pointing into the job.
func Build(j *job.Job, k *kit.Kit) (*Layout, error) { return newBuilder(j, k).build() }

func newBuilder(j *job.Job, k *kit.Kit) *builder {
	b := &builder{job: j, kit: k, r: j.Reporter(), runs: map[string]int{}, measured: map[string]*job.Measurement{}}
	for i := range j.Measurements {
		b.measured[j.Measurements[i].Bay] = &j.Measurements[i]
	}
	b.out = &Layout{bayByName: map[string]int{}, postByName: map[string]int{}}
	return b
}

func (b *builder) build() (*Layout, error) {
	for i := range b.job.Structures {
		s := &b.job.Structures[i]
		path := fmt.Sprintf("structures[%d]", i)
		before, failed := b.r.Len(), len(b.failed)
		switch {
		case s.Pen != nil:
			b.pen(s.Pen, path)
		case s.BarnRow != nil:
			b.barnRow(s.BarnRow, path)
		case s.FreeRow != nil:
			b.freeRow(s.FreeRow, FreeRow, path)
		case s.FreeBarn != nil:
			b.freeRow(s.FreeBarn, FreeBarn, path)
		case s.FreeForm != nil:
			b.freeForm(s.FreeForm, path)
		}
		if b.r.Len() > before && len(b.failed) == failed {
			b.failed = append(b.failed, "") // the whole structure
		}
	}
	b.references()
	b.joints()
	b.apart()
	b.bounded()
	if err := b.r.Err(); err != nil {
		return nil, err
	}
	return b.out, nil
}

// unframed says whether a name may be missing only because what it stands for
// could not be framed, which has been told already.
func (b *builder) unframed(name string) bool {
	for _, f := range b.failed {
		if strings.HasPrefix(name, f) {
			return true
		}
	}
	return false
}

// maxCourses is how many courses one job may take; 5,000 rooms of solid walls
// take some 300,000.
const maxCourses = 500_000

// bounded refuses a job of more courses than anybody builds.
func (b *builder) bounded() {
	c := b.job.Lumber.Board().Coverage
	var n int64
	for i := range b.out.Bays {
		v := &b.out.Bays[i]
		switch {
		case v.IsDoor():
			n += v.Door.Leaf.Height.DivDown(c)
		case !v.IsOpen():
			n += b.out.Runs[v.Run].Zone.DivDown(c)
		}
	}
	if n > maxCourses {
		b.problem(b.job.Of("structures"), "structures", "", fmt.Sprintf("the walls take %d courses of boards, more than one job holds", n), fmt.Sprintf("at most %d; check heights and coverage, or split the job", maxCourses))
	}
}

// problem adds a mistake in the job, found while framing.
func (b *builder) problem(pos document.Pos, path, text, message, hint string) {
	b.r.Add(pos, path, text, message, hint)
}

// show writes a length as the job's readers do.
func (b *builder) show(l measure.Length) string { return l.In(b.job.Units) }

func (b *builder) structure(name string, kind Kind, height measure.Length) int {
	b.out.Structures = append(b.out.Structures, Structure{Name: name, Kind: kind, Height: height})
	return len(b.out.Structures) - 1
}

// height is the first of the heights given that is stated.
func (b *builder) height(own measure.Length, byKit measure.Length) measure.Length {
	switch {
	case own != 0:
		return own
	case b.job.Height != 0:
		return b.job.Height
	}
	return byKit
}

func (b *builder) post(p Post, pos document.Pos, path string) int {
	if _, twice := b.out.postByName[p.Name]; twice {
		b.problem(pos, path, p.Name, fmt.Sprintf("two posts are called %s", p.Name), "give structures and posts names of their own")
	}
	p.At = b.stands(&p)
	b.out.Posts = append(b.out.Posts, p)
	b.out.postByName[p.Name] = len(b.out.Posts) - 1
	return len(b.out.Posts) - 1
}

func (b *builder) wall(name string, structure int, role job.WallRole) int {
	b.out.Walls = append(b.out.Walls, Wall{Name: name, Structure: structure, Role: role})
	return len(b.out.Walls) - 1
}

// references checks the names by which the job speaks of bays and posts.
func (b *builder) references() {
	names := b.out.BayNames()
	for _, name := range sortedKeys(b.job.Bays) {
		if _, ok := b.out.bayByName[name]; !ok && !b.unframed(name) {
			c := b.job.Bays[name]
			b.problem(c.Pos(), "bays."+name, name, fmt.Sprintf("there is no bay %q", name), nearest(name, names))
		}
	}
	for i := range b.job.Measurements {
		m := &b.job.Measurements[i]
		if b.standingRun(m.Bay) {
			continue // a whole run between standing posts, measured before its frame is made
		}
		if m.From == job.FromFaces {
			b.problem(m.Of("from"), fmt.Sprintf("measurements[%d].from", i), string(m.From), m.Bay+" is no whole front between standing posts: its clear width runs from web to web", "leave from out, or measure the whole front")
		}
		if _, ok := b.out.bayByName[m.Bay]; !ok && !b.unframed(m.Bay) {
			b.problem(m.Of("bay"), fmt.Sprintf("measurements[%d].bay", i), m.Bay, fmt.Sprintf("there is no bay %q", m.Bay), nearest(m.Bay, names))
		}
	}
	posts := make([]string, len(b.out.Posts))
	for i := range b.out.Posts {
		posts[i] = b.out.Posts[i].Name
	}
	for i := range b.job.Floors {
		f := &b.job.Floors[i]
		if _, ok := b.out.postByName[f.Post]; !ok && !b.unframed(f.Post) {
			b.problem(f.Of("post"), fmt.Sprintf("floors[%d].post", i), f.Post, fmt.Sprintf("there is no post %q", f.Post), nearest(f.Post, posts))
		}
	}
	for i := range b.job.Obstructions {
		o := &b.job.Obstructions[i]
		if _, ok := b.out.bayByName[o.Bay]; !ok && !b.unframed(o.Bay) {
			b.problem(o.Of("bay"), fmt.Sprintf("obstructions[%d].bay", i), o.Bay, fmt.Sprintf("there is no bay %q", o.Bay), nearest(o.Bay, names))
		}
	}
	b.datum(names, posts)
	b.piers(posts)
	b.readings(posts)
	b.states()
}

// piers checks the names by which the job speaks of piers.
func (b *builder) piers(posts []string) {
	for i := range b.job.Piers {
		p := &b.job.Piers[i]
		at, ok := b.out.postByName[p.Post]
		switch {
		case !ok && !b.unframed(p.Post):
			b.problem(p.Of("post"), fmt.Sprintf("piers[%d].post", i), p.Post, fmt.Sprintf("there is no post %q", p.Post), nearest(p.Post, posts))
		case ok && b.out.Posts[at].Kind != Joint:
			b.problem(p.Of("post"), fmt.Sprintf("piers[%d].post", i), p.Post, fmt.Sprintf("%s is no joint of a pen", p.Post), "a joint, such as P.p1")
		}
	}
}

// standingRun says whether a name is that of a run between standing timber.
func (b *builder) standingRun(name string) bool {
	i, ok := b.runs[name]
	return ok && b.out.Runs[i].Measured
}

func nearest(word string, among []string) string {
	if near, ok := document.Nearest(word, among); ok {
		return "did you mean " + near + "?"
	}
	const few = 8
	if len(among) > few {
		return fmt.Sprintf("names such as %s, %s … %s", among[0], among[1], among[len(among)-1])
	}
	return fmt.Sprintf("one of: %v", among)
}

// apart refuses two posts of one structure in the same place.
func (b *builder) apart() {
	type place struct {
		structure int
		at        Point
	}
	seen := map[place]string{}
	for i := range b.out.Posts {
		p := &b.out.Posts[i]
		key := place{p.Structure, p.At}
		if other, twice := seen[key]; twice {
			b.problem(b.job.Structures[p.Structure].Pos(), fmt.Sprintf("structures[%d]", p.Structure), p.Name,
				fmt.Sprintf("posts %s and %s stand in the same place", other, p.Name), "move or remove one of them")
		}
		seen[key] = p.Name
	}
}

// distance is the length of (dx, dy), rounded down to the nanometre; exact, so
// that every platform agrees.
func distance(p, q Point) measure.Length {
	d := q.Sub(p)
	switch {
	case d.Y == 0:
		return d.X.Abs()
	case d.X == 0:
		return d.Y.Abs()
	}
	x, y := big.NewInt(int64(d.X)), big.NewInt(int64(d.Y))
	sum := new(big.Int).Add(x.Mul(x, x), y.Mul(y, y))
	return measure.Length(sum.Sqrt(sum).Int64())
}

// along is the point at distance d from p toward q, to the nanometre.
func along(p, q Point, d measure.Length) Point {
	n := distance(p, q)
	if n == 0 {
		return p
	}
	v := q.Sub(p)
	x, _ := measure.MulDiv(int64(v.X), int64(d), int64(n), measure.Nearest)
	y, _ := measure.MulDiv(int64(v.Y), int64(d), int64(n), measure.Nearest)
	return p.Add(Point{measure.Length(x), measure.Length(y)})
}
