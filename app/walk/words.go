package walk

import (
	"errors"
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

// stepWords are the words, parted by commas, by which a state may be typed.
func stepWords(s job.Step) phrase.Phrase {
	switch s {
	case job.StepDelivered:
		return phrase.Of("walk.words-delivered")
	case job.StepStanding:
		return phrase.Of("walk.words-standing")
	case job.StepTight:
		return phrase.Of("walk.words-tight")
	case job.StepLagged:
		return phrase.Of("walk.words-lagged")
	case job.StepMeasured:
		return phrase.Of("walk.words-measured")
	case job.StepReleased:
		return phrase.Of("walk.words-released")
	case job.StepCut:
		return phrase.Of("walk.words-cut")
	case job.StepLoaded:
		return phrase.Of("walk.words-loaded")
	}
	return phrase.Of("walk.words-drawn")
}

// typedStep parts what was typed behind mark into a name and a state, which is known
// in English and in the walk's language; the state is empty where it is none.
func (w *Walk) typedStep(typed []string) (name string, step job.Step, word string) {
	text := strings.Join(typed, " ")
	for _, known := range job.Step("").Allowed() {
		words := append(strings.Split(w.words.Say(stepWords(job.Step(known))), ","), known)
		for _, word := range words {
			word = strings.TrimSpace(word)
			if at := len(text) - len(word) - 1; at > 0 && strings.EqualFold(text[at:], " "+word) {
				return text[:at], job.Step(known), word
			}
		}
	}
	last := len(typed) - 1
	return strings.Join(typed[:last], " "), "", typed[last]
}

// stepNames are the states by the first word of each.
func (w *Walk) stepNames() string {
	var out []string
	for _, known := range job.Step("").Allowed() {
		word, _, _ := strings.Cut(w.words.Say(stepWords(job.Step(known))), ",")
		out = append(out, word)
	}
	return strings.Join(out, ", ")
}

// refused is why a bay cannot be released, with what would be right.
func (w *Walk) refused(err error) string {
	var no *fit.ReleaseError
	if !errors.As(err, &no) {
		return sentence(err.Error())
	}
	why := no.Why
	if !w.english() {
		why = w.words.Say(no.Say)
	}
	if !no.Do.Empty() {
		why += "; " + w.words.Say(no.Do)
	}
	return sentence(why)
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
