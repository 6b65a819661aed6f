package survey

import (
	"math"
	"sort"

	"stallwright/engine/phrase"
)

func (l *leveller) report(c *levelCleaned) LevelResult {
	l.findings(c)
	r := LevelResult{Test: globalTest(c.estimate, c.before.estimate, l.opt), Suspects: l.suspects(c), Loops: l.loops(), Wanted: l.wanted()}
	mark := func(node int) AdjustedMark {
		m := AdjustedMark{Name: l.name(node), Height: l.base + toLength(c.height[node]), Determined: l.determined(node)}
		if u := l.column[node]; u >= 0 {
			q, _ := c.inverse.At(u, u)
			m.Sigma = toLength(math.Sqrt(max(0, q)))
		}
		return m
	}
	for i, p := range l.net.Points {
		m := mark(i)
		if m.Fixed = p.Fixed; p.Fixed {
			m.Height = p.Height
		}
		r.Points = append(r.Points, m)
	}
	for k, s := range l.setUps {
		m := mark(len(l.net.Points) + k)
		m.Name = s
		r.SetUps = append(r.SetUps, m)
	}
	for i, rd := range l.net.Readings {
		a := AdjustedReading{Status: Unusable}
		if l.usable[i] {
			a = c.reading(l.opt, i)
			if c.skipped[i] {
				a.Status = SetAside
			}
		}
		a.Name, a.Say, a.Value = rd.label(), rd.say(), rd.Value
		if l.usable[i] {
			a.Residual = a.Adjusted - a.Value
		}
		r.Readings = append(r.Readings, a)
	}
	r.Problems = l.problems
	return r
}

// findings reports set-ups and points that nothing joins to the rest, and
// readings that nothing checks.
func (l *leveller) findings(c *levelCleaned) {
	members := make([][]string, len(l.group))
	for node, g := range l.group {
		members[g] = append(members[g], l.name(node))
	}
	for g, m := range members {
		if len(m) == 0 || l.determined(g) {
			continue
		}
		if len(m) == 1 {
			l.problem(NotConnected, nil, m, phrase.Of("slip.level-unreached", called("point", m[0])), "No level reading that can be used reaches %s.", m[0])
			continue
		}
		l.problem(NotConnected, nil, m, phrase.Of("slip.level-apart", phrase.With("points", names(m))), "The level readings of %s share no point with the others: from one of these set-ups read a point that another set-up has read.", list(m, "and"))
	}
	var weak []int
	var labels []string
	var says phrase.List
	for i := range l.at {
		if c.active[i] && c.redundancy(i) < weakCheck {
			weak = append(weak, i)
			labels, says = append(labels, l.net.Readings[i].label()), append(says, l.net.Readings[i].say())
		}
	}
	if len(weak) > 0 {
		l.problem(NothingChecks, weak, nil, phrase.Of("slip.nothing-checks-level", phrase.With("readings", says)), "Nothing checks %s: a slip there would not show. Read the point again from another set-up.", list(labels, "and"))
	}
}

func (l *leveller) suspects(c *levelCleaned) []Suspect {
	tested := 0
	for _, u := range l.usable {
		if u {
			tested++
		}
	}
	t := teller{o: l.opt, labels: func(i int) string { return l.net.Readings[i].label() }, says: func(i int) phrase.Phrase { return l.net.Readings[i].say() }}
	var out []Suspect
	for _, f := range c.aside {
		i := f.reading
		d, sg := c.against(i)
		v := l.net.Readings[i].Value
		s := Suspect{Reading: i, Disagrees: toLength(d), Sigma: toLength(sg), W: c.w(i), ChanceAlone: anyBeyond(c.w(i), tested)}
		if sg > 0 {
			s.Guesses = l.opt.guesses(v, metres(v)-d, sg)
		}
		for _, o := range f.others {
			if !c.skipped[o.Reading] {
				s.Others = append(s.Others, o)
			}
		}
		if len(s.Others) > 0 {
			s.Separate = l.separate(c, s)
		}
		s.Sentence = t.suspect(l.net.Readings[i].label(), Rod, v, s, sg)
		s.Say = t.say(l.net.Readings[i].say(), v, s, sg)
		out = append(out, s)
	}
	sortSuspects(out)
	return out
}

// separate proposes the rod reading, at a point from a set-up that has not read
// it, that would best tell the suspects apart.
func (l *leveller) separate(c *levelCleaned, s Suspect) *Advice {
	active := append([]bool(nil), c.active...)
	active[s.Reading] = true
	before := *l // solving with the suspect back in regroups the nodes
	defer func() { *l = before }()
	with := l.solve(active)
	suspects := []int{s.Reading}
	nodes := map[int]bool{}
	for _, o := range s.Others[:min(7, len(s.Others))] {
		suspects = append(suspects, o.Reading)
	}
	for _, i := range suspects {
		nodes[l.at[i][0]], nodes[l.at[i][1]] = true, true
	}
	var near []int
	for n := range nodes {
		near = append(near, n)
	}
	sort.Ints(near)
	near = l.widen(near, nodes)
	have := map[[2]int]bool{}
	for i, at := range l.at {
		if l.usable[i] {
			have[at] = true
		}
	}
	var list []candidate
	var names [][]string
	for _, p := range near {
		for _, st := range near {
			if p >= len(l.net.Points) || st < len(l.net.Points) || have[[2]int{p, st}] || l.group[p] != l.group[st] {
				continue
			}
			k := candidate{equation: equation{kind: Rod, sigma: l.opt.Rod.sigma(0)}}
			for a, f := range [2]float64{-1, 1} {
				if u := l.column[[2]int{p, st}[a]]; u >= 0 {
					k.cols, k.vals = append(k.cols, u), append(k.vals, f)
				}
			}
			list = append(list, k)
			names = append(names, []string{l.net.Points[p].Name, l.setUps[st-len(l.net.Points)]})
		}
	}
	best := with.separator(suspects, list)
	if best < 0 {
		return nil
	}
	return &Advice{Kind: Rod, Posts: names[best], Why: phrase.Of("slip.tells-apart")}
}

