package packet

import (
	"bytes"
	"fmt"
	"slices"
	"strings"
	"text/tabwriter"

	"stallwright/engine/finding"
	"stallwright/engine/fit"
	"stallwright/engine/job"
	"stallwright/engine/measure"
	"stallwright/engine/plan"
)

// summary writes what an estimator and a crew lead read first.
type summary struct {
	p   *plan.Plan
	buf bytes.Buffer
}

// Summary is the plan as plain text.
func Summary(p *plan.Plan) []byte {
	s := &summary{p: p}
	s.head()
	s.findings()
	s.structures()
	s.bays()
	s.doors()
	s.marks()
	s.order()
	s.saw()
	s.cautions()
	return s.buf.Bytes()
}

func (s *summary) line(format string, args ...any) { fmt.Fprintf(&s.buf, format+"\n", args...) }

func (s *summary) title(t string) {
	s.line("\n%s\n%s", t, strings.Repeat("-", len([]rune(t))))
}

// table aligns rows in columns, two spaces apart; cells must hold no tabs.
func (s *summary) table(rows [][]string) {
	var text bytes.Buffer
	w := tabwriter.NewWriter(&text, 0, 0, 2, ' ', 0)
	for _, r := range rows {
		fmt.Fprintln(w, "  "+strings.Join(r, "\t")+"\t")
	}
	_ = w.Flush() // a bytes.Buffer takes every write
	for line := range strings.Lines(text.String()) {
		s.buf.WriteString(strings.TrimRight(line, " \n") + "\n")
	}
}

// alike joins rows next to each other that differ in their first cell only, so
// that fifteen pen sections read as one line.
func alike(rows [][]string) [][]string {
	var out [][]string
	for i := 0; i < len(rows); {
		n := i + 1
		for n < len(rows) && slices.Equal(rows[n][1:], rows[i][1:]) {
			n++
		}
		row := rows[i]
		switch n - i {
		case 1:
		case 2:
			row = append([]string{row[0] + ", " + rows[n-1][0]}, row[1:]...)
		default:
			row = append([]string{fmt.Sprintf("%s … %s (%d)", row[0], rows[n-1][0], n-i)}, row[1:]...)
		}
		out = append(out, row)
		i = n
	}
	return out
}

// wrap breaks a list of names into lines a screen holds.
func wrap(names []string, width int) []string {
	var lines []string
	line := ""
	for i, n := range names {
		if i < len(names)-1 {
			n += ","
		}
		if line != "" && len([]rune(line))+1+len([]rune(n)) > width {
			lines = append(lines, line)
			line = ""
		}
		if line != "" {
			line += " "
		}
		line += n
	}
	return append(lines, line)
}

func (s *summary) head() {
	j := s.p.Job
	s.line("%s", j.Job)
	s.line("%s", strings.Repeat("=", len([]rune(j.Job))))
	where := j.Farm.Name
	if j.Farm.Place != "" {
		where += ", " + j.Farm.Place
	}
	s.line("%s", where)
	date := j.Date
	if date == "" {
		date = "no date given"
	}
	s.line("Revision %d, %s. Kit %s, version %d.", j.Revision, date, s.p.Kit.Kit, s.p.Kit.Version)
	b := s.p.Fit.Board
	how := "from a table, not measured"
	if b.Measured {
		how = "as stated or measured by the job"
	}
	s.line("Boards %s: %s thick, %s coverage (%s), tongue %s.", b.Nominal, s.p.Show(b.Thickness), s.p.Show(b.Coverage), how, s.p.Show(b.Tongue))
	s.states()
}

// states tells how far the filled bays have come; doors come made.
func (s *summary) states() {
	count := map[fit.State]int{}
	filled := 0
	for i := range s.p.Fit.Bays {
		if b := &s.p.Layout.Bays[i]; !b.IsOpen() && !b.IsDoor() {
			count[s.p.Fit.Bays[i].State]++
			filled++
		}
	}
	drawn, measured, frozen := count[fit.Drawn], count[fit.Measured], filled-count[fit.Drawn]-count[fit.Measured]
	switch {
	case drawn == filled:
		s.line("DRAWN, NOT MEASURED: order from these numbers, but cut nothing.")
	case drawn == 0 && frozen == 0:
		s.line("Every bay is measured.")
	case drawn > 0:
		s.line("%d bays measured, %d still DRAWN, NOT MEASURED: cut nothing for those.", filled-drawn, drawn)
	}
	if frozen > 0 {
		s.line("%d released, %d cut, %d loaded; %d measured, not released, and %d drawn: cut nothing for those.",
			count[fit.Released], count[fit.Cut], count[fit.Loaded], measured, drawn)
	}
	s.frames()
}

