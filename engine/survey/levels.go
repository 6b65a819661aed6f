package survey

import (
	"fmt"
	"math"
	"sort"

	"stallwright/engine/measure"
	"stallwright/engine/phrase"
	"stallwright/engine/survey/normal"
)

// LevelNetwork is a set of level readings: from each set-up of the instrument
// a rod is read at some posts or marks. The line of sight stands Reading above
// each point read, so a higher reading is a lower point.
type LevelNetwork struct {
	Points   []Mark
	Readings []LevelReading
}

// Mark is a point whose height is asked for or known.
type Mark struct {
	Name   string
	Height measure.Length // the known height when Fixed, else only where to start counting
	Fixed  bool
}

// LevelReading is one rod reading as it was written down.
type LevelReading struct {
	Name  string         // made from point and set-up if empty
	SetUp string         // name of the set-up; a moved instrument is a new set-up
	Point string         // where the rod stood
	Value measure.Length // read on the rod
	Sigma measure.Length // standard deviation; 0 to take it from Options.Rod
	By    string         // who read it
	When  string         // when, as written
}

func (r LevelReading) label() string {
	if r.Name != "" {
		return r.Name
	}
	return placeLabel(Rod, []string{r.Point, r.SetUp})
}

// LevelResult is an adjusted level network.
type LevelResult struct {
	Points   []AdjustedMark
	SetUps   []AdjustedMark // heights of the lines of sight, in order of first use
	Readings []AdjustedReading
	Loops    []Loop
	Test     GlobalTest
	Suspects []Suspect
	Problems []Problem
	Wanted   []Advice
}

// AdjustedMark is the height a point or a line of sight came out at.
type AdjustedMark struct {
	Name       string
	Height     measure.Length
	Sigma      measure.Length // standard deviation against the datum
	Fixed      bool
	Determined bool // readings join it to the datum; if not, Height counts from its own group's first point
}

// Loop is a way round through set-ups back to where it began.
type Loop struct {
	Readings   []int          // indexes of the readings along it
	Misclosure measure.Length // how much higher it arrives than it set out
	Allowed    measure.Length // what the readings' precision lets it be (cut-off × its standard deviation)
}

// Closed reports whether the loop closes as well as it should.
func (l Loop) Closed() bool { return l.Misclosure.Abs() <= l.Allowed }

// leveller is a level network made ready to compute. Points come first among
// its nodes, then set-ups.
type leveller struct {
	net      LevelNetwork
	opt      Options
	point    map[string]int
	setUp    map[string]int
	setUps   []string
	at       [][2]int // point and set-up node of each reading
	usable   []bool
	sigma    []float64
	problems []Problem
	base     measure.Length // subtracted from all heights

	group  []int  // lowest node that readings join each node to
	column []int  // unknown of each node, -1 for one held
	held   []bool // node held still: fixed, or the first of its group
	main   int    // group that carries the datum
}

// AdjustLevels adjusts a level network. Where no point is fixed, the first
// point of the largest group of joined readings keeps its given height.
func AdjustLevels(net LevelNetwork, opt Options) LevelResult {
	l := newLeveller(net, opt.filled())
	l.checkRepeats()
	c := l.clean()
	return l.report(c)
}

func (l *leveller) problem(c Code, readings []int, posts []string, say phrase.Phrase, format string, args ...any) {
	l.problems = append(l.problems, Problem{Code: c, Readings: readings, Posts: posts, Sentence: fmt.Sprintf(format, args...), Say: say})
}

