package packet

import (
	"bytes"
	"encoding/json"

	"stallwright/engine/fit"
	"stallwright/engine/measure"
	"stallwright/engine/plan"
	"stallwright/engine/reason"
	"stallwright/paper/words"
)

// Format is the version of plan.json.
const Format = 1

// JSON writes a plan as plan.json.
func JSON(p *plan.Plan) ([]byte, error) {
	var buf bytes.Buffer
	enc := json.NewEncoder(&buf)
	enc.SetIndent("", "  ")
	enc.SetEscapeHTML(false)
	if err := enc.Encode(NewDocument(p)); err != nil {
		return nil, err
	}
	return buf.Bytes(), nil
}

// writer builds the document, numbering each reason once.
type writer struct {
	p     *plan.Plan
	doc   *Document
	known map[*reason.Reason]int
	words *words.Words // English, as all of plan.json
	brief bool         // an outline
}

func newWriter(p *plan.Plan) *writer {
	english, err := words.For(words.English, p.Job.Units)
	if err != nil {
		panic(err) // the shipped catalogue is held to being whole by its tests
	}
	return &writer{p: p, doc: &Document{Format: Format}, known: map[*reason.Reason]int{}, words: english}
}

// NewDocument is the plan as plan.json holds it.
func NewDocument(p *plan.Plan) *Document {
	w := newWriter(p)
	w.head()
	w.layout()
	w.bays()
	w.pieces()
	w.setout()
	w.takeoff()
	w.cuts()
	w.work()
	return w.doc
}

// Outline is what a screen shows of a plan beside its drawing: the document
// without pieces, courses, reasons, setting out, tickets and work. It takes a
// sketch, too, which has none of the last three.
func Outline(p *plan.Plan) *Document {
	w := newWriter(p)
	w.brief = true
	w.head()
	w.layout()
	w.bays()
	w.takeoff()
	w.cuts()
	return w.doc
}

func (w *writer) show(l measure.Length) string { return l.In(w.p.Job.Units) }

// why numbers a reason and everything it came from.
func (w *writer) why(r *reason.Reason) int {
	if r == nil || w.brief {
		return -1
	}
	if n, ok := w.known[r]; ok {
		return n
	}
	var from []int
	for _, f := range r.From {
		if n := w.why(f); n >= 0 {
			from = append(from, n)
		}
	}
	n := len(w.doc.Reasons)
	w.doc.Reasons = append(w.doc.Reasons, ReasonDoc{w.words.Say(r.What), w.words.Amount(r.Value), w.words.Say(r.Rule), w.words.Say(r.Source), from})
	w.known[r] = n
	return n
}

func (w *writer) head() {
	j, k, b := w.p.Job, w.p.Kit, w.p.Fit.Board
	w.doc.Job = JobDoc{
		Job: j.Job, Date: j.Date, Revision: j.Revision, Units: j.Units.String(), Farm: j.Farm.Name, Place: j.Farm.Place,
		Kit: k.Kit, KitVersion: k.Version,
	}
	w.doc.Board = BoardDoc{
		Nominal: string(b.Nominal), Thickness: w.show(b.Thickness), ThicknessNM: int64(b.Thickness),
		Coverage: w.show(b.Coverage), CoverageNM: int64(b.Coverage), Tongue: w.show(b.Tongue), TongueNM: int64(b.Tongue), Measured: b.Measured,
	}
	for i := range w.p.Findings {
		f := &w.p.Findings[i]
		w.doc.Findings = append(w.doc.Findings, FindingDoc{string(f.Code), f.Severity.String(), f.Place, f.Message, w.words.Choices(f), f.Source})
	}
}

func (w *writer) layout() {
	l, d := w.p.Layout, w.doc
	for i := range l.Structures {
		s := &l.Structures[i]
		sd := StructureDoc{Name: s.Name, Kind: string(s.Kind), Height: w.show(s.Height), HeightNM: int64(s.Height)}
		if r := s.Ring; r != nil {
			flats := r.Flats(w.p.Fit.Board.Thickness)
			sd.Ring = &RingDoc{PinCircle: w.show(r.PinCircle()), PinCircleNM: int64(r.PinCircle()), Flats: w.show(flats), FlatsNM: int64(flats)}
			for k := range r.Sections {
				sd.Ring.SectionsNM = append(sd.Ring.SectionsNM, int64(r.Sections[k]))
				sd.Ring.Sections = append(sd.Ring.Sections, w.show(r.Sections[k]))
				sd.Ring.Interior = append(sd.Ring.Interior, r.Interior[k].In(w.p.Job.Units))
			}
		}
		d.Structures = append(d.Structures, sd)
	}
	for i := range l.Posts {
		p := &l.Posts[i]
		pd := PostDoc{
			Name: p.Name, Structure: l.Structures[p.Structure].Name, Kind: string(p.Kind), X: w.show(p.At.X), XNM: int64(p.At.X),
			Y: w.show(p.At.Y), YNM: int64(p.At.Y), AlongNM: int64(p.Along), AcrossNM: int64(p.Across), Turn: p.Turn.String(), HeightNM: int64(p.Height),
		}
		if p.Item != nil {
			pd.Item = p.Item.ID
		}
		if p.Base != nil {
			pd.Base = p.Base.ID
		}
		d.Posts = append(d.Posts, pd)
	}
	for i := range l.Walls {
		wl := &l.Walls[i]
		wd := WallDoc{Name: wl.Name, Structure: l.Structures[wl.Structure].Name, Role: string(wl.Role)}
		for _, r := range wl.Runs {
			wd.Runs = append(wd.Runs, l.Runs[r].Name)
		}
		d.Walls = append(d.Walls, wd)
	}
	w.runs()
	for i := range l.Aisles {
		a := &l.Aisles[i]
		d.Aisles = append(d.Aisles, AisleDoc{a.Name, w.show(a.Width), int64(a.Width), w.show(a.Clear), int64(a.Clear), w.show(a.Length)})
	}
}

