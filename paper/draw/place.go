package draw

import (
	"fmt"
	"slices"
	"strings"
)

// insideText is the text of a span whose dimension line stands within the
// drawing.
type insideText struct {
	layer string
	x     axes
	at    Micron // the line's v
	span
}

// task is a text to place: of a span whose dimension line stands within the
// drawing, or a label.
type task struct {
	inside *insideText
	label  wanted
	forced bool // to be a balloon, placed before all others
}

// tasks lists the texts to place: inside dimensions, then labels bound to an
// area, since they have the least choice, then the others in the order given.
func (v *viewLayout) tasks(d *Drawing) []task {
	var out []task
	for i := range v.inside {
		t := &v.inside[i]
		out = append(out, task{inside: t, label: wanted{layer: t.layer, at: t.x.at(t.mid(), t.at), texts: []string{t.text},
			height: dimText, face: Condensed, lead: LeadAlways, end: Plain}})
	}
	for _, bound := range [...]bool{true, false} {
		for _, it := range d.items {
			l, ok := it.(*Label)
			if !ok || (l.Within != nil) != bound {
				continue
			}
			w := wanted{layer: l.layer(), at: v.placed.ToPaper(l.At), height: max(l.Height, MinText), face: l.Face,
				where: l.Where, within: v.toPaper(l.Within), lead: l.Lead, end: l.End}
			for _, t := range l.Texts {
				if clean(t) != "" {
					w.texts = append(w.texts, t)
				}
			}
			out = append(out, task{label: w})
		}
	}
	return out
}

// placeAll places the tasks. Where one finds itself walled in by those before
// it, all is taken up again with that one (and ever more of those after it) as
// balloons placed first, so that the number of rounds grows with the logarithm
// of the number of tasks.
func (v *viewLayout) placeAll(tasks []task) error {
	marks, texts, hard := len(v.sheet.Marks), len(v.crowd.texts), len(v.crowd.lines)
	for more := 1; ; more *= 2 {
		failed, err := v.tryAll(tasks)
		if err == nil {
			return nil
		}
		added := 0
		for i := failed; i < len(tasks) && added < more; i++ {
			if !tasks[i].forced {
				tasks[i].forced = true
				added++
			}
		}
		if added == 0 {
			return err
		}
		v.sheet.Marks, v.key = v.sheet.Marks[:marks], nil
		v.crowd.texts, v.crowd.wide, v.crowd.lines = v.crowd.texts[:texts], v.crowd.wide[:texts], v.crowd.lines[:hard]
	}
}

// tryAll is one round; it returns the task that failed.
func (v *viewLayout) tryAll(tasks []task) (int, error) {
	for _, forced := range [...]bool{true, false} {
		for i, t := range tasks {
			if t.forced != forced {
				continue
			}
			l := t.label
			l.at = v.uncovered(&l)
			var err error
			switch {
			case forced:
				err = v.balloon(&l)
			case t.inside == nil || !v.alongLine(*t.inside):
				err = v.place(&l)
			}
			if err != nil {
				return i, err
			}
		}
	}
	return 0, nil
}

// alongLine tries the places over and under the stretch of line.
func (v *viewLayout) alongLine(t insideText) bool {
	if !t.fits {
		return false
	}
	e := t.face.measure(t.text, dimText)
	slack := (t.to - t.from - 2*besides - e.Width) / 2
	best, bestCost := Text{}, int64(-1)
	for side, base := range [...]Micron{t.at + textGap, t.at - textGap - e.Up} {
		for k := range Micron(9) { // 0, +1, -1, ... +4, -4 quarters of the slack
			shift := slack * ((k + 1) / 2) / 4
			if k%2 == 0 {
				shift = -shift
			}
			text := Text{Layer: t.layer, At: t.x.at(t.mid()+shift, base), Text: t.text, Height: dimText,
				Face: t.face, Anchor: Middle, Rotation: t.x.a}
			b := block{at: text.At, turn: text.Rotation, local: text.local(0)}
			if !v.crowd.free(b, text.At) {
				continue
			}
			cost := v.crowd.cost(b) + int64(side)*6 + int64(k)
			if bestCost < 0 || cost < bestCost {
				best, bestCost = text, cost
			}
		}
	}
	if bestCost < 0 {
		return false
	}
	v.putText(best)
	return true
}

// looking tells how hard to look for a place for text before a balloon is used,
// in the units of the costs of crowd.
type looking struct {
	easy    int64 // the first text that touches no line is taken up to this cost
	balloon int64 // how much worse than text a balloon is, since a reader has to look it up
}

