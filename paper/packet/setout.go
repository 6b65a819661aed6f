package packet

import (
	"fmt"
	"strings"

	"stallwright/engine/frame"
	"stallwright/engine/kit"
	"stallwright/engine/measure"
	"stallwright/engine/phrase"
	"stallwright/engine/plan"
	"stallwright/engine/setout"
	"stallwright/paper/words"
)

// groundSheet is what a crew stakes and digs by.
type groundSheet struct {
	fieldText
	p *plan.Plan
}

// Setout is the setting out as plain text: large steps, narrow tables.
func Setout(p *plan.Plan, w *words.Words) []byte {
	f := &groundSheet{fieldText{w: w, tape: fieldTape(p.Job.Units)}, p}
	j := p.Job
	head := f.say("setout.title", label("job", j.Job))
	f.line(head + "\n" + strings.Repeat("=", len([]rune(head))))
	revision := f.say("setout.revision", phrase.With("no", phrase.Count(j.Revision)), label("date", j.Date))
	if j.Date == "" {
		revision = f.say("setout.revision-undated", phrase.With("no", phrase.Count(j.Revision)))
	}
	f.para("", 0, revision)
	f.para("", 0, f.say("setout.to-the-nearest", phrase.With("mark", phrase.Length(f.tape.Mark))))
	f.para("", 0, f.say("setout.hooked"))
	for i := range p.Setout.Structures {
		f.structure(&p.Setout.Structures[i])
	}
	return f.buf.Bytes()
}

func (f *groundSheet) structure(s *setout.Structure) {
	f.title(s.Name+": "+f.w.Say(words.Structure(s.Kind)), "-")
	switch {
	case s.Pen != nil:
		f.pen(s)
	case s.Grid != nil && s.Kind != frame.FreeForm:
		f.grid(s)
	default:
		f.fronts(s)
		if s.Grid != nil {
			f.ties(s.Grid)
		}
	}
	f.bases(s.Bases)
	f.site(s.Site)
}

func (f *groundSheet) pen(s *setout.Structure) {
	p := s.Pen
	f.line("")
	rows := [][]string{}
	for _, v := range []struct {
		key, text string
		n         setout.Number
	}{
		{"pins", f.say("setout.pin-circle"), p.Pins},
		{"flats", f.say("setout.inside-flats"), p.Flats},
		{"corners", f.say("setout.inside-corners"), p.Corners},
	} {
		row := []string{v.text, f.show(v.n.Value), ""}
		if string(p.Asked) == v.key {
			row[2] = f.say("setout.asked-for", f.taped("size", p.AskedFor))
		}
		rows = append(rows, row)
	}
	f.table(rows)
	if len(p.Piers) == 0 {
		return
	}
	f.penSteps(p)
	rows = [][]string{{f.say("setout.col-pier"), f.say("setout.col-angle"), f.say("setout.col-to-next"), f.say("setout.col-skip-one"), f.say("setout.col-across"), f.say("setout.col-to")}}
	for i := range p.Piers {
		q := &p.Piers[i]
		rows = append(rows, []string{q.Name, setout.DegMinSec(q.Angle.Value), f.show(q.Chord.Value), f.show(q.Skip.Value), f.show(q.Across.Value), q.Far})
	}
	f.table(rows)
	f.line("")
	f.para("  ", 2, f.say("setout.pen-coordinates"))
	rows = [][]string{{f.say("setout.col-pier"), f.say("setout.col-along"), "", f.say("setout.col-off"), ""}}
	for i := range p.Piers {
		q := &p.Piers[i]
		rows = append(rows, []string{q.Name, f.show(q.X.Value.Abs()), f.w.Say(setout.AlongWay(q.X.Value)), f.show(q.Y.Value.Abs()), f.w.Say(setout.OffWay(q.Y.Value))})
	}
	f.table(rows)
	f.play(p)
}

func (f *groundSheet) penSteps(p *setout.Pen) {
	centre, baseline, piers, check := f.say("setout.step-centre"), f.say("setout.step-baseline"), f.say("setout.step-piers"), f.say("setout.step-check")
	m := margin(centre, baseline, piers, check)
	f.line("")
	f.step(1, centre, m, f.say("setout.drive-centre"))
	f.step(2, baseline, m, f.say("setout.stretch-toward", phrase.With("wind", setout.Bearing(setout.Compass(p.Toward)))), f.say("setout.gate-middle", f.taped("off", p.Gate.Value)))
	f.step(3, piers, m, f.say("setout.every-pin", f.taped("radius", p.Radius.Value)),
		f.say("setout.first-piers", label("a", p.Piers[0].Name), label("b", p.Piers[1].Name), f.taped("along", p.Piers[0].X.Value), f.taped("side", p.Piers[1].Y.Value)),
		f.say("setout.other-piers"))
	f.step(4, check, m, f.say("setout.check-skip"))
	f.line("")
}