// frames tells how far the frames have come, where anybody stated it.
func (s *summary) frames() {
	var order []job.Step
	runs := map[job.Step][]string{}
	for i, step := range s.p.Fit.Frames {
		if step == "" {
			continue
		}
		if runs[step] == nil {
			order = append(order, step)
		}
		runs[step] = append(runs[step], s.p.Layout.Runs[i].Name)
	}
	for _, step := range order {
		what := "Frames " + string(step)
		if step == job.StepLagged {
			what = "Channels lagged"
		}
		for i, line := range wrap(runs[step], 90) {
			if i > 0 {
				what = "  "
			} else {
				what += ":"
			}
			s.line("%s %s", what, line)
		}
	}
}

// findings tells what was found; the same thing found at many places is told
// once, with the places.
func (s *summary) findings() {
	s.title("To look at")
	type key struct {
		code     finding.Code
		severity finding.Severity
		message  string
	}
	var order []key
	places := map[key][]string{}
	choices := map[key][]string{}
	for _, f := range s.p.Findings {
		k := key{f.Code, f.Severity, f.Message}
		if places[k] == nil {
			order = append(order, k)
			choices[k] = f.Choices
		}
		places[k] = append(places[k], f.Place)
	}
	if len(order) == 0 {
		s.line("  Nothing.")
	}
	for _, k := range order {
		s.line("  %s  %s: %s", strings.ToUpper(k.severity.String()), strings.Join(places[k], ", "), k.message)
		for _, c := range choices[k] {
			s.line("           - %s", c)
		}
	}
}

func (s *summary) structures() {
	l := s.p.Layout
	s.title("What is built")
	for i := range l.Structures {
		st := &l.Structures[i]
		s.line("  %s: %s, walls %s high", st.Name, kindWords[string(st.Kind)], s.p.Show(st.Height))
		if r := st.Ring; r != nil {
			s.line("    %d sections; pin circle %s, inside flats %s", len(r.Sections), s.p.Show(r.PinCircle()), s.p.Show(r.Flats(s.p.Fit.Board.Thickness)))
		}
	}
	var rows [][]string
	for i := range l.Rooms {
		r := &l.Rooms[i]
		rows = append(rows, []string{r.Name, string(r.Kind), s.p.Show(r.Width) + " x " + s.p.Show(r.Depth)})
	}
	if len(rows) > 0 {
		s.line("\n  Rooms, post centre to post centre:")
		s.table(append([][]string{{"room", "kind", "width x depth"}}, rows...))
	}
	for i := range l.Aisles {
		a := &l.Aisles[i]
		s.line("  %s: %s centre to centre, %s clear, %s long", a.Name, s.p.Show(a.Width), s.p.Show(a.Clear), s.p.Show(a.Length))
	}
}

var kindWords = map[string]string{
	"pen": "round pen", "barn-row": "stalls in a post-frame barn", "free-row": "free-standing stalls",
	"free-barn": "free-standing stalls whose posts bear the roof", "free-form": "free form",
}

func (s *summary) bays() {
	s.title("Bays")
	rows := [][]string{{"bay", "fill", "clear width", "board", "courses", "stack", "left over", "least hold", "state"}}
	for i := range s.p.Layout.Bays {
		b, f := &s.p.Layout.Bays[i], &s.p.Fit.Bays[i]
		if b.IsOpen() || b.IsDoor() {
			continue
		}
		row := []string{b.Name, string(b.Fill.Kind), s.p.Show(f.Clear), "", "", "", "", "", string(f.State)}
		if f.Board > 0 {
			short, long, hold := f.BoardRange()
			row[3], row[7] = s.p.Show(short), s.p.Show(hold)
			if long > short {
				row[3] += " to " + s.p.Show(long)
			}
		}
		row[4] = courseWords(f)
		if f.Stack != nil {
			row[5], row[6] = s.p.Show(f.Stack.Top), s.p.Show(f.Stack.Slack)
			if f.Stack.Packing > 0 {
				row[6] += ", pack " + s.p.Show(f.Stack.Packing)
			}
		}
		rows = append(rows, row)
	}
	s.table(append(rows[:1:1], alike(rows[1:])...))
}

