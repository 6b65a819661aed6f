package job

import (
	"fmt"
	"strings"
)

// states checks each entry in itself. What it may follow is for Progress to say:
// that takes the layout.
func (c *checker) states(j *Job) {
	for i := range j.States {
		c.state(&j.States[i], fmt.Sprintf("states[%d]", i))
	}
}

func (c *checker) state(s *State, path string) {
	c.time(s.Where, path, s.At)
	switch {
	case (s.Frame == "") == (s.Bay == ""):
		c.r.Add(s.Pos(), path, "", "an entry speaks of one frame or of one bay", "{frame: A1-front, is: tight} or {bay: A1-front-left, is: cut}")
	case s.Frame != "" && !s.Is.OfFrame() && s.Is != "":
		c.r.Add(s.Of("is"), path+".is", string(s.Is), fmt.Sprintf("a frame is not %s; its bays are", s.Is), "delivered, standing or tight; or lagged, for channels on timber. For a fill write bay:")
	case s.Bay != "" && s.Is.OfFrame():
		c.r.Add(s.Of("is"), path+".is", string(s.Is), fmt.Sprintf("a bay is not %s; the frame it stands in is", s.Is), "drawn, measured, released, cut or loaded. For a frame write frame:")
	case s.Is == StepReleased:
		c.release(s, path)
	default:
		for _, key := range []string{"width", "pieces"} {
			if s.Has(key) {
				c.r.Add(s.Of(key), path+"."+key, "", fmt.Sprintf("%s belongs to an entry that releases a bay", key), "leave it out")
			}
		}
	}
}

// release checks what a release freezes.
func (c *checker) release(s *State, path string) {
	if len(s.Pieces) == 0 {
		c.r.Add(s.Pos(), path, "", "a release says what it freezes: the pieces with their lengths", "let stallwright measure write it, or add pieces: [{label: A1-A2/c1, length: 11' 5 15/16\"}]")
	}
	seen := map[string]bool{}
	for i := range s.Pieces {
		p := &s.Pieces[i]
		pp := fmt.Sprintf("%s.pieces[%d]", path, i)
		if !strings.HasPrefix(p.Label, s.Bay+"/") {
			c.r.Add(p.Of("label"), pp+".label", p.Label, fmt.Sprintf("this is no piece of %s", s.Bay), "labels start with the bay: "+s.Bay+"/c1")
		}
		if seen[p.Label] {
			c.r.Add(p.Of("label"), pp+".label", p.Label, fmt.Sprintf("%s is frozen twice", p.Label), "keep one")
		}
		seen[p.Label] = true
		c.size(p.Where, "length", pp, p.Length, true)
		c.size(p.Where, "covers", pp, p.Covers, false)
	}
	if s.Width != nil {
		c.width(s.Where, *s.Width, path)
	}
}
