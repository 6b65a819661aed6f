// Package takeoff counts what to order, pick, pack and carry. In go the kit,
// the layout and everything fitted to it; out come needs (what each place
// takes) and lines (the same things summed, with spares and masses). What
// always holds, and is checked here: every piece fitted is counted once, every
// course's boards are boards of the order, and the lines add up to the needs.
package takeoff

import (
	"fmt"
	"slices"
	"strings"

	"stallwright/engine/finding"
	"stallwright/engine/fit"
	"stallwright/engine/frame"
	"stallwright/engine/job"
	"stallwright/engine/kit"
	"stallwright/engine/measure"
	"stallwright/engine/phrase"
	"stallwright/engine/reason"
)

// Need is what one place takes of one item.
type Need struct {
	Item    string
	Name    string
	Class   kit.Class      // or ClassLumber
	Kind    string         // fasteners: bolt, lag, screw, pin, anchor
	Length  measure.Length // as cut, or as bought for fasteners; zero where it has none
	Treated bool
	Ripped  bool
	Count   int
	Mass    measure.Mass // of all of them
	Place   string       // bay, run or post
	Run     int          // -1 for posts
	Piece   int          // into fit.Result.Pieces; -1 for counted hardware
	Joint   int          // into frame.Layout.Joints, where it holds one together; else -1
	With    int          // the need that it comes with, into Result.Needs; -1 for none
	Why     *reason.Reason
}

// ClassLumber is the class of boards.
const ClassLumber kit.Class = "lumber"

// Line is one line of the order: one item of one length.
type Line struct {
	Item    string
	Name    string
	Class   kit.Class
	Length  measure.Length // as cut (steel, grilles), as bought (boards, fasteners)
	Treated bool
	Count   int          // pieces needed
	Buy     int          // of the bought length, for boards; else count
	Spares  int          // by the kit's rule
	Order   int          // buy and spares
	Mass    measure.Mass // of what is ordered
	Places  []Place
	Why     *reason.Reason
}

// Place is how many of a line go where.
type Place struct {
	Name  string
	Count int
}

// Result is the take-off.
type Result struct {
	Needs    []Need
	Lines    []Line
	Mass     measure.Mass // of the whole order
	Cuts     []Cut        // how boards and steel come out of what is bought
	Findings []finding.Finding
}

// counter works one job through.
type counter struct {
	job   *job.Job
	kit   *kit.Kit
	lay   *frame.Layout
	fit   *fit.Result
	out   *Result
	board measure.MassPerLength // per covered face of a full course
	sold  [2][]measure.Length   // board lengths the yard sells, shortest first; treated ones second
	long  tooLong               // the last board told to be too long
	joint int                   // the joint counted now; -1 for none
	made  []madePiece           // pieces that went through the saw already
	under int                   // the need that what is counted now comes with; -1 for none

	sketch bool // search little
}

// Make counts. An error means the sums do not agree: a fault of ours, never of
// the job.
func Make(j *job.Job, k *kit.Kit, l *frame.Layout, r *fit.Result) (*Result, error) {
	return count(j, k, l, r, false)
}

// Sketch counts as Make does, for a drawing board where every change asks anew: it
// searches little for the best cutting, and orders as drawn even where the job
// wants an order that is safe against the measuring.
func Sketch(j *job.Job, k *kit.Kit, l *frame.Layout, r *fit.Result) (*Result, error) {
	return count(j, k, l, r, true)
}

func count(j *job.Job, k *kit.Kit, l *frame.Layout, r *fit.Result, sketch bool) (*Result, error) {
	c := &counter{sketch: sketch, job: j, kit: k, lay: l, fit: r, out: &Result{}, sold: [2][]measure.Length{j.Lumber.Sold(false), j.Lumber.Sold(true)}, joint: -1, under: -1}
	if section, err := r.Board.Thickness.Times(r.Board.Coverage); err == nil {
		c.board = r.Board.Density.PerLength(section)
	}
	c.out.Needs = make([]Need, 0, len(r.Pieces)+3*len(l.Joints))
	c.pieces()
	c.joints()
	if err := c.saws(); err != nil {
		return nil, err
	}
	c.sum()
	c.untreated()
	if err := c.agree(); err != nil {
		return nil, err
	}
	finding.Sort(c.out.Findings)
	return c.out, nil
}

// lengths is the board lengths that the yard sells, shortest first; never none.
func (c *counter) lengths(treated bool) []measure.Length {
	if treated {
		return c.sold[1]
	}
	return c.sold[0]
}

// untreated says that treated boards are wanted of a yard that has none.
func (c *counter) untreated() {
	s := c.job.Lumber.Supply
	if s == nil || !s.Untreated {
		return
	}
	for i := range c.out.Lines {
		if l := &c.out.Lines[i]; l.Class == ClassLumber && l.Treated && len(l.Places) > 0 {
			c.find(finding.NoStock, l.Places[0].Name, fmt.Sprintf("treated boards are wanted, but %s lists none; they are counted in the lengths of the untreated ones", s.Yard), phrase.Of("way.other-yard", phrase.With("key", phrase.Name("lumber.yard"))), phrase.Of("way.treated-list"), phrase.Of("way.no-treated", phrase.With("key", phrase.Name("fill, treated: 0"))))
			c.say("found.none-treated", called("yard", s.Yard))
			return
		}
	}
}

