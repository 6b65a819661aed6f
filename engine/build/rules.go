package build

// Rule is one fact of the trade that puts one operation before another.
type Rule struct {
	ID     RuleID
	Says   string // in a sentence
	Source string
}

// rule is a Rule and the pairs of operations it orders.
type rule struct {
	id    RuleID
	says  string
	apply func(b *builder, before func(first, then int))
}

// Rules lists every rule of precedence. What a first-time crew has to keep in mind
// is here and nowhere else: an order of work is right if it keeps these.
func Rules() []Rule {
	var out []Rule
	for _, list := range ruleTables {
		for _, r := range list {
			out = append(out, Rule{r.id, r.says, byPractice})
		}
	}
	return out
}

var ruleTables = [][]rule{groundRules, penRules, barnRules, freeRules, bayRules, doorRules}

// wait is an edge in the making.
type wait struct {
	first, then int
	rule        RuleID
}

// rules applies every rule.
func (b *builder) rules() []wait {
	var out []wait
	for _, list := range ruleTables {
		for i := range list {
			r := &list[i]
			if b.skip[r.id] {
				continue
			}
			r.apply(b, func(first, then int) {
				if first >= 0 && then >= 0 && first != then {
					out = append(out, wait{first, then, r.id})
				}
			})
		}
	}
	return out
}

// each calls f for every operation of a role.
func (b *builder) each(r role, f func(i int, s spot)) {
	for i := range b.nodes {
		if b.nodes[i].role == r {
			f(i, b.nodes[i].spot)
		}
	}
}

// first is the first of the operations that there is; -1 for none.
func first(list ...int) int {
	for _, i := range list {
		if i >= 0 {
			return i
		}
	}
	return -1
}

func atRun(r int) spot  { return spot{ofRun, r} }
func atBay(v int) spot  { return spot{ofBay, v} }
func atPost(p int) spot { return spot{ofPost, p} }
func at(s int) spot     { return spot{ofStructure, s} }

// opening is what is done first and last in a bay's stack; -1 where it has none.
func (b *builder) opening(v int) (first, last int) {
	st := b.stacks[v]
	if len(st) == 0 {
		return -1, -1
	}
	return st[0], st[len(st)-1]
}

// groundRules order setting out, bases and what stands on them.
var groundRules = []rule{
	{"set-out-first", "Nothing is dug, laid or stood before it is set out.", func(b *builder, before func(int, int)) {
		for s := range b.Layout.Structures {
			o := first(b.node(roleSetOut, at(s)), b.node(roleDatum, at(s)))
			before(b.node(roleSetOut, at(s)), b.node(roleDatum, at(s)))
			for _, p := range b.posts[s] {
				before(o, first(b.node(rolePour, atPost(p)), b.node(roleSeat, atPost(p)), b.node(roleStand, atPost(p)), b.node(roleMark, atPost(p))))
			}
			for _, r := range b.runs[s] {
				before(o, first(b.node(roleMove, atRun(r)), b.node(roleLagLeft, atRun(r))))
			}
		}
	}},
	{"base-before-post", "A post stands on its base: the base lies, or is poured and has cured, before.", func(b *builder, before func(int, int)) {
		for p := range b.Layout.Posts {
			base := first(b.node(rolePour, atPost(p)), b.node(roleSeat, atPost(p)))
			before(base, b.node(roleStand, atPost(p)))
			before(base, b.node(rolePinLow, atPost(p)))
		}
		for r := range b.Layout.Runs {
			m := b.node(roleMove, atRun(r))
			for _, p := range []int{b.Layout.Runs[r].From, b.Layout.Runs[r].To} {
				before(first(b.node(rolePour, atPost(p)), b.node(roleSeat, atPost(p))), m)
			}
		}
	}},
	{"true-before-anchor", "Feet are anchored once everything on them stands true.", func(b *builder, before func(int, int)) {
		b.each(roleAnchor, func(i int, s spot) {
			before(b.node(roleRound, at(b.Layout.Posts[s.at].Structure)), i)
			for _, v := range b.roomsAt(s.at) {
				before(b.node(roleSquare, spot{ofRoom, v}), i)
			}
			before(b.node(roleStand, s), i)
		})
	}},
	{"anchored-before-boards", "A frame's feet are anchored before boards make it heavy.", func(b *builder, before func(int, int)) {
		b.each(roleAnchor, func(i int, s spot) {
			for _, r := range b.runsAt(s.at) {
				for _, v := range b.Layout.Runs[r].Bays {
					open, _ := b.opening(v)
					before(i, open)
				}
			}
		})
	}},
}

// roomsAt are the rooms with a corner at a post.
func (b *builder) roomsAt(post int) []int {
	if b.cornerOf == nil {
		b.cornerOf = make([][]int, len(b.Layout.Posts))
		for i := range b.Layout.Rooms {
			for _, c := range b.Layout.Rooms[i].Corners {
				b.cornerOf[c] = append(b.cornerOf[c], i)
			}
		}
	}
	return b.cornerOf[post]
}

// runsAt are the built runs that end at a post.
func (b *builder) runsAt(post int) []int {
	if b.endOf == nil {
		b.endOf = make([][]int, len(b.Layout.Posts))
		for _, list := range b.runs {
			for _, r := range list {
				v := &b.Layout.Runs[r]
				b.endOf[v.From], b.endOf[v.To] = append(b.endOf[v.From], r), append(b.endOf[v.To], r)
			}
		}
	}
	return b.endOf[post]
}
