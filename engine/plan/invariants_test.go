package plan_test

import (
	"stallwright/engine/build/buildtest"
	"stallwright/engine/cut"
	"stallwright/engine/finding"
	"stallwright/engine/fit"
	"stallwright/engine/job"
	"stallwright/engine/kit"
	"stallwright/engine/measure"
	"stallwright/engine/plan"
	"stallwright/engine/takeoff"
)

// failer is what testing.TB and rapid.T have in common.
type failer interface {
	Helper()
	Errorf(format string, args ...any)
}

// verify checks what must hold of every plan, whatever the job.
func verify(t failer, p *plan.Plan) {
	t.Helper()
	told := map[string]map[finding.Code]bool{}
	for _, f := range p.Findings {
		if told[f.Place] == nil {
			told[f.Place] = map[finding.Code]bool{}
		}
		told[f.Place][f.Code] = true
		if f.Code == "" || f.Place == "" || f.Message == "" {
			t.Errorf("a finding without code, place or message: %+v", f)
		}
	}
	for i := 1; i < len(p.Findings); i++ {
		if p.Findings[i].Severity > p.Findings[i-1].Severity {
			t.Errorf("findings are not sorted by severity")
		}
	}
	labels := map[string]bool{}
	for i := range p.Fit.Pieces {
		v := &p.Fit.Pieces[i]
		if labels[v.Label] {
			t.Errorf("two pieces are labelled %s", v.Label)
		}
		labels[v.Label] = true
		if v.Why == nil || v.Why.What.Empty() || len(v.Why.Chain()) == 0 {
			t.Errorf("%s has no reason", v.Label)
		}
		if v.Length <= 0 && v.Kind != fit.Door && v.Kind != fit.Post {
			t.Errorf("%s is %v long", v.Label, v.Length)
		}
	}
	for i := range p.Fit.Bays {
		verifyBay(t, p, i, told[p.Layout.Bays[i].Name])
	}
	verifySums(t, p)
	buildtest.Verify(t, p.Stages(), p.Build)
}

