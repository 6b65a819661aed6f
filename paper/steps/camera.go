package steps

import (
	"math"
	"strings"

	"stallwright/engine/frame"
	"stallwright/engine/job"
	"stallwright/engine/portable"
	"stallwright/paper/hidden"
	"stallwright/paper/solid"
)

// isOnLeaf says whether hardware of a doorway hangs with its leaf.
func isOnLeaf(name string) bool {
	name = name[strings.LastIndex(name, "/")+1:]
	return strings.HasPrefix(name, "roller") || strings.HasPrefix(name, "handle") || strings.HasPrefix(name, "hinge")
}

// Ways to look: turned from square on to the wall, and downward.
const (
	aside     = 32 * math.Pi / 180
	wallDrop  = 0.42 // tangent of the angle below the horizontal
	aboveDrop = 0.75 // for what lies low, or is many
)

// way is a way to look at a run: from its front or back, from its left or right.
type way struct {
	back, left bool
}

// ways in the order of preference among equals.
var ways = []way{{false, true}, {false, false}, {true, false}, {true, true}}

// camera looks at a run in one of the ways.
func camera(r solid.Vec, w way, drop float64) hidden.Camera {
	s, c := portable.SinCos(aside)
	toward := solid.Vec{X: -r.Y, Y: r.X} // the run's back
	along := r
	if w.back {
		toward = toward.Times(-1)
	}
	if !w.left {
		along = along.Times(-1)
	}
	if w.back {
		along = along.Times(-1)
	}
	return hidden.Look(toward.Times(c).Add(along.Times(s)), drop)
}

// direction is a run's way in plan, of length one.
func (d *Drawer) direction(run int) solid.Vec {
	r := &d.Layout.Runs[run]
	v := d.Layout.Posts[r.To].At.Sub(d.Layout.Posts[r.From].At)
	return solid.Vec{X: v.X.Metres(), Y: v.Y.Metres()}.Unit()
}

// subject is the run that the step is about; -1 where it is about a structure.
func (p *picture) subject() int {
	if run := p.step.Place.Run; run >= 0 {
		return run
	}
	run := -1
	for i := range p.cast {
		if a := &p.cast[i]; a.added {
			s := &p.scene.Solids[a.solid]
			switch {
			case s.Run < 0, run >= 0 && s.Run != run:
				return -1
			}
			run = s.Run
		}
	}
	return run
}

// look chooses the camera: the way in which most of what the step adds is seen.
func (p *picture) look() {
	run := p.subject()
	if run < 0 {
		p.lookOver()
		return
	}
	dir, drop := p.direction(run), wallDrop
	low := true
	for i := range p.cast {
		if a := &p.cast[i]; a.added && p.bounds(a).Max.Z > 0.6 {
			low = false
		}
	}
	if low {
		drop = aboveDrop
	}
	var samples []sample
	var boxes []solid.Box
	for i := range p.cast {
		if a := &p.cast[i]; a.added {
			samples = sampled(samples, p.bounds(a))
		} else {
			boxes = append(boxes, p.bounds(a))
		}
	}
	usual := p.sideOf(run)
	most := -1.0
	for k, w := range ways {
		cam := camera(dir, w, drop)
		n := worth(samples, boxes, cam, k)
		if k == usual {
			n += 0.12 // where the run's other steps are looked at from
		}
		if n > most {
			most, p.cam = n, cam
		}
	}
}

// worth is how much of what is sampled is seen in one of the ways, less a little
// for a way that is less usual.
func worth(samples []sample, boxes []solid.Box, cam hidden.Camera, k int) float64 {
	n := inSight(few(samples), boxes, cam) - float64(0.02*float64(k))
	if ways[k].back {
		n -= 0.06 // a front is known by its front
	}
	return n
}

// beyond is how far round a run, in metres, other walls may hide it.
const beyond = 3

