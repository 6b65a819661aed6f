package fit

import (
	"stallwright/engine/frame"
	"stallwright/engine/job"
	"stallwright/engine/kit"
	"stallwright/engine/measure"
	"stallwright/engine/phrase"
	"stallwright/engine/reason"
)

// Floor is how high the finished floor lies at one place, above the zero that all
// floors of its structure count from.
type Floor struct {
	Height measure.Length
	Why    *reason.Reason
}

// Levels is the finished floor where it was levelled. What a job states under
// floors is used where a structure has no levels.
type Levels struct {
	Posts   map[string]Floor             // at posts, by name
	Highest map[string]Floor             // the highest of each structure, by name; spots of the floor count too
	Under   map[string][2]measure.Length // lowest and highest floor under a bay, by its name
}

// MakeOn fits a layout onto a floor that was levelled. Nil levels are none.
func MakeOn(j *job.Job, k *kit.Kit, l *frame.Layout, levels *Levels) *Result {
	f := newFitter(j, k, l)
	f.levels = levels
	return f.fit()
}

// floors reads the finished floor's height at posts.
func (f *fitter) floors() {
	f.floor, f.highest = map[string]Floor{}, make([]Floor, len(f.lay.Structures))
	for i := range f.job.Floors {
		fl := &f.job.Floors[i]
		why := reason.Given(phrase.Of("why.floor-at", phrase.With("post", phrase.Name(fl.Post))), phrase.Length(fl.Height), job.Written(fl.Pos()))
		height := fl.Height
		if by, filled := f.job.FilledBy(fl.Post); filled != nil {
			height += by
			why = reason.Of(phrase.Of("why.floor-at", phrase.With("post", phrase.Name(fl.Post))), phrase.Length(height), phrase.Of("rule.stated-filled"), phrase.Phrase{}, why, reason.Given(phrase.Of("why.filled-by"), phrase.Length(by), job.Written(filled.Pos())))
		}
		f.floor[fl.Post] = Floor{height, why}
	}
	if f.levels != nil {
		for i := range f.lay.Posts {
			name := f.lay.Posts[i].Name
			if fl, ok := f.levels.Posts[name]; ok {
				f.floor[name] = fl
			}
		}
	}
	read := make([]bool, len(f.lay.Structures))
	for i := range f.lay.Posts {
		p := &f.lay.Posts[i]
		fl, ok := f.floor[p.Name]
		if ok && (!read[p.Structure] || fl.Height > f.highest[p.Structure].Height) {
			f.highest[p.Structure] = Floor{fl.Height, reason.Given(phrase.Of("why.highest-floor"), phrase.Length(fl.Height), phrase.Of("source.floors"))}
			read[p.Structure] = true
		}
	}
	if f.levels == nil {
		return
	}
	for i := range f.lay.Structures {
		if fl, ok := f.levels.Highest[f.lay.Structures[i].Name]; ok {
			f.highest[i] = fl
		}
	}
}
