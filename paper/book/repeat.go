package book

import (
	"slices"
	"strings"

	"stallwright/engine/build"
	"stallwright/engine/measure"
	"stallwright/engine/phrase"
)

// repeat is work that is the same at several places: one text, in which letters
// stand for what each place has of its own, and a row for each place.
type repeat struct {
	b       *binder
	steps   []*build.Step        // of each place
	ops     [][]*build.Operation // of each place, the same number everywhere
	letters [][]string           // what each letter stands for at each place; the first is the place itself
	acts    []act
	pieces  []bunch
	said    []string // cautions
}

// act is one thing to do at each place.
type act struct {
	do, cure string
	how      []string
	check    string
	should   []string // at each place
}

// bunch is pieces of one kind that are equally long at each place.
type bunch struct {
	what   string
	count  int
	length []measure.Length // at each place
	labels [][]string       // at each place
}

// repeats puts steps of a group into what is the same at several places: step by
// step, or where a step goes round through a structure, thing by thing.
func (b *binder) repeats(group []*build.Step, round bool) []*repeat {
	if !round {
		r := &repeat{b: b}
		for _, s := range group {
			var ops []*build.Operation
			for _, k := range s.Ops {
				ops = append(ops, &b.Build.Operations[k])
			}
			r.steps, r.ops = append(r.steps, s), append(r.ops, ops)
		}
		r.fill()
		return []*repeat{r}
	}
	var out []*repeat
	at := map[string]int{}
	for _, s := range group {
		for _, k := range s.Ops {
			o := &b.Build.Operations[k]
			key := shapeOf(o)
			i, ok := at[key]
			if !ok {
				i = len(out)
				at[key] = i
				out = append(out, &repeat{b: b})
			}
			out[i].steps, out[i].ops = append(out[i].steps, s), append(out[i].ops, []*build.Operation{o})
		}
	}
	for _, r := range out {
		r.fill()
	}
	return out
}

// shapeOf tells operations apart that cannot be said in one text.
func shapeOf(o *build.Operation) string {
	var w strings.Builder
	add := func(p phrase.Phrase) {
		w.WriteString(p.Key)
		for _, a := range p.Args {
			w.WriteString(" " + a.Name)
		}
		w.WriteByte('|')
	}
	add(o.Do)
	for _, h := range o.How {
		add(h)
	}
	w.WriteString("!")
	for _, c := range o.Cautions {
		add(c)
	}
	if o.Check != nil {
		add(o.Check.What)
	}
	for _, list := range [2][]build.Use{o.Parts, o.Bolts} {
		for _, u := range list {
			w.WriteString(u.Item + number(u.Count) + u.Length.String() + "|")
		}
	}
	return w.String()
}

// fill finds what is the same everywhere, and gives the rest its letters.
func (r *repeat) fill() {
	var places []string
	for i, s := range r.steps {
		if len(r.ops[i]) == 1 && len(s.Ops) > 1 {
			places = append(places, r.ops[i][0].Place.Name)
		} else {
			places = append(places, r.placeOf(s))
		}
	}
	r.letters = [][]string{places}
	for k := range r.ops[0] {
		a := act{do: r.told(func(o *build.Operation) phrase.Phrase { return o.Do }, k)}
		for h := range r.ops[0][k].How {
			a.how = append(a.how, r.told(func(o *build.Operation) phrase.Phrase { return o.How[h] }, k))
		}
		if c := r.ops[0][k].Cure; c > 0 {
			a.cure = r.b.say("book.cure", phrase.With("time", phrase.Time(c)))
		}
		if r.ops[0][k].Check != nil {
			a.check = r.told(func(o *build.Operation) phrase.Phrase { return o.Check.What }, k)
			for i := range r.ops {
				a.should = append(a.should, r.b.target(r.ops[i][k].Check))
			}
		}
		r.acts = append(r.acts, a)
	}
	r.cautions()
	r.bunches()
}

// placeOf is what a step's place is called: the narrowest that all its pieces are
// labelled by, where its own place is wider.
func (r *repeat) placeOf(s *build.Step) string {
	if len(s.Adds) == 0 || s.Place.Run >= 0 {
		return s.Place.Name
	}
	at, _, _ := strings.Cut(r.b.Fit.Pieces[s.Adds[0]].Label, "/")
	for _, p := range s.Adds {
		if v, _, _ := strings.Cut(r.b.Fit.Pieces[p].Label, "/"); v != at {
			return s.Place.Name
		}
	}
	return at
}

// told says what the k-th operations say, with letters for what is not the same at
// all places.
func (r *repeat) told(of func(*build.Operation) phrase.Phrase, k int) string {
	list := make([]phrase.Phrase, len(r.ops))
	for i := range r.ops {
		list[i] = of(r.ops[i][k])
	}
	return r.b.words.Say(r.merged(list))
}