// widen adds the nodes one reading away, up to mostNear in all.
func (l *leveller) widen(near []int, have map[int]bool) []int {
	out := append([]int(nil), near...)
	for i, at := range l.at {
		if !l.usable[i] {
			continue
		}
		for k := 0; k < 2; k++ {
			if have[at[k]] && !have[at[1-k]] && len(out) < mostNear {
				out = append(out, at[1-k])
			}
		}
	}
	seen := map[int]bool{}
	n := 0
	for _, v := range out {
		if !seen[v] {
			seen[v] = true
			out[n] = v
			n++
		}
	}
	return out[:n]
}

// wanted proposes the readings that would join what is apart: for each loose
// group, its first set-up reading a point of the main group.
func (l *leveller) wanted() []Advice {
	if len(l.net.Points) == 0 {
		return nil
	}
	known := -1
	for i := range l.net.Points {
		if l.determined(i) {
			known = i
			break
		}
	}
	var out []Advice
	for k, s := range l.setUps {
		node := len(l.net.Points) + k
		first := true
		for j := 0; j < k; j++ {
			first = first && l.group[len(l.net.Points)+j] != l.group[node]
		}
		if known >= 0 && first && !l.determined(node) {
			out = append(out, Advice{Kind: Rod, Posts: []string{l.net.Points[known].Name, s}, Why: phrase.Of("slip.joins-set-up", called("set-up", s))})
		}
	}
	for i, p := range l.net.Points {
		if len(l.setUps) > 0 && l.group[i] == i && !l.determined(i) && !l.read(i) {
			out = append(out, Advice{Kind: Rod, Posts: []string{p.Name, l.setUps[0]}, Why: phrase.Of("slip.reaches", called("point", p.Name))})
		}
	}
	return out
}

// read reports whether any usable reading stands at the point.
func (l *leveller) read(point int) bool {
	for i, at := range l.at {
		if l.usable[i] && at[0] == point {
			return true
		}
	}
	return false
}

// loops finds the independent ways round: for every reading beyond a tree that
// spans the points and set-ups, the way back through the tree.
func (l *leveller) loops() []Loop {
	n := len(l.net.Points) + len(l.setUps)
	edges := make([][]int, n)
	for i, at := range l.at {
		if l.usable[i] {
			edges[at[0]] = append(edges[at[0]], i)
			edges[at[1]] = append(edges[at[1]], i)
		}
	}
	up := make([]int, n) // reading toward the root
	depth := make([]int, n)
	inTree := make([]bool, len(l.at))
	for i := range up {
		up[i], depth[i] = -1, -1
	}
	for root := 0; root < n; root++ {
		if depth[root] >= 0 {
			continue
		}
		depth[root] = 0
		queue := []int{root}
		for head := 0; head < len(queue); head++ {
			u := queue[head]
			for _, i := range edges[u] {
				v := l.at[i][0] + l.at[i][1] - u
				if depth[v] < 0 {
					depth[v], up[v], inTree[i] = depth[u]+1, i, true
					queue = append(queue, v)
				}
			}
		}
	}
	var out []Loop
	for i := range l.at {
		if l.usable[i] && !inTree[i] {
			out = append(out, l.loop(i, up, depth))
		}
	}
	return out
}

// loop goes up along reading i from its point to its set-up and back down
// through the tree.
func (l *leveller) loop(i int, up, depth []int) Loop {
	readings := []int{i}
	var rise, variance float64
	add := func(k int, sign float64) {
		rise += float64(sign * metres(l.net.Readings[k].Value))
		variance += float64(l.sigma[k] * l.sigma[k])
	}
	add(i, 1)
	a, b := l.at[i][1], l.at[i][0] // from the set-up back to the point
	for a != b {
		from := &a
		sign := 1.0
		if depth[b] > depth[a] {
			from, sign = &b, -1
		}
		k := up[*from]
		if *from == l.at[k][1] {
			sign = -sign // going down from a line of sight to a point
		}
		add(k, sign)
		readings = append(readings, k)
		*from = l.at[k][0] + l.at[k][1] - *from
	}
	sort.Ints(readings)
	return Loop{Readings: readings, Misclosure: toLength(rise), Allowed: toLength(float64(l.opt.CutOff * math.Sqrt(variance)))}
}
