package fit

import (
	"fmt"
	"strings"

	"stallwright/engine/finding"
	"stallwright/engine/frame"
	"stallwright/engine/kit"
	"stallwright/engine/measure"
	"stallwright/engine/phrase"
	"stallwright/engine/reason"
)

// frames adds each run's tubes, channels and posts of its own. Runs that hold
// nothing are not built.
func (f *fitter) frames() {
	for i := range f.lay.Runs {
		r := &f.lay.Runs[i]
		if !r.Filled(f.lay) {
			continue
		}
		facts := f.lay.Facts(i)
		f.tubes(i, facts)
		f.ends(i, facts)
		for _, p := range r.DoorPosts {
			post := &f.lay.Posts[p]
			f.steel(Piece{Label: post.Name, Kind: Post, Item: post.Item.ID, Run: i, Bay: -1, Length: post.Height, State: Drawn,
				Why: reason.Of(phrase.Of("why.door-post", phrase.With("post", phrase.Name(post.Name))), phrase.Length(post.Height), post.Item.Height.Say(), f.kitSource("posts "+post.Item.ID+".height", post.Item.Of("height").Line), r.WhyZone)})
		}
	}
}

// steel adds a piece of steel, its length down to the mark where it is cut.
func (f *fitter) steel(p Piece) {
	if p.Cut {
		p.Length = p.Length.Round(f.kit.Board.Mark, measure.Down)
	}
	f.add(p)
}

// tubes cuts the top tube in one piece and a bottom tube for each panel, so
// that no tube lies across a doorway.
func (f *fitter) tubes(i int, facts kit.Facts) {
	r := &f.lay.Runs[i]
	a := r.Assembly
	if a.Top != "" {
		f.tube(i, "top", a.Top, a.TopCut, facts, r.Why, r.Zone)
	}
	if a.Bottom == "" {
		return
	}
	under := -f.kit.Tube(a.Bottom).Depth // the first board stands on it
	if !facts.Door {
		f.tube(i, "bottom", a.Bottom, a.BottomCut, facts, r.Why, under)
		return
	}
	n := 0
	for _, v := range r.Bays {
		b := &f.lay.Bays[v]
		if b.IsDoor() || b.IsOpen() {
			continue
		}
		n++
		part := facts
		part.Clear, part.Centres = b.Clear, b.Clear+b.Ends[0].Reach+b.Ends[1].Reach
		f.tube(i, fmt.Sprintf("bottom%d", n), a.Bottom, a.BottomCut, part, b.Why, under)
	}
}

func (f *fitter) tube(i int, code, item string, cut kit.Rule, facts kit.Facts, why *reason.Reason, z measure.Length) {
	r := &f.lay.Runs[i]
	l, err := cut.Length(&facts)
	if err != nil || l <= 0 {
		f.find(finding.NoStock, finding.Error, r.Name, fmt.Sprintf("the %s tube cannot be sized: %s comes to %s", code, cut, f.show(l)), phrase.Of("way.mend-assembly", phrase.With("assembly", phrase.Name(r.Assembly.ID))))
		f.say(map[bool]string{true: "found.no-tube-top", false: "found.no-tube-bottom"}[code == "top"], phrase.With("rule", phrase.Formula(cut.String())), size("length", l))
		return
	}
	f.steel(Piece{Label: r.Name + "/" + code, Kind: Tube, Item: item, Run: i, Bay: -1, Length: l, Z: z, Cut: true, State: Drawn,
		Why: reason.Of(tubeSays(code, r.Name), phrase.Length(l.Round(f.kit.Board.Mark, measure.Down)), phrase.Of("rule.formula-down", phrase.With("formula", phrase.Formula(cut.String())), phrase.With("mark", phrase.Length(f.kit.Board.Mark))), f.kitSource("assemblies "+r.Assembly.ID, r.Assembly.Pos().Line), why)})
}

// ends adds the channels or posts that a run brings at each end.
func (f *fitter) ends(i int, facts kit.Facts) {
	r := &f.lay.Runs[i]
	for _, end := range []struct{ name, channel, post string }{{"left", "why.channel-left", "why.post-left"}, {"right", "why.channel-right", "why.post-right"}} {
		name := end.name
		switch {
		case r.Channel != nil:
			l, err := r.Channel.Length.Length(&facts)
			if err != nil {
				f.find(finding.NoStock, finding.Error, r.Name, err.Error(), phrase.Of("way.mend-channel", phrase.With("channel", phrase.Name(r.Channel.ID))))
				f.say("found.mend-rule", called("rule", "channels "+r.Channel.ID+".length"))
				continue
			}
			f.steel(Piece{Label: r.Name + "/" + name + " channel", Kind: Channel, Item: r.Channel.ID, Run: i, Bay: -1, Length: l, Cut: true, State: Drawn,
				Why: reason.Of(phrase.Of(end.channel, called("run", r.Name)), phrase.Length(l), r.Channel.Length.Say(), f.kitSource("channels "+r.Channel.ID+".length", r.Channel.Of("length").Line), r.WhyZone)})
		case r.EndPost != nil:
			l, err := r.EndPost.Height.Length(&facts)
			if err != nil {
				f.find(finding.NoStock, finding.Error, r.Name, err.Error(), phrase.Of("way.mend-post", phrase.With("post", phrase.Name(r.EndPost.ID))))
				f.say("found.mend-rule", called("rule", "posts "+r.EndPost.ID+".height"))
				continue
			}
			f.steel(Piece{Label: r.Name + "/" + name + " post", Kind: Post, Item: r.EndPost.ID, Run: i, Bay: -1, Length: l, State: Drawn,
				Why: reason.Of(phrase.Of(end.post, called("run", r.Name)), phrase.Length(l), r.EndPost.Height.Say(), f.kitSource("posts "+r.EndPost.ID+".height", r.EndPost.Of("height").Line), r.WhyZone)})
		}
	}
}