func (c *counter) show(l measure.Length) string { return l.In(c.job.Units) }

func (c *counter) find(code finding.Code, place, message string, choices ...phrase.Phrase) {
	c.out.Findings = append(c.out.Findings, finding.Finding{Code: code, Severity: finding.Error, Place: place, Message: message, Choices: choices})
}

// place names where a piece goes.
func (c *counter) place(p *fit.Piece) string {
	switch {
	case p.Bay >= 0:
		return c.lay.Bays[p.Bay].Name
	case p.Run >= 0:
		return c.lay.Runs[p.Run].Name
	}
	return p.Label
}

// pieces counts every piece fitted, and what comes with it.
func (c *counter) pieces() {
	for i := range c.fit.Pieces {
		p := &c.fit.Pieces[i]
		n := Need{Item: p.Item, Length: p.Length, Treated: p.Treated, Ripped: p.Ripped, Count: 1, Place: c.place(p), Run: p.Run, Piece: i, Joint: -1, With: -1, Why: p.Why}
		if p.Item == fit.Lumber {
			n.Class, n.Name = ClassLumber, c.boardName()
			n.Mass = c.boardMass(p)
			c.out.Needs = append(c.out.Needs, n)
			if p.Kind == fit.Skirt && !p.Misfit {
				c.skirt(p, c.pieceFacts(p), n.Place)
			}
			continue
		}
		it, ok := c.kit.Item(p.Item)
		if !ok {
			continue
		}
		n.Name, n.Class, n.Kind, n.Mass = it.Name, it.Class, it.Kind, it.Mass
		if p.Made > 0 {
			n.Length = p.Made
		}
		if it.Mass == 0 {
			n.Mass = it.Per.Of(n.Length)
		}
		if longest := longestOf(it.Stock); p.Cut && p.Made == 0 && longest > 0 && p.Length > longest {
			c.find(finding.NoStock, n.Place, fmt.Sprintf("%s needs %s of %s, but the longest bought is %s", p.Label, c.show(p.Length), it.Name, c.show(longest)), phrase.Of("way.post-between"), phrase.Of("way.longer-stock"))
			c.say("found.piece-too-long", called("piece", p.Label), size("length", p.Length), phrase.With("item", c.kit.Called(it.ID, it.Name)), size("longest", longest))
		}
		if p.Kind == fit.Door || p.Kind == fit.Window || p.Kind == fit.Feeder {
			n.Length = 0 // made, not cut
		}
		if p.Kind == fit.Door && c.lay.Bays[p.Bay].Door.Kind == kit.TwoLeaf {
			n.Name += ", one leaf"
		}
		c.out.Needs = append(c.out.Needs, n)
		if p.Kind == fit.Door && c.fit.Bays[p.Bay].Door.Piece != i {
			continue // what comes with a door comes once, not with each leaf
		}
		c.with(it, c.pieceFacts(p), n.Place, p.Run, p.Why, 1)
	}
}

// longestOf is the longest of the lengths bought; zero for none stated.
func longestOf(stock []measure.Length) measure.Length {
	var l measure.Length
	for _, v := range stock {
		l = max(l, v)
	}
	return l
}

// boardName is what boards are called on lists: nominal inches, or their real
// section in millimetres.
func (c *counter) boardName() string {
	b := &c.fit.Board
	if c.job.Units == measure.Metric {
		return c.show(b.Thickness) + " x " + c.show(b.Coverage) + " tongue and groove"
	}
	return string(b.Nominal) + " tongue and groove"
}

// boardMass is a board's mass: its covered face, since each tongue fills the
// groove of the next.
func (c *counter) boardMass(p *fit.Piece) measure.Mass {
	m := c.board.Of(p.Length)
	if p.Height == c.fit.Board.Coverage {
		return m
	}
	v, ok := measure.MulDiv(int64(m), int64(p.Height), int64(c.fit.Board.Coverage), measure.Up)
	if !ok {
		return m
	}
	return measure.Mass(v)
}

// pieceFacts is what rules may know where a piece goes.
func (c *counter) pieceFacts(p *fit.Piece) kit.Facts {
	if p.Run < 0 {
		if post, ok := c.lay.Post(p.Label); ok {
			return c.postFacts(post)
		}
		return kit.Facts{}
	}
	f := c.runFacts(p.Run)
	if p.Bay >= 0 {
		c.bayFacts(&f, p.Bay)
	}
	return f
}

func (c *counter) runFacts(run int) kit.Facts {
	r := &c.lay.Runs[run]
	f := c.lay.Facts(run)
	f.Board = c.fit.Board.Thickness
	if t := c.kit.Tube(r.Assembly.Top); t != nil {
		f.Tube = t.Width
	}
	if b := c.kit.Bracket(r.Assembly.Bracket); b != nil {
		f.Plate = b.Plate
	}
	switch {
	case r.Channel != nil:
		f.Web = r.Channel.Web
	case r.EndPost != nil:
		f.Post = r.EndPost.Across
	default:
		if p := c.lay.Posts[r.From].Item; p != nil {
			f.Post = p.Across
		}
	}
	for _, b := range r.Bays {
		f.Courses = max(f.Courses, len(c.fit.Bays[b].Courses))
	}
	return f
}

