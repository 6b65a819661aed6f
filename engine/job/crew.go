package job

import (
	"fmt"
	"time"

	"stallwright/engine/document"
)

// Crew is who builds the job, with what, and when they work.
type Crew struct {
	document.Where `yaml:"-" json:"-"`

	People int    `yaml:"people,required" min:"1" max:"40" doc:"how many work on site"`
	Start  string `yaml:"start" doc:"first day of work, as 2026-05-18; the job's date where left out"`
	From   string `yaml:"from" doc:"when a day's work begins, as 07:30; 07:30 where left out"`
	To     string `yaml:"to" doc:"when it ends; 16:30 where left out"`
	// Sunrise and sunset: what is not lit cannot be worked at before or after.
	Light string   `yaml:"light" doc:"when it is light enough, as 06:50; work does not begin earlier"`
	Dark  string   `yaml:"dark" doc:"when it is dark, as 16:40; work does not go on later"`
	Break int      `yaml:"break" min:"0" max:"240" doc:"minutes of a day's breaks; 45 where left out"`
	Days  []string `yaml:"days" doc:"days of the week that are worked: mon, tue, wed, thu, fri, sat, sun; mon to fri where left out"`
	Off   []string `yaml:"off" doc:"days not worked, as 2026-05-25"`
	Tools []Tool   `yaml:"tools" doc:"tools of which there are only so many; of a tool not listed there are enough"`
}

// Tool is how many of one tool a crew has.
type Tool struct {
	document.Where `yaml:"-" json:"-"`

	Tool  ToolName `yaml:"tool,required" doc:"which tool"`
	Count int      `yaml:"count,required" min:"1" max:"40" doc:"how many there are"`
}

// ToolName is a tool that steps of work take.
type ToolName string

// Allowed lists the tools.
func (ToolName) Allowed() []string {
	return []string{
		"tape", "string", "stakes", "hammer", "level", "laser", "square", "pencil", "auger", "shovel", "mixer", "mallet", "trestles", "props",
		"driver", "drill", "drill-bit", "wrench", "hammer-drill", "masonry-bit", "saw", "metal-saw", "file", "zinc", "ladder", "lifting-aid", "clamp-key",
	}
}

// weekdays are the days as jobs name them, from Sunday.
var weekdays = []string{"sun", "mon", "tue", "wed", "thu", "fri", "sat"}

// Hours is one working day: minutes after midnight, breaks, and which days.
type Hours struct {
	From, To int // minutes after midnight
	Break    int // minutes of breaks in a day
	Days     [7]bool
	Off      []time.Time
	Start    time.Time // zero where nobody said when work begins
	Source   string
}

// Working is the crew's hours with what the job leaves out filled in: 07:30 to
// 16:30 with 45 minutes of breaks, Monday to Friday (common practice, no published
// source). Work stops at dusk.
func (j *Job) Working() Hours {
	h := Hours{From: 7*60 + 30, To: 16*60 + 30, Break: 45, Days: [7]bool{1: true, 2: true, 3: true, 4: true, 5: true}, Source: "common practice, no published source"}
	start := j.Date
	if c := j.Crew; c != nil {
		h.Source = "job, crew"
		set := func(to *int, text string) {
			if m, ok := clock(text); ok {
				*to = m
			}
		}
		set(&h.From, c.From)
		set(&h.To, c.To)
		if m, ok := clock(c.Light); ok {
			h.From = max(h.From, m)
		}
		if m, ok := clock(c.Dark); ok {
			h.To = min(h.To, m)
		}
		if c.Has("break") {
			h.Break = c.Break
		}
		if len(c.Days) > 0 {
			h.Days = [7]bool{}
			for _, d := range c.Days {
				if i := weekday(d); i >= 0 {
					h.Days[i] = true
				}
			}
		}
		for _, d := range c.Off {
			if t, err := time.Parse(time.DateOnly, d); err == nil {
				h.Off = append(h.Off, t)
			}
		}
		if c.Start != "" {
			start = c.Start
		}
	}
	if t, err := time.Parse(time.DateOnly, start); err == nil {
		h.Start = t
	}
	return h
}

// Minutes is how long a day's work is.
func (h Hours) Minutes() int { return h.To - h.From - h.Break }

func weekday(name string) int {
	for i, d := range weekdays {
		if d == name {
			return i
		}
	}
	return -1
}

// clock reads a time of day as minutes after midnight.
func clock(text string) (int, bool) {
	t, err := time.Parse("15:04", text)
	return t.Hour()*60 + t.Minute(), err == nil
}

// leastDay is the shortest working day: in less nothing is begun that is finished.
const leastDay = 60

// crew checks hours, days and tools.
func (c *checker) crew(j *Job) {
	v := j.Crew
	if v == nil {
		return
	}
	before := c.r.Len()
	for _, t := range []struct{ key, text string }{{"from", v.From}, {"to", v.To}, {"light", v.Light}, {"dark", v.Dark}} {
		if _, ok := clock(t.text); t.text != "" && !ok {
			c.r.Add(v.Of(t.key), "crew."+t.key, t.text, "this is no time of day", "hours and minutes, as 07:30")
		}
	}
	if _, err := time.Parse(time.DateOnly, v.Start); v.Start != "" && err != nil {
		c.r.Add(v.Of("start"), "crew.start", v.Start, "this is no date", "write year-month-day, as 2026-05-18")
	}
	for i, d := range v.Days {
		if weekday(d) < 0 {
			c.r.Add(v.Of("days"), fmt.Sprintf("crew.days[%d]", i), d, "this is no day of the week", "mon, tue, wed, thu, fri, sat or sun")
		}
	}
	for i, d := range v.Off {
		if _, err := time.Parse(time.DateOnly, d); err != nil {
			c.r.Add(v.Of("off"), fmt.Sprintf("crew.off[%d]", i), d, "this is no date", "write year-month-day, as 2026-05-25")
		}
	}
	seen := map[ToolName]bool{}
	for i := range v.Tools {
		t := &v.Tools[i]
		if seen[t.Tool] {
			c.r.Add(t.Of("tool"), fmt.Sprintf("crew.tools[%d].tool", i), string(t.Tool), string(t.Tool)+" is given twice", "state its number once")
		}
		seen[t.Tool] = true
	}
	if c.r.Len() == before {
		if h := j.Working(); h.Minutes() < leastDay {
			c.r.Add(v.Pos(), "crew", "", fmt.Sprintf("a day leaves %d minutes of work", h.Minutes()), "longer hours, or shorter breaks; daylight counts too")
		}
	}
}