func (w *writer) runs() {
	l, d := w.p.Layout, w.doc
	for i := range l.Runs {
		r := &l.Runs[i]
		rd := RunDoc{
			Name: r.Name, Wall: l.Walls[r.Wall].Name, Role: string(r.Role), From: l.Posts[r.From].Name, To: l.Posts[r.To].Name,
			Assembly: r.Assembly.ID, Restraint: string(r.Assembly.Restraint), Framed: r.Framed(), Built: r.Filled(l),
			Centres: w.show(r.Centres), CentresNM: int64(r.Centres), Clear: w.show(r.Clear), ClearNM: int64(r.Clear),
			DatumNM: int64(r.Datum), DropNM: int64(r.Drop), ZoneNM: int64(r.Zone), State: string(w.p.Fit.Frames[i]), Reason: w.why(r.Why),
		}
		for _, b := range r.Bays {
			rd.Bays = append(rd.Bays, l.Bays[b].Name)
		}
		for _, p := range r.DoorPosts {
			rd.DoorPosts = append(rd.DoorPosts, l.Posts[p].Name)
		}
		d.Runs = append(d.Runs, rd)
	}
	for i := range l.Rooms {
		r := &l.Rooms[i]
		rd := RoomDoc{Name: r.Name, Kind: string(r.Kind), Width: w.show(r.Width), WidthNM: int64(r.Width), Depth: w.show(r.Depth), DepthNM: int64(r.Depth)}
		for _, c := range r.Corners {
			rd.Corners = append(rd.Corners, l.Posts[c].Name)
		}
		for _, run := range r.Runs {
			rd.Runs = append(rd.Runs, l.Runs[run].Name)
		}
		d.Rooms = append(d.Rooms, rd)
	}
}

func (w *writer) bays() {
	l := w.p.Layout
	crosses := map[int][]ObstructionDoc{}
	for i := range w.p.Fit.Obstructions {
		o := &w.p.Fit.Obstructions[i]
		crosses[o.Bay] = append(crosses[o.Bay], w.obstruction(o))
	}
	for i := range l.Bays {
		b, f := &l.Bays[i], &w.p.Fit.Bays[i]
		bd := BayDoc{
			Name: b.Name, Run: l.Runs[b.Run].Name, Fill: string(b.Fill.Kind), State: string(f.State), Clear: w.show(f.Clear), ClearNM: int64(f.Clear),
			DrawnNM: int64(b.Clear), BoardNM: int64(f.Board), HoldLeftNM: int64(f.Hold[0]), HoldRightNM: int64(f.Hold[1]), Reason: w.why(f.WhyClear),
		}
		if b.IsDoor() {
			bd.Fill = "door"
		}
		if b.Room >= 0 {
			bd.Room = l.Rooms[b.Room].Name
		}
		if f.Board > 0 {
			bd.Board = w.show(f.Board)
		}
		for k := range f.Courses {
			if w.brief {
				break
			}
			c := &f.Courses[k]
			cd := CourseDoc{No: c.No, Kind: c.Kind, ZNM: int64(c.Z), HeightNM: int64(c.Height)}
			for _, p := range c.Pieces {
				cd.Pieces = append(cd.Pieces, w.p.Fit.Pieces[p].Label)
			}
			bd.Courses = append(bd.Courses, cd)
		}
		bd.Obstacles = crosses[i]
		w.tapers(&bd, f)
		w.fills(&bd, f)
		w.doc.Bays = append(w.doc.Bays, bd)
	}
}