// posts adds the steel posts that runs share.
func (f *fitter) posts() {
	for i := range f.lay.Posts {
		p := &f.lay.Posts[i]
		if p.Kind != frame.Steel {
			continue
		}
		f.add(Piece{Label: p.Name, Kind: Post, Item: p.Item.ID, Run: -1, Bay: -1, Length: p.Height, State: Drawn,
			Why: reason.Of(phrase.Of("why.post", phrase.With("post", phrase.Name(p.Name))), phrase.Length(p.Height), p.Item.Height.Say(), f.kitSource("posts "+p.Item.ID+".height", p.Item.Of("height").Line))})
	}
}

// marks works out where the datum line is marked on each post: the datum above
// the highest floor, less how much higher that is than the floor at the post.
func (f *fitter) marks() {
	type key struct {
		post        int
		datum, drop measure.Length
	}
	at := map[key]int{}
	for i := range f.lay.Runs {
		r := &f.lay.Runs[i]
		if !r.Filled(f.lay) {
			continue
		}
		for _, post := range append([]int{r.From, r.To}, r.DoorPosts...) {
			k := key{post, r.Datum, r.Drop}
			if m, ok := at[k]; ok {
				f.out.Marks[m].Runs = append(f.out.Marks[m].Runs, i)
				continue
			}
			at[k] = len(f.out.Marks)
			f.out.Marks = append(f.out.Marks, f.mark(post, i))
		}
	}
}

func (f *fitter) mark(post, run int) Mark {
	r, p := &f.lay.Runs[run], &f.lay.Posts[post]
	datum := reason.Of(phrase.Of("why.datum-above-highest"), phrase.Length(r.Datum), r.Assembly.Datum.Say(), f.kitSource("assemblies "+r.Assembly.ID+".datum", r.Assembly.Of("datum").Line))
	fl, ok := f.floor[p.Name]
	h := f.floorUnder(post, r)
	m := Mark{Post: post, Runs: []int{run}, Height: r.Datum + f.governs(r) - h}
	from := []*reason.Reason{datum}
	if ok {
		from = append(from, f.highest[r.Structure].Why, fl.Why)
	}
	rule := phrase.Of("rule.mark")
	if r.Drop != 0 {
		rule = phrase.Of("rule.mark-step")
		from = append(from, reason.Given(phrase.Of("why.step-to", phrase.With("run", phrase.Name(r.Name))), phrase.Length(r.Drop), phrase.Of("source.job-datum")))
	}
	if !ok && h != f.governs(r) {
		rule = phrase.Of("rule.mark-between", phrase.With("rule", rule))
	}
	m.Why = reason.Of(phrase.Of("why.datum-mark", phrase.With("post", phrase.Name(p.Name))), phrase.Length(m.Height), rule, phrase.Phrase{}, from...)
	return m
}

// undone tells how many bays still stand on drawn sizes.
func (f *fitter) undone() {
	drawn := make([]int, len(f.lay.Structures))
	for i := range f.out.Bays {
		b := &f.lay.Bays[i]
		if !b.IsOpen() && !b.IsDoor() && f.out.Bays[i].State == Drawn {
			drawn[b.Structure]++
		}
	}
	for s, n := range drawn {
		if n > 0 {
			f.find(finding.NotMeasured, finding.Note, f.lay.Structures[s].Name,
				fmt.Sprintf("%d of its bays are drawn, not measured: order from these sizes, but cut nothing", n), phrase.Of("way.measure-bays", phrase.With("key", phrase.Name("measurements"))))
			f.say("found.drawn", count("n", n))
		}
	}
}

// tubeSays names a run's tube by the code in its label: top, bottom, or bottom and
// a number.
func tubeSays(code, run string) phrase.Phrase {
	if code == "top" {
		return phrase.Of("why.tube-top", called("run", run))
	}
	if no := strings.TrimPrefix(code, "bottom"); no != "" {
		return phrase.Of("why.tube-bottom-no", called("no", no), called("run", run))
	}
	return phrase.Of("why.tube-bottom", called("run", run))
}
