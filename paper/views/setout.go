package views

import (
	"strings"

	"stallwright/engine/frame"
	"stallwright/engine/measure"
	"stallwright/engine/phrase"
	"stallwright/engine/plan"
	"stallwright/engine/setout"
	"stallwright/paper/draw"
)

// layerStrings holds what is strung and taped on the ground but never built.
const layerStrings = "strings"

// setoutFinest is the largest scale worth drawing a site at.
const setoutFinest = 48

// Setout draws what is staked, strung and dug: a pen's ring from its centre stake,
// the corners and stakes of free-standing rows and barns, a free form's steel
// posts; and the fronts that come between standing posts, as they measured.
func Setout(p *plan.Plan, o Options) ([]Sheet, error) { return lay(p, o, (*tables).setoutSheets) }

// setoutSheets plans the setting-out drawings of every structure.
func (t *tables) setoutSheets(o Options) []sheetPlan {
	if t.Setout == nil {
		return nil
	}
	var out []sheetPlan
	for i := range t.Setout.Structures {
		s := &t.Setout.Structures[i]
		from := len(out)
		switch {
		case s.Pen != nil && len(s.Pen.Piers) > 0:
			out = append(out, t.ringStakes(s))
			parts := (len(s.Pen.Piers) + ringRows - 1) / ringRows
			for part := range parts {
				if parts > 1 {
					out = append(out, t.ringNumbers(s, part, parts))
				}
			}
			for part := range parts {
				if s.Bases != nil && (s.Site != nil || s.Bases.Concrete.Value > 0) {
					out = append(out, t.ringHeights(s, part, parts))
				}
			}
		case s.Grid != nil && s.Kind != frame.FreeForm:
			out = append(out, t.cornerStakes(s))
			out = append(out, t.gridStakes(s, o)...)
		case s.Grid != nil:
			out = append(out, t.tiedStakes(s))
		}
		out = append(out, t.fronts(s)...)
		if long(s.Name) {
			for k := from; k < len(out); k++ {
				out[k].notes = append([]string{t.say("setout.draw-short-names", name("structure", s.Name))}, out[k].notes...)
			}
		}
	}
	return out
}

// ringRows is how many piers one table holds; a ring of more has its numbers on
// sheets of their own.
const ringRows = 22

// partOf are the first and the last but one of the piers that a part lists.
func partOf(n, part, parts int) (from, to int) { return n * part / parts, n * (part + 1) / parts }

// plot is a setting-out drawing at a scale.
type plot struct {
	*tables
	s     *setout.Structure
	d     *draw.Drawing
	scale draw.Scale
	tape  measure.Tape
}

func (t *tables) newPlot(s *setout.Structure, at draw.Scale) *plot {
	tape := measure.TapeSixteenth
	if t.Job.Units == measure.Metric {
		tape = measure.TapeMillimetre
	}
	d := draw.NewDrawing(layerGround, layerHidden, layerStrings, layerDatum, layerFrame)
	return &plot{t, s, d, at, tape}
}

// taped writes a length as the crew's tape shows it.
func (p *plot) taped(l measure.Length) string {
	return p.words.Length(p.tape.Round(l, measure.Nearest))
}

// span is a taped length without the unit that the title block states.
func (p *plot) span(l measure.Length) string {
	return draw.SpanText(p.tape.Round(l, measure.Nearest), p.Job.Units)
}

// taken is a taped length as a value of a message.
func (p *plot) taken(as string, l measure.Length) phrase.Arg {
	return phrase.With(as, phrase.Length(p.tape.Round(l, measure.Nearest)))
}

func (p *plot) paper(m draw.Micron) measure.Length { return p.scale.Model(m) }

// at is where a post of the layout stands.
func (p *plot) at(post int) draw.Point { return draw.Point(p.Layout.Posts[post].At) }

