package frame

import (
	"fmt"
	"math/big"

	"stallwright/engine/document"
	"stallwright/engine/job"
	"stallwright/engine/kit"
	"stallwright/engine/measure"
)

// builder gathers a layout and what is wrong with the job on the way.
type builder struct {
	job *job.Job
	kit *kit.Kit
	out *Layout
	r   *document.Reporter
	// changed remembers which of the job's bay changes found their bay.
	changed map[string]bool
}

// Build frames a job with a kit. The error, when there is one, is
// document.Problems pointing into the job.
func Build(j *job.Job, k *kit.Kit) (*Layout, error) {
	b := &builder{job: j, kit: k, r: j.Reporter(), changed: map[string]bool{}}
	b.out = &Layout{bayByName: map[string]int{}, postByName: map[string]int{}}
	for i := range j.Structures {
		s := &j.Structures[i]
		path := fmt.Sprintf("structures[%d]", i)
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
	}
	b.references()
	b.joints()
	b.apart()
	if err := b.r.Err(); err != nil {
		return nil, err
	}
	return b.out, nil
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
		if _, ok := b.out.bayByName[name]; !ok {
			c := b.job.Bays[name]
			b.problem(c.Pos(), "bays."+name, name, fmt.Sprintf("there is no bay %q", name), nearest(name, names))
		}
	}
	for i := range b.job.Measurements {
		m := &b.job.Measurements[i]
		if _, ok := b.out.bayByName[m.Bay]; !ok {
			b.problem(m.Of("bay"), fmt.Sprintf("measurements[%d].bay", i), m.Bay, fmt.Sprintf("there is no bay %q", m.Bay), nearest(m.Bay, names))
		}
	}
	posts := make([]string, len(b.out.Posts))
	for i := range b.out.Posts {
		posts[i] = b.out.Posts[i].Name
	}
	for i := range b.job.Floors {
		f := &b.job.Floors[i]
		if _, ok := b.out.postByName[f.Post]; !ok {
			b.problem(f.Of("post"), fmt.Sprintf("floors[%d].post", i), f.Post, fmt.Sprintf("there is no post %q", f.Post), nearest(f.Post, posts))
		}
	}
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
