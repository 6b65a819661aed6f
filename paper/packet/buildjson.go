package packet

import (
	"stallwright/engine/build"
	"stallwright/engine/measure"
	"stallwright/engine/phrase"
	"stallwright/paper/words"
)

// work writes the order of work. Its texts are English, as all of plan.json.
func (w *writer) work() {
	b := w.p.Build
	english := w.words
	if b == nil {
		return
	}
	d := &WorkDoc{}
	for _, r := range build.Rules() {
		d.Rules = append(d.Rules, RuleDoc{string(r.ID), r.Says, r.Source})
	}
	for i := range b.Operations {
		d.Operations = append(d.Operations, w.operation(&b.Operations[i], english))
	}
	for i := range b.Steps {
		s := &b.Steps[i]
		v := PageDoc{No: s.No, Title: english.Say(s.Title), Place: s.Place.Name, From: s.First, Operations: len(s.Ops), Done: s.Done}
		if s.Like >= 0 {
			v.Like = b.Steps[s.Like].No
		}
		d.Steps = append(d.Steps, v)
	}
	d.Aside = w.labels(b.Aside)
	w.doc.Work = d
}

// labels names pieces.
func (w *writer) labels(pieces []int) []string {
	var out []string
	for _, p := range pieces {
		out = append(out, w.p.Fit.Pieces[p].Label)
	}
	return out
}

func (w *writer) operation(o *build.Operation, english *words.Words) OperationDoc {
	l := w.p.Layout
	d := OperationDoc{
		ID: o.ID, Kind: string(o.Kind), Place: o.Place.Name, Do: english.Say(o.Do), How: said(o.How, english),
		Adds: w.labels(o.Adds), People: o.People, Minutes: o.Minutes, CureMin: o.Cure, Cautions: said(o.Cautions, english),
		Step: w.p.Build.Steps[o.Step].No, Done: o.Done,
	}
	if o.WhyMinutes != build.Practice {
		d.MinutesBy = o.WhyMinutes
	}
	for _, list := range [][]build.Use{o.Parts, o.Bolts} {
		for _, u := range list {
			v := UseDoc{Item: u.Item, Count: u.Count, LengthNM: int64(u.Length)}
			if u.Length > 0 {
				v.Length = w.show(u.Length)
			}
			if u.Post >= 0 {
				v.Post = l.Posts[u.Post].Name
			}
			d.Hardware = append(d.Hardware, v)
		}
	}
	for _, t := range o.Tools {
		v := ToolDoc{Tool: t.Key, SizeNM: int64(t.Size)}
		if t.Size > 0 {
			v.Size = w.show(t.Size)
		}
		d.Tools = append(d.Tools, v)
	}
	if f := o.Lift; f != nil {
		d.Lift = &LiftDoc{MassUG: int64(f.Mass), CarryUG: int64(f.Carry), People: f.People, Aid: f.Aid}
		if f.Piece >= 0 {
			d.Lift.Piece = w.p.Fit.Pieces[f.Piece].Label
		}
	}
	if c := o.Check; c != nil {
		d.Check = &CheckDoc{What: english.Say(c.What), ValueNM: int64(c.Value), LeastNM: int64(c.Least), MostNM: int64(c.Most), Basis: c.Basis}
		if c.Value != 0 {
			tape := fieldTape(w.p.Job.Units)
			d.Check.Value = tape.Show(tape.Round(c.Value, measure.Nearest))
		}
	}
	for _, a := range o.After {
		d.After = append(d.After, WaitDoc{a.Op, string(a.Rule)})
	}
	return d
}

func said(list []phrase.Phrase, w *words.Words) []string {
	var out []string
	for _, p := range list {
		out = append(out, w.Say(p))
	}
	return out
}
