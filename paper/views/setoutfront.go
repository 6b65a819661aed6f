package views

import (
	"strconv"

	"stallwright/engine/frame"
	"stallwright/engine/job"
	"stallwright/engine/measure"
	"stallwright/engine/phrase"
	"stallwright/engine/setout"
	"stallwright/paper/draw"
)

// frontRuns is how many openings between standing posts one sheet shows.
const frontRuns = 2

// fronts plans the sheets of the fronts between standing timber: the posts' faces,
// the datum line on them, what every opening measured at three heights, and what
// stands where from the first post's face.
func (t *tables) fronts(s *setout.Structure) []sheetPlan {
	var out []sheetPlan
	for i := range s.Lines {
		l := &s.Lines[i]
		if l.Kind != setout.LineWall {
			continue
		}
		for w := range t.Layout.Walls {
			wall := &t.Layout.Walls[w]
			if wall.Name != l.Name || t.Layout.Structures[wall.Structure].Name != s.Name {
				continue
			}
			parts := t.frontParts(wall)
			for k, runs := range parts {
				out = append(out, t.frontSheet(s, l, runs, k+1, len(parts)))
			}
		}
	}
	return out
}

// frontParts are the runs of a wall that one sheet shows: those at one height of
// its datum line, and no more than have room.
func (t *tables) frontParts(w *frame.Wall) [][]int {
	var out [][]int
	for _, level := range t.atSteps(w.Runs) {
		widths := make([]measure.Length, len(level))
		for i, r := range level {
			widths[i] = t.Layout.Runs[r].Centres
		}
		for _, g := range spread(widths, (len(level)+frontRuns-1)/frontRuns) {
			var runs []int
			for _, i := range g {
				runs = append(runs, level[i])
			}
			out = append(out, runs)
		}
	}
	return out
}

// frontSheet plans one sheet of a front.
func (t *tables) frontSheet(s *setout.Structure, l *setout.Line, runs []int, part, parts int) sheetPlan {
	title := t.say("setout.draw-title-front", name("wall", l.Name))
	file := "setout-" + l.Name
	if parts > 1 {
		title = t.say("views.title-part", name("title", title), number("part", part), number("parts", parts))
		file += "-" + strconv.Itoa(part)
	}
	out := t.setoutSheet(file, title, t.say("setout.draw-caption-front", name("wall", l.Name), phrase.With("taped", l.Taped.Phrase())), s)
	out.north = nil
	out.scales = scalesBetween(t.Job.Units, elevationFinest, 0)
	out.wide, out.tall = t.width(runs), t.Layout.Runs[runs[0]].Height
	out.state, _ = t.stateOf(t.baysOf(runs))
	out.notes = []string{
		t.say("setout.draw-face", name("post", t.short(l.Zero))) + " " + t.say("setout.hooked"),
		t.say("setout.draw-front-datum"), t.say("setout.draw-openings"),
	}
	out.drawing = func(at draw.Scale, _ int) *draw.Drawing {
		f := &frontPlot{plot: t.newPlot(s, at), line: l, runs: runs}
		return f.draw()
	}
	return out
}

// frontPlot is a front between standing posts being drawn: x from the right face
// of the wall's first post, y up from the highest finished floor.
type frontPlot struct {
	*plot
	line *setout.Line
	runs []int
}

// axis is where the axis of a run's left post stands.
func (f *frontPlot) axis(run int) measure.Length {
	first := f.Layout.Walls[f.Layout.Runs[run].Wall].Runs[0]
	return f.Layout.Line(run) - f.Layout.Seen(f.Layout.Runs[first].From, first)/2
}

// floor is the finished floor at a post.
func (f *frontPlot) floor(post, run int) measure.Length {
	if h, ok := f.marks[markAt{post, run}]; ok {
		return f.Layout.Runs[run].Datum - h
	}
	return 0
}

func (f *frontPlot) draw() *draw.Drawing {
	for i, run := range f.runs {
		r := &f.Layout.Runs[run]
		if i == 0 {
			f.post(r.From, run, f.axis(run))
		}
		f.post(r.To, run, f.axis(run)+r.Centres)
		f.opening(run)
		f.doorway(run)
	}
	f.ground()
	f.datum()
	f.list()
	return f.d
}

// post draws a standing post with its two faces; one that another structure's wall
// stands on may be of steel.
func (f *frontPlot) post(post, run int, x measure.Length) {
	h, r := f.Layout.Seen(post, run)/2, &f.Layout.Runs[run]
	lo, hi := f.floor(post, run), r.Height+f.paper(5*draw.MM)
	f.d.Add(draw.Rectangle(layerFrame, medium, draw.Hatch(45*draw.Degree, 900), pt(x-h, lo), pt(x+h, hi)))
	f.d.Add(&draw.Label{At: pt(x, hi), Texts: []string{f.short(f.Layout.Posts[post].Name)}, Where: []draw.Where{draw.Over, draw.OverRight, draw.OverLeft}, End: draw.Plain, Face: draw.Bold})
	if mark, ok := f.marks[markAt{post, run}]; ok {
		f.d.Add(&draw.Label{At: pt(x, lo), Texts: []string{f.say("setout.draw-mark-above", f.taken("height", mark))}, Where: []draw.Where{draw.Under, draw.UnderRight, draw.UnderLeft}, End: draw.Plain})
	}
}

