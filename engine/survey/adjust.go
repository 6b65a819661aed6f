package survey

import (
	"fmt"
	"math"
	"slices"
	"sort"

	"stallwright/engine/measure"
	"stallwright/engine/phrase"
	"stallwright/engine/survey/chance"
)

// mostRounds caps how often readings are set aside and taken back before the
// result stands.
const mostRounds = 6

// Adjust adjusts a plane network. Whatever is wrong with it is in the result's
// Problems and Suspects; readings and points that could not be used are there
// too, marked.
func Adjust(net Network, opt Options) Result {
	p := newPlane(net, opt.filled())
	p.checkDuplicates()
	p.checkUnits()
	p.checkConnected()
	c := p.clean()
	p.checkTriangles(c.skipped)
	p.findings(c)
	return p.report(c)
}

// cleaned is a network with its disagreeing readings set aside.
type cleaned struct {
	*solution
	loose   []bool
	aside   []found   // in the order they were set aside
	before  *solution // with every usable reading in, save gross ones
	skipped []bool    // usable but set aside
}

// clean adjusts, sets disagreeing readings aside, adjusts again without them,
// takes back those that then agree, until nothing changes.
func (p *plane) clean() *cleaned {
	c := &cleaned{skipped: p.screen()}
	active := make([]bool, len(p.usable))
	returned := make([]int, len(p.usable))
	for i, g := range c.skipped {
		if g {
			c.aside = append(c.aside, found{reading: i})
		}
	}
	start := p.drawn
	for round := 0; round < mostRounds; round++ {
		for i := range active {
			active[i] = p.usable[i] && !c.skipped[i]
		}
		switch {
		case round == 0:
			c.loose = p.determine(active)
		case slices.Contains(c.loose, true): // a reading taken back may tie it
			c.loose = p.looseIn(active)
		}
		c.solution = p.solve(start, active, c.loose)
		if len(c.factor.Collapsed) > 0 { // what was set aside left a post loose
			c.loose = p.looseIn(active)
			c.solution = p.solve(start, active, c.loose)
		}
		if c.before == nil {
			c.before = c.solution
		}
		fresh := snoop(c.estimate, p.opt)
		for _, f := range fresh {
			c.explainRivals(f, p.opt, func(i int) measure.Length { return p.net.Readings[i].Hooks })
			c.aside = append(c.aside, f)
			c.skipped[f.reading] = true
		}
		if len(fresh) == 0 {
			had := len(c.aside)
			if c.aside = takeBack(c.estimate, c.aside, c.skipped, returned, p.opt.CutOff); len(c.aside) == had {
				break
			}
		}
		start = c.xy
		active = append([]bool(nil), active...)
	}
	return c
}

// screen keeps grossly wrong distances out of the first adjustment, unless a
// post would then hang on nothing.
func (p *plane) screen() []bool {
	gross := p.grossly()
	any := false
	active := make([]bool, len(gross))
	for i, g := range gross {
		any = any || g
		active[i] = p.usable[i] && !g
	}
	if !any {
		return gross
	}
	with, without := p.determine(p.usable), p.determine(active)
	for i, e := range p.equation {
		for k := 0; gross[i] && k < 2; k++ {
			if q := e.post[k]; without[q] && !with[q] {
				gross[i] = false
			}
		}
	}
	return gross
}

// takeBack returns set-aside readings that agree with the adjustment made
// without them, or that nothing else checks; each may come back once.
func takeBack(e *estimate, aside []found, skipped []bool, returned []int, cutOff float64) (kept []found) {
	for _, f := range aside {
		i := f.reading
		_, sigma := e.against(i)
		if returned[i] == 0 && (sigma == 0 || math.Abs(e.w(i)) <= cutOff) {
			returned[i]++
			skipped[i] = false
			continue
		}
		kept = append(kept, f)
	}
	return kept
}

