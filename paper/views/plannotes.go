package views

import (
	"stallwright/engine/frame"
	"stallwright/engine/job"
	"stallwright/engine/phrase"
)

// plain is a sentence's part, by its key, and whether it is true of a plan.
type plain struct {
	on  bool
	key string
}

// sentence joins the parts that are true; it is empty where none is.
func (t *tables) sentence(parts ...plain) string {
	var true phrase.List
	for _, p := range parts {
		if p.on {
			true = append(true, phrase.Of(p.key))
		}
	}
	if len(true) == 0 {
		return ""
	}
	return t.say("views.sentence", phrase.With("what", true))
}

// shown is what a plan shows, and so has to explain.
type shown struct {
	timber, steel                      bool // posts
	boards, grille, window, open       bool // walls
	sliding, swing, feeder, besideDoor bool
}

func (t *tables) shown(v *seenPlan) shown {
	var s shown
	for _, p := range v.posts {
		s.timber = s.timber || t.Layout.Posts[p].Kind == frame.Timber
		s.steel = s.steel || t.Layout.Posts[p].Kind == frame.Steel
	}
	for _, run := range v.runs {
		s.besideDoor = s.besideDoor || len(t.Layout.Runs[run].Bays) > 1
		for _, i := range t.Layout.Runs[run].Bays {
			b, f := &t.Layout.Bays[i], &t.Fit.Bays[i]
			s.sliding = s.sliding || f.Door != nil && f.Door.Track != nil
			s.swing = s.swing || f.Door != nil && f.Door.Track == nil
			s.open = s.open || b.IsOpen()
			s.boards = s.boards || !b.IsDoor() && (b.Fill.Kind == job.FillBoards || b.Fill.Kind == job.FillWindow)
			s.grille = s.grille || f.Grille != nil
			s.window = s.window || f.Window != nil
			s.feeder = s.feeder || f.Feeder != nil
		}
	}
	return s
}

// planNotes explain a detailed plan. An overview only tells what cannot be
// built; its details explain themselves.
func (t *tables) planNotes(v *seenPlan) []string {
	if !v.detailed {
		return t.planFaults(v)
	}
	s := t.shown(v)
	var out []string
	for _, note := range []string{
		t.sentence(plain{s.timber, "views.hatched-posts"}, plain{s.steel, "views.black-posts"},
			plain{s.boards, "views.black-walls"}, plain{s.grille, "views.white-walls"},
			plain{s.window, "views.white-piece"}, plain{s.open, "views.dashed-walls"}),
		t.sentence(plain{s.sliding, "views.sliding-leaves"},
			plain{s.swing, "views.swing-leaves"}, plain{s.feeder, "views.feeder-swing"}),
	} {
		if note != "" {
			out = append(out, note)
		}
	}
	if s.besideDoor {
		out = append(out, t.say("views.beside-doorway", name("bay", t.besideDoorway(v))))
	}
	return append(out, t.planFaults(v)...)
}

// besideDoorway is the name of the first bay beside a doorway.
func (t *tables) besideDoorway(v *seenPlan) string {
	for _, run := range v.runs {
		for _, b := range t.Layout.Runs[run].Bays {
			if bay := &t.Layout.Bays[b]; !bay.IsDoor() && len(t.Layout.Runs[run].Bays) > 1 {
				return bay.Name
			}
		}
	}
	return ""
}

// planFaults names the bays in which something cannot be built as described;
// their elevations say what.
func (t *tables) planFaults(v *seenPlan) []string {
	var names []string
	for _, b := range t.baysOf(v.runs) {
		if len(t.faults(b)) > 0 {
			names = append(names, t.Layout.Bays[b].Name)
		}
	}
	if len(names) == 0 {
		return nil
	}
	const few = 12
	if len(names) > few {
		names = append(names[:few], t.say("views.more-bays", number("n", len(names)-few)))
	}
	return []string{t.say("views.plan-no-fit", name("bays", t.words.Join(names)))}
}
