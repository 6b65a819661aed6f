package differ

import (
	"fmt"
	"strings"

	"stallwright/engine/measure"
)

// order tells what to order more or less of.
func (t *text) order() {
	var gone []*Line
	for i := range t.Diff.Order {
		if l := &t.Diff.Order[i]; l.NewOrder == 0 && l.OldOrder > 0 {
			gone = append(gone, l)
		}
	}
	for i := range t.Diff.Order {
		l := &t.Diff.Order[i]
		if len(gone) > manyGone && l.NewOrder == 0 {
			continue
		}
		if l.OldOrder == l.NewOrder && l.OldCount == l.NewCount && l.OldMassUG == l.NewMassUG && len(l.Values) == 0 {
			continue // the same number, to other places
		}
		t.orderLine(l)
	}
	if len(gone) > manyGone {
		var names []string
		var mass int64
		for _, l := range gone {
			names = append(names, fmt.Sprintf("%d %s", l.OldOrder, t.lineName(l)))
			mass = measure.Sum(mass, l.OldMassUG)
		}
		t.line(0, "no longer ordered, -%s:", t.mass(mass))
		t.line(4, "%s", strings.Join(names, "; "))
	}
}

// manyGone is how many lines may be told one by one that are not ordered any
// more.
const manyGone = 8

func (t *text) lineName(l *Line) string {
	name := l.Name
	if l.Treated {
		name += ", treated"
	}
	if l.LengthNM > 0 {
		name += ", " + t.show(l.LengthNM)
	}
	return name
}

func (t *text) orderLine(l *Line) {
	name := t.lineName(l)
	if d := l.NewOrder - l.OldOrder; d != 0 {
		t.line(0, "%+d %s %s", d, name, t.why(l.Causes))
		t.line(4, "%d → %d, %s", l.OldOrder, l.NewOrder, t.massBy(l))
	} else {
		t.line(0, "%s: order %d as before %s", name, l.NewOrder, t.why(l.Causes))
		if l.OldMassUG != l.NewMassUG {
			t.line(4, "%s", t.massBy(l))
		}
	}
	if l.OldCount != l.NewCount && l.NewOrder-l.OldOrder != l.NewCount-l.OldCount {
		t.line(4, "pieces needed %d → %d", l.OldCount, l.NewCount)
	}
	for _, v := range l.Values {
		if v.Field != "buy" && v.Field != "spares" {
			t.line(4, "%s", t.value(v))
		}
	}
}

func (t *text) massBy(l *Line) string {
	d := l.NewMassUG - l.OldMassUG
	sign := "+"
	if d < 0 {
		sign = "-"
	}
	return sign + t.mass(abs(d))
}

// findings tells what came and what went; the same said of several places is
// said once, and what was said otherwise of the same place, side by side.
func (t *text) findings() {
	type group struct {
		f      Finding
		places []string
	}
	var groups []group
	at := map[string]int{}
	for _, f := range t.Diff.Findings {
		k := f.Change + "\x00" + f.Code + "\x00" + f.Severity + "\x00" + f.Message
		n, ok := at[k]
		if !ok {
			n = len(groups)
			at[k] = n
			groups = append(groups, group{f: f})
		}
		groups[n].places = append(groups[n].places, f.Place)
	}
	told := map[int]bool{}
	for i := range groups {
		g := &groups[i]
		if told[i] {
			continue
		}
		for k := i + 1; k < len(groups); k++ {
			h := &groups[k]
			if !told[k] && g.f.Change == "new" && h.f.Change == "gone" && g.f.Code == h.f.Code && strings.Join(g.places, ",") == strings.Join(h.places, ",") {
				told[i], told[k] = true, true
				t.line(0, "%s %s", strings.ToUpper(g.f.Severity), t.list(g.places))
				t.line(2, "was: %s", said(h.f.Message))
				t.line(2, "now: %s", said(g.f.Message))
				break
			}
		}
		if told[i] {
			continue
		}
		t.line(0, "%s %s %s: %s", map[string]string{"new": "+", "gone": "-"}[g.f.Change], strings.ToUpper(g.f.Severity), t.list(g.places), said(g.f.Message))
		if g.f.Change == "new" {
			for _, c := range g.f.Choices {
				t.line(4, "- %s", c)
			}
		}
	}
}
