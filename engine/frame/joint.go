package frame

import (
	"slices"

	"stallwright/engine/kit"
	"stallwright/engine/measure"
)

// joints lists everything that has to be fastened, in the order of runs, then
// of posts. Runs that hold nothing are not built and have no joints.
func (b *builder) joints() {
	l := b.out
	add := func(j JointAt) { l.Joints = append(l.Joints, j) }
	for i := range l.Runs {
		r := &l.Runs[i]
		if !r.Filled(l) {
			continue
		}
		for _, p := range []int{r.From, r.To} {
			switch r.Assembly.Ends {
			case kit.EndsChannel:
				add(JointAt{Kind: kit.JointChannel, Run: i, Bay: -1, Post: p})
			case kit.EndsMounted:
				add(JointAt{Kind: kit.JointMounted, Run: i, Bay: -1, Post: p})
			}
		}
		if r.Framed() {
			add(JointAt{Kind: kit.JointFrame, Run: i, Bay: -1, Post: -1})
		}
		for _, p := range r.DoorPosts {
			add(JointAt{Kind: kit.JointDoorPost, Run: i, Bay: -1, Post: p})
		}
		for _, v := range r.Bays {
			if !l.Bays[v].IsDoor() && !l.Bays[v].IsOpen() {
				add(JointAt{Kind: kit.JointPanel, Run: i, Bay: v, Post: -1})
			}
		}
	}
	for i := range l.Posts {
		p := &l.Posts[i]
		switch p.Kind {
		case Joint:
			add(JointAt{Kind: kit.JointSections, Run: -1, Bay: -1, Post: i})
			if p.Base != nil {
				add(JointAt{Kind: kit.JointBase, Run: -1, Bay: -1, Post: i})
			}
		case Steel:
			if p.Base != nil {
				add(JointAt{Kind: kit.JointBase, Run: -1, Bay: -1, Post: i})
			}
			if p.Item.Role == kit.RoofPost {
				add(JointAt{Kind: kit.JointRoof, Run: -1, Bay: -1, Post: i})
			}
		}
	}
}

// turnTo is the direction from p toward q, from east, anticlockwise.
func (p *Post) turnTo(q Point) measure.Angle {
	d := q.Sub(p.At)
	switch {
	case d.Y == 0 && d.X >= 0:
		return 0
	case d.Y == 0:
		return 180 * measure.Degree
	case d.X == 0 && d.Y > 0:
		return 90 * measure.Degree
	case d.X == 0:
		return 270 * measure.Degree
	}
	a, err := measure.AngleFromRadians(atan2(d))
	if err != nil {
		return 0
	}
	return a
}

func sortedKeys[T any](m map[string]T) []string {
	keys := make([]string, 0, len(m))
	for k := range m {
		keys = append(keys, k)
	}
	slices.Sort(keys)
	return keys
}
