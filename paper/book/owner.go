package book

import (
	"stallwright/engine/frame"
	"stallwright/engine/kit"
	"stallwright/paper/draw"
	"stallwright/paper/page"
)

// duty is one thing that the owner does, and the source of the advice: none means
// common practice, no published source.
type duty struct {
	key    string
	source string
}

// owner is what was built, and what to retighten and inspect, when. Only what the
// job holds is on it.
func (b *binder) owner() error {
	f := page.New(b.format)
	f.Text(b.say("book.owner-how"), page.Style{Size: page.Large})
	has := b.holds()
	for _, when := range [...]struct {
		key    string
		duties []duty
		needs  []string // of each duty: what the job must hold; empty for always
	}{
		{"book.when-handover", []duty{{"book.do-edges", ""}, {"book.do-boards", ""}, {"book.do-latches", sourceHorses}, {"book.do-floor", ""}, {"book.do-leaf", ""}}, []string{"", "", "door", "", "sliding"}},
		{"book.when-week", []duty{{"book.do-clamps", ""}, {"book.do-bolts", ""}, {"book.do-hang", ""}}, []string{"clamp", "", "door"}},
		{"book.when-month", []duty{{"book.do-clamps", ""}, {"book.do-pins", ""}, {"book.do-treated", "Zelinka & Rammer 2009"}}, []string{"clamp", "pen", "treated"}},
		{"book.when-season", []duty{{"book.do-shrink", "FPL-GTR-190, ch. 13"}, {"book.do-shrink-screwed", "FPL-GTR-190, ch. 13"}, {"book.do-lags", ""}, {"book.do-spread", ""}}, []string{"clamp", "screwed", "timber", ""}},
		{"book.when-year", []duty{{"book.do-zinc", "ASTM A780"}, {"book.do-rollers", ""}, {"book.do-bars", "Osman et al."}, {"book.do-posts", ""}, {"book.do-level", ""}, {"book.do-chewed", ""}}, []string{"", "sliding", "grille", "timber", "pen", ""}},
		{"book.when-kick", []duty{{"book.do-after-kick", ""}}, []string{""}},
	} {
		t := page.Table{Size: page.Body, Tall: 9 * draw.MM, Columns: []page.Column{{Width: 9 * draw.MM}, {Head: b.say("book.col-do"), Wide: true}, {Head: b.say("book.col-done-by"), Width: 42 * draw.MM}}}
		for i, d := range when.duties {
			if when.needs[i] != "" && !has[when.needs[i]] {
				continue
			}
			text := b.say(d.key)
			if d.source != "" {
				text += " [" + d.source + "]"
			}
			t.Rows = append(t.Rows, page.Row{Cells: []page.Cell{{Tick: true}, {Text: text}, {Write: true}}})
		}
		if len(t.Rows) == 0 {
			continue
		}
		f.Heading(b.say(when.key), page.Title2, 20*draw.MM)
		f.Table(t)
	}
	f.Text(b.say("book.owner-replace"), page.Style{})
	f.Text(b.say("book.owner-sources"), page.Style{Size: page.Small})
	f.Heading(b.say("book.notes"), page.Title2, 20*draw.MM)
	f.Lines(4)
	b.add(Owner, f, nil)
	return nil
}

// holds says what of the things that need care a job has.
func (b *binder) holds() map[string]bool {
	out := map[string]bool{}
	for i := range b.Layout.Runs {
		r := &b.Layout.Runs[i]
		if !r.Filled(b.Layout) {
			continue
		}
		if r.Clamped() {
			out["clamp"] = true
		} else {
			out["screwed"] = true
		}
	}
	for i := range b.Layout.Structures {
		out["pen"] = out["pen"] || b.Layout.Structures[i].Kind == frame.Pen
		out["timber"] = out["timber"] || b.standing(i)
	}
	for i := range b.Fit.Bays {
		if d := b.Fit.Bays[i].Door; d != nil {
			out["door"] = true
			out["sliding"] = out["sliding"] || d.Door.Kind == kit.Sliding
		}
		out["grille"] = out["grille"] || b.Fit.Bays[i].Grille != nil
	}
	for i := range b.Fit.Pieces {
		out["treated"] = out["treated"] || b.Fit.Pieces[i].Treated
	}
	return out
}