// stake draws a stake, with its pier or pad dashed to scale.
func (p *plot) stake(post int) {
	c := p.at(post)
	m := p.paper(1200)
	p.d.Add(draw.NewLine(layerFrame, medium, pt(c.X-m, c.Y), pt(c.X+m, c.Y)), draw.NewLine(layerFrame, medium, pt(c.X, c.Y-m), pt(c.X, c.Y+m)))
	base := p.Layout.Posts[post].Base
	switch {
	case base == nil:
	case base.Diameter > 0:
		p.d.Add(draw.Circle(layerHidden, dashed, draw.Fill{}, c, base.Diameter/2))
	case base.Size > 0:
		h := base.Size / 2
		p.d.Add(draw.Rectangle(layerHidden, dashed, draw.Fill{}, pt(c.X-h, c.Y-h), pt(c.X+h, c.Y+h)))
	}
}

// tally is a line between two places with its length written along it, off its
// middle by so much of the paper.
func (p *plot) tally(a, b draw.Point, off draw.Micron, text string) {
	p.d.Add(&draw.Dim{Points: []draw.Point{a, b}, Side: draw.Along, Offset: off, Texts: []string{text}, Arrows: true})
}

// setoutSheet is what setting-out sheets have in common.
func (t *tables) setoutSheet(file, title, caption string, s *setout.Structure) sheetPlan {
	north := 90 * draw.Degree
	return sheetPlan{
		name: file, title: title, caption: caption, north: &north, room: 6 * draw.MM,
		scales: scalesBetween(t.Job.Units, setoutFinest, 0),
	}
}

// ringStakes plans the sheet of a pen's centre, baseline and piers.
func (t *tables) ringStakes(s *setout.Structure) sheetPlan {
	p := s.Pen
	out := t.setoutSheet("setout-"+s.Name, t.say("setout.draw-title-setout", name("structure", s.Name)),
		t.say("setout.draw-caption-setout-pen", name("structure", s.Name), number("n", len(p.Piers))), s)
	out.wide, out.tall = 2*p.Radius.Value, 2*p.Radius.Value
	out.notes = t.ringStakeNotes(s)
	out.drawing = func(at draw.Scale, _ int) *draw.Drawing { return t.newPlot(s, at).ring() }
	return out
}

// ringStakeNotes are the steps of setting a ring out.
func (t *tables) ringStakeNotes(s *setout.Structure) []string {
	p, f := s.Pen, t.newPlot(s, draw.Scale{})
	out := []string{
		t.say("setout.drive-centre") + " " + t.say("setout.every-pin", f.taken("radius", p.Radius.Value)),
		t.say("setout.stretch-toward", phrase.With("wind", f.compass(p.Toward))) + " " + t.say("setout.gate-middle", f.taken("off", p.Gate.Value)),
		t.say("setout.first-piers", name("a", t.short(p.Piers[0].Name)), name("b", t.short(p.Piers[1].Name)), f.taken("along", p.Piers[0].X.Value), f.taken("side", p.Piers[1].Y.Value)) + " " + t.say("setout.other-piers"),
		t.say("setout.check-skip"),
	}
	for _, c := range f.ringChecks() {
		switch {
		case c.usual == "":
		case len(c.but) == 0:
			out[3] += " " + t.say("setout.draw-usual", name("what", c.head), name("length", c.usual))
		default:
			out[3] += " " + t.say("setout.draw-usual-but", name("what", c.head), name("length", c.usual), name("others", strings.Join(c.but, "; ")))
		}
	}
	out[3] += " " + t.say("setout.each-section", f.taken("play", p.Play.Value), f.taken("all", p.TakeUp.Value))
	if c := p.Closing; c != nil {
		out = append(out, t.words.Say(phrase.Of("kind.name", name("name", sentences(t, c.Tell())))))
	}
	return out
}

// sentences are phrases one after the other.
func sentences(t *tables, list []phrase.Phrase) string {
	out := ""
	for i, s := range list {
		if i > 0 {
			out += " "
		}
		out += t.words.Say(s)
	}
	return out
}

// compass names where an angle, anticlockwise from east, points.
func (p *plot) compass(a measure.Angle) phrase.Phrase {
	c := setout.Compass(a)
	return setout.Bearing(c)
}

