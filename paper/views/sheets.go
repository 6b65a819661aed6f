package views

import (
	"errors"
	"runtime"
	"slices"
	"sync"

	"stallwright/engine/measure"
	"stallwright/engine/plan"
	"stallwright/paper/draw"
)

// sheetPlan is a sheet that is still to be laid out: what it shows at a scale.
// Neighbours are the sheets on which a wall or a plan goes on, counted from
// this one; drawings ask for their numbers.
type sheetPlan struct {
	name    string // before it is made safe and unique
	title   string
	state   string
	caption string
	notes   []string
	north   *draw.Angle
	room    draw.Micron
	wide    measure.Length // what is drawn is at least this wide
	tall    measure.Length // and this tall
	scales  []draw.Scale   // to try in turn
	drawing func(s draw.Scale, number int) *draw.Drawing
}

// page is the page of a sheet.
func (s *sheetPlan) page(p *plan.Plan, o Options) draw.Page {
	return draw.Page{
		Size: o.paper(p.Job.Units), Landscape: true, System: p.Job.Units, Notes: s.notes, Wording: wording(o.Words),
		Block: draw.TitleBlock{
			Job: jobLine(p), Title: s.title, Date: p.Job.Date, Revision: revision(p), State: s.state,
		},
	}
}

func (s *sheetPlan) view(at draw.Scale, number int) draw.View {
	return draw.View{Drawing: s.drawing(at, number), Caption: s.caption, Scale: at, North: s.north, Room: s.room}
}

// scale is the first scale at which the sheet's geometry and dimensions fit the
// page; ok is false where none does.
func (s *sheetPlan) scale(p *plan.Plan, o Options) (draw.Scale, bool) {
	for _, at := range s.possible(o.paper(p.Job.Units)) {
		v := s.view(at, 1)
		v.Drawing = bare(v.Drawing)
		if _, err := draw.Lay(s.page(p, o), v); err == nil {
			return at, true
		}
	}
	return draw.Scale{}, false
}

// possible are the scales at which what is drawn could fit the paper, its
// margins, title block and caption left out.
func (s *sheetPlan) possible(size draw.PaperSize) []draw.Scale {
	const beside, under = 45 * draw.MM, 60 * draw.MM
	i := 0
	for i < len(s.scales)-1 && (s.scales[i].Paper(s.wide) > size.Height-beside || s.scales[i].Paper(s.tall) > size.Width-under) {
		i++
	}
	return slices.Clone(s.scales[i:])
}

// clear says whether the sheet can be laid out at one of its scales with every
// text where it belongs, none of them in a key.
func (s *sheetPlan) clear(p *plan.Plan, o Options) bool {
	at, ok := s.scale(p, o)
	if !ok {
		return false
	}
	sheet, err := draw.Lay(s.page(p, o), s.view(at, 1))
	return err == nil && len(sheet.Key) == 0
}

// bare is a drawing without its texts, which take the most time to place.
func bare(d *draw.Drawing) *draw.Drawing {
	out := draw.NewDrawing()
	for _, it := range d.Items() {
		switch it := it.(type) {
		case *draw.Label:
			out.Add(space(it.At.X, it.At.Y))
		case *draw.Note:
			out.Add(space(it.At.X, it.At.Y))
		default:
			out.Add(it)
		}
	}
	return out
}

// lay plans the sheets and makes them, several at a time. Which one is done first
// changes nothing in any of them.
func lay(p *plan.Plan, o Options, of ...func(*tables, Options) []sheetPlan) ([]Sheet, error) {
	w, err := o.words(p.Job.Units)
	if err != nil {
		return nil, err
	}
	o.Words = w
	t := newTables(p, w)
	var plans []sheetPlan
	for _, sheets := range of {
		plans = append(plans, sheets(t, o)...)
	}
	return layAll(p, o, plans)
}

// layAll lays planned sheets out.
func layAll(p *plan.Plan, o Options, plans []sheetPlan) ([]Sheet, error) {
	first := max(o.First, 1)
	of := o.Of
	if of == 0 {
		of = first - 1 + len(plans)
	}
	names := fileNames(plans)
	out := make([]Sheet, len(plans))
	errs := make([]error, len(plans))
	var wait sync.WaitGroup
	next := make(chan int)
	for range min(runtime.GOMAXPROCS(0), len(plans)) {
		wait.Go(func() {
			for i := range next {
				s, err := plans[i].lay(p, o, first+i, of)
				out[i], errs[i] = Sheet{Name: names[i], Title: plans[i].title, Sheet: s}, err
			}
		})
	}
	for i := range plans {
		next <- i
	}
	close(next)
	wait.Wait()
	for i, err := range errs {
		if err != nil {
			return nil, sheetError(plans[i].title, err)
		}
	}
	return out, nil
}

// lay makes one sheet, at the first of its scales at which everything finds
// room.
func (s *sheetPlan) lay(p *plan.Plan, o Options, number, of int) (*draw.Sheet, error) {
	page := s.page(p, o)
	page.Block.Number, page.Block.Of = number, of
	var err error
	for _, at := range append(s.possible(page.Size), s.coarser(p.Job.Units)...) {
		var sheet *draw.Sheet
		if sheet, err = draw.Lay(page, s.view(at, number)); err == nil {
			return sheet, nil
		}
	}
	if err == nil {
		err = errors.New("no scale was given")
	}
	return nil, err
}

// coarser are the scales tried when a key to balloons, which is only known once
// all texts are placed, leaves too little room at the ones chosen.
func (s *sheetPlan) coarser(sys measure.System) []draw.Scale {
	last := s.scales[len(s.scales)-1].Ratio
	return scalesBetween(sys, last+1, 3*last)
}

// scalesBetween lists the standard scales from one ratio to another, largest
// picture first, and then whatever it takes.
func scalesBetween(sys measure.System, finest, coarsest int64) []draw.Scale {
	all := draw.Scales(sys)
	for _, more := range []int64{2000, 5000, 10_000, 20_000} {
		all = append(all, draw.ScaleOf(more, sys))
	}
	var out []draw.Scale
	for _, s := range all {
		if s.Ratio >= finest && (coarsest == 0 || s.Ratio <= coarsest) {
			out = append(out, s)
		}
	}
	return out
}