func (f *groundSheet) play(p *setout.Pen) {
	f.line("\n  " + f.say("setout.head-play"))
	f.para("  ", 2, f.say("setout.each-section", f.taped("play", p.Play.Value), f.taped("all", p.TakeUp.Value)))
	if p.Loose {
		f.para("  ", 2, f.say("setout.feet-follow"))
	} else {
		f.para("  ", 2, f.say("setout.pin-seat", f.taped("seat", p.Seat.Value)))
	}
	c := p.Closing
	if c == nil {
		f.para("  ", 2, f.say("setout.measure-piers"))
		return
	}
	f.line("\n  " + f.say("setout.head-measured"))
	for _, s := range c.Tell() {
		f.para("  ", 4, f.w.Say(s))
	}
	rows := [][]string{{f.say("setout.col-section"), f.say("setout.col-pier-to-pier"), f.say("setout.col-lacks"), f.say("setout.col-pin-off")}}
	for i := range c.Sections {
		row := []string{f.say("setout.from-to", label("a", c.Piers[i]), label("b", c.Piers[(i+1)%len(c.Piers)])), f.show(c.Sections[i].Piers), f.signed(c.Sections[i].Lacks), ""}
		if i < len(c.Off) {
			row[3] = f.show(c.Off[i])
		}
		rows = append(rows, row)
	}
	f.table(rows)
}

// signed writes a length with its sign, plus included.
func (f *fieldText) signed(l measure.Length) string {
	if f.mark(l) > 0 {
		return "+" + f.show(l)
	}
	return f.show(l)
}

func (f *groundSheet) grid(s *setout.Structure) {
	g := s.Grid
	baseline, square, corners, lines := f.say("setout.step-baseline"), f.say("setout.step-right-angle"), f.say("setout.step-corners"), f.say("setout.step-lines")
	m := margin(baseline, square, corners, lines)
	f.line("")
	f.step(1, baseline, m, f.say("setout.stake-baseline", label("a", g.From), label("b", g.To), f.taped("length", g.Length.Value)))
	how := []string{f.say("setout.largest-square")}
	for i := range g.Squares {
		q := &g.Squares[i]
		how = append(how, f.say("setout.square-at", label("at", q.At), f.taped("leg", q.Legs[0].Value), label("along", q.Along),
			f.taped("other", q.Legs[1].Value), label("across", q.Across), f.taped("between", q.Hyp.Value)))
	}
	if len(g.Squares) == 0 {
		how = []string{f.say("setout.no-square")}
	}
	f.step(2, square, m, how...)
	f.step(3, corners, m, f.say("setout.tape-diagonals"))
	f.line("")
	f.frames(g)
	f.line("")
	f.step(4, lines, m, f.say("setout.one-pull"))
	for i := range s.Lines {
		f.marks(&s.Lines[i])
	}
	f.line("")
	f.para("  ", 2, f.say("setout.grid-coordinates", label("from", g.From)))
	rows := [][]string{{f.say("setout.col-stake"), f.say("setout.col-along"), f.say("setout.col-off"), ""}}
	for i := range g.Stakes {
		k := &g.Stakes[i]
		rows = append(rows, []string{k.Name, f.show(k.X.Value), f.show(k.Y.Value.Abs()), f.w.Say(setout.OffWay(k.Y.Value))})
	}
	f.table(rows)
}

// frames are the corner stakes with what checks them.
func (f *groundSheet) frames(g *setout.Grid) {
	rows := [][]string{{"", f.say("setout.col-corners"), f.say("setout.col-sides"), f.say("setout.col-diagonals"), f.say("setout.col-within")}}
	between := func(r *setout.Frame, k int) string {
		return f.say("setout.from-to", label("a", r.Corners[k]), label("b", r.Corners[(k+1)%4]))
	}
	for i := range g.Frames {
		r := &g.Frames[i]
		rows = append(rows,
			[]string{f.w.Say(r.Kind.Phrase()), between(r, 0), f.show(r.Sides[0].Value), f.show(r.Diagonals[0].Value), f.show(r.Tolerance.Value)},
			[]string{"", between(r, 1), f.show(r.Sides[1].Value), f.show(r.Diagonals[1].Value), ""},
			[]string{"", between(r, 2), f.show(r.Sides[2].Value), "", ""},
			[]string{"", between(r, 3), f.show(r.Sides[3].Value), "", ""})
	}
	f.table(rows)
}

