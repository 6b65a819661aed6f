package packet

import (
	"fmt"
	"strings"

	"stallwright/engine/frame"
	"stallwright/engine/kit"
	"stallwright/engine/measure"
	"stallwright/engine/plan"
	"stallwright/engine/setout"
)

// groundSheet is what a crew stakes and digs by.
type groundSheet struct {
	summary
	tape measure.Tape
}

// Setout is the setting out as plain text: large steps, narrow tables.
func Setout(p *plan.Plan) []byte {
	f := &groundSheet{summary: summary{p: p}, tape: fieldTape(p)}
	j := p.Job
	head := j.Job + ": setting out"
	f.line("%s\n%s", head, strings.Repeat("=", len([]rune(head))))
	date := j.Date
	if date == "" {
		date = "no date given"
	}
	f.line("Revision %d, %s.", j.Revision, date)
	f.line("Lengths to the nearest %s. Along a line, every length runs from its first mark:", f.tape.Show(f.tape.Mark))
	f.line("leave the tape hooked there, and never add one reading to the next.")
	for i := range p.Setout.Structures {
		f.structure(&p.Setout.Structures[i])
	}
	return f.buf.Bytes()
}

func fieldTape(p *plan.Plan) measure.Tape {
	if p.Job.Units == measure.Metric {
		return measure.TapeMillimetre
	}
	return measure.TapeSixteenth
}

func (f *groundSheet) show(l measure.Length) string {
	return f.tape.Show(f.tape.Round(l, measure.Nearest))
}

