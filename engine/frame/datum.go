package frame

import (
	"fmt"
	"strconv"
	"strings"
)

// datum checks the names under datum, and steps the lines of rows: a run between
// posts of which one stands beyond a step, and none before it, goes on lower. A
// wall across the row at the step itself keeps to the line before it.
func (b *builder) datum(bays, posts []string) {
	d := b.job.Datum
	if d == nil {
		return
	}
	for i := range d.Steps {
		s := &d.Steps[i]
		most := 0
		for k := range b.out.Posts {
			if p := &b.out.Posts[k]; p.Kind != Door && b.out.Structures[p.Structure].Name == s.Structure {
				most = max(most, numberOf(p.Name))
			}
		}
		if most > 0 && s.At >= most {
			b.problem(s.Of("at"), fmt.Sprintf("datum.steps[%d].at", i), strconv.Itoa(s.At), fmt.Sprintf("the posts of %s are numbered up to %d, and no bay stands beyond its last ones", s.Structure, most), fmt.Sprintf("a number from 2 to %d", most-1))
			continue
		}
		for k := range b.out.Runs {
			r := &b.out.Runs[k]
			if b.out.Structures[r.Structure].Name != s.Structure {
				continue
			}
			from, to := numberOf(b.out.Posts[r.From].Name), numberOf(b.out.Posts[r.To].Name)
			if min(from, to) >= s.At && max(from, to) > s.At {
				r.Drop += s.Drop
			}
		}
	}
	for i := range d.Fills {
		f := &d.Fills[i]
		if _, ok := b.out.postByName[f.At]; ok || b.unframed(f.At) || b.isSpot(f.At) {
			continue
		}
		b.problem(f.Of("at"), fmt.Sprintf("datum.fills[%d].at", i), f.At, fmt.Sprintf("there is no post or spot %q", f.At), nearest(f.At, posts))
	}
	for i := range d.Skirts {
		s := &d.Skirts[i]
		at, ok := b.out.bayByName[s.Bay]
		path := fmt.Sprintf("datum.skirts[%d].bay", i)
		switch {
		case !ok && !b.unframed(s.Bay):
			b.problem(s.Of("bay"), path, s.Bay, fmt.Sprintf("there is no bay %q", s.Bay), nearest(s.Bay, bays))
		case ok && (b.out.Bays[at].IsDoor() || b.out.Bays[at].IsOpen()):
			b.problem(s.Of("bay"), path, s.Bay, "a skirt board goes under boards, and none hang here", "fill the floor instead")
		}
	}
}

func (b *builder) isSpot(name string) bool {
	for i := range b.job.Spots {
		if b.job.Spots[i].Name == name {
			return true
		}
	}
	return false
}

// numberOf is a post's number in its line: 3 for A.b3; 0 for none.
func numberOf(name string) int {
	_, last, ok := strings.Cut(name, ".")
	if !ok || len(last) < 2 {
		return 0
	}
	n, err := strconv.Atoi(last[1:])
	if err != nil || n < 0 || n > 100_000 {
		return 0
	}
	return n
}
