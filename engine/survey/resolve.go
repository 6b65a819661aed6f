package survey

import (
	"fmt"
	"strings"

	"stallwright/engine/measure"
	"stallwright/engine/phrase"
)

func (p *plane) problem(c Code, readings []int, posts []string, say phrase.Phrase, format string, args ...any) {
	p.problems = append(p.problems, Problem{Code: c, Readings: readings, Posts: posts, Sentence: fmt.Sprintf(format, args...), Say: say})
}

// resolve looks the readings' posts up and refuses what cannot be a reading.
func (p *plane) resolve() {
	p.equation = make([]equation, len(p.net.Readings))
	p.usable = make([]bool, len(p.net.Readings))
	for i, pt := range p.net.Points {
		if p.index[pt.Name] != i {
			p.problem(RepeatedPost, nil, []string{pt.Name}, phrase.Of("slip.two-posts", called("post", pt.Name)), "There are two posts named %s. Rename one: until then readings go to the first.", pt.Name)
		}
	}
	for i, r := range p.net.Readings {
		p.usable[i] = p.resolveReading(i, r)
	}
}

func (p *plane) resolveReading(i int, r Reading) bool {
	name := r.label()
	only := []int{i}
	if r.Kind > RightAngle {
		p.problem(WrongPostCount, only, r.Posts, phrase.Of("slip.no-kind", phrase.With("no", phrase.Count(i+1))), "Reading %d is of no kind the survey knows.", i+1)
		return false
	}
	if len(r.Posts) != r.Kind.posts() {
		p.problem(WrongPostCount, only, r.Posts, phrase.Of("slip.post-count", with("reading", r.say()), phrase.With("needed", phrase.Count(r.Kind.posts())), phrase.With("named", phrase.Count(len(r.Posts)))), "A %s needs %d posts, %s names %d.", r.Kind, r.Kind.posts(), name, len(r.Posts))
		return false
	}
	e := &p.equation[i]
	e.kind, e.value = r.Kind, metres(r.Value)
	for k, post := range r.Posts {
		at, ok := p.index[post]
		if !ok {
			p.problem(UnknownPost, only, []string{post}, phrase.Of("slip.unknown-post", with("reading", r.say()), called("post", post)), "The %s names post %s, which is not among the posts%s.", name, quoted(post), p.alike(post))
			return false
		}
		for _, other := range e.post[:k] {
			if other == at {
				p.problem(SamePostTwice, only, []string{post}, phrase.Of("slip.post-twice", with("reading", r.say()), called("post", post)), "The %s names post %s twice. Which post was the other?", name, post)
				return false
			}
		}
		e.post[k] = at
	}
	if r.Kind.isDistance() && r.Value <= 0 {
		p.problem(BadValue, only, r.Posts, phrase.Of("slip.no-distance", with("reading", r.say()), phrase.With("value", phrase.Length(r.Value))), "The %s is written as %s; a distance is more than nothing.", name, r.Value.In(p.opt.Show.System))
		return false
	}
	if r.Value.Abs() > measure.MaxLength || r.Sigma < 0 {
		p.problem(BadValue, only, r.Posts, phrase.Of("slip.bad-value", with("reading", r.say()), phrase.With("value", phrase.Length(r.Value))), "The %s cannot be right as written: %s.", name, r.Value.In(p.opt.Show.System))
		return false
	}
	return p.apart(only, r, name)
}

// apart refuses a reading whose direction cannot be told because the posts it
// runs between are drawn at one place.
func (p *plane) apart(only []int, r Reading, name string) bool {
	a, b := r.Posts[0], r.Posts[1]
	if r.Kind == Offset || r.Kind == Straight {
		a, b = r.Posts[1], r.Posts[2]
	}
	i, j := p.index[a], p.index[b]
	if _, _, l := unit(p.drawn[2*j]-p.drawn[2*i], p.drawn[2*j+1]-p.drawn[2*i+1]); l > 1e-6 {
		return true
	}
	p.problem(SamePlace, only, []string{a, b}, phrase.Of("slip.same-place", called("a", a), called("b", b), with("reading", r.say())), "Posts %s and %s are drawn at the same place, so the %s cannot be used. Draw them roughly where they stand.", a, b, name)
	return false
}

func quoted(s string) string {
	if s == "" {
		return "without a name"
	}
	return "“" + s + "”"
}

// alike suggests the post whose name differs only in letter case or spaces.
func (p *plane) alike(name string) string {
	flat := func(s string) string { return strings.ToLower(strings.ReplaceAll(s, " ", "")) }
	for _, pt := range p.net.Points {
		if flat(pt.Name) == flat(name) {
			return "; is it " + pt.Name + "?"
		}
	}
	return ""
}
