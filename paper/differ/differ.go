// Package differ tells what changed from one plan to another, and why. In go two
// documents as plan.json holds them (packet.Document), so that a job planned a
// moment ago and a plan.json kept for a year meet in one form; out comes a Diff:
// everything that came, went or changed, each with its causes, to be printed as
// text for a phone or as JSON.
//
// What always holds: nothing that differs is left out; the Diff of a document
// with itself is empty; lengths are compared and shown by their exact values,
// never by the texts beside them; the same two documents give the same bytes.
//
// Places are matched before they are compared: a wall between the same two posts
// is the same wall, whatever it is called now, since that is where the boards
// hang. A line number or file name that moved in a job is no change.
package differ

import (
	"stallwright/engine/job"
	"stallwright/engine/measure"
	"stallwright/engine/plan"
	"stallwright/paper/packet"
)

// Format is the version of the JSON a Diff is written as.
const Format = 1

// Diff is what changed from one plan to another. Lists follow the new plan's
// order, what is gone after it in the old plan's. Causes are numbers of entries
// in Causes.
type Diff struct {
	Format     int       `json:"format"`
	Old        Head      `json:"old"`
	New        Head      `json:"new"`
	Causes     []Cause   `json:"causes"`
	Job        []Value   `json:"job"` // of the job's head and its boards
	Structures []Part    `json:"structures"`
	Posts      []Part    `json:"posts"`
	Walls      []Part    `json:"walls"`
	Runs       []Part    `json:"runs"`
	Rooms      []Part    `json:"rooms"`
	Aisles     []Part    `json:"aisles"`
	Bays       []Part    `json:"bays"`
	Pieces     []Piece   `json:"pieces"`
	Use        []Use     `json:"use"` // how many pieces of each kind can be used, all pieces counted
	Marks      []Part    `json:"marks"`
	Setout     []Part    `json:"setout"` // by structure
	Order      []Line    `json:"order"`
	Cuts       []Part    `json:"cuts"`     // what is bought and cut, by item, treatment and whether sizes are final
	OldCost    int64     `json:"old_cost"` // of boards and bars, in hundredths, where lengths have prices
	NewCost    int64     `json:"new_cost"`
	Work       []Part    `json:"work"`        // operations, pages of steps, rules
	OldMinutes int64     `json:"old_minutes"` // of one person's work
	NewMinutes int64     `json:"new_minutes"`
	OldMassUG  int64     `json:"old_mass_ug"`
	NewMassUG  int64     `json:"new_mass_ug"`
	Findings   []Finding `json:"findings"`

	old, new *packet.Document
	names    *names
	units    measure.System

	otherBoards bool // the lumber is another
	otherKit    bool
}

// Head says which plan a side is.
type Head struct {
	Job      string `json:"job"`
	Revision int    `json:"revision"`
	Date     string `json:"date,omitempty"`
}

// Value is one thing that has another value now. Field is its path in plan.json
// below the thing it belongs to; What is that in words. An empty Old or New says
// that there was, or is, none. Exact values of lengths stand in nanometres.
type Value struct {
	Field string `json:"field"`
	What  string `json:"what"`
	Old   string `json:"old"`
	New   string `json:"new"`
	OldNM *int64 `json:"old_nm,omitempty"`
	NewNM *int64 `json:"new_nm,omitempty"`
}

// Part is a structure, post, wall, run, room, aisle, bay or mark that came, went
// or changed: without an Old name it is new, without a New one it is gone.
// Causes may stand without Values: the numbers are the same, but rest on
// something else.
type Part struct {
	Old    string  `json:"old,omitempty"`
	New    string  `json:"new,omitempty"`
	Values []Value `json:"values,omitempty"`
	Causes []int   `json:"causes,omitempty"`
}

// Name is what the part is called now, or was if it is gone.
func (p *Part) Name() string {
	if p.New != "" {
		return p.New
	}
	return p.Old
}

// Renamed says whether the part is there still, under another name.
func (p *Part) Renamed() bool { return p.Old != "" && p.New != "" && p.Old != p.New }

// How a piece that was made after the old plan serves the new one.
const (
	Keep   = "keep"  // as it is
	Recut  = "recut" // cut again from the old piece
	Again  = "again" // to be made anew
	Coming = "new"   // was in no plan before
	Gone   = "gone"  // in no plan now
)

// Piece is a piece that came, went or changed, and what can be done with the old
// one if it is made already. From names the old piece that serves where that is
// another one.
type Piece struct {
	Part
	Kind  string `json:"kind"`
	Place string `json:"place"`
	OldNM int64  `json:"old_nm,omitempty"`
	NewNM int64  `json:"new_nm,omitempty"`
	Use   string `json:"use"`
	From  string `json:"from,omitempty"`

	code         string
	oldAt, newAt int // into the documents' pieces; -1 for none
}