// marks is one line's table; along walls with what stands at each mark, and how
// far that is from the post on its left.
func (f *groundSheet) marks(l *setout.Line) {
	wall := l.Kind == setout.LineWall
	head := f.w.Say(l.Phrase())
	if wall {
		head = f.say("setout.line-taped", label("line", head), phrase.With("taped", l.Taped.Phrase()))
	}
	f.line("")
	f.para("  ", 2, f.say("setout.tape-on", label("line", head), phrase.With("hook", l.Hook())))
	var rows [][]string
	if wall {
		rows = append(rows, []string{f.say("setout.col-along"), f.say("setout.col-own"), f.say("setout.col-what"), f.say("setout.col-of")})
	}
	for i := range l.Marks {
		k := &l.Marks[i]
		switch {
		case !wall:
			rows = append(rows, []string{f.show(k.From.Value), k.At})
		case k.Own.Value == 0:
			rows = append(rows, []string{f.show(k.From.Value), "", f.w.Say(k.What.Phrase()), k.At})
		default:
			rows = append(rows, []string{f.show(k.From.Value), f.show(k.Own.Value), f.w.Say(k.What.Phrase()), k.At})
		}
	}
	f.table(rows)
}

func (f *groundSheet) fronts(s *setout.Structure) {
	if len(s.Lines) == 0 && s.Grid == nil {
		f.line("\n  " + f.say("setout.nothing"))
		return
	}
	if len(s.Lines) > 0 {
		f.line("")
		f.para("  ", 2, f.say("setout.posts-stand"))
	}
	for i := range s.Lines {
		f.marks(&s.Lines[i])
	}
}

// ties is the table of stakes of a free form.
func (f *groundSheet) ties(g *setout.Grid) {
	f.line("")
	f.para("  ", 2, f.say("setout.two-tapes", label("a", g.From), label("b", g.To), f.taped("length", g.Length.Value)))
	rows := [][]string{{f.say("setout.col-stake"), f.say("setout.col-from", label("post", g.From)), f.say("setout.col-from", label("post", g.To)),
		f.say("setout.col-along"), f.say("setout.col-off"), ""}}
	for i := range g.Stakes {
		k := &g.Stakes[i]
		rows = append(rows, []string{k.Name, f.show(k.Ties[0].Value), f.show(k.Ties[1].Value), f.show(k.X.Value), f.show(k.Y.Value.Abs()), f.w.Say(setout.OffWay(k.Y.Value))})
	}
	f.table(rows)
}

func (f *groundSheet) bases(b *setout.Bases) {
	if b == nil {
		return
	}
	f.line("\n  " + f.say("setout.head-bases"))
	levelled, piers := b.Bench != "", count(b) > 0
	f.para("  ", 2, f.w.Say(topsPhrase(b, f.tape)))
	head := []string{f.say("setout.col-post"), f.say("setout.col-stands-on")}
	if levelled {
		head = append(head, f.say("setout.col-ground"), f.say("setout.col-top"))
	}
	if piers {
		head = append(head, f.say("setout.col-hole"), f.say("setout.col-concrete"), f.say("setout.col-bags"))
	}
	var rows [][]string
	for i := range b.List {
		k := &b.List[i]
		row := []string{k.Name, f.w.Say(words.Item(f.p.Kit.Kit, k.Item.ID, k.Item.Name))}
		if levelled {
			row = append(row, f.show(k.Ground.Value), f.show(k.Out.Value))
		}
		if piers {
			hole := []string{"", "", ""}
			if k.Item.Kind == kit.Pier {
				hole = []string{f.say("setout.hole", f.taped("across", k.Item.Diameter), f.taped("deep", k.Depth.Value)), f.concrete(k.Concrete.Value), fmt.Sprint(k.Bags)}
			}
			row = append(row, hole...)
		}
		rows = append(rows, row)
	}
	f.table(append([][]string{head}, alike(rows)...))
	if piers {
		f.para("  ", 2, f.say("setout.bases-sum", phrase.With("n", phrase.Count(count(b))), label("dug", f.earth(b.Dig.Value)), label("concrete", f.concrete(b.Concrete.Value))))
		if b.Bags > 0 {
			f.para("  ", 2, f.say("setout.bags", phrase.With("n", phrase.Count(b.Bags)), phrase.With("bag", words.Item(f.p.Kit.Kit, b.BagItem, b.Bag))))
		}
		f.para("  ", 2, f.say("setout.depths-below"))
		f.para("  ", 2, f.say("setout.frost"))
	}
}

// topsPhrase says how the tops of bases lie, or that the ground is still to be
// read.
func topsPhrase(b *setout.Bases, tape measure.Tape) phrase.Phrase {
	switch {
	case b.Bench != "" && b.Laid > 0:
		return phrase.Of("setout.tops-level-laid", phrase.With("height", setout.Above(b.Top.Value, tape)), phrase.With("laid", phrase.Length(tape.Round(b.Laid, measure.Nearest))))
	case b.Bench != "":
		return phrase.Of("setout.tops-level", phrase.With("height", setout.Above(b.Top.Value, tape)))
	case count(b) > 0:
		return phrase.Of("setout.read-before-digging")
	}
	return phrase.Of("setout.read-before-setting")
}

