package survey

import (
	"unicode"
	"unicode/utf8"

	"stallwright/engine/measure"
	"stallwright/engine/phrase"
)

// capital starts a sentence with a capital letter.
func capital(s string) string {
	r, n := utf8.DecodeRuneInString(s)
	return string(unicode.ToUpper(r)) + s[n:]
}

// suspectSentence tells a crew lead what is wrong, by how much, what may have
// happened and what to do.
func (p *plane) suspectSentence(s Suspect, sigma float64) (string, phrase.Phrase) {
	r := p.net.Readings[s.Reading]
	t := teller{o: p.opt, labels: func(i int) string { return p.net.Readings[i].label() }, says: func(i int) phrase.Phrase { return p.net.Readings[i].say() }}
	return t.suspect(r.label(), r.Kind, r.written(), s, sigma), t.say(r.say(), r.written(), s, sigma)
}

// teller words findings about readings.
type teller struct {
	o      Options
	labels func(reading int) string
	says   func(reading int) phrase.Phrase
}

func (t teller) suspect(label string, kind Kind, value measure.Length, s Suspect, sigma float64) string {
	if sigma == 0 {
		return capital(label) + " is far from what was drawn and nothing checks it; read it again."
	}
	out := capital(label) + " disagrees with the others by " + t.o.show(s.Disagrees.Abs()) +
		": it reads " + t.o.show(value) + ", they make it " + t.o.show(value-s.Disagrees) + "; read it again."
	if len(s.Guesses) > 0 {
		switch g := s.Guesses[0]; {
		case !g.OtherPosts:
			out += " " + capital(g.Slip) + " would explain it (" + t.o.show(g.Value) + ")."
		case len(s.Others) == 0:
			out += " " + capital(g.Slip) + " would explain it."
		}
	}
	if len(s.Others) > 0 {
		var names []string
		for _, o := range s.Others {
			names = append(names, t.labels(o.Reading))
		}
		out += " Or it is right and one of these is wrong: " + list(names, "or") + ". The readings taken cannot tell which."
		if s.Separate != nil {
			out += " One more reading, " + s.Separate.String() + ", would tell best."
		}
	}
	if s.ChanceAlone > 0.05 {
		out += " It may be chance: with this many good readings one is now and then as far off."
	}
	return out
}
