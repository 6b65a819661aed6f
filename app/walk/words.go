package walk

import (
	"slices"
	"strings"

	"stallwright/engine/finding"
	"stallwright/engine/fit"
	"stallwright/engine/job"
	"stallwright/engine/phrase"
	"stallwright/paper/words"
)

// say is a message in the walk's language.
func (w *Walk) say(key string, args ...phrase.Arg) string { return w.words.Text(key, args...) }

// named and number are values of a message.
func named(as, s string) phrase.Arg      { return phrase.With(as, phrase.Name(s)) }
func number(as string, n int) phrase.Arg { return phrase.With(as, phrase.Count(n)) }

// english says whether the walk speaks the language that findings and reasons are
// written in.
func (w *Walk) english() bool { return w.words.Language().Tag == words.English }

// only is a sentence of the engine, which speaks English, or else what a message
// says in its place.
func (w *Walk) only(sentence, key string) string {
	if w.english() {
		return sentence
	}
	return w.say(key)
}

// tell is a finding: in English with its numbers, else its headline.
func (w *Walk) tell(f *finding.Finding) string {
	if w.english() {
		return sentence(f.Message)
	}
	return sentence(w.words.Say(words.Finding(f)))
}

// heightWord names a height of a bay.
func heightWord(h job.Height) phrase.Phrase {
	switch h {
	case job.AtMiddle:
		return phrase.Of("walk.middle")
	case job.AtTop:
		return phrase.Of("walk.top")
	}
	return phrase.Of("walk.bottom")
}

// stepWord names a state of a frame or a bay.
func stepWord(s job.Step) phrase.Phrase {
	switch s {
	case job.StepDelivered:
		return phrase.Of("walk.step-delivered")
	case job.StepStanding:
		return phrase.Of("walk.step-standing")
	case job.StepTight:
		return phrase.Of("walk.step-tight")
	case job.StepLagged:
		return phrase.Of("walk.step-lagged")
	case job.StepMeasured:
		return phrase.Of("kind.state-measured")
	case job.StepReleased:
		return phrase.Of("kind.state-released")
	case job.StepCut:
		return phrase.Of("kind.state-cut")
	case job.StepLoaded:
		return phrase.Of("kind.state-loaded")
	}
	return phrase.Of("kind.state-drawn")
}

// kindCount is a number of pieces of one kind.
func kindCount(k fit.PieceKind, n int) phrase.Phrase {
	switch k {
	case fit.Board:
		return phrase.Of("walk.n-boards", number("n", n))
	case fit.Grille:
		return phrase.Of("walk.n-grilles", number("n", n))
	case fit.Packing:
		return phrase.Of("walk.n-packings", number("n", n))
	case fit.Skirt:
		return phrase.Of("walk.n-skirts", number("n", n))
	}
	return phrase.Of("walk.n-pieces", number("n", n))
}

// commands are the words by which each command is known; English always counts.
var commands = map[string][]string{
	"quit":  {"quit", "q", "exit", "salir"},
	"help":  {"help", "?", "h", "ayuda"},
	"skip":  {"skip", "s", "saltar"},
	"back":  {"back", "b", "atrás", "atras"},
	"note":  {"note", "nota"},
	"why":   {"why", "w", "porqué", "porque", "por"},
	"go":    {"go", "ir"},
	"mark":  {"mark", "marcar"},
	"cross": {"cross", "cruza"},
	"spot":  {"spot", "punto"},
}

// command is the command that a word stands for; empty for none.
func command(word string) string {
	for name, known := range commands {
		if slices.Contains(known, word) {
			return name
		}
	}
	return ""
}

// isYes and isNo read an answer in English or in the walk's language.
func (w *Walk) isYes(word string) bool {
	return slices.Contains(append(strings.Fields(w.say("walk.words-yes")), "yes", "y"), word)
}

func (w *Walk) isNo(word string) bool {
	return slices.Contains(append(strings.Fields(w.say("walk.words-no")), "no", "n", "not", "none"), word)
}