// count is how many bases are piers.
func count(b *setout.Bases) int {
	n := 0
	for i := range b.List {
		if b.List[i].Item.Kind == kit.Pier {
			n++
		}
	}
	return n
}

// concreteOf is a volume of concrete in hundredths of a cubic foot or in litres,
// up, with its unit.
func concreteOf(v measure.Volume, sys measure.System) (n int64, unit string) {
	if sys == measure.Metric {
		n, _ = measure.MulDiv(int64(v), 1, int64(measure.Litre), measure.Up)
		return n, "l"
	}
	n, _ = measure.MulDiv(int64(v), 100, int64(measure.CubicFoot), measure.Up)
	return n, "ft³"
}

// concrete writes a volume of concrete.
func (f *fieldText) concrete(v measure.Volume) string {
	n, unit := concreteOf(v, f.w.Units())
	if f.w.Units() == measure.Metric {
		return f.w.Count(n) + " " + unit
	}
	return f.w.Decimal(n, 2) + " " + unit
}

// earth writes a volume of earth: cubic yards to a tenth, or cubic metres to a
// hundredth; rounded up, since it is dug and carted.
func (f *fieldText) earth(v measure.Volume) string {
	if f.w.Units() == measure.Metric {
		n, _ := measure.MulDiv(int64(v), 100, int64(measure.CubicMetre), measure.Up)
		return f.w.Decimal(n, 2) + " m³"
	}
	n, _ := measure.MulDiv(int64(v), 10, int64(measure.CubicYard), measure.Up)
	return f.w.Decimal(n, 1) + " yd³"
}

func (f *groundSheet) site(s *setout.Site) {
	if s == nil {
		return
	}
	f.line("\n  " + f.say("setout.head-ground"))
	f.para("  ", 2, f.say("setout.fall", label("high-at", s.HighAt), phrase.With("high", setout.Above(s.High.Value, f.tape)), label("low-at", s.LowAt),
		phrase.With("low", setout.Above(s.Low.Value, f.tape)), f.taped("fall", s.Fall.Value)))
	for i := range s.Levels {
		l := &s.Levels[i]
		f.line("")
		f.para("  ", 2, f.say("setout.level", phrase.With("level", l.Kind.Phrase()), phrase.With("height", setout.Above(l.At.Value, f.tape))))
		f.para("  ", 2, f.say("setout.cut-fill", label("cut", f.earth(l.Cut.Value)), label("fill", f.earth(l.Fill.Value))))
		if i == 0 { // the others' depths stand with the bases, their prisms in setout.csv
			f.level(l)
		}
	}
	if len(s.Stepped.Bays) < 2 {
		return
	}
	f.line("")
	steps := f.say("setout.in-steps", f.taped("most", s.Stepped.Most.Value))
	if s.Stepped.At != "" {
		steps = f.say("setout.in-steps-at", f.taped("most", s.Stepped.Most.Value), label("post", s.Stepped.At))
	}
	if s.Stepped.Fill.Value > 0 {
		steps += " " + f.say("setout.steps-fill", label("fill", f.earth(s.Stepped.Fill.Value)))
	}
	f.para("  ", 2, steps)
	rows := [][]string{{f.say("setout.col-bay"), f.say("setout.col-level"), f.say("setout.col-gap")}}
	for _, k := range s.Stepped.Bays {
		rows = append(rows, []string{f.w.Say(k.Part.Phrase()), f.show(k.At.Value), f.show(k.Gap.Value)})
	}
	f.table(rows)
}

// level is what is dug or filled at each stake, and the prisms behind the sums.
func (f *groundSheet) level(l *setout.Level) {
	var rows [][]string
	for _, k := range l.Stakes {
		rows = append(rows, []string{k.Name, f.dig(k.Dig.Value), f.show(k.Dig.Value.Abs())})
	}
	f.table(rows)
	f.line("  " + f.say("setout.by-prisms"))
	rows = [][]string{{f.say("setout.col-part"), f.say("setout.col-shape"), f.say("setout.col-area"), f.say("setout.col-cut"), f.say("setout.col-fill")}}
	for _, q := range l.Prisms {
		rows = append(rows, []string{f.w.Say(q.Part.Phrase()), f.w.Say(q.Shape.Phrase()), strings.TrimPrefix(q.Area.In(f.p.Job.Units), "≈"), f.earth(q.Cut), f.earth(q.Fill)})
	}
	f.table(rows)
}

// dig says what is done at a stake.
func (f *groundSheet) dig(l measure.Length) string {
	switch {
	case l > 0:
		return f.say("setout.dig")
	case l < 0:
		return f.say("setout.fill")
	}
	return f.say("setout.as-it-is")
}
