package views

import (
	"strings"

	"stallwright/engine/frame"
	"stallwright/engine/measure"
	"stallwright/engine/phrase"
	"stallwright/paper/draw"
	"stallwright/paper/words"
)

// ringSheet plans the plan of a round pen.
func (t *tables) ringSheet(s int) sheetPlan {
	st := &t.Layout.Structures[s]
	north := 90 * draw.Degree
	v := t.view(region{structure: s, whole: true, detailed: true, part: 1, parts: 1})
	state, _ := t.stateOf(t.baysOf(v.runs))
	return sheetPlan{
		wide: 2 * st.Ring.Radius, tall: 2 * st.Ring.Radius,
		name: "plan-" + st.Name, title: t.say("views.title-plan", name("structure", st.Name)), caption: t.say("views.caption-pen", name("structure", st.Name), number("n", len(st.Ring.Sections))),
		state: state, notes: t.ringNotes(st, v), north: &north, scales: scalesBetween(t.Job.Units, planFinest, 0), room: 8 * draw.MM,
		drawing: func(at draw.Scale, _ int) *draw.Drawing { return t.draftRing(v, st.Ring, at) },
	}
}

// namedSections is how many sections of a ring can be named one by one.
const namedSections = 48

func (t *tables) draftRing(v *seenPlan, ring *frame.Ring, at draw.Scale) *draw.Drawing {
	named := *v
	named.detailed = false // names of a ring stand outside it
	d := t.newDraft(&named, at)
	d.d.Add(draw.Circle(layerDatum, axis, draw.Fill{}, pt(0, 0), ring.Radius))
	for _, run := range v.runs {
		d.run(run)
	}
	for _, p := range v.posts {
		d.post(p)
	}
	d.centreMark(ring)
	d.sectionNames(ring)
	d.sectionLengths(ring)
	d.jointAngle(ring)
	r := ring.Radius
	d.d.Add(&draw.Dim{Points: []draw.Point{pt(-r, 0), pt(r, 0)}, Side: draw.Below, Tier: 1, Texts: []string{t.say("views.pin-circle", name("across", draw.SpanText(ring.PinCircle(), t.Job.Units)))}})
	return d.d
}

// centreMark marks the ring's centre and shows where its gate faces.
func (d *draft) centreMark(ring *frame.Ring) {
	m := d.paper(4 * draw.MM)
	d.d.Add(draw.NewLine(layerDatum, thin, pt(-m, 0), pt(m, 0)), draw.NewLine(layerDatum, thin, pt(0, -m), pt(0, m)),
		&draw.Label{At: pt(0, 0), Texts: []string{d.say("views.centre")}, Where: []draw.Where{draw.OverRight, draw.OverLeft}, Lead: draw.LeadNever})
	gate := d.runs[0]
	mid := d.at(gate, d.Layout.Runs[gate].Centres/2, 0)
	d.d.Add(draw.NewLine(layerDatum, axis, pt(0, 0), mid),
		&draw.Label{At: pt(mid.X/2, mid.Y/2), Texts: []string{d.say("views.gate-faces", phrase.With("bearing", d.bearingWords(ring)))}, End: draw.Plain})
}

// bearing is where the gate faces, clockwise from north.
func bearing(ring *frame.Ring) measure.Angle {
	a := 90*measure.Degree - ring.Bearings[0] - ring.Central[0]/2
	a = (a%measure.FullTurn + measure.FullTurn) % measure.FullTurn
	// What was solved in floats is right to the nanodegree; people read
	// hundredths.
	const hundredth = measure.Degree / 100
	return (a + hundredth/2) / hundredth * hundredth % measure.FullTurn
}

// bearingWords writes the gate's bearing with the nearest of eight winds.
func (t *tables) bearingWords(ring *frame.Ring) phrase.Phrase {
	a := bearing(ring)
	k := int((a + 22*measure.Degree + measure.Degree/2) / (45 * measure.Degree))
	wind, angle := phrase.With("wind", words.Wind(k)), name("angle", t.degrees(a))
	if a == measure.Angle(k)*45*measure.Degree {
		return phrase.Of("views.bearing", wind, angle)
	}
	return phrase.Of("views.bearing-near", wind, angle)
}

// sectionNames names the sections outside the ring; of very many only every
// fifth or tenth, and those that differ.
func (d *draft) sectionNames(ring *frame.Ring) {
	every := 1
	for len(d.runs)/every > namedSections {
		if every++; every > 5 {
			every = 10 * ((len(d.runs)-1)/(10*namedSections) + 1)
		}
	}
	for i, run := range d.runs {
		r := &d.Layout.Runs[run]
		differs := len(r.Bays) > 1 || d.Layout.Bays[r.Bays[0]].IsDoor() || ring.Sections[i] != commonest(ring.Sections)
		if !differs && i%every != 0 {
			continue
		}
		mid := d.at(run, r.Centres/2, d.Fit.Board.Thickness/2)
		d.d.Add(&draw.Label{At: mid, Texts: []string{r.Name}, Where: []draw.Where{compass(mid)}, End: draw.Plain, Face: face(len(r.Bays) > 1)})
	}
}

func face(strong bool) draw.Face {
	if strong {
		return draw.Bold
	}
	return draw.Regular
}