// sideOf is the way in which most of a run is seen when all is built: from there
// its steps are looked at, unless another way shows much more.
func (d *Drawer) sideOf(run int) int {
	if k, ok := d.side[run]; ok {
		return k
	}
	var samples []sample
	var boxes []solid.Box
	var own solid.Box
	for n, i := range d.byRun[run] {
		b := d.scene.Bounds(i)
		if samples = sampled(samples, b); n == 0 {
			own = b
		}
		own = own.Join(b)
	}
	own = own.Grown(beyond)
	for _, i := range d.from[d.Layout.Runs[run].Structure] {
		if d.scene.Solids[i].Run != run && d.scene.Bounds(i).Meets(own) {
			boxes = append(boxes, d.scene.Bounds(i))
		}
	}
	best, most := 0, -1.0
	for k, w := range ways {
		if n := worth(samples, boxes, camera(d.direction(run), w, wallDrop), k); n > most {
			best, most = k, n
		}
	}
	d.side[run] = best
	return best
}

// lookOver looks at a whole structure from its front, high enough to see over
// the walls.
func (p *picture) lookOver() {
	dir := solid.Vec{X: 1}
	s := p.structure()
	if p.Layout.Structures[s].Kind != frame.Pen {
		for i := range p.Layout.Runs {
			if r := &p.Layout.Runs[i]; r.Structure == s && r.Role == job.WallFront {
				dir = p.direction(i)
				break
			}
		}
	}
	p.cam = camera(dir, ways[0], aboveDrop)
}

// bounds is the box round an actor as it is drawn.
func (p *picture) bounds(a *actor) solid.Box {
	return solid.Box{Min: a.box.Min.Add(a.move), Max: a.box.Max.Add(a.move)}
}

// sample is a place on what is looked at.
type sample = solid.Vec

// mostSamples bounds how many places are looked at.
const mostSamples = 36

// sampled adds places spread over a box.
func sampled(out []sample, b solid.Box) []sample {
	for _, x := range [3]float64{0.03, 0.5, 0.97} {
		for _, z := range [2]float64{0.2, 0.8} {
			out = append(out, sample{
				X: b.Min.X + float64((b.Max.X-b.Min.X)*x), Y: b.Min.Y + float64((b.Max.Y-b.Min.Y)*x), Z: b.Min.Z + float64((b.Max.Z-b.Min.Z)*z),
			})
		}
	}
	return out
}

// few are evenly chosen ones of many places.
func few(list []sample) []sample {
	step := (len(list) + mostSamples - 1) / mostSamples
	if step <= 1 {
		return list
	}
	var out []sample
	for i := 0; i < len(list); i += step {
		out = append(out, list[i])
	}
	return out
}

// inSight is the share of places that no box hides.
func inSight(list []sample, boxes []solid.Box, cam hidden.Camera) float64 {
	if len(list) == 0 {
		return 0
	}
	back := cam.Away.Times(-1)
	seen := 0
	for _, s := range list {
		from := s.Add(back.Times(0.06))
		clear := true
		for _, b := range boxes {
			if hits(b, from, back) {
				clear = false
				break
			}
		}
		if clear {
			seen++
		}
	}
	return float64(seen) / float64(len(list))
}

// hits says whether a ray meets a box.
func hits(b solid.Box, from, way solid.Vec) bool {
	lo, hi := 0.0, math.Inf(1)
	for _, axis := range [3][4]float64{{b.Min.X, b.Max.X, from.X, way.X}, {b.Min.Y, b.Max.Y, from.Y, way.Y}, {b.Min.Z, b.Max.Z, from.Z, way.Z}} {
		if math.Abs(axis[3]) < 1e-9 {
			if axis[2] < axis[0] || axis[2] > axis[1] {
				return false
			}
			continue
		}
		t0, t1 := (axis[0]-axis[2])/axis[3], (axis[1]-axis[2])/axis[3]
		if t0 > t1 {
			t0, t1 = t1, t0
		}
		lo, hi = math.Max(lo, t0), math.Min(hi, t1)
	}
	return lo < hi
}
