package packet

import (
	"fmt"
	"slices"
	"strings"

	"stallwright/engine/finding"
	"stallwright/engine/fit"
	"stallwright/engine/job"
	"stallwright/engine/measure"
	"stallwright/engine/phrase"
	"stallwright/engine/plan"
	"stallwright/paper/words"
)

// summary writes what an estimator and a crew lead read first.
type summary struct {
	fieldText
	p *plan.Plan
}

// Summary is the plan as plain text.
func Summary(p *plan.Plan, w *words.Words) []byte {
	s := &summary{fieldText{w: w, tape: fieldTape(p.Job.Units)}, p}
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

// exact writes a length as it is, off the marks of a tape too.
func (s *summary) exact(l measure.Length) string { return s.w.Length(l) }

func (s *summary) under(key string) { s.title(s.say(key), "-") }

// header is a table's first row.
func (s *summary) header(keys ...string) []string {
	out := make([]string, len(keys))
	for i, k := range keys {
		if k != "" {
			out[i] = s.say(k)
		}
	}
	return out
}

// Values of phrases.
func sized(name string, l measure.Length) phrase.Arg { return phrase.With(name, phrase.Length(l)) }
func counted(name string, n int) phrase.Arg          { return phrase.With(name, phrase.Count(n)) }

// item is what the kit calls one of its things.
func (s *summary) item(id, called string) string {
	return s.w.Say(words.Item(s.p.Kit.Kit, id, called))
}

// treated marks the name of boards that are.
func (s *summary) treated(name string, is bool) string {
	if is {
		return s.say("packet.treated", label("name", name))
	}
	return name
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
	s.line(j.Job)
	s.line(strings.Repeat("=", len([]rune(j.Job))))
	where := j.Farm.Name
	if j.Farm.Place != "" {
		where += ", " + j.Farm.Place
	}
	s.line(where)
	date := j.Date
	if date == "" {
		date = s.say("packet.no-date")
	}
	s.line(s.say("packet.revision", counted("revision", j.Revision), label("date", date), label("kit", s.p.Kit.Kit), counted("version", s.p.Kit.Version)))
	b := s.p.Fit.Board
	key := "packet.boards-from-table"
	if b.Measured {
		key = "packet.boards-measured"
	}
	s.line(s.w.Text(key, label("nominal", string(b.Nominal)), sized("thickness", b.Thickness), sized("coverage", b.Coverage), sized("tongue", b.Tongue)))
	s.states()
	if t := s.w.InNames(s.p); t != "" {
		s.line("")
		s.para("", 0, t)
	}
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
		s.line(s.say("packet.all-drawn"))
	case drawn == 0 && frozen == 0:
		s.line(s.say("packet.all-measured"))
	case drawn > 0:
		s.line(s.say("packet.some-drawn", counted("n", filled-drawn), counted("drawn", drawn)))
	}
	if frozen > 0 {
		s.line(s.say("packet.some-frozen", counted("released", count[fit.Released]), counted("cut", count[fit.Cut]), counted("loaded", count[fit.Loaded]),
			counted("measured", measured), counted("drawn", drawn)))
	}
	s.frames()
}

// frameSteps are how far frames have come, before the list of them.
var frameSteps = map[job.Step]string{
	job.StepDelivered: "packet.frames-delivered", job.StepStanding: "packet.frames-standing",
	job.StepTight: "packet.frames-tight", job.StepLagged: "packet.channels-lagged",
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
		for i, line := range wrap(runs[step], 90) {
			if i == 0 {
				line = s.say(frameSteps[step], label("runs", line))
			} else {
				line = "   " + line
			}
			s.line(line)
		}
	}
}

// findings tells what was found; the same thing found at many places is told
// once, with the places.
func (s *summary) findings() {
	s.under("packet.to-look-at")
	type key struct {
		code     finding.Code
		severity finding.Severity
		message  string
	}
	var order []key
	places := map[key][]string{}
	choices := map[key][]string{}
	for i := range s.p.Findings {
		f := &s.p.Findings[i]
		message, ways := s.w.Told(f), s.w.Choices(f)
		k := key{f.Code, f.Severity, message}
		if places[k] == nil {
			order = append(order, k)
			choices[k] = ways
		}
		if !slices.Contains(places[k], f.Place) {
			places[k] = append(places[k], f.Place)
		}
	}
	if len(order) == 0 {
		s.line("  " + s.say("packet.nothing"))
	}
	for _, k := range order {
		s.line(fmt.Sprintf("  %s  %s: %s", strings.ToUpper(s.w.Say(words.Severity(k.severity))), strings.Join(places[k], ", "), k.message))
		for _, c := range choices[k] {
			s.line("           - " + c)
		}
	}
}