// courseWords tells a bay's courses from the bottom up: 5 full + 4 short +
// grille + 2 closing.
func courseWords(f *fit.BayFit) string {
	var parts []string
	grille := f.Grille
	for k := 0; k < len(f.Courses); {
		if grille != nil && f.Courses[k].Z > grille.Z {
			parts = append(parts, "grille")
			grille = nil
		}
		n := k
		for n < len(f.Courses) && f.Courses[n].Kind == f.Courses[k].Kind && (grille == nil || f.Courses[n].Z < grille.Z) {
			n++
		}
		parts = append(parts, fmt.Sprintf("%d %s", n-k, f.Courses[k].Kind))
		k = n
	}
	return strings.Join(parts, " + ")
}

func (s *summary) doors() {
	rows := [][]string{{"door", "made for", "opening", "leaf", "boards", "gap under", "stems out", "track", "parks"}}
	for i := range s.p.Layout.Bays {
		d := s.p.Fit.Bays[i].Door
		if d == nil {
			continue
		}
		row := []string{s.p.Layout.Bays[i].Name, d.Door.Name, s.p.Show(d.Opening), s.p.Show(d.Leaf), fmt.Sprint(d.Boards), s.p.Show(d.Gap), "", "", ""}
		if d.Below > 0 {
			row[4] = fmt.Sprintf("%d (%d from above, %d from below)", d.Boards, d.Above, d.Below)
		}
		if d.Track != nil {
			row[6], row[7], row[8] = s.p.Show(d.Stem), s.p.Show(d.Track.Length), string(d.Track.Hand)
		}
		rows = append(rows, row)
	}
	if len(rows) > 1 {
		s.title("Doors")
		s.table(append(rows[:1:1], alike(rows[1:])...))
	}
}

func (s *summary) marks() {
	s.title("Datum line")
	s.line("  The underside of the first board. Mark it on two faces of each post, this far above the finished floor there:")
	var order []measure.Length
	posts := map[measure.Length][]string{}
	seen := map[string]bool{}
	for i := range s.p.Fit.Marks {
		m := &s.p.Fit.Marks[i]
		name := s.p.Layout.Posts[m.Post].Name
		key := name + "/" + m.Height.String()
		if seen[key] {
			continue
		}
		seen[key] = true
		if posts[m.Height] == nil {
			order = append(order, m.Height)
		}
		posts[m.Height] = append(posts[m.Height], name)
	}
	var rows [][]string
	for _, h := range order {
		for i, line := range wrap(posts[h], 100) {
			if i == 0 {
				rows = append(rows, []string{s.p.Show(h), line})
			} else {
				rows = append(rows, []string{"", line})
			}
		}
	}
	s.table(rows)
}

func (s *summary) order() {
	s.title("Order")
	rows := [][]string{{"item", "name", "length", "needed", "buy", "spares", "order", "mass"}}
	for i := range s.p.Takeoff.Lines {
		l := &s.p.Takeoff.Lines[i]
		name, length := l.Name, ""
		if l.Treated {
			name += ", treated"
		}
		if l.Length > 0 {
			length = s.p.Show(l.Length)
		}
		rows = append(rows, []string{l.Item, name, length, fmt.Sprint(l.Count), fmt.Sprint(l.Buy), fmt.Sprint(l.Spares), fmt.Sprint(l.Order), s.p.ShowMass(l.Mass)})
	}
	s.table(rows)
	s.line("  Mass of the order: %s", s.p.ShowMass(s.p.Takeoff.Mass))
}

func (s *summary) cautions() {
	s.title("Cautions")
	for _, c := range Cautions(s.p) {
		s.line("  - %s", c)
	}
}
