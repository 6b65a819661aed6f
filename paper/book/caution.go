package book

import (
	"stallwright/engine/fit"
	"stallwright/engine/frame"
	"stallwright/engine/kit"
	"stallwright/engine/phrase"
	"stallwright/paper/draw"
	"stallwright/paper/page"
)

// caution is one caution and who says so. A source is a name and is not
// translated; none means common practice, no published source.
type caution struct {
	text   phrase.Phrase
	source string
}

// Sources of cautions. What was read and where is told in docs/cautions.md.
const (
	sourceHead   = "29 CFR 1926.100(a)"
	sourceEye    = "29 CFR 1926.102(a)"
	sourceDust   = "OSHA, Wood Dust: Evaluating Exposure; NIOSH REL 1 mg/m³"
	sourceLift   = "NIOSH 94-110"
	sourceDig    = "811, state one-call laws"
	sourceFrost  = "IRC R403.1.4"
	sourceZinc   = "ASTM A780"
	sourceHorses = "Penn State Extension, Horse Stall Design"
)

// mustSay are the cautions that a plan calls for, gravest first.
func (b *binder) mustSay() []caution {
	out := []caution{
		{phrase.Of("book.caution-codes"), ""},
		{phrase.Of("book.caution-head"), sourceHead},
		{phrase.Of("book.caution-eye"), sourceEye},
		{phrase.Of("book.caution-dust"), sourceDust},
		{phrase.Of("book.caution-lift", phrase.With("mass", phrase.Mass(liftOne(b.Job.Units)))), sourceLift},
		{phrase.Of("book.caution-under"), ""},
	}
	if b.digs() {
		out = append(out, caution{phrase.Of("book.caution-dig"), sourceDig}, caution{phrase.Of("book.caution-frost"), sourceFrost}, caution{phrase.Of("book.caution-cure"), ""})
	}
	for i := range b.Layout.Structures {
		s := &b.Layout.Structures[i]
		at := name("structure", s.Name)
		switch s.Kind {
		case frame.FreeBarn:
			out = append(out, caution{phrase.Of("book.caution-roof", at), ""})
		case frame.BarnRow:
			out = append(out, caution{phrase.Of("book.caution-timber", at), ""})
		case frame.Pen:
			out = append(out, caution{phrase.Of("book.caution-pen", at), ""})
		}
	}
	if b.cutsZinc() {
		out = append(out, caution{phrase.Of("book.caution-zinc"), sourceZinc})
	}
	return append(out, caution{phrase.Of("book.caution-order"), ""}, caution{phrase.Of("book.caution-horse"), sourceHorses})
}

// digs says whether anything is set in a hole.
func (b *binder) digs() bool {
	for i := range b.Layout.Posts {
		if p := &b.Layout.Posts[i]; p.Base != nil && p.Base.Kind == kit.Pier {
			return true
		}
	}
	return false
}

// cutsZinc says whether any galvanised piece is cut.
func (b *binder) cutsZinc() bool {
	for i := range b.Fit.Pieces {
		if v := &b.Fit.Pieces[i]; v.Cut && v.Item != fit.Lumber {
			return true
		}
	}
	return false
}

// cautions writes them, with their sources.
func (b *binder) cautions(f *page.Flow) {
	f.Heading(b.say("book.cautions"), page.Title1, 20*draw.MM)
	for _, c := range b.mustSay() {
		text := b.words.Say(c.text)
		if c.source != "" {
			text += " [" + c.source + "]"
		}
		f.Item("!", text, page.Style{})
	}
	f.Text(b.say("book.cautions-sources"), page.Style{Size: page.Small})
}