func (s *summary) structures() {
	l := s.p.Layout
	s.under("packet.what-is-built")
	for i := range l.Structures {
		st := &l.Structures[i]
		s.line("  " + s.say("packet.structure", label("name", st.Name), phrase.With("kind", words.Structure(st.Kind)), sized("height", st.Height)))
		if r := st.Ring; r != nil {
			s.line("    " + s.say("packet.ring", counted("n", len(r.Sections)), sized("pins", r.PinCircle()), sized("flats", r.Flats(s.p.Fit.Board.Thickness))))
		}
	}
	var rows [][]string
	for i := range l.Rooms {
		r := &l.Rooms[i]
		rows = append(rows, []string{r.Name, s.w.Say(words.Room(r.Kind)), s.exact(r.Width) + " x " + s.exact(r.Depth)})
	}
	if len(rows) > 0 {
		s.line("\n  " + s.say("packet.rooms"))
		s.table(append([][]string{s.header("packet.room", "packet.kind", "packet.width-depth")}, rows...))
	}
	for i := range l.Aisles {
		a := &l.Aisles[i]
		s.line("  " + s.say("packet.aisle", label("name", a.Name), sized("width", a.Width), sized("clear", a.Clear), sized("length", a.Length)))
	}
}

func (s *summary) bays() {
	s.under("packet.bays")
	rows := [][]string{s.header("packet.bay", "packet.fill", "packet.clear-width", "packet.board", "packet.courses", "packet.stack", "packet.left-over", "packet.least-hold", "packet.state")}
	for i := range s.p.Layout.Bays {
		b, f := &s.p.Layout.Bays[i], &s.p.Fit.Bays[i]
		if b.IsOpen() || b.IsDoor() {
			continue
		}
		row := []string{b.Name, s.w.Say(words.Fill(b.Fill.Kind)), s.exact(f.Clear), "", "", "", "", "", s.w.Say(words.State(f.State))}
		if f.Board > 0 {
			short, long, hold := f.BoardRange()
			row[3], row[7] = s.exact(short), s.exact(hold)
			if long > short {
				row[3] = s.say("packet.from-to", sized("from", short), sized("to", long))
			}
		}
		row[4] = s.courses(f)
		if f.Stack != nil {
			row[5], row[6] = s.exact(f.Stack.Top), s.exact(f.Stack.Slack)
			if f.Stack.Packing > 0 {
				row[6] = s.say("packet.slack-packed", sized("slack", f.Stack.Slack), sized("packing", f.Stack.Packing))
			}
		}
		rows = append(rows, row)
	}
	s.table(append(rows[:1:1], alike(rows[1:])...))
}

// courses tells a bay's courses from the bottom up: 5 full + 4 short + grille +
// 2 closing.
func (s *summary) courses(f *fit.BayFit) string {
	var parts []string
	grille := f.Grille
	for k := 0; k < len(f.Courses); {
		if grille != nil && f.Courses[k].Z > grille.Z {
			parts = append(parts, s.w.Say(words.Fill(job.FillGrille)))
			grille = nil
		}
		n := k
		for n < len(f.Courses) && f.Courses[n].Kind == f.Courses[k].Kind && (grille == nil || f.Courses[n].Z < grille.Z) {
			n++
		}
		parts = append(parts, s.w.Say(words.Courses(n-k, f.Courses[k].Kind)))
		k = n
	}
	return strings.Join(parts, " + ")
}

func (s *summary) doors() {
	rows := [][]string{s.header("packet.door", "packet.made-for", "packet.opening", "packet.leaf", "packet.boards", "packet.gap-under", "packet.stems-out", "packet.track", "packet.parks")}
	for i := range s.p.Layout.Bays {
		d := s.p.Fit.Bays[i].Door
		if d == nil {
			continue
		}
		row := []string{s.p.Layout.Bays[i].Name, s.item(d.Door.ID, d.Door.Name), s.exact(d.Opening), s.exact(d.Leaf), fmt.Sprint(d.Boards), s.exact(d.Gap), "", "", ""}
		if d.Below > 0 {
			row[4] = s.say("packet.boards-below", counted("boards", d.Boards), counted("above", d.Above), counted("below", d.Below))
		}
		if d.Track != nil {
			row[6], row[7], row[8] = s.exact(d.Stem), s.exact(d.Track.Length), s.w.Say(words.Hand(d.Track.Hand))
		}
		rows = append(rows, row)
	}
	if len(rows) > 1 {
		s.under("packet.doors")
		s.table(append(rows[:1:1], alike(rows[1:])...))
	}
}

func (s *summary) marks() {
	s.under("packet.datum-line")
	s.line("  " + s.say("packet.datum-marks"))
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
				rows = append(rows, []string{s.exact(h), line})
			} else {
				rows = append(rows, []string{"", line})
			}
		}
	}
	s.table(rows)
}

func (s *summary) order() {
	s.under("packet.order")
	rows := [][]string{s.header("packet.item", "packet.name", "packet.length", "packet.needed", "packet.buy", "packet.spares", "packet.to-order", "packet.mass")}
	for i := range s.p.Takeoff.Lines {
		l := &s.p.Takeoff.Lines[i]
		length := ""
		if l.Length > 0 {
			length = s.exact(l.Length)
		}
		rows = append(rows, []string{l.Item, s.treated(s.item(l.Item, l.Name), l.Treated), length, fmt.Sprint(l.Count), fmt.Sprint(l.Buy), fmt.Sprint(l.Spares), fmt.Sprint(l.Order), s.w.Mass(l.Mass)})
	}
	s.table(rows)
	s.line("  " + s.say("packet.mass-of-order", phrase.With("mass", phrase.Mass(s.p.Takeoff.Mass))))
}

func (s *summary) cautions() {
	s.under("packet.cautions")
	for _, c := range Cautions(s.p) {
		s.line("  - " + s.w.Say(c))
	}
}