// ground draws the finished floor from post to post.
func (f *frontPlot) ground() {
	over := f.paper(5 * draw.MM)
	var pts []draw.Point
	for i, run := range f.runs {
		r := &f.Layout.Runs[run]
		a, z := f.axis(run), f.axis(run)+r.Centres
		if i == 0 {
			pts = append(pts, pt(a-over, f.floor(r.From, run)), pt(a, f.floor(r.From, run)))
		}
		pts = append(pts, pt(z, f.floor(r.To, run)))
		if i == len(f.runs)-1 {
			pts = append(pts, pt(z+over, f.floor(r.To, run)))
		}
	}
	f.d.Add(&draw.Line{Layer: layerGround, Pen: extra, Points: pts, Keep: true})
}

// datum draws the level line that all boards start at.
func (f *frontPlot) datum() {
	first, last := f.runs[0], f.runs[len(f.runs)-1]
	z, over := f.Layout.Runs[first].Datum, f.paper(6*draw.MM)
	end := f.axis(last) + f.Layout.Runs[last].Centres + over
	f.d.Add(draw.NewLine(layerDatum, axis, pt(f.axis(first)-over, z), pt(end, z)),
		&draw.Label{At: pt(end, z), Texts: []string{f.say("views.datum")}, Where: []draw.Where{draw.OverRight, draw.ToRight}, End: draw.Plain})
}

// opening dimensions an opening: at the heights it was read at, from what the tape
// touched, or once as drawn.
func (f *frontPlot) opening(run int) {
	r := &f.Layout.Runs[run]
	x := f.axis(run)
	left, right := x+f.Layout.Seen(r.From, run)/2, x+r.Centres-f.Layout.Seen(r.To, run)/2
	at := func(share measure.Length) measure.Length { return r.Datum + r.Zone*share/100 }
	var m *job.Measurement
	if r.Measured {
		for i := range f.Job.Measurements {
			if f.Job.Measurements[i].Bay == r.Name {
				m = &f.Job.Measurements[i]
			}
		}
	}
	if m == nil {
		f.across(left, right, at(50), f.say("setout.draw-drawn", name("length", f.span(right-left))))
		return
	}
	if m.From != job.FromFaces {
		left, right = x+r.Ends[0].Reach, x+r.Centres-r.Ends[1].Reach
		for _, e := range [2]measure.Length{left, right} {
			f.d.Add(draw.NewLine(layerFrame, light, pt(e, r.Datum), pt(e, r.Datum+r.Zone)))
		}
	}
	for i, w := range m.Width.Readings() {
		f.across(left, right, at([]measure.Length{6, 50, 94}[min(i, 2)]), f.span(w))
	}
}

// across is a dimension over an opening at a height.
func (f *frontPlot) across(left, right, z measure.Length, text string) {
	f.d.Add(&draw.Dim{Points: []draw.Point{pt(left, z), pt(right, z)}, Side: draw.Along, Texts: []string{text}, Arrows: true})
}

// doorway draws where a doorway and its posts come.
func (f *frontPlot) doorway(run int) {
	r := &f.Layout.Runs[run]
	for i := range f.line.Marks {
		k := &f.line.Marks[i]
		if !f.in(run, k) {
			continue
		}
		switch k.What {
		case setout.MarkDoorwayLeft, setout.MarkDoorwayRight:
			f.d.Add(draw.NewLine(layerHidden, dashed, pt(k.From.Value, r.Datum), pt(k.From.Value, r.Height)))
		case setout.MarkDoorPost:
			f.d.Add(draw.NewLine(layerDatum, axis, pt(k.From.Value, f.floor(r.From, run)), pt(k.From.Value, r.Height+f.paper(2*draw.MM))))
		}
	}
	for _, v := range r.Bays {
		b := &f.Layout.Bays[v]
		x := f.axis(run) + r.Ends[0].Reach + b.Start + b.Clear/2
		if b.IsDoor() {
			f.d.Add(&draw.Label{At: pt(x, r.Datum+r.Zone*3/4), Texts: []string{b.Name}, Where: []draw.Where{draw.Centre}, End: draw.Plain})
		}
	}
}

// in says whether a mark lies in a run, its right post's face included.
func (f *frontPlot) in(run int, k *setout.Mark) bool {
	x, r := f.axis(run), &f.Layout.Runs[run]
	return k.From.Value > x && k.From.Value <= x+r.Centres
}

// list is the table of what stands where.
func (f *frontPlot) list() {
	rows := [][]string{{f.say("setout.col-what"), f.say("setout.col-of"), f.say("setout.col-along"), f.say("setout.draw-col-own")}}
	for i := range f.line.Marks {
		k := &f.line.Marks[i]
		for _, run := range f.runs {
			if !f.in(run, k) && !(run == f.runs[0] && k.What == setout.MarkPostRight && k.At == f.Layout.Posts[f.Layout.Runs[run].From].Name) {
				continue
			}
			own := ""
			if k.Own.Value != 0 {
				own = f.span(k.Own.Value)
			}
			rows = append(rows, []string{f.words.Say(k.What.Phrase()), f.short(k.At), f.span(k.From.Value), own})
			break
		}
	}
	// Under the front, in two halves side by side where there is room.
	x, low := f.axis(f.runs[0]), measure.Length(0)
	for _, run := range f.runs {
		low = min(low, f.floor(f.Layout.Runs[run].From, run), f.floor(f.Layout.Runs[run].To, run))
	}
	y := low - f.paper(12*draw.MM)
	const apart, room = 8 * draw.MM, 235 * draw.MM // of the narrower paper
	half := len(rows)/2 + 1
	left, right := rows[:half], append([][]string{rows[0]}, rows[half:]...)
	_, a := columnWidths(left)
	_, b := columnWidths(right)
	if len(rows) < 8 || a+apart+b > room {
		f.table(pt(x, y), rows)
		return
	}
	f.table(pt(x, y), left)
	f.table(pt(x+f.paper(a+apart), y), right)
}
