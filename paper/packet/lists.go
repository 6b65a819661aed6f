package packet

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"slices"
	"strings"

	"stallwright/engine/fit"
	"stallwright/engine/frame"
	"stallwright/engine/measure"
	"stallwright/engine/plan"
	"stallwright/paper/words"
)

// table writes rows as CSV (RFC 4180).
func table(rows [][]string) ([]byte, error) {
	var buf bytes.Buffer
	w := csv.NewWriter(&buf)
	w.UseCRLF = true
	for _, r := range rows {
		for i := range r {
			r[i] = plain(r[i])
		}
		if err := w.Write(r); err != nil {
			return nil, err
		}
	}
	w.Flush()
	return buf.Bytes(), w.Error()
}

// plain keeps a cell from being read as a formula by a spreadsheet.
func plain(s string) string {
	if s != "" && strings.ContainsRune("=+-@\t\r", rune(s[0])) {
		return "'" + s
	}
	return s
}

// lists are the packet's CSV files.
func lists(p *plan.Plan, w *words.Words) ([]File, error) {
	var files []File
	for _, l := range []struct {
		name string
		rows [][]string
	}{
		{"pieces.csv", piecesList(p, w)},
		{"cut-pieces.csv", cutList(p, w)},
		{"takeoff.csv", takeoffList(p)},
		{"picks.csv", pickList(p)},
		{"saw-tickets.csv", sawList(p)},
		{"setout.csv", setoutList(p)},
	} {
		data, err := table(l.rows)
		if err != nil {
			return nil, fmt.Errorf("%s: %w", l.name, err)
		}
		files = append(files, File{l.name, data})
	}
	return files, nil
}

// piecesList names every piece: what it is, how long, where it goes.
func piecesList(p *plan.Plan, w *words.Words) [][]string {
	rows := [][]string{{"label", "kind", "item", "place", "course", "length", "length_mm", "covers_mm", "treated", "work", "state"}}
	for i := range p.Fit.Pieces {
		v := &p.Fit.Pieces[i]
		course := ""
		if v.Course > 0 {
			course = fmt.Sprint(v.Course)
		}
		rows = append(rows, []string{
			v.Label, string(v.Kind), v.Item, p.Place(v), course, p.Show(v.Length), millimetres(v.Length), millimetres(v.Height), yes(v.Treated), work(p, w, v), string(v.State),
		})
	}
	return rows
}

// cutList gathers the pieces that are cut, by material and length, longest
// first: what a saw operator sets a stop for.
func cutList(p *plan.Plan, w *words.Words) [][]string {
	type key struct {
		item    string
		treated bool
		length  measure.Length
		work    string
		state   fit.State
		mayCut  string
	}
	var order []key
	labels := map[key][]string{}
	for i := range p.Fit.Pieces {
		v := &p.Fit.Pieces[i]
		if !v.Cut {
			continue
		}
		k := key{v.Item, v.Treated, v.Length, work(p, w, v), v.State, mayCut(p, v)}
		if labels[k] == nil {
			order = append(order, k)
		}
		labels[k] = append(labels[k], v.Label)
	}
	slices.SortStableFunc(order, func(a, b key) int {
		switch {
		case a.item != b.item:
			return strings.Compare(a.item, b.item)
		case a.treated != b.treated:
			if a.treated {
				return -1
			}
			return 1
		case a.length > b.length:
			return -1
		case a.length < b.length:
			return 1
		}
		return strings.Compare(a.work, b.work)
	})
	rows := [][]string{{"item", "treated", "length", "length_mm", "count", "work", "state", "may_cut", "labels"}}
	for _, k := range order {
		rows = append(rows, []string{
			k.item, yes(k.treated), p.Show(k.length), millimetres(k.length), fmt.Sprint(len(labels[k])), k.work, string(k.state), k.mayCut, strings.Join(labels[k], " "),
		})
	}
	return rows
}

// mayCut says whether a saw may be set to a piece: yes once its bay is released.
// Frames are made before any bay can be measured: to the drawing, or, between
// standing timber, to the opening measured there.
func mayCut(p *plan.Plan, v *fit.Piece) string {
	if v.Misfit {
		return "no: it no longer fits"
	}
	if v.Bay >= 0 || v.Run < 0 {
		return map[bool]string{true: "yes", false: "no"}[v.State.MayCut()]
	}
	r := &p.Layout.Runs[v.Run]
	switch timber := p.Layout.Posts[r.From].Kind == frame.Timber && p.Layout.Posts[r.To].Kind == frame.Timber; {
	case !timber, !r.Framed():
		return "as drawn"
	case r.Measured:
		return "yes"
	}
	return "no"
}

// takeoffList is the order.
func takeoffList(p *plan.Plan) [][]string {
	rows := [][]string{{"class", "item", "name", "length", "length_mm", "treated", "needed", "buy", "spares", "order", "mass", "places"}}
	for i := range p.Takeoff.Lines {
		l := &p.Takeoff.Lines[i]
		var places []string
		for _, v := range l.Places {
			places = append(places, fmt.Sprintf("%s x%d", v.Name, v.Count))
		}
		length, mm := "", ""
		if l.Length > 0 {
			length, mm = p.Show(l.Length), millimetres(l.Length)
		}
		rows = append(rows, []string{
			string(l.Class), l.Item, l.Name, length, mm, yes(l.Treated), fmt.Sprint(l.Count), fmt.Sprint(l.Buy), fmt.Sprint(l.Spares), fmt.Sprint(l.Order), p.ShowMass(l.Mass), strings.Join(places, "; "),
		})
	}
	return rows
}

// pickList is what each place takes, place by place: what a yard hand puts on
// one pile.
func pickList(p *plan.Plan) [][]string {
	type key struct {
		place, item string
		length      measure.Length
		treated     bool
	}
	places := map[string]int{}
	var order []key
	count := map[key]int{}
	name := map[string]string{}
	for i := range p.Takeoff.Needs {
		n := &p.Takeoff.Needs[i]
		place := n.Place
		if n.Run >= 0 {
			place = p.Layout.Runs[n.Run].Name
		}
		if _, ok := places[place]; !ok {
			places[place] = len(places)
		}
		k := key{place, n.Item, n.Length, n.Treated}
		if count[k] == 0 {
			order = append(order, k)
		}
		count[k] += n.Count
		name[n.Item] = n.Name
	}
	slices.SortStableFunc(order, func(a, b key) int { return places[a.place] - places[b.place] })
	rows := [][]string{{"frame", "item", "name", "length", "treated", "count"}}
	for _, k := range order {
		length := ""
		if k.length > 0 {
			length = p.Show(k.length)
		}
		rows = append(rows, []string{k.place, k.item, name[k.item], length, yes(k.treated), fmt.Sprint(count[k])})
	}
	return rows
}

// work says what is done to a piece besides cutting it to length.
func work(p *plan.Plan, w *words.Words, v *fit.Piece) string {
	var do []string
	for _, t := range p.Todo(v) {
		do = append(do, w.Say(t))
	}
	return strings.Join(do, "; ")
}

func yes(b bool) string {
	if b {
		return "yes"
	}
	return ""
}

// millimetres is a length in exact decimal millimetres, for spreadsheets.
func millimetres(l measure.Length) string {
	sign := ""
	if l < 0 {
		sign, l = "-", -l
	}
	s := fmt.Sprintf("%s%d.%06d", sign, l/measure.Millimetre, l%measure.Millimetre)
	return strings.TrimSuffix(strings.TrimRight(s, "0"), ".")
}
