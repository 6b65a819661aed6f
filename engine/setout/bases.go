package setout

import (
	"fmt"
	"math/big"

	"stallwright/engine/finding"
	"stallwright/engine/kit"
	"stallwright/engine/measure"
	"stallwright/engine/phrase"
	"stallwright/engine/reason"
)

// bases works out what each post stands on: heights where the ground was
// levelled, holes and concrete for piers.
func (m *maker) bases(s int, o *Structure) {
	out := &Bases{}
	if o.Site != nil {
		out.Bench = m.field.Bench
		out.Top = m.top(s, o)
		out.Laid = out.Top.Value - o.Site.High.Value
	}
	bags := map[*kit.Base]*bag{}
	short := map[*kit.Base]*shortage{}
	var shorts []*kit.Base
	for _, p := range m.posts[s] {
		item := m.layout.Posts[p].Base
		if item == nil {
			continue
		}
		b := Base{Post: p, Name: m.name(p), Item: item}
		if o.Site != nil {
			m.heights(&b, out)
		}
		if item.Kind == kit.Pier {
			if bags[item] == nil {
				bags[item] = m.bagOf(item)
			}
			m.pier(&b, bags[item])
			if g := bags[item]; g.part != nil {
				out.Bag, out.BagItem = g.part.Name, g.part.ID
				if b.Bags > g.ordered {
					if short[item] == nil {
						short[item] = &shortage{}
						shorts = append(shorts, item)
					}
					short[item].add(b.Name, b.Bags-g.ordered)
				}
			}
		}
		out.List = append(out.List, b)
	}
	if len(out.List) == 0 {
		return
	}
	m.total(out)
	for _, item := range shorts {
		q, g := short[item], bags[item]
		m.find(finding.BagsShort, finding.Warning, o.Name,
			fmt.Sprintf("%d bags more than the order holds (%s): the kit sends %d with each %s, but standing out of the ground %s take more", q.bags, g.part.Name, g.ordered, item.Name, few(q.names)), "",
			phrase.Of("way.order-difference"), phrase.Of("way.cut-ground"), phrase.Of("way.correct-count", phrase.With("item", phrase.Name(item.ID))))
		m.say("found.bags", count("n", q.bags))
	}
	o.Bases = out
}

// top is the level of all bases: posts are cut to stand on the finished floor,
// and the highest ground governs, so that no base is buried. On a slab they stand
// on the slab itself.
func (m *maker) top(s int, o *Structure) Number {
	rule, from := phrase.Of("rule.highest-buried"), []*reason.Reason{o.Site.High.Why}
	top := o.Site.High.Value
	if laid := m.field.Laid[o.Name]; laid.Thick > 0 && !m.onSlab(s) {
		top += laid.Thick
		rule = phrase.Of("rule.highest-laid")
		from = append(from, reason.Given(phrase.Of("why.still-laid"), m.near(laid.Thick), laid.Source))
	}
	return m.of(top, phrase.Of("why.bases-top", m.bench()), rule, phrase.Phrase{}, from...)
}

// onSlab says whether a structure's posts stand on concrete that is there.
func (m *maker) onSlab(s int) bool {
	for _, p := range m.posts[s] {
		if b := m.layout.Posts[p].Base; b != nil && b.Kind == kit.Slab {
			return true
		}
	}
	return false
}

// shortage gathers piers that take more bags than come with them.
type shortage struct {
	names []string
	bags  int
}

func (q *shortage) add(name string, n int) { q.names, q.bags = append(q.names, name), q.bags+n }

// heights sets a base level with the others.
func (m *maker) heights(b *Base, out *Bases) {
	ground := m.groundAt(b.Name)
	stands := m.of(out.Top.Value-ground.Value, phrase.Of("why.base-top", phrase.With("post", phrase.Name(b.Name))), phrase.Of("rule.top-less"), phrase.Phrase{}, out.Top.Why, ground.Why)
	b.Ground, b.Top, b.Out = &ground, &out.Top, &stands
}

// bag is the concrete that comes with a base.
type bag struct {
	part    *kit.Part
	ordered int // with each base
	why     *reason.Reason
}

