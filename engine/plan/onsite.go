package plan

import (
	"stallwright/engine/fit"
	"stallwright/engine/frame"
	"stallwright/engine/job"
	"stallwright/engine/kit"
	"stallwright/engine/measure"
	"stallwright/engine/site"
)

// onSite frames a job as drawn, then, where readings put standing posts elsewhere,
// on the posts as they stand.
func onSite(j *job.Job, k *kit.Kit) (*frame.Layout, *site.Site, error) {
	drawn, err := frame.Build(j, k)
	if err != nil {
		return nil, nil, err
	}
	read := site.Adjust(j, k, drawn)
	if !read.Moved() {
		return drawn, read, nil
	}
	l, err := frame.BuildAt(j, k, read.Places, read.Because)
	if err != nil {
		read.Unframed(err)
		return drawn, read, nil
	}
	return l, read, nil
}

// levels are the floors that were levelled, for fit; nil where none was.
func levels(read *site.Site, l *frame.Layout) *fit.Levels {
	out := &fit.Levels{Posts: map[string]fit.Floor{}, Highest: map[string]fit.Floor{}, Under: map[string][2]measure.Length{}}
	for i := range read.Levels {
		if v := &read.Levels[i]; v.Known && !v.Stated && v.Post >= 0 {
			out.Posts[v.Name] = fit.Floor{Height: v.Finished, Why: v.Why}
		}
	}
	if len(out.Posts) == 0 {
		return nil
	}
	for i := range read.Lines {
		n := &read.Lines[i]
		if v := &read.Levels[n.Highest]; !v.Stated {
			out.Highest[l.Structures[n.Structure].Name] = fit.Floor{Height: v.Finished, Why: v.Why}
		}
	}
	for i := range read.Gaps {
		g := &read.Gaps[i]
		if !read.Levels[read.Lines[g.Line].Highest].Stated {
			out.Under[l.Bays[g.Bay].Name] = [2]measure.Length{g.Low, g.High}
		}
	}
	return out
}
