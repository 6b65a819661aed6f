package survey

import (
	"math/rand"
	"strings"
	"testing"

	"stallwright/engine/measure"
)

// square is one 12 ft bay with both diagonals.
func square() Network {
	s := 12 * measure.Foot
	d := toLength(s.Metres() * 1.4142135623730951)
	net := Network{Points: []Point{{Name: "A1"}, {Name: "A2", X: s}, {Name: "B2", X: s, Y: s}, {Name: "B1", Y: s}}}
	for _, r := range []struct {
		a, b string
		l    measure.Length
	}{{"A1", "A2", s}, {"A2", "B2", s}, {"B2", "B1", s}, {"B1", "A1", s}, {"A1", "B2", d}, {"A2", "B1", d}} {
		net.Readings = append(net.Readings, Reading{Kind: Distance, Posts: []string{r.a, r.b}, Value: r.l})
	}
	return net
}

// has finds a problem of a kind whose sentence holds all the words.
func has(problems []Problem, c Code, words ...string) bool {
	for _, p := range problems {
		ok := p.Code == c
		for _, w := range words {
			ok = ok && strings.Contains(p.Sentence, w)
		}
		if ok {
			return true
		}
	}
	return false
}

func TestBadInputGetsASentence(t *testing.T) {
	ft := measure.Foot
	extra := func(r Reading) func(*Network) {
		return func(n *Network) { n.Readings = append(n.Readings, r) }
	}
	for _, c := range []struct {
		name  string
		spoil func(*Network)
		code  Code
		words []string
	}{
		{"unknown post", extra(Reading{Kind: Distance, Posts: []string{"A1", "C9"}, Value: ft}), UnknownPost, []string{"“C9”", "not among the posts"}},
		{"other letter case", extra(Reading{Kind: Distance, Posts: []string{"A1", "b2"}, Value: ft}), UnknownPost, []string{"is it B2?"}},
		{"no name", extra(Reading{Kind: Distance, Posts: []string{"A1", ""}, Value: ft}), UnknownPost, []string{"without a name"}},
		{"one post twice", extra(Reading{Kind: Diagonal, Posts: []string{"A1", "A1"}, Value: ft}), SamePostTwice, []string{"twice"}},
		{"too few posts", extra(Reading{Kind: Offset, Posts: []string{"A1", "A2"}, Value: ft}), WrongPostCount, []string{"needs 3 posts"}},
		{"unknown kind", extra(Reading{Kind: 99, Posts: []string{"A1", "A2"}, Value: ft}), WrongPostCount, []string{"no kind"}},
		{"nothing read", extra(Reading{Kind: Distance, Posts: []string{"A1", "A2"}}), BadValue, []string{"more than nothing"}},
		{"negative", extra(Reading{Kind: Distance, Posts: []string{"A1", "A2"}, Value: -ft}), BadValue, nil},
		{"beyond any length", extra(Reading{Kind: Distance, Posts: []string{"A1", "A2"}, Value: 1 << 62}), BadValue, nil},
		{"two posts of a name", func(n *Network) { n.Points = append(n.Points, Point{Name: "A1", X: ft}) }, RepeatedPost, []string{"two posts named A1"}},
		{"two posts at a place", func(n *Network) {
			n.Points = append(n.Points, Point{Name: "Z"})
			n.Readings = append(n.Readings, Reading{Kind: Distance, Posts: []string{"A1", "Z"}, Value: ft})
		}, SamePlace, []string{"A1 and Z", "same place"}},
		{"no reading reaches a post", func(n *Network) { n.Points = append(n.Points, Point{Name: "C1", X: 30 * ft}) }, NotConnected, []string{"C1"}},
		{"one reading to a post", func(n *Network) {
			n.Points = append(n.Points, Point{Name: "C1", X: 24 * ft})
			n.Readings = append(n.Readings, Reading{Kind: Distance, Posts: []string{"A2", "C1"}, Value: 12 * ft})
		}, NotDetermined, []string{"C1", "one reading is not enough"}},
		{"two groups", func(n *Network) {
			n.Points = append(n.Points, Point{Name: "C1", X: 24 * ft}, Point{Name: "C2", X: 36 * ft})
			n.Readings = append(n.Readings, Reading{Kind: Distance, Posts: []string{"C1", "C2"}, Value: 12 * ft})
		}, NotConnected, []string{"C1 and C2", "not to the rest"}},
		{"duplicates that differ", extra(Reading{Kind: Distance, Posts: []string{"A2", "A1"}, Value: 12*ft + 2*measure.Inch, By: "Jo", When: "14 May"}), DuplicateDiffers, []string{"read twice", "(Jo, 14 May)", `differ by 2"`}},
		{"no triangle", func(n *Network) { n.Readings[4].Value = 25 * ft }, ImpossibleShape, []string{"make no triangle", `1' 0" short of 25' 0"`}},
		{"datum unknown", func(n *Network) { n.Datum = Datum{Origin: "Q", Toward: "A1"} }, BadDatum, []string{"“Q”"}},
		{"datum to itself", func(n *Network) { n.Datum = Datum{Origin: "A1", Toward: "A1"} }, BadDatum, []string{"to itself"}},
		{"datum on too few", func(n *Network) { n.Datum = Datum{Fit: []string{"A1"}} }, BadDatum, []string{"at least two"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			net := square()
			c.spoil(&net)
			r := Adjust(net, Options{})
			if !has(r.Problems, c.code, c.words...) {
				t.Errorf("problems %+v; want %s with %q", r.Problems, c.code, c.words)
			}
			if len(r.Points) != len(net.Points) || len(r.Readings) != len(net.Readings) {
				t.Error("a point or reading was lost")
			}
			for i, p := range r.Points[:4] {
				want := square().Points[i]
				if d := (p.X - want.X).Abs() + (p.Y - want.Y).Abs(); c.code != ImpossibleShape && c.code != DuplicateDiffers && d > measure.Millimetre {
					t.Errorf("%s moved by %s", p.Name, d)
				}
			}
		})
	}
}