// A sheet without a key is worth some crossed lines; once there has to be one,
// another balloon matters less.
var (
	withoutKey = looking{easy: 180, balloon: 150}
	withKey    = looking{easy: 80, balloon: 50}
)

// place puts a label: the first text that finds a place touching no line, else
// whatever is least bad of all texts and a balloon.
func (v *viewLayout) place(l *wanted) error {
	type choice struct {
		b lettering
		s spot
	}
	var least choice
	found := false
	for i, t := range l.texts {
		var at choice
		ok := false
		for k, b := range l.settings(t) {
			w, h := b.width, b.tall()
			s, free := v.best(l, b, append(l.beside(w, h), l.led(w, h)...))
			if s.cost += int64(k) * 12; free && (!ok || s.cost < at.s.cost) {
				at, ok = choice{b, s}, true
			}
		}
		if ok && at.s.clash == 0 && at.s.cost <= v.looking.easy {
			v.putLettering(l, at.b, at.s)
			return nil
		}
		if at.s.cost += int64(i) * 10; ok && (!found || at.s.cost < least.s.cost) {
			least, found = at, true
		}
	}
	round, s, ok := v.bestBalloon(l)
	switch {
	case found && (!ok || least.s.cost <= s.cost+v.looking.balloon):
		v.putLettering(l, least.b, least.s)
	case ok:
		v.putBalloon(l, round, s)
	default:
		return noRoom(l)
	}
	return nil
}

func noRoom(l *wanted) error {
	return fmt.Errorf("there is no room on the sheet for the label %q, nor for a numbered balloon: use a larger sheet or scale, or split the drawing", shorten(clean(l.texts[0]), 40))
}

// settings are the ways to set a text: as given, and if it is long and has no
// line feeds, in two or three lines of about the same length.
func (l *wanted) settings(text string) []lettering {
	whole := letter(text, l.face, l.height)
	out := []lettering{whole}
	if len(whole.lines) > 1 {
		return out
	}
	for n := Micron(2); n <= 3 && whole.width > n*15*MM; n++ {
		// A tenth over the even share lets most texts break into n lines.
		ls := wrap(text, l.face, l.height, whole.width*11/(n*10))
		if Micron(len(ls)) <= n {
			out = append(out, letter(strings.Join(ls, "\n"), l.face, l.height))
		}
	}
	return out
}

// uncovered is the label's point, or if a text already stands there, the nearest
// point beside that text; a leader could not reach the point itself.
func (v *viewLayout) uncovered(l *wanted) PaperPoint {
	poly := l.within
	for _, within := range [...]bool{poly != nil, false} {
		for r := Micron(0); r <= 20*MM; r += MM / 2 {
			for k := range Angle(16) {
				p := polar(l.at, r, k*(360*Degree/16))
				near := PaperRect{p, p}.inset(-MM / 2).corners()
				if v.crowd.area.holds(p) && !anyMeets(v.crowd.wide, near[:]) && (!within || inPolygon(p, poly)) {
					return p
				}
				if r == 0 {
					break
				}
			}
		}
	}
	return l.at
}

// best is the cheapest free spot, the first among equals.
func (v *viewLayout) best(l *wanted, b lettering, spots []spot) (spot, bool) {
	var best spot
	found := false
	for _, s := range spots {
		if found && s.cost >= best.cost {
			continue
		}
		blk := b.block(s.centre)
		if !v.crowd.free(blk, l.at) {
			continue
		}
		if s.leader == nil {
			if l.within != nil && !contains(l.within, blk.quad(lineClear)) {
				continue
			}
		} else {
			if !v.crowd.clearRun(s.leader) {
				continue
			}
			s.cost += v.crowd.crossings(s.leader)
		}
		s.clash = v.crowd.cost(blk)
		s.cost += s.clash
		if !found || s.cost < best.cost {
			best, found = s, true
		}
	}
	return best, found
}

func (v *viewLayout) putLettering(l *wanted, b lettering, s spot) {
	for _, t := range b.texts(l.layer, s.centre) {
		v.putText(t)
	}
	if s.leader != nil {
		v.leader(l, s.leader)
	}
}

// putText adds a text to the sheet and to what others must avoid.
func (v *viewLayout) putText(t Text) {
	v.sheet.put(t)
	box, wide := t.box(0), t.box(lineClear)
	v.crowd.text(box[:], wide[:])
}