func newLeveller(net LevelNetwork, o Options) *leveller {
	l := &leveller{net: net, opt: o, point: map[string]int{}, setUp: map[string]int{}}
	for i, m := range net.Points {
		if _, ok := l.point[m.Name]; ok {
			l.problem(RepeatedPost, nil, []string{m.Name}, phrase.Of("slip.two-points", called("point", m.Name)), "There are two points named %s. Rename one: until then readings go to the first.", m.Name)
			continue
		}
		l.point[m.Name] = i
		if m.Fixed && l.base == 0 {
			l.base = m.Height
		}
	}
	for i, r := range net.Readings {
		l.sigma = append(l.sigma, max(1e-6, metres(r.Sigma)))
		if r.Sigma <= 0 {
			l.sigma[i] = o.Rod.sigma(metres(r.Value.Abs()))
		}
		p, ok := l.point[r.Point]
		if !ok {
			l.problem(UnknownPost, []int{i}, []string{r.Point}, phrase.Of("slip.unknown-point", with("reading", r.say()), called("point", r.Point)), "The %s names point %s, which is not among the points.", r.label(), quoted(r.Point))
		}
		if ok && r.Value.Abs() > measure.MaxLength {
			ok = false
			l.problem(BadValue, []int{i}, []string{r.Point}, phrase.Of("slip.bad-value", with("reading", r.say()), phrase.With("value", phrase.Length(r.Value))), "The %s cannot be right as written: %s.", r.label(), r.Value.In(o.Show.System))
		}
		s, known := l.setUp[r.SetUp]
		if !known && ok {
			s = len(net.Points) + len(l.setUps)
			l.setUp[r.SetUp] = s
			l.setUps = append(l.setUps, r.SetUp)
		}
		l.at = append(l.at, [2]int{p, s})
		l.usable = append(l.usable, ok)
	}
	return l
}

// name is the name of a node.
func (l *leveller) name(node int) string {
	if n := len(l.net.Points); node >= n {
		return "set-up " + l.setUps[node-n]
	}
	return l.net.Points[node].Name
}

// checkRepeats reports points read twice from one set-up with different
// results: the instrument moved, or one reading is wrong.
func (l *leveller) checkRepeats() {
	first := map[[2]int]int{}
	for i, at := range l.at {
		if !l.usable[i] {
			continue
		}
		j, ok := first[at]
		if !ok {
			first[at] = i
			continue
		}
		a, b := l.net.Readings[j], l.net.Readings[i]
		d := (a.Value - b.Value).Abs()
		allowed := float64(l.opt.CutOff * math.Sqrt(float64(l.sigma[i]*l.sigma[i])+float64(l.sigma[j]*l.sigma[j])))
		if metres(d) > allowed {
			l.problem(DuplicateDiffers, []int{j, i}, []string{b.Point}, phrase.Of("slip.level-twice", called("point", b.Point), called("set-up", b.SetUp), with("first", l.opt.taken(a.Value, a.By, a.When)), with("second", l.opt.taken(b.Value, b.By, b.When))), "%s was read from set-up %s as %s%s and as %s%s. The instrument moved between, or one is misread: read it again, and if it still differs start a new set-up.",
				b.Point, b.SetUp, l.opt.show(a.Value), by(a.By, a.When), l.opt.show(b.Value), by(b.By, b.When))
		}
	}
}

// join groups the nodes the active readings join and chooses what holds each
// group still.
func (l *leveller) join(active []bool) {
	n := len(l.net.Points) + len(l.setUps)
	l.group = make([]int, n)
	for i := range l.group {
		l.group[i] = i
	}
	find := func(i int) int {
		for l.group[i] != i {
			l.group[i] = l.group[l.group[i]]
			i = l.group[i]
		}
		return i
	}
	for i, at := range l.at {
		if active[i] {
			a, b := find(at[0]), find(at[1])
			l.group[max(a, b)] = min(a, b)
		}
	}
	fixed, size := make([]int, n), make([]int, n)
	l.held = make([]bool, n)
	for i := range l.group {
		l.group[i] = find(i)
		size[l.group[i]]++
		if i < len(l.net.Points) && l.net.Points[i].Fixed {
			l.held[i] = true
			fixed[l.group[i]]++
		}
	}
	l.main = 0
	for g := range size {
		if fixed[g] > fixed[l.main] || fixed[g] == fixed[l.main] && size[g] > size[l.main] {
			l.main = g
		}
	}
	for i, g := range l.group {
		if i == g && fixed[g] == 0 {
			l.held[i] = true // the lowest node of a group is a point unless a set-up stands alone
		}
	}
	l.column, _ = columns(l.held)
}