// ring draws the centre stake, the baseline through the gate, the piers with
// their angles, chords, skip chords and one way across, and the table of all.
func (p *plot) ring() *draw.Drawing {
	pen := p.s.Pen
	n, r := len(pen.Piers), pen.Radius.Value
	pin := func(i int) draw.Point { return p.at(pen.Piers[i%n].Post) }
	p.d.Add(draw.Circle(layerDatum, axis, draw.Fill{}, pt(0, 0), r))
	for i := range pen.Piers {
		p.d.Add(draw.NewLine(layerFrame, light, pin(i), pin(i+1)), draw.NewLine(layerHidden, draw.Pen{Weight: draw.Thin, Grey: 50, Yields: true}, pin(i), pin(i+2)))
		p.stake(pen.Piers[i].Post)
		p.pierName(i, pin(i))
	}
	p.d.Add(draw.NewLine(layerFrame, heavy, pin(0), pin(1)))
	p.centre(pin(0), pin(1))
	p.chords(pin)
	k := n / 3
	p.tally(pt(0, 0), pin(k), 0, p.say("setout.draw-radius", name("length", p.span(r))))
	far := (n - n/4) % n
	p.tally(pin(far), p.at(p.postOf(pen.Piers[far].Far)), 0, p.say("setout.draw-across", name("length", p.span(pen.Piers[far].Across.Value))))
	if n <= ringRows {
		p.ringTable(r, 0, n)
	}
	return p.d
}

// ringNumbers plans a sheet of some of a great ring's piers: where they stand in
// it, and their numbers.
func (t *tables) ringNumbers(s *setout.Structure, part, parts int) sheetPlan {
	out := t.setoutSheet("setout-"+s.Name+"-numbers", t.say("views.title-part", name("title", t.say("setout.draw-title-setout", name("structure", s.Name))), number("part", part+1), number("parts", parts)),
		t.say("setout.draw-caption-numbers", name("structure", s.Name)), s)
	out.wide, out.tall = 2*s.Pen.Radius.Value, 2*s.Pen.Radius.Value
	from, to := partOf(len(s.Pen.Piers), part, parts)
	out.drawing = func(at draw.Scale, _ int) *draw.Drawing {
		p := t.newPlot(s, at)
		p.ringPart(from, to)
		p.ringTable(s.Pen.Radius.Value, from, to)
		return p.d
	}
	return out
}

// ringPart draws a ring's circle with some of its piers, the first and the last of
// them named.
func (p *plot) ringPart(from, to int) {
	pen := p.s.Pen
	p.d.Add(draw.Circle(layerDatum, axis, draw.Fill{}, pt(0, 0), pen.Radius.Value))
	for i := from; i < to; i++ {
		q := &pen.Piers[i]
		p.stake(q.Post)
		if i == from || i == to-1 {
			at := p.at(q.Post)
			p.d.Add(&draw.Label{At: at, Texts: []string{p.short(q.Name)}, Where: []draw.Where{compass(at)}, End: draw.Plain})
		}
	}
}

// postOf finds a pier's post by name.
func (p *plot) postOf(pier string) int {
	i, _ := p.Layout.Post(pier)
	return i
}

// pierName names a pier outside the ring and says, where it has to move, by how
// much.
func (p *plot) pierName(i int, at draw.Point) {
	q := &p.s.Pen.Piers[i]
	if every := (len(p.s.Pen.Piers)-1)/namedSections + 1; i%every != 0 && every > 1 {
		return // of very many only some are named; their sheets of numbers name all
	}
	text := p.short(q.Name)
	face := draw.Regular
	if c := p.s.Pen.Closing; c != nil {
		for _, m := range c.Moves {
			if m.Pier == i {
				text, face = text+"\n"+p.say("setout.draw-move-by", p.taken("by", m.By)), draw.Bold
			}
		}
	}
	p.d.Add(&draw.Label{At: at, Texts: []string{text, p.short(q.Name)}, Where: []draw.Where{compass(at)}, End: draw.Plain, Face: face})
}

