package plan

import (
	"errors"
	"fmt"
	"strconv"
	"strings"

	"stallwright/engine/document"
	"stallwright/engine/fit"
	"stallwright/engine/phrase"
	"stallwright/engine/reason"
)

// Topic is one answer to a question why: what it is about, and the reason.
type Topic struct {
	Title phrase.Phrase
	Why   *reason.Reason
}

// UnknownError says that a plan holds nothing of that name.
type UnknownError struct {
	Target string
	Hint   string
}

func (e *UnknownError) Error() string {
	return fmt.Sprintf("the plan holds nothing called %q; %s", e.Target, e.Hint)
}

// Why answers for a bay (A1-A2), a course of it (A1-A2/7 or A1-A2/c7), a piece
// (A1-A2/grille), an operation of the order of work (P-3/stand) or a post (A.b1).
// The error is an UnknownError.
func (p *Plan) Why(target string) ([]Topic, error) {
	name, part, inside := strings.Cut(target, "/")
	if inside {
		return p.whyPiece(target, name, part)
	}
	if i, ok := p.Layout.Bay(name); ok {
		return p.whyBay(i), nil
	}
	if i, ok := p.Layout.Post(name); ok {
		return p.whyPost(i), nil
	}
	for i := range p.Layout.Runs {
		r := &p.Layout.Runs[i]
		if r.Name == name {
			return []Topic{{phrase.Of("topic.drawn-clear", called("place", r.Name)), r.Why}, {phrase.Of("topic.zone", called("place", r.Name)), r.WhyZone}}, nil
		}
	}
	return nil, p.unknown(target, name)
}

// whyBay tells a bay's numbers.
func (p *Plan) whyBay(i int) []Topic {
	b, f := &p.Layout.Bays[i], &p.Fit.Bays[i]
	topics := []Topic{{phrase.Of("topic.clear", called("place", b.Name)), f.WhyClear}}
	if len(f.Courses) > 0 && !b.IsDoor() {
		c := f.Courses[0]
		topics = append(topics, Topic{phrase.Of("topic.full-board", called("place", b.Name)), p.Fit.Pieces[c.Pieces[0]].Why})
	}
	if f.Taper != nil && len(f.Taper.Lengths) > 1 {
		topics = append(topics, Topic{phrase.Of("topic.by-height", called("place", b.Name)), f.Taper.Why})
	}
	if f.Thick != nil {
		topics = append(topics, Topic{phrase.Of("topic.thickness", called("place", b.Name)), f.Thick.Why})
	}
	for k := range p.Fit.Obstructions {
		if o := &p.Fit.Obstructions[k]; o.Bay == i {
			topics = append(topics, Topic{phrase.Of("topic.thing", called("place", b.Name), phrase.With("thing", o.Say())), o.Why})
		}
	}
	if f.Stack != nil {
		topics = append(topics, Topic{phrase.Of("topic.stack", called("place", b.Name)), f.Stack.Why})
	}
	if f.Grille != nil {
		topics = append(topics, Topic{phrase.Of("topic.grille", called("place", b.Name)), f.Grille.Why})
	}
	if f.Window != nil {
		topics = append(topics, Topic{phrase.Of("topic.window", called("place", b.Name)), p.Fit.Pieces[f.Window.Piece].Why})
	}
	if f.Feeder != nil {
		topics = append(topics, Topic{phrase.Of("topic.feeder", called("place", b.Name)), p.Fit.Pieces[f.Feeder.Piece].Why})
	}
	if f.Door != nil {
		topics = append(topics, Topic{phrase.Of("topic.door", called("place", b.Name)), f.Door.Why})
		if f.Door.Track != nil {
			topics = append(topics, Topic{phrase.Of("topic.track", called("place", b.Name)), p.Fit.Pieces[f.Door.Track.Piece].Why})
		}
	}
	return topics
}