// merged is one phrase for all places.
func (r *repeat) merged(list []phrase.Phrase) phrase.Phrase {
	out := phrase.Phrase{Key: list[0].Key, Args: slices.Clone(list[0].Args)}
	for i := range out.Args {
		values := make([]string, len(list))
		nested := make([]phrase.Phrase, 0, len(list))
		for k, p := range list {
			values[k] = r.b.words.Value(p.Args[i].Value)
			if q, ok := p.Args[i].Value.(phrase.Phrase); ok {
				nested = append(nested, q)
			}
		}
		switch {
		case same(values):
		case len(nested) == len(list) && alikePhrases(nested):
			out.Args[i].Value = r.merged(nested)
		default:
			out.Args[i].Value = phrase.Name(r.letter(values))
		}
	}
	return out
}

// alikePhrases says whether phrases differ in values only.
func alikePhrases(list []phrase.Phrase) bool {
	for _, p := range list {
		if p.Key != list[0].Key || len(p.Args) != len(list[0].Args) {
			return false
		}
	}
	return true
}

// letter is the letter that stands for values: one for the same values wherever
// they come. The label of a place's piece is written with the place's letter.
func (r *repeat) letter(values []string) string {
	for k, v := range r.letters {
		rest, ok := within(values[0], v[0])
		for i := range values {
			ok = ok && values[i] == v[i]+rest
		}
		if ok {
			return bracket(k) + rest
		}
	}
	k := slices.IndexFunc(r.letters, func(v []string) bool { return slices.Equal(v, values) })
	if k < 0 {
		k = len(r.letters)
		r.letters = append(r.letters, values)
	}
	return bracket(k)
}

// within is what a name says of a part of a place: /c9 of L1-back/c9, -door of
// L1-front-door.
func within(name, place string) (string, bool) {
	rest, ok := strings.CutPrefix(name, place)
	return rest, ok && rest != "" && strings.ContainsAny(rest[:1], "/-.")
}

// bracket writes the k-th letter.
func bracket(k int) string {
	if k < 26 {
		return "[" + string(rune('A'+k)) + "]"
	}
	return "[" + string(rune('A'+k/26-1)) + string(rune('A'+k%26)) + "]"
}

func same(values []string) bool {
	for _, v := range values {
		if v != values[0] {
			return false
		}
	}
	return true
}

// called is what a place of the first step is called in the picture.
func (r *repeat) called(name string) string {
	for k, v := range r.letters {
		if v[0] == name && !same(v) {
			return bracket(k)
		}
	}
	for k, v := range r.letters {
		if rest, ok := within(name, v[0]); ok && !same(v) {
			return bracket(k) + rest
		}
	}
	return name
}

// cautions are those of all acts, each said once, lifting for the heaviest.
func (r *repeat) cautions() {
	say := func(text string) {
		if text != "" && !slices.Contains(r.said, text) {
			r.said = append(r.said, text)
		}
	}
	for k := range r.ops[0] {
		var most *build.Lift
		for i := range r.ops {
			if v := r.ops[i][k].Lift; v != nil && (most == nil || v.Carry > most.Carry) {
				most = v
			}
		}
		if most != nil {
			say(r.b.lift(most))
		}
		for c := range r.ops[0][k].Cautions {
			say(r.told(func(o *build.Operation) phrase.Phrase { return o.Cautions[c] }, k))
		}
	}
}

// bunches gathers the pieces: those together that are of one kind and equally long
// wherever the work is done.
func (r *repeat) bunches() {
	adds := make([][]int, len(r.ops))
	for i := range r.ops {
		for _, o := range r.ops[i] {
			adds[i] = append(adds[i], o.Adds...)
		}
		if len(adds[i]) != len(adds[0]) { // a round on which some places add less
			adds = adds[:0]
			break
		}
	}
	if len(adds) == 0 {
		return
	}
	for p := range adds[0] {
		what, length := "", make([]measure.Length, len(adds))
		for i := range adds {
			v := &r.b.Fit.Pieces[adds[i][p]]
			length[i] = v.Length
			if i == 0 {
				what = r.b.kindWord(v)
			}
		}
		k := slices.IndexFunc(r.pieces, func(v bunch) bool { return v.what == what && slices.Equal(v.length, length) })
		if k < 0 {
			k = len(r.pieces)
			r.pieces = append(r.pieces, bunch{what: what, length: length, labels: make([][]string, len(adds))})
		}
		r.pieces[k].count++
		for i := range adds {
			r.pieces[k].labels[i] = append(r.pieces[k].labels[i], r.b.Fit.Pieces[adds[i][p]].Label)
		}
	}
}