// centre draws the centre stake and the baseline from it through the gate.
func (p *plot) centre(a, b draw.Point) {
	m := p.paper(2 * draw.MM)
	mid := pt((a.X+b.X)/2, (a.Y+b.Y)/2)
	beyond := pt(mid.X+mid.X/12, mid.Y+mid.Y/12)
	p.d.Add(draw.Circle(layerFrame, medium, draw.Fill{}, pt(0, 0), m/2),
		draw.NewLine(layerFrame, medium, pt(-m, 0), pt(m, 0)), draw.NewLine(layerFrame, medium, pt(0, -m), pt(0, m)),
		draw.NewLine(layerDatum, draw.Pen{Weight: draw.Medium, Type: draw.Chain, Yields: true}, mid, beyond),
		&draw.Label{At: pt(0, 0), Texts: []string{p.say("setout.draw-centre-stake")}, End: draw.Plain},
		&draw.Label{At: beyond, Texts: []string{p.say("setout.draw-gate")}, Where: []draw.Where{compass(mid), draw.ToRight, draw.ToLeft}, End: draw.Plain, Face: draw.Bold})
	p.tally(pt(0, 0), mid, 0, p.say("setout.draw-baseline-length", name("length", p.span(p.s.Pen.Gate.Value))))
}

// chords dimension each length of section once outside the ring, and each skip
// chord once inside.
func (p *plot) chords(pin func(int) draw.Point) {
	pen := p.s.Pen
	n := len(pen.Piers)
	chord, skip := map[measure.Length]bool{}, map[measure.Length]bool{}
	for j := range n {
		i := (j + n/8) % n
		q := &pen.Piers[i]
		if l := p.tape.Round(q.Chord.Value, measure.Nearest); !chord[l] {
			chord[l] = true
			p.tally(pin(i), pin(i+1), -9*draw.MM, p.span(q.Chord.Value))
		}
		if l := p.tape.Round(q.Skip.Value, measure.Nearest); !skip[l] {
			skip[l] = true
			p.tally(pin(i), pin(i+2), 0, p.say("setout.draw-skip", name("length", p.span(q.Skip.Value))))
		}
	}
}

// ringTable lists every pier's numbers to the right of the ring. What most piers
// have alike stands in the notes, and so needs no column.
func (p *plot) ringTable(r measure.Length, from, to int) {
	pen := p.s.Pen
	heads := []string{p.say("setout.col-pier"), p.say("setout.col-angle"), p.say("setout.draw-col-along"), p.say("setout.draw-col-left")}
	checks := p.ringChecks()
	for _, c := range checks {
		if c.usual == "" {
			heads = append(heads, c.head)
		}
	}
	rows := [][]string{heads}
	for i := from; i < to; i++ {
		q := &pen.Piers[i]
		row := []string{p.short(q.Name), setout.DegMinSec(q.Angle.Value), p.span(q.X.Value), p.span(q.Y.Value)}
		for _, c := range checks {
			if c.usual == "" {
				row = append(row, c.values[i])
			}
		}
		rows = append(rows, row)
	}
	p.table(pt(r+p.paper(24*draw.MM), r), rows)
}

// ringCheck is a length that every pier has: to the next pier, to the one after
// it, and to the one half-way round.
type ringCheck struct {
	head   string
	values []string // of each pier, as written in a table
	usual  string   // what most have; empty where they have too many
	but    []string // the others, in words
}

// fewLengths is how many other lengths a note can tell.
const fewLengths = 3

func (p *plot) ringChecks() []ringCheck {
	pen := p.s.Pen
	n := len(pen.Piers)
	out := []ringCheck{{head: p.say("setout.col-to-next")}, {head: p.say("setout.col-skip-one")}, {head: p.say("setout.col-across")}}
	for k := range out {
		c := &out[k]
		piers := map[string][]string{}
		var order []string
		for i := range pen.Piers {
			q := &pen.Piers[i]
			l := []measure.Length{q.Chord.Value, q.Skip.Value, q.Across.Value}[k]
			c.values = append(c.values, p.span(l))
			text := p.taped(l)
			if piers[text] == nil {
				order = append(order, text)
			}
			to := pen.Piers[(i+k+1)%n].Name
			if k == 2 {
				to = q.Far
			}
			piers[text] = append(piers[text], p.say("setout.from-to", name("a", p.short(q.Name)), name("b", p.short(to))))
		}
		most := order[0]
		for _, text := range order {
			if len(piers[text]) > len(piers[most]) {
				most = text
			}
		}
		others := n - len(piers[most])
		if len(order) > 1 && others > fewLengths*2 {
			continue // a column of the table
		}
		c.usual = most
		for _, text := range order {
			if text != most {
				c.but = append(c.but, p.say("setout.draw-but", name("length", text), name("where", p.words.Join(piers[text]))))
			}
		}
	}
	return out
}