// leader draws a leader line with its end.
func (v *viewLayout) leader(l *wanted, pts []PaperPoint) {
	v.crowd.hard(pts...)
	tip, before := pts[len(pts)-1], pts[len(pts)-2]
	switch l.end {
	case Dot:
		v.sheet.put(Curve{Layer: l.layer, Fill: Tint(0), Centre: tip, Radius: 500, Sweep: 360 * Degree})
	case Arrow:
		x := axes{tip, angleOf(before.sub(tip))}
		v.sheet.put(Stroke{Layer: l.layer, Fill: Tint(0), Closed: true,
			Runs: [][]PaperPoint{{tip, x.at(arrowLen, arrowHalf), x.at(arrowLen, -arrowHalf)}}})
		if distance(before, tip) > arrowLen { // the head covers the tip of the line
			pts = append(append([]PaperPoint(nil), pts[:len(pts)-1]...), x.at(arrowLen-MM/5, 0))
		}
	}
	v.sheet.put(Stroke{Layer: l.layer, Pen: Pen{Weight: Thin}, Runs: [][]PaperPoint{pts}})
}

// balloonRadius leaves room for two digits of 2.5 mm.
const balloonRadius = 3200

// bestBalloon is the best place for a circle with a number that stands for a
// text: near the point if it can be, else anywhere in the view, with a leader.
func (v *viewLayout) bestBalloon(l *wanted) (lettering, spot, bool) {
	const d = 2 * balloonRadius
	round := lettering{width: d, up: d, lines: []string{""}, round: true}
	free := *l
	free.within = nil
	s, ok := v.best(&free, round, append(v.balloonSpots(l), v.balloonGrid(l)...))
	return round, s, ok
}

func (v *viewLayout) balloon(l *wanted) error {
	round, s, ok := v.bestBalloon(l)
	if !ok {
		return noRoom(l)
	}
	v.putBalloon(l, round, s)
	return nil
}

// keyNumber is the number of a text in the sheet's key, the same wherever the
// same text is meant.
func (v *viewLayout) keyNumber(text string) int {
	if i := slices.Index(v.sheet.Key, text); i >= 0 {
		return i + 1
	}
	i := slices.Index(v.key, text)
	if i < 0 {
		i = len(v.key)
		v.key = append(v.key, text)
	}
	return len(v.sheet.Key) + i + 1
}

// putBalloon draws a balloon and notes its text for the key.
func (v *viewLayout) putBalloon(l *wanted, round lettering, s spot) {
	number := itoa(v.keyNumber(l.texts[0]))
	face := Regular
	if len(number) > 2 {
		face = Condensed
	}
	if s.leader != nil {
		v.leader(l, s.leader)
	}
	v.sheet.put(Curve{Layer: l.layer, Pen: Pen{Weight: Thin}, Fill: White(), Centre: s.centre, Radius: balloonRadius, Sweep: 360 * Degree})
	for _, t := range letter(number, face, MinText).texts(l.layer, s.centre) {
		v.sheet.put(t)
	}
	b := round.block(s.centre)
	v.crowd.text(b.shape(0), b.shape(lineClear))
}

// balloonSpots are on the point, if it may be covered, and in rings round it.
func (v *viewLayout) balloonSpots(l *wanted) []spot {
	var out []spot
	if l.lead != LeadAlways {
		out = append(out, spot{centre: l.at})
	}
	for r := Micron(leadLeast); r <= leadMost; r += r/4 + MM {
		for k := range Angle(directions) {
			out = append(out, balloonAt(l, polar(l.at, r, 45*Degree+k*(360*Degree/directions))))
		}
	}
	return out
}

// balloonGrid covers the view.
func (v *viewLayout) balloonGrid(l *wanted) []spot {
	var out []spot
	a := v.crowd.area.inset(balloonRadius)
	for y := a.Min.Y; y <= a.Max.Y; y += 4 * MM {
		for x := a.Min.X; x <= a.Max.X; x += 4 * MM {
			if p := (PaperPoint{x, y}); distance(p, l.at) > leadLeast {
				out = append(out, balloonAt(l, p))
			}
		}
	}
	return out
}

// balloonAt is a balloon at c with a leader from its rim to the point.
func balloonAt(l *wanted, c PaperPoint) spot {
	rim := polar(c, balloonRadius, angleOf(l.at.sub(c)))
	return spot{centre: c, leader: []PaperPoint{rim, l.at}, cost: leadPenalty + int64(distance(c, l.at)/MM)}
}

// shorten cuts a text to n runes for a message.
func shorten(s string, n int) string {
	if r := []rune(s); len(r) > n {
		return string(r[:n]) + "…"
	}
	return s
}
