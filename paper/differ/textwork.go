package differ

import (
	"fmt"
	"strings"

	"stallwright/paper/packet"
)

// manyValues is how many changed numbers of one thing are written one by one; of
// more, the sheet itself is the shorter reading.
const manyValues = 8

// setout tells what is staked or dug otherwise.
func (t *text) setout() {
	for i := range t.Diff.Setout {
		p := &t.Diff.Setout[i]
		switch {
		case p.Old == "":
			t.line(0, "+ %s", p.New)
		case p.New == "":
			t.line(0, "- %s", p.Old)
		default:
			t.line(0, "%s%s", p.New, t.behind(p.Causes))
			t.some(p.Values, "numbers: set it out anew from the new sheet")
		}
	}
}

// some writes the first of many values.
func (t *text) some(values []Value, more string) {
	for i, v := range values {
		if i == manyValues && len(values) > manyValues+2 {
			t.line(2, "and %d more %s", len(values)-i, more)
			return
		}
		t.line(2, "%s", t.value(v))
	}
}

// cuts tells what is bought otherwise, and what that costs where lengths have
// prices.
func (t *text) cuts() {
	if t.OldCost != t.NewCost {
		t.line(0, "boards and bars cost %s (%s)", arrow(money(t.OldCost), money(t.NewCost)), signedMoney(t.NewCost-t.OldCost))
	}
	for i := range t.Diff.Cuts {
		p := &t.Diff.Cuts[i]
		name := p.Name()
		var lines []string
		for _, v := range p.Values {
			switch {
			case strings.HasSuffix(v.Field, ".count"):
				lines = append(lines, fmt.Sprintf("%s: %s", strings.TrimSuffix(v.What, " count"), arrow(orNone(v.Old), orNone(v.New))))
			case v.Field == "cost":
				lines = append(lines, "cost "+arrow(hundredths(v.Old), hundredths(v.New)))
			}
		}
		if len(lines) == 0 {
			continue
		}
		t.line(0, "%s", name)
		for _, l := range lines {
			t.line(2, "%s", l)
		}
	}
}

func orNone(s string) string {
	if s == "" {
		return "none"
	}
	return s
}

// money writes hundredths of whatever the job's prices are in.
func money(n int64) string {
	sign := ""
	if n < 0 {
		sign, n = "-", -n
	}
	return fmt.Sprintf("%s%d.%02d", sign, n/100, n%100)
}

func signedMoney(n int64) string {
	if n > 0 {
		return "+" + money(n)
	}
	return money(n)
}

// hundredths writes a whole number of them.
func hundredths(s string) string {
	var n int64
	if _, err := fmt.Sscan(s, &n); err != nil {
		return orNone(s)
	}
	return money(n)
}

// manySteps is how many operations of a kind of change are named.
const manySteps = 12

// work tells the steps that came, went and changed.
func (t *text) work() {
	if t.OldMinutes != t.NewMinutes {
		t.line(0, "labour: %s", arrow(hours(t.OldMinutes), hours(t.NewMinutes)))
	}
	var came, went []string
	var changed []*Part
	for i := range t.Diff.Work {
		p := &t.Diff.Work[i]
		if strings.HasPrefix(p.Name(), "step: ") {
			continue // a page shows operations, which are told
		}
		switch {
		case p.Old == "":
			came = append(came, does(t.new, p.New))
		case p.New == "":
			went = append(went, does(t.old, p.Old))
		default:
			changed = append(changed, p)
		}
	}
	t.several("+", came)
	t.several("-", went)
	told := 0
	for _, p := range changed {
		var lines []string
		for _, v := range p.Values {
			if acted(v.Field) {
				v.What = strings.TrimPrefix(v.What, "operation ")
				lines = append(lines, t.value(v))
			}
		}
		if len(lines) == 0 {
			continue
		}
		if told++; told > manySteps {
			continue
		}
		t.line(0, "%s%s", p.New, t.behind(p.Causes))
		for k, l := range lines {
			if k == 3 && len(lines) > 4 {
				t.line(2, "and %d more", len(lines)-k)
				break
			}
			t.line(2, "%s", l)
		}
	}
	if told > manySteps {
		t.line(0, "and %d more steps with other numbers in them", told-manySteps)
	}
}

// acted says whether a person acts by a value of a step; its order, its words and
// exact masses follow from what is told elsewhere. --json tells them.
func acted(field string) bool {
	for _, part := range []string{"waits_for", "operation.do", "operation.how", "operation.lift", ".basis", "operation.after"} {
		if strings.Contains(field, part) {
			return false
		}
	}
	return true
}

// does is what an operation does, in its own words; its id where it has none.
func does(d *packet.Document, id string) string {
	if d.Work != nil {
		for i := range d.Work.Operations {
			if op := &d.Work.Operations[i]; op.ID == id && op.Do != "" {
				return op.Do
			}
		}
	}
	return id
}

func (t *text) several(sign string, names []string) {
	for i, n := range names {
		if i == manySteps && len(names) > manySteps+1 {
			t.line(0, "%s %d more", sign, len(names)-i)
			return
		}
		t.line(0, "%s %s", sign, n)
	}
}

// hours writes minutes of one person's work.
func hours(minutes int64) string { return fmt.Sprintf("%d h %02d min", minutes/60, minutes%60) }

// behind is why with a blank before it, where there is any.
func (t *text) behind(list []int) string {
	if s := t.why(list); s != "" {
		return " " + s
	}
	return ""
}