// verifyBay checks boards, courses and stack of one bay.
func verifyBay(t failer, p *plan.Plan, i int, told map[finding.Code]bool) {
	t.Helper()
	b, out := &p.Layout.Bays[i], &p.Fit.Bays[i]
	if len(b.Name) == 0 || b.Clear <= 0 || out.Clear <= 0 {
		t.Errorf("bay %d %q: drawn %v, fitted %v", i, b.Name, b.Clear, out.Clear)
	}
	switch {
	case b.IsDoor():
		verifyDoor(t, p, i, told)
		return
	case b.IsOpen():
		if len(out.Pieces) > 0 {
			t.Errorf("%s is open but holds %d pieces", b.Name, len(out.Pieces))
		}
		return
	}
	board, play, mark := &p.Fit.Board, p.Kit.Board.EndPlay, p.Kit.Board.Mark
	zone := p.Layout.Runs[b.Run].Zone
	top := measure.Length(0)
	for k, c := range out.Courses {
		if c.No != k+1 || c.Z < top || c.Height <= 0 || c.Height > board.Coverage {
			t.Errorf("%s course %d: at %v over %v, %v high", b.Name, c.No, c.Z, top, c.Height)
		}
		top = c.Z + c.Height
		last := measure.Length(0)
		room := out.Clear - play
		if h := holdOf(out, c.No); h != nil {
			// As wide as its wider edge, and the middle reading if that lies between.
			room = max(h.Clear[0], h.Clear[1]) - play
			if least := min(h.Hold[0], h.Hold[1]); least < p.Kit.Board.Engage && !told[finding.Taper] && !told[finding.LittleHold] {
				t.Errorf("%s course %d: held by %v and nothing says so", b.Name, c.No, least)
			}
		}
		for _, n := range c.Pieces {
			v := &p.Fit.Pieces[n]
			if v.X < last || v.X+v.Length > out.Widest || v.Z != c.Z || v.Length%mark != 0 || v.Length > room {
				t.Errorf("%s: %v long at %v in a clear width of %v (end play %v)", v.Label, v.Length, v.X, out.Clear, play)
			}
			last = v.X + v.Length
			if want := k < treatedCourses(p, i); v.Treated != want {
				t.Errorf("%s: treated %v, want %v", v.Label, v.Treated, want)
			}
			for _, cut := range v.Notches {
				if cut.X < 0 || cut.X+cut.Width > v.Length || cut.Depth <= 0 || cut.Depth >= board.Coverage {
					t.Errorf("%s: notch %+v outside a board %v long", v.Label, cut, v.Length)
				}
			}
		}
	}
	if out.Stack == nil {
		if !told[finding.LittleHold] && !told[finding.NoGrille] && !told[finding.WindowPlace] && !told[finding.FeederWidth] {
			t.Errorf("%s has no stack and nothing says why", b.Name)
		}
		return
	}
	s := out.Stack
	if s.Zone != zone || s.Top+s.Slack != s.Zone || s.Packing < 0 || (s.Packing > 0 && s.Packing > s.Slack) {
		t.Errorf("%s: stack %v + slack %v in zone %v, packing %v", b.Name, s.Top, s.Slack, zone, s.Packing)
	}
	if s.Packing > board.Coverage {
		t.Errorf("%s: a packing strip %v thick", b.Name, s.Packing)
	}
	if !told[finding.StackTooHigh] && (s.Slack < 0 || top > zone || (len(out.Courses) > 0 && top > s.Top)) {
		t.Errorf("%s: stack of %v (courses %v) in zone %v", b.Name, s.Top, top, zone)
	}
	if c := s.Clamp; c != nil && !told[finding.StackTooHigh] && !told[finding.StackShort] {
		if left := s.Slack - s.Packing; left < c.Least || left > c.Most-c.Reserve {
			t.Errorf("%s: %v left for a clamp that takes up %v to %v", b.Name, left, c.Least, c.Most-c.Reserve)
		}
	}
	for side, end := range b.Ends {
		if hold := end.Leg - (out.Clear - out.Board); out.Board > 0 && out.Hold[side] != hold {
			t.Errorf("%s: hold %v, want %v", b.Name, out.Hold[side], hold)
		}
		if !told[finding.LittleHold] && out.Hold[side] < p.Kit.Board.Engage {
			t.Errorf("%s: hold %v under %v and nothing says so", b.Name, out.Hold[side], p.Kit.Board.Engage)
		}
	}
	verifyInside(t, p, i)
}

// holdOf is how a course of a tapered bay is held.
func holdOf(b *fit.BayFit, course int) *fit.CourseHold {
	if b.Taper == nil {
		return nil
	}
	for k := range b.Taper.Courses {
		if h := &b.Taper.Courses[k]; h.Course == course {
			return h
		}
	}
	return nil
}

// verifyInside checks grille, window and feeder of a bay.
func verifyInside(t failer, p *plan.Plan, i int) {
	t.Helper()
	b, out := &p.Layout.Bays[i], &p.Fit.Bays[i]
	if g := out.Grille; g != nil {
		if g.Width+g.Trim[0]+g.Trim[1] != g.Made || g.Trim[0] < 0 || g.Trim[0] > g.Grille.Trim || g.Trim[1] < 0 || g.Trim[1] > g.Grille.Trim {
			t.Errorf("%s: grille %v of %v, trimmed %v (at most %v)", b.Name, g.Width, g.Made, g.Trim, g.Grille.Trim)
		}
		if g.X < out.Clear-out.Widest || g.X+g.Width > out.Widest || g.Gap[0] < 0 || g.Gap[1] < 0 {
			t.Errorf("%s: grille at %v, %v wide, gaps %v in %v", b.Name, g.X, g.Width, g.Gap, out.Clear)
		}
	}
	if w := out.Window; w != nil {
		left := out.Clear - w.X - w.Window.Width
		if w.X <= 0 || left <= 0 || w.Boards[0] > w.X-p.Kit.Board.EndPlay || w.Boards[1] > left-p.Kit.Board.EndPlay {
			t.Errorf("%s: window at %v leaves %v, boards %v", b.Name, w.X, left, w.Boards)
		}
		if cover := measure.Length(w.CutCourses) * p.Fit.Board.Coverage; w.NotchTop != 0 && cover+w.NotchTop != w.Window.Height {
			t.Errorf("%s: %d courses cut and a notch of %v make no window %v high", b.Name, w.CutCourses, w.NotchTop, w.Window.Height)
		}
	}
	if f := out.Feeder; f != nil {
		if f.X < 0 || f.X+f.Feeder.Width > out.Clear || f.Top != f.Z+f.Feeder.Height {
			t.Errorf("%s: feeder %+v in %v", b.Name, f, out.Clear)
		}
	}
}

