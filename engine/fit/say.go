package fit

import (
	"strings"

	"stallwright/engine/finding"
	"stallwright/engine/job"
	"stallwright/engine/measure"
	"stallwright/engine/phrase"
)

// say tells a crew what the latest finding tells the office, with its numbers.
func (f *fitter) say(key string, args ...phrase.Arg) {
	f.out.Findings[len(f.out.Findings)-1].Say = phrase.Of(key, args...)
}

// saying is say with a phrase that is made already.
func (f *fitter) saying(p phrase.Phrase) { f.out.Findings[len(f.out.Findings)-1].Say = p }

// heard is what a finding tells a crew: the headline of its code where it has no
// phrase of its own.
func heard(f *finding.Finding) phrase.Phrase {
	if f.Say.Empty() {
		return phrase.Of("finding." + string(f.Code))
	}
	return f.Say
}

// Values of what is said.
func called(as, s string) phrase.Arg              { return phrase.With(as, phrase.Name(s)) }
func count(as string, n int) phrase.Arg           { return phrase.With(as, phrase.Count(n)) }
func size(as string, l measure.Length) phrase.Arg { return phrase.With(as, phrase.Length(l)) }

// onHand is the side a leaf parks on.
func onHand(h job.Hand) phrase.Arg {
	if h == job.Left {
		return phrase.With("hand", phrase.Of("kind.left"))
	}
	return phrase.With("hand", phrase.Of("kind.right"))
}

// obstructionSays are the things of the building for a crew in any language.
var obstructionSays = map[job.ObstructionKind]string{
	"brace": "kind.obstruction-brace", "girt": "kind.obstruction-girt", "curb": "kind.obstruction-curb",
	"pipe": "kind.obstruction-pipe", "track": "kind.obstruction-track", "other": "kind.obstruction-other",
}

// obstructionThings are the same in a sentence, as Name has them.
var obstructionThings = map[job.ObstructionKind]string{
	"brace": "thing.brace", "girt": "thing.girt", "curb": "thing.curb", "pipe": "thing.pipe", "track": "thing.track", "other": "thing.other",
}

// thing is an obstruction in a sentence.
func (o *ObstructionFit) thing() phrase.Arg { return phrase.With("thing", o.Say()) }

// kind is an obstruction by its kind.
func (o *ObstructionFit) kind() phrase.Arg {
	return phrase.With("thing", byKind(obstructionSays, o.What))
}

// Say is what the obstruction is called in sentences, in any language.
func (o *ObstructionFit) Say() phrase.Phrase { return byKind(obstructionThings, o.What) }

func byKind(keys map[job.ObstructionKind]string, k job.ObstructionKind) phrase.Phrase {
	if key, ok := keys[k]; ok {
		return phrase.Of(key)
	}
	return phrase.Of(keys["other"])
}

// place says where an obstruction stands, as where does.
func (f *fitter) place(o *ObstructionFit) phrase.Arg {
	mark := func(l measure.Length) measure.Length { return l.Round(f.kit.Board.Mark, measure.Nearest) }
	return phrase.With("where", phrase.Of("found.where", size("left", o.X), size("right", mark(o.X+o.Width)), size("under", mark(o.Z)), size("over", mark(o.Z+o.Height))))
}

// pieces names pieces of one bay by their labels, as names does.
func pieces(labels []string) phrase.Arg {
	said := phrase.Of("found.pieces", called("labels", names(labels)))
	if n := len(labels); n > fewNames {
		_, last, _ := strings.Cut(labels[n-1], "/")
		said = phrase.Of("found.pieces-to", called("first", labels[0]), called("last", last), count("n", n))
	}
	return phrase.With("pieces", said)
}
