package job

import (
	"strings"

	"stallwright/engine/document"
	"stallwright/engine/measure"
)

// Measurement is what somebody read off a tape at one bay. Measurements are
// never changed, only added; the latest of a bay counts.
type Measurement struct {
	document.Where `yaml:"-" json:"-"`

	Bay   string `yaml:"bay,required" doc:"the bay, by name; or a whole front between standing timber posts (A1-front), measured before its frame is made"`
	Width Width  `yaml:"width,required" doc:"clear width, inner face of one channel's web to the other's, at the bottom of the channels: one reading, or bottom, middle and top"`
	From  Ends   `yaml:"from" doc:"of a whole front between standing posts: webs (of the end posts lagged to them; where left out) or faces (of the standing posts themselves)"`
	By    string `yaml:"by" doc:"who read the tape"`
	At    string `yaml:"at" doc:"when, as 2026-05-03 14:10"`
	Note  string `yaml:"note" doc:"anything seen"`
}

// Ends is what the tape of a whole front touched.
type Ends string

// What the tape of a whole front may touch.
const (
	FromWebs  Ends = "webs"  // inner face to inner face of the end posts' webs
	FromFaces Ends = "faces" // the faces of the standing posts that look at each other
)

// Allowed lists what the tape of a whole front may touch.
func (Ends) Allowed() []string { return []string{"webs", "faces"} }

// Width is a clear width read once, or at three heights. One reading may be
// written alone.
type Width struct {
	document.Where `yaml:"-" json:"-"`

	Bottom measure.Length `yaml:"bottom,required" doc:"at the lowest board"`
	Middle measure.Length `yaml:"middle" doc:"halfway up"`
	Top    measure.Length `yaml:"top" doc:"at the highest board"`
}

// FromScalar takes one reading.
func (w *Width) FromScalar(text string) error {
	l, err := measure.ParseLength(text, measure.NoUnit)
	if err != nil {
		return err
	}
	w.Bottom = l
	return nil
}

// Readings lists what was read, from the bottom up.
func (w Width) Readings() []measure.Length {
	out := []measure.Length{w.Bottom}
	for _, l := range []measure.Length{w.Middle, w.Top} {
		if l != 0 {
			out = append(out, l)
		}
	}
	return out
}

// Least is the narrowest reading.
func (w Width) Least() measure.Length {
	least := w.Bottom
	for _, l := range w.Readings() {
		least = min(least, l)
	}
	return least
}

// Most is the widest reading.
func (w Width) Most() measure.Length {
	most := w.Bottom
	for _, l := range w.Readings() {
		most = max(most, l)
	}
	return most
}

// Source says who read it, when, and where it is written.
func (m *Measurement) Source() string { return taken(m.By, m.At, m.Pos()) }

// taken says who took a reading, when, and where it is written.
func taken(by, at string, pos document.Pos) string { return said("measured", by, at, pos) }

// said is taken for anything a person states of a site.
func said(what, by, at string, pos document.Pos) string {
	var b strings.Builder
	b.WriteString(what)
	if by != "" {
		b.WriteString(" by " + by)
	}
	if at != "" {
		b.WriteString(" at " + clockTime(at))
	}
	if !pos.IsZero() {
		b.WriteString(" (" + pos.String() + ")")
	}
	return b.String()
}

// Floor is the height of the finished floor at one post.
type Floor struct {
	document.Where `yaml:"-" json:"-"`

	Post   string         `yaml:"post,required" doc:"the post, by name"`
	Height measure.Length `yaml:"height,required" doc:"finished floor (base and mats included) above the job's level line; below it is negative"`
}