func verifyDoor(t failer, p *plan.Plan, i int, told map[finding.Code]bool) {
	t.Helper()
	b, out := &p.Layout.Bays[i], &p.Fit.Bays[i]
	d := out.Door
	if d == nil || d.Door == nil || d.Above+d.Below != d.Boards || d.Leaves < 1 {
		t.Errorf("%s: door %+v", b.Name, d)
		return
	}
	boards := 0
	for _, n := range out.Pieces {
		v := &p.Fit.Pieces[n]
		if v.Kind != fit.Board {
			continue
		}
		boards++
		if most := d.Leaf - 2*d.Door.Leaf.Stile - p.Kit.Board.EndPlay; v.Length > most || v.Length%p.Kit.Board.Mark != 0 {
			t.Errorf("%s is %v long in a leaf that takes %v", v.Label, v.Length, most)
		}
	}
	if boards != d.Boards*d.Leaves {
		t.Errorf("%s: %d boards in %d leaves of %d", b.Name, boards, d.Leaves, d.Boards)
	}
	if d.Door.Kind != kit.Sliding || told[finding.DoorHeight] || told[finding.DoorLift] || told[finding.DoorGuide] {
		return
	}
	s := d.Door.Slide
	low, high := d.Gap+d.Fall[0], d.Gap+d.Fall[1] // gap over the floor here
	switch {
	case d.Stem < s.StemLeast || d.Stem > s.StemMost || d.Stem < d.Stems[0] || d.Stem > d.Stems[1]:
		t.Errorf("%s: stem %v outside %v", b.Name, d.Stem, d.Stems)
	case low < s.FloorFrom || high > s.FloorTo || high >= s.Guide:
		t.Errorf("%s: gap %v to %v, guide %v", b.Name, low, high, s.Guide)
	case d.Rise < 0 || d.Rise >= s.Keep:
		t.Errorf("%s: rise %v", b.Name, d.Rise)
	case d.Lap < s.Overlap && !told[finding.DoorLap]:
		t.Errorf("%s: lap %v", b.Name, d.Lap)
	}
	if d.Track == nil {
		t.Errorf("%s has no track", b.Name)
		return
	}
	for _, leaf := range [][2]measure.Length{d.Track.Parked, d.Track.Closed} {
		if !told[finding.DoorPark] && (leaf[0] < d.Track.X[0] || leaf[1] > d.Track.X[1]) {
			t.Errorf("%s: leaf %v off its track %v", b.Name, leaf, d.Track.X)
		}
	}
	if d.Track.Closed[1]-d.Track.Closed[0] != d.Leaf || d.Track.Parked[1]-d.Track.Parked[0] != d.Leaf {
		t.Errorf("%s: leaf %v drawn as %v and %v", b.Name, d.Leaf, d.Track.Closed, d.Track.Parked)
	}
}

// treatedCourses reckons anew how many courses of a bay are treated.
func treatedCourses(p *plan.Plan, i int) int {
	b := &p.Layout.Bays[i]
	if b.Fill.Has("treated") {
		return b.Fill.Treated
	}
	n := 0
	facts := p.Layout.Facts(b.Run)
	for k := range p.Kit.Treated {
		if ok, err := p.Kit.Treated[k].When.Holds(&facts); err == nil && ok {
			n = max(n, p.Kit.Treated[k].Courses)
		}
	}
	return n
}