// bagOf finds what of a base's parts is concrete.
func (m *maker) bagOf(item *kit.Base) *bag {
	for i := range item.With {
		w := &item.With[i]
		part := m.kit.Part(w.Use)
		if part == nil || part.Yield <= 0 {
			continue
		}
		n, err := w.Count.Count(&kit.Facts{})
		if err != nil {
			continue // the take-off tells it
		}
		return &bag{part, n, reason.Given(phrase.Of("why.one-makes", phrase.With("part", m.kit.Called(part.ID, part.Name))), phrase.Name(part.Yield.In(m.job.Units)), m.kitSource("parts "+part.ID+".yield", part.Of("yield").Line))}
	}
	return &bag{}
}

// pier works out a round pier's hole and concrete.
func (m *maker) pier(b *Base, g *bag) {
	item := b.Item
	b.Depth = m.given(item.Depth, phrase.Of("why.hole-depth"), phrase.Of("source.frost", phrase.With("source", m.kitSource("bases "+item.ID+".depth", item.Of("depth").Line))))
	length, from := item.Depth, []*reason.Reason{b.Depth.Why}
	if b.Out != nil {
		length += b.Out.Value
		from = append(from, b.Out.Why)
	}
	b.Length = m.of(length, phrase.Of("why.pier-length", phrase.With("post", phrase.Name(b.Name))), phrase.Of("rule.depth-out"), phrase.Phrase{}, from...)
	across := reason.Given(phrase.Of("why.across"), m.near(item.Diameter), m.kitSource("bases "+item.ID+".diameter", item.Of("diameter").Line))
	b.Dig = m.round(item.Diameter, item.Depth, phrase.Of("why.hole", called("post", b.Name)), across, b.Depth.Why)
	b.Concrete = m.round(item.Diameter, length, phrase.Of("why.concrete", called("post", b.Name)), across, b.Length.Why)
	if g.part == nil {
		return
	}
	b.Bags = bagsFor(b.Concrete.Value, g.part.Yield)
	b.WhyBags = reason.Of(phrase.Of("why.item-for", phrase.With("item", m.kit.Called(g.part.ID, g.part.Name)), called("post", b.Name)), phrase.Count(b.Bags), phrase.Of("rule.concrete-bags"), phrase.Phrase{}, b.Concrete.Why, g.why)
}

// round is the volume of a round hole or pier, up.
func (m *maker) round(across, length measure.Length, what phrase.Phrase, from ...*reason.Reason) Bulk {
	v := Cylinder(across, length)
	return Bulk{v, reason.Of(what, phrase.Name(m.showVolume(v)), phrase.Of("rule.cylinder"), phrase.Phrase{}, from...)}
}

func (m *maker) showVolume(v measure.Volume) string { return v.In(m.job.Units) }

// bagsFor is how many bags make a volume.
func bagsFor(v, yield measure.Volume) int {
	return int((int64(v) + int64(yield) - 1) / int64(yield))
}

// π to eighteen decimals, in units of 10⁻¹⁸.
const pi18 = 3_141_592_653_589_793_238

// nm3 is how many cubic nanometres make a nanolitre.
const nm3 = 1_000_000_000_000_000

// Cylinder is the volume of a round pier, π/4·d²·l, rounded up to a nanolitre
// (the order of π's own rounding). It ends at the most a Volume holds.
func Cylinder(across, length measure.Length) measure.Volume {
	if across <= 0 || length <= 0 {
		return 0
	}
	n := big.NewInt(pi18)
	for _, f := range []measure.Length{across, across, length} {
		n.Mul(n, big.NewInt(int64(f)))
	}
	unit := new(big.Int).Mul(big.NewInt(4*1_000_000_000), big.NewInt(1_000_000_000))
	unit.Mul(unit, big.NewInt(nm3))
	n.Add(n, new(big.Int).Sub(unit, big.NewInt(1)))
	n.Quo(n, unit)
	if !n.IsInt64() {
		return 1<<63 - 1
	}
	return measure.Volume(n.Int64())
}

// total sums up a list of bases.
func (m *maker) total(out *Bases) {
	var concrete, dig measure.Volume
	for i := range out.List {
		concrete = measure.Sum(concrete, out.List[i].Concrete.Value)
		dig = measure.Sum(dig, out.List[i].Dig.Value)
		out.Bags += out.List[i].Bags
	}
	out.Concrete = Bulk{concrete, reason.Of(phrase.Of("why.concrete-all"), phrase.Name(m.showVolume(concrete)), phrase.Of("rule.sum-piers"), phrase.Phrase{})}
	out.Dig = Bulk{dig, reason.Of(phrase.Of("why.holes-all"), phrase.Name(m.showVolume(dig)), phrase.Of("rule.sum-holes"), phrase.Phrase{})}
}