// compass is the place outside the centre at which p's label stands.
func compass(p draw.Point) draw.Where {
	ax, ay := p.X.Abs(), p.Y.Abs()
	x := 0
	switch {
	case ax*5 < ay*2: // within 22° of north or south
	case p.X > 0:
		x = 1
	default:
		x = -1
	}
	y := 0
	switch {
	case ay*5 < ax*2:
	case p.Y > 0:
		y = 1
	default:
		y = -1
	}
	switch [2]int{x, y} {
	case [2]int{0, 1}:
		return draw.Over
	case [2]int{0, -1}:
		return draw.Under
	case [2]int{1, 1}:
		return draw.OverRight
	case [2]int{1, -1}:
		return draw.UnderRight
	case [2]int{-1, 1}:
		return draw.OverLeft
	case [2]int{-1, -1}:
		return draw.UnderLeft
	case [2]int{-1, 0}:
		return draw.ToLeft
	}
	return draw.ToRight
}

// commonest is the length most sections have; of equally common ones the first.
func commonest(sections []measure.Length) measure.Length {
	best, most := measure.Length(0), 0
	n := map[measure.Length]int{}
	for _, l := range sections {
		n[l]++
	}
	for _, l := range sections {
		if n[l] > most {
			best, most = l, n[l]
		}
	}
	return best
}

// sectionLengths dimensions one section of each length, pin to pin, inside the
// ring.
func (d *draft) sectionLengths(ring *frame.Ring) {
	shown := map[measure.Length]bool{}
	for k := range d.runs {
		// The gate comes last, so that a plain section shows a length both have.
		i := (k + 1 + len(d.runs)/8) % len(d.runs)
		l := ring.Sections[i]
		if shown[l] {
			continue
		}
		shown[l] = true
		r := &d.Layout.Runs[d.runs[i]]
		d.d.Add(&draw.Dim{Points: []draw.Point{draw.Point(d.Layout.Posts[r.From].At), draw.Point(d.Layout.Posts[r.To].At)}, Side: draw.Along, Offset: 7 * draw.MM,
			Texts: []string{draw.SpanText(l, d.Job.Units)}})
	}
}

// jointAngle shows the interior angle at a joint between two plain sections.
func (d *draft) jointAngle(ring *frame.Ring) {
	n := len(ring.Sections)
	at := (n*3/8 + 1) % n // pin between sections at-1 and at
	plain := commonest(ring.Sections)
	for k := range n {
		i := (at + k) % n
		if ring.Sections[(i+n-1)%n] == plain && ring.Sections[i] == plain && i > 1 {
			at = i
			break
		}
	}
	inside := ring.Interior[(at+n-1)%n]
	pin := draw.Point(d.Layout.Posts[d.Layout.Runs[d.runs[at]].From].At)
	start := toDraw(ring.Bearings[at]+180*measure.Degree) - toDraw(inside)/2
	radius := min(d.paper(9*draw.MM), ring.Sections[at]*3/5)
	d.d.Add(&draw.Arc{Layer: layerSchemes, Pen: thin, Centre: pin, Radius: radius, Start: start, Sweep: toDraw(inside)})
	in := draw.Point(frame.Along(frame.Point(pin), frame.Point{}, radius))
	d.d.Add(&draw.Label{At: in, Texts: []string{d.say("views.inside-angle", name("angle", d.degrees(inside))), d.degrees(inside)}, Where: []draw.Where{inward(pin)}, End: draw.Plain})
}

// inward is the place toward the centre at which p's label stands.
func inward(p draw.Point) draw.Where { return compass(pt(-p.X, -p.Y)) }

// ringNotes say a ring's sizes in words.
func (t *tables) ringNotes(st *frame.Structure, v *seenPlan) []string {
	ring := st.Ring
	var lengths []string
	seen := map[measure.Length]int{}
	for _, l := range ring.Sections {
		seen[l]++
	}
	for _, l := range ring.Sections {
		if n := seen[l]; n > 0 {
			lengths = append(lengths, t.say("views.sections-of", number("n", n), size("length", l)))
			seen[l] = 0
		}
	}
	gate := t.Layout.Runs[v.runs[0]].Name
	out := []string{
		t.say("views.pin-to-pin", name("lengths", t.words.Join(lengths)), name("gate", gate), size("length", ring.Sections[0])),
		t.say("views.pin-circle-flats", size("across", ring.PinCircle()), size("flats", ring.Flats(t.Fit.Board.Thickness))),
		t.angleNote(ring, v),
		t.say("views.bearings"),
	}
	if p := &t.Layout.Posts[v.posts[0]]; p.Base != nil {
		out = append(out, t.say("views.stands-on", t.item("base", p.Base.ID, p.Base.Name)))
	}
	return append(out, t.planFaults(v)...)
}

// angleNote lists the interior angles at the joints, those of the common kind
// together.
func (t *tables) angleNote(ring *frame.Ring, v *seenPlan) string {
	n := len(ring.Sections)
	at := map[string][]string{}
	var order []string
	for i := range n {
		a := t.degrees(ring.Interior[i])
		if _, known := at[a]; !known {
			order = append(order, a)
		}
		at[a] = append(at[a], t.Layout.Posts[t.Layout.Runs[v.runs[(i+1)%n]].From].Name)
	}
	most := order[0]
	for _, a := range order {
		if len(at[a]) > len(at[most]) {
			most = a
		}
	}
	var parts []string
	for _, a := range order {
		if a != most && len(at[a]) <= 8 {
			parts = append(parts, t.say("views.angle-at", name("angle", a), name("joints", t.words.Join(at[a]))))
		}
	}
	if len(parts) == 0 {
		return t.say("views.angle-every", name("angle", most))
	}
	return t.say("views.angle-but", name("angle", most), name("others", strings.Join(parts, "; ")))
}