// Use counts the pieces of one kind by what can be done with the old ones.
type Use struct {
	Kind  string `json:"kind"`
	Keep  int    `json:"keep"`
	Recut int    `json:"recut"`
	Again int    `json:"again"`
	New   int    `json:"new"`
	Gone  int    `json:"gone"`
	Other int    `json:"from_elsewhere"` // of those again or new
}

// Line is a line of the order that came, went or changed. A line is known by
// item, length and treatment.
type Line struct {
	Item      string  `json:"item"`
	Name      string  `json:"name"`
	LengthNM  int64   `json:"length_nm,omitempty"`
	Treated   bool    `json:"treated,omitempty"`
	OldOrder  int     `json:"old_order"`
	NewOrder  int     `json:"new_order"`
	OldCount  int     `json:"old_count"`
	NewCount  int     `json:"new_count"`
	OldMassUG int64   `json:"old_mass_ug"`
	NewMassUG int64   `json:"new_mass_ug"`
	Values    []Value `json:"values,omitempty"` // anything else
	Places    []Place `json:"places,omitempty"`
	Causes    []int   `json:"causes,omitempty"`
}

// Place is a place, by its new name, that takes another number now.
type Place struct {
	Name string `json:"name"`
	Old  int    `json:"old"`
	New  int    `json:"new"`
}

// Finding is one that came or went. Change is new or gone.
type Finding struct {
	Change   string   `json:"change"`
	Code     string   `json:"code"`
	Severity string   `json:"severity"`
	Place    string   `json:"place"`
	Message  string   `json:"message"`
	Choices  []string `json:"choices,omitempty"`
	Source   string   `json:"source,omitempty"`
}

// Empty says whether nothing changed.
func (d *Diff) Empty() bool {
	return len(d.Causes) == 0 && len(d.Job) == 0 && len(d.Structures) == 0 && len(d.Posts) == 0 && len(d.Walls) == 0 && len(d.Runs) == 0 &&
		len(d.Rooms) == 0 && len(d.Aisles) == 0 && len(d.Bays) == 0 && len(d.Pieces) == 0 && len(d.Marks) == 0 && len(d.Order) == 0 && len(d.Findings) == 0 &&
		len(d.Setout) == 0 && len(d.Cuts) == 0 && len(d.Work) == 0 && d.OldCost == d.NewCost && d.OldMinutes == d.NewMinutes && d.OldMassUG == d.NewMassUG
}

// comparer compares two documents.
type comparer struct {
	old, new *packet.Document
	d        *Diff
	m        *matches
	at       map[string][]int // causes by the new name of the place they act on
	cameWith map[string][]int // causes of rooms that came, by their runs and posts; likewise went
	wentWith map[string][]int
	boards   []int          // causes that lie with the boards themselves
	fronts   map[string]int // the cause that a run is divided otherwise, by its new name
	oldPiece map[string]int // by label
	newPiece map[string]int
	bayRun   map[string]string // new bays' runs
	*causes
}

// Compare tells what changed from one document to another. Both are as packet
// writes or reads them; neither is changed.
func Compare(old, new *packet.Document) *Diff {
	c := &comparer{old: old, new: new, m: match(old, new), at: map[string][]int{}, fronts: map[string]int{}, oldPiece: byLabel(old), newPiece: byLabel(new)}
	c.bayRun = map[string]string{}
	for i := range new.Bays {
		c.bayRun[new.Bays[i].Name] = new.Bays[i].Run
	}
	c.d = &Diff{
		Format: Format, Old: head(old), New: head(new), OldMassUG: old.MassUG, NewMassUG: new.MassUG,
		old: old, new: new, names: c.m.names,
	}
	if s, err := measure.ParseSystem(new.Job.Units); err == nil {
		c.d.units = s
	}
	c.causes = newCauses(old, new, c.m.names)
	c.job()
	c.layout()
	c.bays()
	c.d.otherBoards, c.d.otherKit = c.otherSection(), old.Job.Kit != new.Job.Kit
	c.pieces()
	c.marks()
	c.setout()
	c.order()
	c.cuts()
	c.work()
	c.findings()
	c.d.Causes = c.causes.list
	c.d.prune()
	return c.d
}

func byLabel(d *packet.Document) map[string]int {
	at := make(map[string]int, len(d.Pieces))
	for i := range d.Pieces {
		at[d.Pieces[i].Label] = i
	}
	return at
}

func head(d *packet.Document) Head { return Head{d.Job.Job, d.Job.Revision, d.Job.Date} }

// show writes a length as the new plan's readers do.
func (d *Diff) show(nm int64) string { return measure.Length(nm).In(d.units) }

// mass writes a mass as plans do: rounded up.
func (d *Diff) mass(ug int64) string {
	p := plan.Plan{Job: &job.Job{Units: d.units}}
	return p.ShowMass(measure.Mass(ug))
}