// verifySums adds the take-off up again, by other ways.
func verifySums(t failer, p *plan.Plan) {
	t.Helper()
	pieces, fitted := map[string]int{}, map[string]int{}
	for i := range p.Fit.Pieces {
		fitted[p.Fit.Pieces[i].Item]++
	}
	for i := range p.Takeoff.Needs {
		if n := &p.Takeoff.Needs[i]; n.Piece >= 0 {
			pieces[n.Item] += n.Count
		}
	}
	for item, n := range fitted {
		if pieces[item] != n {
			t.Errorf("%s: %d fitted, %d needed", item, n, pieces[item])
		}
	}
	bought := verifyCuts(t, p)
	var mass measure.Mass
	for i := range p.Takeoff.Lines {
		l := &p.Takeoff.Lines[i]
		mass += l.Mass
		places := 0
		for _, v := range l.Places {
			places += v.Count
		}
		if places != l.Count || l.Order != l.Buy+l.Spares || l.Spares < 0 || l.Count <= 0 || l.Mass < 0 {
			t.Errorf("line %s: %d counted, %d at places, %d bought, %d spare, %d ordered", l.Item, l.Count, places, l.Buy, l.Spares, l.Order)
		}
		key := boardKey{l.Item, l.Treated, l.Length}
		if n, ok := bought[key]; ok && l.Class == takeoff.ClassLumber && int64(l.Buy) != n {
			t.Errorf("%d boards of %v to buy, %d cut", l.Buy, l.Length, n)
		}
	}
	if mass != p.Takeoff.Mass {
		t.Errorf("mass %v, lines add up to %v", p.Takeoff.Mass, mass)
	}
}

type boardKey struct {
	item    string
	treated bool
	length  measure.Length
}

// verifyCuts measures every board of the cut plans again: each holds its pieces
// and the kerfs between them, each piece that a sold length holds is cut just
// once, and nothing is taken that is not there. It gives the boards to buy.
func verifyCuts(t failer, p *plan.Plan) map[boardKey]int64 {
	t.Helper()
	bought := map[boardKey]int64{}
	done := make([]int64, len(p.Takeoff.Needs))
	saw := p.Job.Sawing()
	for i := range p.Takeoff.Cuts {
		v := &p.Takeoff.Cuts[i]
		for _, q := range v.Plan.Patterns {
			s := v.Problem.Stock[q.Stock]
			var sum measure.Length
			cuts := int64(-1)
			for _, x := range q.Pieces {
				n := v.Needs[x.Demand]
				done[n] += q.Times * x.Count
				cuts += x.Count
				sum += measure.Length(x.Count) * p.Takeoff.Needs[n].Length
			}
			if !s.Square {
				sum += 2 * saw.Trim
			}
			if sum += measure.Length(cuts) * saw.Kerf; sum > s.Length {
				t.Errorf("%s: pieces and kerfs of %v out of a board of %v", v.Item, sum, s.Length)
			}
			key := boardKey{v.Item, v.Treated, s.Length}
			if s.Price > 0 {
				bought[key] += q.Times
			} else {
				bought[key] += 0
			}
		}
		for _, u := range v.Plan.Used {
			if s := v.Problem.Stock[u.Stock]; s.Available != cut.Unlimited && u.Count > s.Available {
				t.Errorf("%s: %d boards of %v taken, %d to be had", v.Item, u.Count, s.Length, s.Available)
			}
		}
	}
	for i := range p.Takeoff.Needs {
		n := &p.Takeoff.Needs[i]
		if n.Class == takeoff.ClassLumber && fits(p.Job, n.Treated, n.Length+2*saw.Trim) && done[i] != int64(n.Count) {
			t.Errorf("%s: %d cut of %d", n.Place, done[i], n.Count)
		}
	}
	return bought
}

// fits reports whether some board sold is as long.
func fits(j *job.Job, treated bool, l measure.Length) bool {
	for _, v := range j.Lumber.Sold(treated) {
		if v >= l {
			return true
		}
	}
	return false
}