// determined reports whether a node hangs on known heights, or on the datum
// where nothing is fixed.
func (l *leveller) determined(node int) bool {
	g := l.group[node]
	if g == l.main {
		return true
	}
	for i, p := range l.net.Points {
		if p.Fixed && l.group[i] == g {
			return true
		}
	}
	return false
}

// start is the height a held node keeps, metres above the base.
func (l *leveller) start(node int) float64 {
	if node < len(l.net.Points) {
		return metres(l.net.Points[node].Height - l.base)
	}
	return 0
}

// levelled is a solved level network.
type levelled struct {
	*estimate
	height []float64 // of every node, metres above the base
}

// solve adjusts the active readings: rod = line of sight − point.
func (l *leveller) solve(active []bool) *levelled {
	l.join(active)
	unknowns := 0
	height := make([]float64, len(l.column))
	for node, c := range l.column {
		if c >= 0 {
			unknowns++
		} else {
			height[node] = l.start(node)
		}
	}
	value := make([]float64, len(l.net.Readings))
	for i, r := range l.net.Readings {
		value[i] = metres(r.Value)
	}
	s := newSystem(unknowns, value, l.sigma)
	for i, at := range l.at {
		var cols []int
		var vals []float64
		if l.usable[i] {
			for k, f := range [2]float64{-1, 1} {
				if c := l.column[at[k]]; c >= 0 {
					cols, vals = append(cols, c), append(vals, f)
				}
			}
			s.misclose[i] = value[i] - (height[at[1]] - height[at[0]])
		}
		s.design.Add(cols, vals)
	}
	s.addPriors()
	hold := make([]bool, unknowns)
	s.setWeights(active, hold, priorSigma)
	f := normal.Analyse(s.design).Factorise(s.design, s.weight, pivotTolerance)
	x := f.Solve(s.rightSide(make([]float64, unknowns)))
	for node, c := range l.column {
		if c >= 0 {
			height[node] = x[c]
		}
	}
	for i, at := range l.at {
		if l.usable[i] {
			s.misclose[i] = value[i] - (height[at[1]] - height[at[0]])
		}
	}
	return &levelled{estimate: s.estimate(f, active, hold), height: height}
}

// levelCleaned is a level network with its disagreeing readings set aside.
type levelCleaned struct {
	*levelled
	before  *levelled
	aside   []found
	skipped []bool
}

func (l *leveller) clean() *levelCleaned {
	c := &levelCleaned{skipped: make([]bool, len(l.usable))}
	returned := make([]int, len(l.usable))
	for round := 0; round < mostRounds; round++ {
		active := make([]bool, len(l.usable))
		for i := range active {
			active[i] = l.usable[i] && !c.skipped[i]
		}
		c.levelled = l.solve(active)
		if c.before == nil {
			c.before = c.levelled
		}
		fresh := snoop(c.estimate, l.opt)
		for _, f := range fresh {
			c.explainRivals(f, l.opt, func(int) measure.Length { return 0 })
			c.aside = append(c.aside, f)
			c.skipped[f.reading] = true
		}
		if len(fresh) == 0 {
			had := len(c.aside)
			if c.aside = takeBack(c.estimate, c.aside, c.skipped, returned, l.opt.CutOff); len(c.aside) == had {
				break
			}
		}
	}
	return c
}

// sortSuspects puts the most certain first.
func sortSuspects(s []Suspect) {
	sort.SliceStable(s, func(a, b int) bool { return math.Abs(s[a].W) > math.Abs(s[b].W) })
}