// explainRivals finds the slips that would explain each of a suspect's rivals;
// hooks is what was added to a reading as it was written.
func (e *estimate) explainRivals(f found, o Options, hooks func(i int) measure.Length) {
	for k := range f.others {
		a := &f.others[k]
		if d, sg := e.against(a.Reading); sg > 0 {
			v := e.value[a.Reading] - metres(hooks(a.Reading))
			a.Guesses = o.guesses(toLength(v), v-d, sg)
		}
	}
}

// checkConnected reports groups of posts that no reading joins to the rest.
func (p *plane) checkConnected() {
	if len(p.net.Points) == 0 {
		return
	}
	parts := p.parts(p.usable)
	main := p.mainPart(parts)
	members := make([][]string, len(parts))
	for i, r := range parts {
		members[r] = append(members[r], p.net.Points[i].Name)
	}
	for r, m := range members {
		if r == main || len(m) == 0 {
			continue
		}
		if len(m) == 1 {
			if !p.net.Points[r].Fixed {
				p.problem(NotConnected, nil, m, phrase.Of("slip.unreached", called("post", m[0])), "No usable reading reaches post %s.", m[0])
			}
			continue
		}
		p.problem(NotConnected, nil, m, phrase.Of("slip.apart", phrase.With("posts", names(m))), "Posts %s are measured to each other but not to the rest: read at least two distances and a diagonal across.", list(m, "and"))
	}
}

// findings adds the problems that only the adjustment shows.
func (p *plane) findings(c *cleaned) {
	if !c.settled {
		p.problem(NotSettled, nil, nil, phrase.Of("slip.not-settled"), "The posts could not be placed from these readings: draw them nearer to where they stand, or look for a reading that is far off.")
	}
	p.looseProblems(c)
	var weak []int
	var names []string
	var says phrase.List
	for i := range p.equation {
		if c.active[i] && c.redundancy(i) < weakCheck {
			weak = append(weak, i)
			names, says = append(names, p.net.Readings[i].label()), append(says, p.net.Readings[i].say())
		}
	}
	if len(weak) > 0 {
		p.problem(NothingChecks, weak, nil, phrase.Of("slip.nothing-checks", phrase.With("readings", says)), "Nothing checks %s: a slip there would not show.", list(names, "and"))
	}
	if n := len(c.aside); n > 3 && float64(3*n) > float64(len(p.usable)) {
		p.problem(TooManyWrong, nil, nil, phrase.Of("slip.too-many", phrase.With("wrong", phrase.Count(n)), phrase.With("all", phrase.Count(len(p.usable)))), "%d of %d readings disagree. Before reading them all again, look whether the drawing, the unit or a fixed post is wrong.", n, len(p.usable))
	}
}

func (p *plane) looseProblems(c *cleaned) {
	count := make([]int, len(p.net.Points))
	for i, e := range p.equation {
		if c.active[i] {
			for _, q := range e.post[:e.kind.posts()] {
				count[q]++
			}
		}
	}
	for i, l := range c.loose {
		if !l {
			continue
		}
		name := p.net.Points[i].Name
		switch count[i] {
		case 0: // said by checkConnected, or its readings were set aside
			p.problem(NotDetermined, nil, []string{name}, phrase.Of("slip.unplaced", called("post", name)), "Post %s cannot be placed: no reading that can be used reaches it.", name)
		case 1:
			p.problem(NotDetermined, nil, []string{name}, phrase.Of("slip.unplaced-one", called("post", name)), "Post %s cannot be placed: one reading is not enough, it takes two and a third to check.", name)
		default:
			p.problem(NotDetermined, nil, []string{name}, phrase.Of("slip.unplaced-swings", called("post", name), phrase.With("readings", phrase.Count(count[i]))), "Post %s cannot be placed: its %d readings leave it free to swing. A diagonal or an offset would hold it.", name, count[i])
		}
	}
}

// globalTest tests all readings together.
func (p *plane) globalTest(c *cleaned) GlobalTest {
	return globalTest(c.estimate, c.before.estimate, p.opt)
}

