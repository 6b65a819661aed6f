package book

import (
	"context"
	"fmt"
	"time"

	"stallwright/engine/build"
	"stallwright/engine/phrase"
	"stallwright/paper/draw"
	"stallwright/paper/page"
)

// days is the work that is left, day by day: what is done when and by how many,
// how long it may wait, and lines to write on at the end of the day.
func (b *binder) days() error {
	d := b.o.Days
	if d == nil {
		var err error
		if d, err = b.Days(context.Background(), 0); err != nil {
			return err
		}
	}
	f := page.New(b.format)
	b.crew(f, d)
	at := map[int]*build.StepTime{}
	for i := range d.Steps {
		at[d.Steps[i].Step] = &d.Steps[i]
	}
	s := states{}
	var marks []mark
	for i := range d.Sheets {
		v := &d.Sheets[i]
		title := b.say("build.days-day", phrase.With("day", phrase.Count(v.Day+1)))
		if v.Date != "" {
			title = b.say("build.days-date", phrase.With("day", phrase.Count(v.Day+1)), name("date", v.Date))
		}
		// Below the day before where there is room for all of it, else on a page of
		// its own: large where that holds it so.
		from := 0
		large := func() { from = b.daySheet(f, v, at, title, page.Large, 8*draw.MM) }
		small := func() { from = b.daySheet(f, v, at, title, page.Body, 6500) }
		if !f.Try(large) && !f.Try(small) {
			f.Break()
			if !f.Try(large) {
				small()
			}
		}
		marks = append(marks, mark{title, from})
		for _, t := range v.Tasks {
			s.note(from, f.Page(), b.stateOfStep(&b.Build.Steps[t.Step]))
		}
	}
	b.add(Days, f, s, marks...)
	return nil
}

// crew tells who works when, how long the whole takes, and how much less it could.
func (b *binder) crew(f *page.Flow, d *build.Days) {
	crew := "build.days-crew-assumed"
	if d.Stated {
		crew = "build.days-crew"
	}
	lines := []string{
		b.say(crew, count("n", d.People)),
		b.say("build.days-hours", name("from", clock(int64(d.Hours.From))), name("to", clock(int64(d.Hours.To))), phrase.With("breaks", phrase.Time(d.Hours.Break))),
		b.say("build.days-length", phrase.With("time", phrase.Time(d.Minutes)), count("n", len(d.Sheets))),
	}
	if d.Proven {
		lines = append(lines, b.say("build.days-proven"))
	} else {
		lines = append(lines, b.say("build.days-bound", phrase.With("time", phrase.Time(d.Bound))))
	}
	for _, l := range append(lines, b.say("build.days-network", phrase.With("time", phrase.Time(d.Network)))) {
		f.Text(l, page.Style{Size: page.Large})
	}
}

// daySheet is one day's work, with a box to tick for each line. It returns the page
// that the day begins on.
func (b *binder) daySheet(f *page.Flow, v *build.Sheet, at map[int]*build.StepTime, title string, text, tall draw.Micron) int {
	f.Heading(title, page.Title1, 40*draw.MM)
	from := f.Page()
	t := page.Table{Size: text, Tall: tall, Columns: []page.Column{
		{Width: 8 * draw.MM}, {Head: b.say("build.days-when")}, {Head: b.say("build.days-step"), Wide: true},
		{Head: b.say("build.days-people"), Align: draw.End}, {Head: b.say("build.days-slack"), Align: draw.End},
	}}
	for _, k := range v.Tasks {
		step, when := &b.Build.Steps[k.Step], at[k.Step]
		title := fmt.Sprintf("%d  %s", step.No, b.words.Say(step.Title))
		if k.Goes {
			title += " (" + b.say("build.days-goes-on") + ")"
		}
		slack := b.words.Time(when.Slack)
		if when.Slack == 0 {
			slack = b.say("build.days-none")
		}
		t.Rows = append(t.Rows, page.Row{Cells: []page.Cell{{Tick: true}, {Text: clock(k.From) + "–" + clock(k.To)}, {Text: title}, {Text: number(when.People)}, {Text: slack}}})
	}
	f.Table(t)
	f.Keep(func() {
		f.Heading(b.say("book.notes"), page.Title2, 25*draw.MM)
		f.Lines(2)
		f.Signature(b.say("book.sign-lead"), b.say("book.sign-date"))
	})
	return from
}

// clock is minutes after midnight as a clock shows them.
func clock(minutes int64) string {
	return time.Time{}.Add(time.Duration(minutes) * time.Minute).Format("15:04")
}
