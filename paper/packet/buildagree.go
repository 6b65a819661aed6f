package packet

import "fmt"

// work checks that the order of work hangs together: every operation once, what it
// waits for before it and by a rule that is there, its pieces known and added once,
// every operation on one page.
func (a *agreement) work(d *Document, pieces map[string]bool) {
	if d.Work == nil {
		return
	}
	w := d.Work
	rules := map[string]bool{}
	for i := range w.Rules {
		rules[w.Rules[i].ID] = true
	}
	ids, added := map[string]bool{}, map[string]bool{}
	for i := range w.Operations {
		o := &w.Operations[i]
		path := fmt.Sprintf("work.operations[%d]", i)
		if ids[o.ID] || o.ID == "" {
			a.fault(path+".id", "the operation %q is there twice, or has no name", o.ID)
		}
		for k, v := range o.After {
			if v.Operation < 0 || v.Operation >= i || !rules[v.Rule] {
				a.fault(fmt.Sprintf("%s.after[%d]", path, k), "%s waits for operation %d by %q; it can wait for earlier ones only, by a rule that is listed", o.ID, v.Operation, v.Rule)
			}
		}
		ids[o.ID] = true
		for k, p := range o.Adds {
			if !pieces[p] || added[p] {
				a.fault(fmt.Sprintf("%s.adds[%d]", path, k), "%s adds %q, which is no piece or is added already", o.ID, p)
			}
			added[p] = true
		}
		if o.People < 1 || o.Minutes < 0 || o.CureMin < 0 {
			a.fault(path+".people", "%s takes %d people and %d minutes", o.ID, o.People, o.Minutes)
		}
	}
	a.pages(w)
}

// pages checks that steps hold each operation once, in order.
func (a *agreement) pages(w *WorkDoc) {
	next := 0
	for i := range w.Steps {
		s := &w.Steps[i]
		path := fmt.Sprintf("work.steps[%d]", i)
		if s.No != i+1 || s.Like < 0 || s.Like > i {
			a.fault(path+".no", "step %d has the number %d and is like %d", i+1, s.No, s.Like)
		}
		if s.From != next || s.Operations < 1 || s.Operations > len(w.Operations)-next {
			a.fault(path+".from", "step %d holds %d operations from %d; the next is %d of %d", s.No, s.Operations, s.From, next, len(w.Operations))
			return
		}
		for k := range s.Operations {
			if w.Operations[next+k].Step != s.No {
				a.fault(fmt.Sprintf("work.operations[%d].step", next+k), "it stands in step %d", s.No)
			}
		}
		next += s.Operations
	}
	if next != len(w.Operations) {
		a.fault("work.steps", "%d of %d operations are in a step", next, len(w.Operations))
	}
}