func (f *groundSheet) structure(s *setout.Structure) {
	f.title(s.Name + ": " + kindWords[string(s.Kind)])
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

// sizeWords name what a pen's size may be taken across.
var sizeWords = map[string]string{"pins": "pin circle", "flats": "inside flats", "corners": "inside corners"}

func (f *groundSheet) pen(s *setout.Structure) {
	p := s.Pen
	f.line("")
	rows := [][]string{}
	for _, v := range []struct {
		key string
		n   setout.Number
	}{{"pins", p.Pins}, {"flats", p.Flats}, {"corners", p.Corners}} {
		row := []string{sizeWords[v.key], f.show(v.n.Value), ""}
		if string(p.Asked) == v.key {
			row[2] = "asked for: " + f.show(p.AskedFor)
		}
		rows = append(rows, row)
	}
	f.table(rows)
	n := len(p.Piers)
	if n == 0 {
		return
	}
	f.line("\n  1. CENTRE    Drive a stake, a nail in its top. All radii start there.")
	f.line("  2. BASELINE  Stretch a line from the centre toward %s.", windWords(p.Toward))
	f.line("               The gate's middle is on it, %s from the centre.", f.show(p.Gate.Value))
	f.line("  3. PIERS     Every pin stands %s from the centre.", f.show(p.Radius.Value))
	f.line("               %s and %s: %s along the baseline, %s to either side.", p.Piers[0].Name, p.Piers[1].Name, f.show(p.Piers[0].X.Value), f.show(p.Piers[1].Y.Value))
	f.line("               The others follow anticlockwise, seen from above: by transit from the centre,")
	f.line("               or with two tapes, one from the centre, one from the pier before.")
	f.line("  4. CHECK     Skip one pier, then tape across. Only then dig.\n")
	rows = [][]string{{"pier", "angle", "to next", "skip one", "across", "to"}}
	for i := range p.Piers {
		q := &p.Piers[i]
		rows = append(rows, []string{q.Name, setout.DegMinSec(q.Angle.Value), f.show(q.Chord.Value), f.show(q.Skip.Value), f.show(q.Across.Value), q.Far})
	}
	f.table(rows)
	f.line("\n  The same by coordinates: along the baseline from the centre, then square off it.")
	rows = [][]string{{"pier", "along", "", "off", ""}}
	for i := range p.Piers {
		q := &p.Piers[i]
		rows = append(rows, []string{q.Name, f.show(q.X.Value.Abs()), way(q.X.Value, "forward", "back"), f.show(q.Y.Value.Abs()), way(q.Y.Value, "left", "right")})
	}
	f.table(rows)
	f.play(p)
}

// way says to which side of zero a length lies.
func way(l measure.Length, more, less string) string {
	switch {
	case l > 0:
		return more
	case l < 0:
		return less
	}
	return "on the line"
}

func (f *groundSheet) play(p *setout.Pen) {
	f.line("\n  WHAT THE PINS FORGIVE")
	f.line("  Each section %s longer or shorter; round the ring %s.", f.show(p.Play.Value), f.show(p.TakeUp.Value))
	if p.Loose {
		f.line("  The feet go where the pins come down.")
	} else {
		f.line("  A pin may stand %s from the middle of its pier.", f.show(p.Seat.Value))
	}
	c := p.Closing
	if c == nil {
		f.line("  Measure the piers once they are set: the job's piers then tell whether the ring closes.")
		return
	}
	f.line("\n  AS MEASURED")
	for _, s := range c.Sentences {
		f.line("  %s", s)
	}
	rows := [][]string{{"section", "pier to pier", "section lacks", "pin off"}}
	for i := range c.Sections {
		row := []string{fmt.Sprintf("%s to %s", c.Piers[i], c.Piers[(i+1)%len(c.Piers)]), f.show(c.Sections[i].Piers), signed(c.Sections[i].Lacks, f.show), ""}
		if i < len(c.Off) {
			row[3] = f.show(c.Off[i])
		}
		rows = append(rows, row)
	}
	f.table(rows)
}

// signed writes a length with its sign, plus included.
func signed(l measure.Length, show func(measure.Length) string) string {
	if s := show(l); l > 0 && s != show(0) {
		return "+" + s
	}
	return show(l)
}

// windWords name a direction by compass and wind. An angle turns anticlockwise
// from east, a compass clockwise from north.
func windWords(a measure.Angle) string {
	full := int64(measure.FullTurn)
	c := ((int64(90*measure.Degree)-int64(a))%full + full) % full
	winds := [...]string{"north", "north-east", "east", "south-east", "south", "south-west", "west", "north-west"}
	const eighth = 45 * int64(measure.Degree)
	k := (c + eighth/2) / eighth
	words := winds[k%8]
	if c != k*eighth {
		words = "near " + words
	}
	return fmt.Sprintf("%s (compass %s, true north)", words, setout.DegMinSec(measure.Angle(c)))
}

func (f *groundSheet) grid(s *setout.Structure) {
	g := s.Grid
	f.line("\n  1. BASELINE     Stake %s. Stretch a line to %s: %s.", g.From, g.To, f.show(g.Length.Value))
	f.line("  2. RIGHT ANGLE  3-4-5, the largest that fits:")
	for i := range g.Squares {
		q := &g.Squares[i]
		f.line("                  at %s  %s toward %s, %s toward %s: %s between the two marks.", q.At,
			f.show(q.Legs[0].Value), q.Along, f.show(q.Legs[1].Value), q.Across, f.show(q.Hyp.Value))
	}
	if len(g.Squares) == 0 {
		f.line("                  none fits: go by the diagonals alone.")
	}
	f.line("  3. CORNERS      Tape both diagonals of each. Off by more than stated: set the corners again.\n")
	rows := [][]string{{"", "corners", "sides", "diagonals", "within"}}
	for i := range g.Frames {
		r := &g.Frames[i]
		rows = append(rows,
			[]string{r.Name, strings.Join(r.Corners[:2], " to "), f.show(r.Sides[0].Value), f.show(r.Diagonals[0].Value), f.show(r.Tolerance.Value)},
			[]string{"", r.Corners[1] + " to " + r.Corners[2], f.show(r.Sides[1].Value), f.show(r.Diagonals[1].Value), ""},
			[]string{"", r.Corners[2] + " to " + r.Corners[3], f.show(r.Sides[2].Value), "", ""},
			[]string{"", r.Corners[3] + " to " + r.Corners[0], f.show(r.Sides[3].Value), "", ""})
	}
	f.table(rows)
	f.line("\n  4. LINES        Hook the tape on the first stake; mark every one in a single pull.")
	for i := range s.Lines {
		f.marks(&s.Lines[i], "", false)
	}
	f.line("\n  The same by coordinates: along the baseline from %s, then square off it.", g.From)
	rows = [][]string{{"stake", "along", "off", ""}}
	for i := range g.Stakes {
		k := &g.Stakes[i]
		rows = append(rows, []string{k.Name, f.show(k.X.Value), f.show(k.Y.Value.Abs()), way(k.Y.Value, "left", "right")})
	}
	f.table(rows)
}

// marks is one line's table.
func (f *groundSheet) marks(l *setout.Line, note string, what bool) {
	f.line("\n  %s%s: tape on %s", l.Name, note, l.Zero)
	var rows [][]string
	if what {
		rows = append(rows, []string{"along", "from the post on its left", "what", "of"})
	}
	for i := range l.Marks {
		k := &l.Marks[i]
		switch {
		case !what:
			rows = append(rows, []string{f.show(k.From.Value), k.At})
		case k.Own.Value == 0:
			rows = append(rows, []string{f.show(k.From.Value), "", k.What, k.At})
		default:
			rows = append(rows, []string{f.show(k.From.Value), f.show(k.Own.Value), k.What, k.At})
		}
	}
	f.table(rows)
}

func (f *groundSheet) fronts(s *setout.Structure) {
	if len(s.Lines) == 0 && s.Grid == nil {
		f.line("\n  Nothing to set out.")
		return
	}
	if len(s.Lines) > 0 {
		f.line("\n  The posts stand. Mark doorways and door posts along each front, from left to right as you face it.")
	}
	for i := range s.Lines {
		l := &s.Lines[i]
		f.marks(l, " ("+setout.Taped(f.p.Layout, l.Name)+")", true)
	}
}

// ties is the table of stakes of a free form.
func (f *groundSheet) ties(g *setout.Grid) {
	f.line("\n  Steel posts. Two tapes, from the centres of %s and %s (%s apart); where both meet, drive the stake.", g.From, g.To, f.show(g.Length.Value))
	rows := [][]string{{"stake", "from " + g.From, "from " + g.To, "along", "off", ""}}
	for i := range g.Stakes {
		k := &g.Stakes[i]
		rows = append(rows, []string{k.Name, f.show(k.Ties[0].Value), f.show(k.Ties[1].Value), f.show(k.X.Value), f.show(k.Y.Value.Abs()), way(k.Y.Value, "left", "right")})
	}
	f.table(rows)
}

func (f *groundSheet) bases(b *setout.Bases) {
	if b == nil {
		return
	}
	f.line("\n  BASES")
	levelled, piers := b.Bench != "", count(b) > 0
	switch {
	case levelled:
		why := "the highest ground at a post"
		if b.Laid > 0 {
			why += " and " + f.show(b.Laid) + " of base and mats still to be laid on it"
		}
		f.line("  All tops level, %s: %s.", f.above(b.Top.Value, b.Bench), why)
	case piers:
		f.line("  The ground is not levelled: read the rod at every post before anything is dug.")
	default:
		f.line("  The ground is not levelled: read the rod at every post before anything is set.")
	}
	head := []string{"post", "stands on"}
	if levelled {
		head = append(head, "ground", "top above ground")
	}
	if piers {
		head = append(head, "hole", "concrete", "bags")
	}
	var rows [][]string
	for i := range b.List {
		k := &b.List[i]
		row := []string{k.Name, k.Item.Name}
		if levelled {
			row = append(row, f.show(k.Ground.Value), f.show(k.Out.Value))
		}
		if piers {
			hole := []string{"", "", ""}
			if k.Item.Kind == kit.Pier {
				hole = []string{f.show(k.Item.Diameter) + " across, " + f.show(k.Depth.Value) + " deep", f.concrete(k.Concrete.Value), fmt.Sprint(k.Bags)}
			}
			row = append(row, hole...)
		}
		rows = append(rows, row)
	}
	f.table(append([][]string{head}, alike(rows)...))
	if piers {
		f.line("  In all: %d holes, %s dug, %s of concrete, %d bags (%s).", count(b), setout.ShowEarth(b.Dig.Value, f.p.Job.Units), f.concrete(b.Concrete.Value), b.Bags, b.Bag)
		f.line("  Depths are below the ground as found. Where ground is taken off, dig that much deeper.")
		f.line("  The local frost line and code govern the depth. Have buried lines located before you dig.")
	}
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

// concrete writes a volume of concrete to a hundredth of a cubic foot or to a
// litre, up.
func (f *groundSheet) concrete(v measure.Volume) string {
	if f.p.Job.Units == measure.Metric {
		n, _ := measure.MulDiv(int64(v), 1, int64(measure.Litre), measure.Up)
		return fmt.Sprintf("%d l", n)
	}
	n, _ := measure.MulDiv(int64(v), 100, int64(measure.CubicFoot), measure.Up)
	return fmt.Sprintf("%d.%02d ft³", n/100, n%100)
}

func (f *groundSheet) site(s *setout.Site) {
	if s == nil {
		return
	}
	units := f.p.Job.Units
	f.line("\n  GROUND")
	f.line("  Highest at %s: %s. Lowest at %s: %s. Fall: %s.", s.HighAt, f.above(s.High.Value, s.Bench), s.LowAt, f.above(s.Low.Value, s.Bench), f.show(s.Fall.Value))
	for i := range s.Levels {
		l := &s.Levels[i]
		f.line("\n  Level, %s: %s.", l.Name, f.above(l.At.Value, s.Bench))
		f.line("  Cut %s, fill %s, as it lies: no swell, no shrinkage.", setout.ShowEarth(l.Cut.Value, units), setout.ShowEarth(l.Fill.Value, units))
		if i > 0 {
			continue // its depths stand with the bases, its prisms in setout.csv
		}
		var rows [][]string
		for _, k := range l.Stakes {
			rows = append(rows, []string{k.Name, digWords(k.Dig.Value), f.show(k.Dig.Value.Abs())})
		}
		f.table(rows)
		f.line("  By prisms:")
		rows = [][]string{{"part", "shape", "area", "cut", "fill"}}
		for _, q := range l.Prisms {
			rows = append(rows, []string{q.Name, q.Shape, strings.TrimPrefix(q.Area.In(units), "≈"), setout.ShowEarth(q.Cut, units), setout.ShowEarth(q.Fill, units)})
		}
		f.table(rows)
	}
	if len(s.Stepped.Bays) < 2 {
		return
	}
	fill := ""
	if s.Stepped.Fill.Value > 0 {
		fill = " Fill " + setout.ShowEarth(s.Stepped.Fill.Value, units) + "."
	}
	f.line("\n  In steps, each bay at its highest post: greatest step %s%s.%s", f.show(s.Stepped.Most.Value), atWords(s.Stepped.At), fill)
	rows := [][]string{{"bay", "level", "gap under it at its lowest post"}}
	for _, k := range s.Stepped.Bays {
		rows = append(rows, []string{k.Name, f.show(k.At.Value), f.show(k.Gap.Value)})
	}
	f.table(rows)
}

// digWords say what is done at a stake.
func digWords(l measure.Length) string {
	if l == 0 {
		return "as it is"
	}
	return way(l, "dig", "fill")
}

// above says how a height lies to what it counts from.
func (f *groundSheet) above(l measure.Length, bench string) string {
	if l < 0 {
		return f.show(-l) + " below " + bench
	}
	return f.show(l) + " above " + bench
}

func atWords(post string) string {
	if post == "" {
		return ""
	}
	return " at " + post
}
