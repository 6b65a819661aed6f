package fit

import (
	"fmt"

	"stallwright/engine/finding"
	"stallwright/engine/measure"
	"stallwright/engine/phrase"
	"stallwright/engine/reason"
)

// ThickFit is how a board's thickness stands to the inside of a bay's channels.
type ThickFit struct {
	Inside  measure.Length // inside width of the narrower channel
	Wet     measure.Length // the board at the moisture it may reach
	Twist   measure.Length // what the channels' leaning apart takes from the inside over one course
	Play    measure.Length // inside less wet thickness less twist; negative: it binds
	Why     *reason.Reason
	Leaning bool // the leans of both posts are known
}

// thickness tells whether boards go into the channels as they come, when they have
// swollen, and where the channels lean apart across the wall.
func (f *fitter) thickness(i int) {
	b := &f.lay.Bays[i]
	for side, end := range b.Ends {
		if end.Inside == 0 {
			continue
		}
		name := []string{"left", "right"}[side]
		gap := end.Inside - f.board.Thickness
		switch {
		case gap < 0:
			f.find(finding.BoardTooThick, finding.Error, b.Name,
				fmt.Sprintf("boards %s thick do not go into the %s channel, %s wide inside", f.show(f.board.Thickness), name, f.show(end.Inside)), phrase.Of("way.thinner-boards"), phrase.Of("way.wider-channels"))
			f.say([]string{"found.too-thick-left", "found.too-thick-right"}[side], size("thickness", f.board.Thickness), size("inside", end.Inside))
			return
		case gap > f.board.Thickness/3:
			f.find(finding.BoardLoose, finding.Warning, b.Name,
				fmt.Sprintf("boards %s thick have %s of play in the %s channel, %s wide inside", f.show(f.board.Thickness), f.show(gap), name, f.show(end.Inside)), phrase.Of("way.thicker-boards"), phrase.Of("way.packing-behind"))
			f.say([]string{"found.loose-left", "found.loose-right"}[side], size("thickness", f.board.Thickness), size("play", gap), size("inside", end.Inside))
			return
		}
	}
	f.swollen(i)
}

// swollen checks the thickness that a board may reach in a channel.
func (f *fitter) swollen(i int) {
	b, out := &f.lay.Bays[i], &f.out.Bays[i]
	s := f.swelling
	t := &ThickFit{Inside: b.Ends[0].Inside, Wet: s.Wet}
	if in := b.Ends[1].Inside; t.Inside == 0 || in != 0 && in < t.Inside {
		t.Inside = in
	}
	if t.Inside == 0 {
		return
	}
	wet := reason.Of(phrase.Of("why.thickness-wet", phrase.With("percent", phrase.Count(s.To))), phrase.Length(s.Wet), s.Rule, s.About,
		reason.Given(phrase.Of("why.thickness-dry", phrase.With("percent", phrase.Count(s.From))), phrase.Length(s.Dry), phrase.Of("source.lumber")))
	from := []*reason.Reason{reason.Given(phrase.Of("why.channel-inside"), phrase.Length(t.Inside), phrase.Of("source.channels-inside", called("kit", f.kit.Kit))), wet}
	if l := f.leaning(i); l != nil {
		t.Leaning = true
		// One face of a board cannot follow two channels: what they lean apart over
		// its height is counted whole at one end.
		twist, _ := measure.MulDiv(int64(l.twist()), int64(f.board.Coverage), int64(f.lay.Runs[b.Run].Zone), measure.Up)
		t.Twist = measure.Length(twist)
		from = append(from, reason.Of(phrase.Of("why.twist"), phrase.Length(t.Twist), phrase.Of("rule.twist"), phrase.Phrase{}, l.why...))
	}
	t.Play = t.Inside - t.Wet - t.Twist
	t.Why = reason.Of(phrase.Of("why.swollen-play", phrase.With("bay", phrase.Name(b.Name))), phrase.Length(t.Play), phrase.Of("rule.swollen-play"), phrase.Phrase{}, from...)
	out.Thick = t
	switch {
	case t.Inside < t.Wet:
		f.find(finding.BoardSwells, finding.Error, b.Name,
			fmt.Sprintf("boards loaded at %d %% and %s thick swell to %s at %d %%; the channel is %s wide inside", s.From, f.show(s.Dry), f.show(s.Wet), s.To, f.show(t.Inside)),
			phrase.Of("way.thinner-boards"), phrase.Of("way.boards-wetter"), phrase.Of("way.wider-channels"))
		f.say("found.swells", count("from", s.From), size("dry", s.Dry), size("wet", s.Wet), count("to", s.To), size("inside", t.Inside))
	case t.Play < 0:
		f.find(finding.ChannelTwist, finding.Error, b.Name,
			fmt.Sprintf("its posts lean %s apart across the wall: over one course that takes %s from the channel's inside of %s, and a swollen board of %s binds", f.show(f.leaning(i).twist()), f.show(t.Twist), f.show(t.Inside), f.show(t.Wet)),
			phrase.Of("way.pack-channel"), phrase.Of("way.thinner-boards"))
		f.say("found.twists", size("apart", f.leaning(i).twist()), size("inside", t.Inside), size("wet", s.Wet))
	}
}
