package plan

import (
	"stallwright/engine/frame"
	"stallwright/engine/job"
	"stallwright/engine/phrase"
	"stallwright/engine/setout"
	"stallwright/engine/site"
)

// fieldOf is what was read on site, for setting out: the ground where the rod
// stood, and the piers as measured. A floor that is stated finished says nothing
// of the ground. Piers that are taped from one to the other, not from the
// centre, come from the adjustment.
func fieldOf(j *job.Job, l *frame.Layout, read *site.Site) setout.Field {
	f := setout.Field{Bench: setout.ZeroBench, Ground: map[string]setout.Height{}, Piers: setout.PiersOf(j), Laid: map[string]setout.Layer{}}
	for i := range read.Levels {
		if v := &read.Levels[i]; v.Known && !v.Stated {
			h := setout.Height{Above: v.Ground}
			if v.Why != nil && len(v.Why.From) > 0 {
				h.Why = v.Why.From[0] // the ground, from which the finished floor follows
			}
			f.Ground[v.Name] = h
		}
	}
	for i := range read.Posts {
		v := &read.Posts[i]
		name := l.Posts[v.Post].Name
		if _, stated := f.Piers[name]; stated || !v.Placed {
			continue
		}
		if at, ok := setout.OnBaseline(l, v.Post, v.At); ok {
			f.Piers[name] = setout.Place{At: at, Source: phrase.Of("source.taped-pen")}
		}
	}
	for i := range j.Structures {
		s := &j.Structures[i]
		laid := s.Floor
		if laid == nil {
			laid = j.Floor
		}
		if laid != nil {
			f.Laid[s.Name()] = setout.Layer{Thick: laid.Thickness(), Source: phrase.Of("source.job-floor", called("at", laid.Pos().String()))}
		}
	}
	return f
}