// whyPost tells a post's marks and its own length.
func (p *Plan) whyPost(i int) []Topic {
	var topics []Topic
	name := p.Layout.Posts[i].Name
	for k := range p.Fit.Pieces {
		if v := &p.Fit.Pieces[k]; v.Label == name {
			topics = append(topics, Topic{phrase.Of("topic.length", called("place", name)), v.Why})
		}
	}
	for k := range p.Fit.Marks {
		if m := &p.Fit.Marks[k]; m.Post == i {
			topics = append(topics, Topic{phrase.Of("topic.datum-mark", called("place", name)), m.Why})
		}
	}
	for _, why := range p.Setout.Why(i) {
		topics = append(topics, Topic{why.What, why})
	}
	if len(topics) == 0 {
		at := p.Layout.Posts[i].At
		topics = append(topics, Topic{phrase.Of("topic.post", called("place", name)), reason.Given(phrase.Of("why.place-of", phrase.With("post", phrase.Name(name))), phrase.Of("amount.place", size("x", at.X), size("y", at.Y)), phrase.Of("source.job"))})
	}
	return topics
}

// whyPiece tells why a piece is as it is. A bare course number stands for every
// board of that course.
func (p *Plan) whyPiece(target, name, part string) ([]Topic, error) {
	var topics []Topic
	course, err := strconv.Atoi(strings.TrimPrefix(part, "c"))
	byCourse := err == nil
	for k := range p.Fit.Pieces {
		v := &p.Fit.Pieces[k]
		if v.Label == target || (byCourse && v.Course == course && p.Place(v) == name) {
			topics = append(topics, Topic{p.describe(v), v.Why})
		}
	}
	if len(topics) == 0 {
		topics = p.whyWork(target)
	}
	if len(topics) == 0 {
		return nil, p.unknown(target, name)
	}
	return topics, nil
}

// pieceKinds are what pieces are, in any language.
var pieceKinds = map[fit.PieceKind]string{
	fit.Board: "kind.piece-board", fit.Packing: "kind.piece-packing", fit.Skirt: "kind.piece-skirt", fit.Tube: "kind.piece-tube",
	fit.Channel: "kind.piece-channel", fit.Post: "kind.piece-post", fit.Grille: "kind.piece-grille", fit.Door: "kind.piece-door",
	fit.Window: "kind.piece-window", fit.Feeder: "kind.piece-feeder", fit.Track: "kind.piece-track",
}

func (p *Plan) describe(v *fit.Piece) phrase.Phrase {
	s := phrase.Of("topic.piece", called("piece", v.Label), phrase.With("kind", phrase.Of(pieceKinds[v.Kind])), size("length", v.Length))
	if v.Treated {
		s = phrase.Of("topic.treated", phrase.With("what", s))
	}
	for _, w := range p.Todo(v) {
		s = phrase.Of("topic.work", phrase.With("what", s), phrase.With("work", w))
	}
	return s
}

func called(as, s string) phrase.Arg { return phrase.With(as, phrase.Name(s)) }

func (p *Plan) unknown(target, name string) error {
	if i, ok := p.Layout.Bay(name); ok {
		var parts []string
		for _, k := range p.Fit.Bays[i].Pieces {
			parts = append(parts, strings.TrimPrefix(p.Fit.Pieces[k].Label, name+"/"))
		}
		if len(parts) == 0 {
			return &UnknownError{target, name + " is open and holds no pieces"}
		}
		return &UnknownError{target, name + " holds: " + strings.Join(parts, ", ")}
	}
	names := p.Layout.BayNames()
	if near, ok := document.Nearest(name, names); ok {
		return &UnknownError{target, "did you mean " + near + "?"}
	}
	return &UnknownError{target, "bays: " + strings.Join(names, ", ")}
}

// ErrUnknown matches any UnknownError with errors.Is.
var ErrUnknown = errors.New("unknown name")

// Is makes every UnknownError an ErrUnknown.
func (e *UnknownError) Is(target error) bool { return target == ErrUnknown }
