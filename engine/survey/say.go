package survey

import (
	"stallwright/engine/measure"
	"stallwright/engine/phrase"
)

// Values of what is said.
func with(as string, p phrase.Phrase) phrase.Arg { return phrase.With(as, p) }
func called(as, s string) phrase.Arg             { return phrase.With(as, phrase.Name(s)) }

// size is a length rounded as sentences show it.
func (o Options) size(as string, l measure.Length) phrase.Arg {
	return phrase.With(as, phrase.Length(o.Show.Round(l, measure.Nearest)))
}

// say is the reading's own name, or its kind and posts, for a crew in any language.
func (r Reading) say() phrase.Phrase {
	if !r.Says.Empty() {
		return r.Says
	}
	if r.Name != "" || len(r.Posts) != r.Kind.posts() {
		return phrase.Of("slip.named", called("name", r.label()))
	}
	return placeSay(r.Kind, r.Posts)
}

func (r LevelReading) say() phrase.Phrase {
	if r.Name != "" {
		return phrase.Of("slip.named", called("name", r.Name))
	}
	return placeSay(Rod, []string{r.Point, r.SetUp})
}

// Say is the reading to take, for a crew in any language.
func (a Advice) Say() phrase.Phrase { return placeSay(a.Kind, a.Posts) }

func placeSay(k Kind, p []string) phrase.Phrase {
	switch k {
	case Diagonal:
		return phrase.Of("slip.diagonal", called("a", p[0]), called("b", p[1]))
	case Offset:
		return phrase.Of("slip.offset", called("post", p[0]), called("a", p[1]), called("b", p[2]))
	case Straight:
		return phrase.Of("slip.straight", called("a", p[1]), called("post", p[0]), called("b", p[2]))
	case RightAngle:
		return phrase.Of("slip.right-angle", called("post", p[0]), called("a", p[1]), called("b", p[2]))
	case Rod:
		return phrase.Of("slip.rod", called("post", p[0]), called("set-up", p[1]))
	}
	return phrase.Of("slip.distance", called("a", p[0]), called("b", p[1]))
}

// wholeFeet, wholeMetres and millimetres are slips by whole figures of a tape.
func wholeFeet(k int, long bool) phrase.Phrase {
	if long {
		return phrase.Of("slip.feet-long", phrase.With("n", phrase.Count(k)))
	}
	return phrase.Of("slip.feet-short", phrase.With("n", phrase.Count(k)))
}

func wholeMetres(k int, long bool) phrase.Phrase {
	if long {
		return phrase.Of("slip.metres-long", phrase.With("n", phrase.Count(k)))
	}
	return phrase.Of("slip.metres-short", phrase.With("n", phrase.Count(k)))
}

func millimetres(by int) func(int, bool) phrase.Phrase {
	return func(_ int, long bool) phrase.Phrase {
		if long {
			return phrase.Of("slip.millimetres-long", phrase.With("by", phrase.Count(by)))
		}
		return phrase.Of("slip.millimetres-short", phrase.With("by", phrase.Count(by)))
	}
}

// say is what suspect tells, for a crew in any language.
func (t teller) say(label phrase.Phrase, value measure.Length, s Suspect, sigma float64) phrase.Phrase {
	if sigma == 0 {
		return phrase.Of("slip.unchecked", with("reading", label))
	}
	out := phrase.Of("slip.suspect", with("reading", label), t.o.size("by", s.Disagrees.Abs()), t.o.size("read", value), t.o.size("made", value-s.Disagrees))
	if len(s.Guesses) > 0 {
		switch g := s.Guesses[0]; {
		case !g.OtherPosts:
			out = phrase.Of("slip.explained", with("what", out), with("slip", g.Say), t.o.size("value", g.Value))
		case len(s.Others) == 0:
			out = phrase.Of("slip.explained-posts", with("what", out), with("slip", g.Say))
		}
	}
	if n := len(s.Others); n > 0 {
		const most = 8
		var names phrase.List
		for _, o := range s.Others[:min(n, most)] {
			names = append(names, t.says(o.Reading))
		}
		if n > most {
			names = append(names, phrase.Of("slip.more", phrase.With("n", phrase.Count(n-most))))
		}
		out = phrase.Of("slip.rivals", with("what", out), phrase.With("others", names))
		if s.Separate != nil {
			out = phrase.Of("slip.separate", with("what", out), with("reading", s.Separate.Say()))
		}
	}
	if s.ChanceAlone > 0.05 {
		out = phrase.Of("slip.chance", with("what", out))
	}
	return out
}

// names are posts or points as a language lists them.
func names(list []string) phrase.List {
	var out phrase.List
	for _, n := range list {
		out = append(out, phrase.Of("slip.named", called("name", n)))
	}
	return out
}

// taken is a length with who read it and when, as by has it.
func (o Options) taken(l measure.Length, who, when string) phrase.Phrase {
	v := o.size("value", l)
	switch {
	case who != "" && when != "":
		return phrase.Of("slip.taken-by-at", v, called("by", who), called("at", when))
	case who != "" || when != "":
		return phrase.Of("slip.taken-by", v, called("by", who+when))
	}
	return phrase.Of("slip.taken", v)
}