func TestNothingAtAll(t *testing.T) {
	r := Adjust(Network{}, Options{})
	if len(r.Points)+len(r.Readings)+len(r.Suspects) > 0 || !r.Test.Passed {
		t.Errorf("%+v", r)
	}
	if r := Adjust(Network{Points: []Point{{Name: "A"}}}, Options{}); len(r.Points) != 1 {
		t.Errorf("%+v", r)
	}
	if l := AdjustLevels(LevelNetwork{}, Options{}); len(l.Points)+len(l.SetUps) > 0 {
		t.Errorf("%+v", l)
	}
}

// Random nonsense must not panic, hang or lose anything.
func TestAnyInputIsTaken(t *testing.T) {
	rng := rand.New(rand.NewSource(99))
	names := []string{"A", "B", "C", "D", "E", "F", ""}
	value := func() measure.Length {
		switch rng.Intn(5) {
		case 0:
			return measure.Length(rng.Uint64())
		case 1:
			return 0
		}
		return measure.Length(rng.Int63n(int64(20 * measure.Metre)))
	}
	for trial := 0; trial < 400; trial++ {
		var net Network
		var lev LevelNetwork
		for i := 0; i < rng.Intn(7); i++ {
			net.Points = append(net.Points, Point{Name: names[rng.Intn(7)], X: value(), Y: value(), Fixed: rng.Intn(5) == 0})
			lev.Points = append(lev.Points, Mark{Name: names[rng.Intn(7)], Height: value(), Fixed: rng.Intn(5) == 0})
		}
		for i := 0; i < rng.Intn(15); i++ {
			r := Reading{Kind: Kind(rng.Intn(7)), Value: value(), Sigma: measure.Length(rng.Intn(3)) * measure.Millimetre}
			for k := 0; k < 1+rng.Intn(3); k++ {
				r.Posts = append(r.Posts, names[rng.Intn(7)])
			}
			net.Readings = append(net.Readings, r)
			lev.Readings = append(lev.Readings, LevelReading{SetUp: names[rng.Intn(7)], Point: names[rng.Intn(7)], Value: value()})
		}
		r := Adjust(net, Options{})
		l := AdjustLevels(lev, Options{})
		if len(r.Points) != len(net.Points) || len(r.Readings) != len(net.Readings) || len(l.Readings) != len(lev.Readings) || len(l.Points) != len(lev.Points) {
			t.Fatalf("trial %d: something was lost", trial)
		}
	}
}

// What the advice asks for, once read, ties every post down.
func TestWantedReadingsTieLoosePosts(t *testing.T) {
	for _, c := range []struct {
		name string
		net  func() Network
		most int
	}{
		{"a post on one reading", func() Network {
			n := square()
			n.Points = append(n.Points, Point{Name: "A3", X: 24 * measure.Foot})
			n.Readings = append(n.Readings, Reading{Kind: Distance, Posts: []string{"A2", "A3"}, Value: 12 * measure.Foot})
			return n
		}, 1},
		{"a bay without a diagonal", func() Network { n := square(); n.Readings = n.Readings[:4]; return n }, 1},
		{"two groups", func() Network {
			n := square()
			m := square()
			for i := range m.Points {
				m.Points[i].Name = "x" + m.Points[i].Name
				m.Points[i].X += 24 * measure.Foot
			}
			for i := range m.Readings {
				m.Readings[i].Posts = []string{"x" + m.Readings[i].Posts[0], "x" + m.Readings[i].Posts[1]}
			}
			return Network{Points: append(n.Points, m.Points...), Readings: append(n.Readings, m.Readings...)}
		}, 3},
		{"posts in a row", func() Network {
			n := Network{}
			for i := 0; i < 5; i++ {
				n.Points = append(n.Points, Point{Name: string(rune('A' + i)), X: 12 * measure.Foot * measure.Length(i)})
				if i > 0 {
					n.Readings = append(n.Readings, Reading{Kind: Distance, Posts: []string{n.Points[i-1].Name, n.Points[i].Name}, Value: 12 * measure.Foot})
				}
			}
			return n
		}, 3},
	} {
		t.Run(c.name, func(t *testing.T) {
			net := c.net()
			r := Adjust(net, Options{})
			if len(r.Wanted) == 0 || len(r.Wanted) > c.most {
				t.Fatalf("wanted %v, at most %d needed", r.Wanted, c.most)
			}
			p := newPlane(net, Options{}.filled())
			for _, a := range r.Wanted {
				e := equation{kind: a.Kind}
				for k, name := range a.Posts {
					e.post[k] = p.index[name]
				}
				v, _ := e.evaluate(p.drawn)
				net.Readings = append(net.Readings, Reading{Kind: a.Kind, Posts: a.Posts, Value: toLength(v)})
			}
			for _, q := range Adjust(net, Options{}).Points {
				if !q.Determined {
					t.Errorf("%s is still loose after reading %v", q.Name, r.Wanted)
				}
			}
		})
	}
}

func TestUnitMixIsNamed(t *testing.T) {
	net := barn(rand.New(rand.NewSource(12)), 5)
	i := reading(net, "B2", "B3")
	net.Readings[i].Value = measure.Length(float64(net.Readings[i].Value) / 0.3048) // 12 ft written as 12 m
	r := Adjust(net, Options{})
	if !has(r.Problems, UnitMix, "read in feet and written as metres") {
		t.Errorf("problems %+v", r.Problems)
	}
}