func globalTest(e, before *estimate, o Options) GlobalTest {
	t := GlobalTest{Redundancy: max(0, e.spare), SumSquares: e.sumSquares(), Passed: true, BeforeSetAside: before.sumSquares()}
	if t.Redundancy > 0 {
		t.Critical = chance.ChiSquareCritical(o.GlobalAlpha, t.Redundancy)
		t.VarianceFactor = t.SumSquares / float64(t.Redundancy)
		t.Passed = t.SumSquares <= t.Critical
	}
	if before.spare > 0 {
		t.FailedAtFirst = t.BeforeSetAside > chance.ChiSquareCritical(o.GlobalAlpha, before.spare)
	}
	return t
}

// suspects describes the readings set aside, the most certain first.
func (p *plane) suspects(c *cleaned) []Suspect {
	var aside []int
	for _, f := range c.aside {
		aside = append(aside, f.reading)
	}
	tested := 0
	for _, u := range p.usable {
		if u {
			tested++
		}
	}
	var out []Suspect
	for _, f := range c.aside {
		out = append(out, p.suspect(c, f, aside, tested))
	}
	sort.SliceStable(out, func(a, b int) bool { return math.Abs(out[a].W) > math.Abs(out[b].W) })
	return out
}

func (p *plane) suspect(c *cleaned, f found, aside []int, tested int) Suspect {
	i := f.reading
	d, sg := c.against(i)
	v := p.net.Readings[i].written()
	s := Suspect{Reading: i, Disagrees: toLength(d), Sigma: toLength(sg), W: c.w(i)}
	s.ChanceAlone = anyBeyond(s.W, tested)
	for _, o := range f.others {
		if !c.skipped[o.Reading] {
			s.Others = append(s.Others, o)
		}
	}
	if sg > 0 {
		s.Guesses = p.opt.guesses(v, metres(v)-d, sg)
		// A slip of the pen or the unit is likelier than a wrong post, but two
		// readings that fit each other's place were changed over.
		if pair := p.wrongPair(c.solution, i, aside); len(pair) > 0 && swapped(pair[0]) {
			s.Guesses = append(pair, s.Guesses...)
		} else {
			s.Guesses = append(s.Guesses, pair...)
		}
		s.Guesses = s.Guesses[:min(3, len(s.Guesses))]
	}
	if len(s.Others) > 0 {
		s.Separate = p.separateSuspects(c, s)
	}
	s.Sentence, s.Say = p.suspectSentence(s, sg)
	return s
}

// separateSuspects asks which reading would tell the suspect from the others,
// on the first adjustment, which still held them all.
func (p *plane) separateSuspects(c *cleaned, s Suspect) *Advice {
	if !c.before.active[s.Reading] {
		return nil
	}
	group := []int{s.Reading}
	for _, o := range s.Others[:min(7, len(s.Others))] {
		if c.before.active[o.Reading] {
			group = append(group, o.Reading)
		}
	}
	return p.separate(c.before, group)
}

// anyBeyond is the chance that the worst of n good readings has a |w| this
// large. The readings' tests are taken as independent, which makes it a little
// too high.
func anyBeyond(w float64, n int) float64 {
	one := chance.NormalBeyond(w)
	all := 1.0
	for k := 0; k < n; k++ {
		all = float64(all * (1 - one))
	}
	return 1 - all
}

func swapped(g Guess) bool { return len(g.Slip) > 7 && g.Slip[:7] == "changed" }

// list writes names as "a, b and c", at most eight of them.
func list(names []string, last string) string {
	const most = 8
	rest := ""
	if len(names) > most {
		rest = fmt.Sprintf(" and %d more", len(names)-most)
		names = names[:most]
	}
	s := ""
	for k, n := range names {
		switch {
		case k == 0:
		case k == len(names)-1 && rest == "":
			s += " " + last + " "
		default:
			s += ", "
		}
		s += n
	}
	return s + rest
}