func (w *writer) fills(bd *BayDoc, f *fit.BayFit) {
	if s := f.Stack; s != nil {
		bd.Stack = &StackDoc{Zone: w.show(s.Zone), ZoneNM: int64(s.Zone), Top: w.show(s.Top), TopNM: int64(s.Top), Slack: w.show(s.Slack), SlackNM: int64(s.Slack), PackingNM: int64(s.Packing), Reason: w.why(s.Why)}
		if s.Packing > 0 {
			bd.Stack.Packing = w.show(s.Packing)
		}
		if s.Clamp != nil {
			bd.Stack.Clamp = s.Clamp.ID
		}
	}
	if g := f.Grille; g != nil {
		bd.Grille = &GrilleDoc{
			Item: g.Grille.ID, Made: w.show(g.Made), MadeNM: int64(g.Made), Width: w.show(g.Width), WidthNM: int64(g.Width),
			TrimLeft: w.show(g.Trim[0]), TrimLeftNM: int64(g.Trim[0]), TrimRight: w.show(g.Trim[1]), TrimRightNM: int64(g.Trim[1]),
			ZNM: int64(g.Z), CutEnds: g.Ends, Reason: w.why(g.Why),
		}
	}
	if v := f.Window; v != nil {
		bd.Window = &WindowDoc{
			Item: v.Window.ID, XNM: int64(v.X), SillNM: int64(v.Sill), HeadNM: int64(v.Head), CutCourses: v.CutCourses,
			Left: w.show(v.Boards[0]), LeftNM: int64(v.Boards[0]), Right: w.show(v.Boards[1]), RightNM: int64(v.Boards[1]),
			NotchBottomNM: int64(v.NotchBottom), NotchTopNM: int64(v.NotchTop),
		}
	}
	if v := f.Feeder; v != nil {
		hand := "right"
		if v.Left {
			hand = "left"
		}
		bd.Feeder = &FeederDoc{v.Feeder.ID, hand, int64(v.Z), int64(v.Top), int64(v.Level), w.show(v.Short), int64(v.Short), v.Shorts}
	}
	if v := f.Door; v != nil {
		bd.Door = w.door(v)
	}
}

func (w *writer) door(v *fit.DoorFit) *DoorDoc {
	d := &DoorDoc{
		Item: v.Door.ID, Kind: string(v.Door.Kind), Leaves: v.Leaves, Leaf: w.show(v.Leaf), LeafNM: int64(v.Leaf), LapNM: int64(v.Lap),
		Gap: w.show(v.Gap), GapNM: int64(v.Gap), GapFromNM: int64(v.GapFrom), GapToNM: int64(v.GapTo), StemNM: int64(v.Stem),
		StemFromNM: int64(v.Stems[0]), StemToNM: int64(v.Stems[1]), RiseNM: int64(v.Rise), LatchNM: int64(v.Latch),
		Boards: v.Boards, FromAbove: v.Above, FromBelow: v.Below, Reason: w.why(v.Why),
	}
	if t := v.Track; t != nil {
		d.Track = &TrackDoc{w.show(t.Length), int64(t.Length), int64(t.X[0]), int64(t.X[1]), string(t.Hand), int64(t.Parked[0]), int64(t.Parked[1])}
	}
	return d
}

func (w *writer) pieces() {
	l := w.p.Layout
	for i := range w.p.Fit.Pieces {
		p := &w.p.Fit.Pieces[i]
		d := PieceDoc{
			Label: p.Label, Kind: string(p.Kind), Item: p.Item, Place: w.p.Place(p), Course: p.Course, Length: w.show(p.Length), LengthNM: int64(p.Length),
			MadeNM: int64(p.Made), HeightNM: int64(p.Height), XNM: int64(p.X), ZNM: int64(p.Z), Cut: p.Cut, Treated: p.Treated, Ripped: p.Ripped,
			Fasten: p.Fasten, Below: p.Below, State: string(p.State), Misfit: p.Misfit, Reason: w.why(p.Why),
		}
		for _, n := range p.Notches {
			d.Notches = append(d.Notches, NotchDoc{n.Edge, int64(n.X), int64(n.Width), int64(n.Depth), int64(n.High), n.Why})
		}
		w.doc.Pieces = append(w.doc.Pieces, d)
	}
	for i := range w.p.Fit.Marks {
		m := &w.p.Fit.Marks[i]
		d := MarkDoc{Post: l.Posts[m.Post].Name, Height: w.show(m.Height), HeightNM: int64(m.Height), Reason: w.why(m.Why)}
		for _, r := range m.Runs {
			d.Runs = append(d.Runs, l.Runs[r].Name)
		}
		w.doc.Marks = append(w.doc.Marks, d)
	}
}

func (w *writer) takeoff() {
	t := w.p.Takeoff
	w.doc.Mass, w.doc.MassUG = w.p.ShowMass(t.Mass), int64(t.Mass)
	for i := range t.Lines {
		l := &t.Lines[i]
		d := TakeoffDoc{
			Item: l.Item, Name: l.Name, Class: string(l.Class), LengthNM: int64(l.Length), Treated: l.Treated, Count: l.Count, Buy: l.Buy,
			Spares: l.Spares, Order: l.Order, Mass: w.p.ShowMass(l.Mass), MassUG: int64(l.Mass), Reason: w.why(l.Why),
		}
		if l.Length > 0 {
			d.Length = w.show(l.Length)
		}
		for _, p := range l.Places {
			if w.brief {
				break
			}
			d.Places = append(d.Places, PlaceDoc{p.Name, p.Count})
		}
		w.doc.Takeoff = append(w.doc.Takeoff, d)
	}
}
