package build

import (
	"fmt"

	"stallwright/engine/finding"
	"stallwright/engine/measure"
	"stallwright/engine/phrase"
)

// tooFew gathers the steps of a structure that ask for more hands than the crew has.
type tooFew struct {
	worst  int // operation with the heaviest load, by its place in the order
	steps  int // how many steps
	step   int // the last step counted
	people int // who could carry the worst; 0 where no team may
}

// short tells, for each structure, of steps whose load is more than the crew may
// lift though a larger one might. What no team may lift takes an aid whoever builds,
// as its step says; it is told of one who is alone, since an aid wants two: one to
// lead the load, one to work the aid.
func (b *builder) short() {
	if b.Job.Crew == nil || b.Job.Crew.People >= mostTeam {
		return
	}
	crew := b.Job.Crew.People
	at := map[int]*tooFew{}
	var order []int
	for i := range b.out.Operations {
		o := &b.out.Operations[i]
		if o.Lift == nil || o.Done || o.Lift.Carry <= LiftTeam(crew) || crew > 1 && o.Lift.Carry > LiftTeam(mostTeam) {
			continue
		}
		s := o.Place.Structure
		if at[s] == nil {
			at[s] = &tooFew{worst: i, step: -1}
			order = append(order, s)
		}
		v := at[s]
		if v.step != o.Step {
			v.step = o.Step
			v.steps++
		}
		if o.Lift.Carry > b.out.Operations[v.worst].Lift.Carry {
			v.worst = i
		}
	}
	for _, s := range order {
		b.tellShort(s, crew, at[s])
	}
}

func (b *builder) tellShort(structure, crew int, v *tooFew) {
	o := &b.out.Operations[v.worst]
	step := b.out.Steps[o.Step].No
	for n := crew + 1; n <= mostTeam; n++ {
		if LiftTeam(n) >= o.Lift.Carry {
			v.people = n
			break
		}
	}
	choices := []phrase.Phrase{phrase.Of("way.lifting-aid")}
	if v.people > 0 {
		choices = append([]phrase.Phrase{phrase.Of("way.crew-of", phrase.With("n", phrase.Count(v.people)))}, choices...)
	}
	f := finding.Finding{
		Code: finding.CrewLift, Severity: finding.Warning, Place: b.Layout.Structures[structure].Name,
		Message: fmt.Sprintf("step %d (%s): %s comes on hands at once, and a crew of %d may lift %s together; so it is in %d of its steps",
			step, o.ID, b.liftOf(o.Lift.Carry), crew, b.liftOf(LiftTeam(crew)), v.steps),
		Say: phrase.Of("found.crew-lift", phrase.With("step", phrase.Count(step)), phrase.With("operation", phrase.Name(o.ID)),
			phrase.With("mass", phrase.Mass(o.Lift.Carry)), phrase.With("crew", phrase.Count(crew)), phrase.With("most", phrase.Mass(LiftTeam(crew))), phrase.With("n", phrase.Count(v.steps))),
		Choices: choices, Source: LiftSource,
	}
	b.out.Findings = append(b.out.Findings, f)
}

// liftOf writes a mass for lifting.
func (b *builder) liftOf(m measure.Mass) string { return m.ToLift(b.Job.Units) }