func (c *counter) bayFacts(f *kit.Facts, bay int) {
	b, out := &c.lay.Bays[bay], &c.fit.Bays[bay]
	f.Clear, f.Courses, f.Fill, f.Door = out.Clear, len(out.Courses), string(b.Fill.Kind), b.IsDoor()
	if b.IsDoor() {
		f.Fill, f.Opening, f.Leaf = "door", out.Clear, b.Door.Leaf.Width
	}
}

func (c *counter) postFacts(post int) kit.Facts {
	p := &c.lay.Posts[post]
	s := &c.lay.Structures[p.Structure]
	f := kit.Facts{Structure: string(s.Kind), Height: s.Height, Post: p.Across, Board: c.fit.Board.Thickness}
	if p.Kind == frame.Joint {
		f.Wall = string(job.WallSection)
	}
	return f
}

// joints counts what holds the joints together.
func (c *counter) joints() {
	for i := range c.lay.Joints {
		j := &c.lay.Joints[i]
		f, place := c.jointFacts(j)
		c.joint = i
		if j.Kind == kit.JointBase {
			base := c.lay.Posts[j.Post].Base
			c.counted(base.ID, 1, kit.Rule{}, kit.Rule{}, f, place, j.Run, reason.Given(phrase.Of("why.base-of", phrase.With("place", phrase.Name(place))), c.kit.Called(base.ID, base.Name), phrase.Of("source.job-or-kit")))
		}
		c.jointRules(j.Kind, f, place, j.Run)
	}
}

// skirt counts what screws a skirt board on; it comes with the board.
func (c *counter) skirt(p *fit.Piece, f kit.Facts, place string) {
	under := c.under
	c.under = len(c.out.Needs) - 1
	c.jointRules(kit.JointSkirt, f, place, p.Run)
	c.under = under
}

// jointRules counts what the kit's rules want at one joint.
func (c *counter) jointRules(at kit.JointKind, f kit.Facts, place string, run int) {
	for k := range c.kit.Joints {
		rule := &c.kit.Joints[k]
		if rule.At != at {
			continue
		}
		ok, err := rule.When.Holds(&f)
		if err == nil && !ok {
			continue
		}
		var count int
		if err == nil {
			count, err = rule.Count.Count(&f)
		}
		if err != nil {
			c.find(finding.NoFastener, place, err.Error(), phrase.Of("way.mend-joint"))
			c.say("found.rule-fails", called("rule", "joints "+string(rule.At)))
			continue
		}
		if count > mostAtOne {
			c.tooMany(rule.Use, place)
			continue
		}
		src := c.kit.Line("joints "+string(rule.At), rule.Pos().Line)
		what := phrase.Of("why.at-joint", called("item", rule.Use), called("joint", string(rule.At)))
		if rule.Spot != "" {
			what = phrase.Of("why.at-joint-spot", called("item", rule.Use), called("joint", string(rule.At)), called("spot", rule.Spot))
		}
		c.counted(rule.Use, count, rule.Length, rule.Grip, f, place, run, reason.Of(what, phrase.Count(count), rule.Count.Say(), src))
	}
}

func (c *counter) jointFacts(j *frame.JointAt) (kit.Facts, string) {
	switch {
	case j.Bay >= 0:
		f := c.runFacts(j.Run)
		c.bayFacts(&f, j.Bay)
		return f, c.lay.Bays[j.Bay].Name
	case j.Run >= 0 && j.Post >= 0:
		f := c.runFacts(j.Run)
		if p := c.lay.Posts[j.Post].Item; p != nil {
			f.Post = p.Across
		}
		return f, c.lay.Runs[j.Run].Name
	case j.Run >= 0:
		return c.runFacts(j.Run), c.lay.Runs[j.Run].Name
	}
	return c.postFacts(j.Post), c.lay.Posts[j.Post].Name
}

// order of classes on lists.
var classOrder = []kit.Class{ClassLumber, kit.ClassPost, kit.ClassTube, kit.ClassChannel, kit.ClassBracket, kit.ClassGrille, kit.ClassDoor, kit.ClassWindow, kit.ClassFeeder, kit.ClassClamp, kit.ClassPart, kit.ClassBase, kit.ClassFastener}

// before orders lines as a yard reads them.
func before(a, b *Line) int {
	if d := slices.Index(classOrder, a.Class) - slices.Index(classOrder, b.Class); d != 0 {
		return d
	}
	if d := strings.Compare(a.Item, b.Item); d != 0 {
		return d
	}
	if a.Treated != b.Treated {
		if a.Treated {
			return -1
		}
		return 1
	}
	switch {
	case a.Length < b.Length:
		return -1
	case a.Length > b.Length:
		return 1
	}
	return 0
}
