package survey

import (
	"math"
	"math/rand"
	"strings"
	"testing"

	"stallwright/engine/measure"
)

func TestWrongDiagonalIsNamedWithItsAmount(t *testing.T) {
	net := barn(rand.New(rand.NewSource(5)), 5)
	i := reading(net, "B2", "A3")
	net.Readings[i].Value += measure.Inch * 7 / 8
	r := Adjust(net, Options{})
	if len(r.Suspects) != 1 || r.Suspects[0].Reading != i {
		t.Fatalf("suspects %+v, want only reading %d", r.Suspects, i)
	}
	s := r.Suspects[0]
	near(t, "disagreement in inches", s.Disagrees.Inches(), 7.0/8, 4*s.Sigma.Inches())
	if len(s.Others) > 0 || !strings.Contains(s.Sentence, "iagonal B2–A3 disagrees with the others by ") || !strings.Contains(s.Sentence, "read it again") {
		t.Errorf("sentence %q, others %v", s.Sentence, s.Others)
	}
	if r.Readings[i].Status != SetAside || !r.Test.Passed || !r.Test.FailedAtFirst {
		t.Errorf("status %v, test %+v", r.Readings[i].Status, r.Test)
	}
	for _, p := range r.Points {
		if !p.Determined || p.SigmaX <= 0 || p.Ellipse.Major < p.Ellipse.Minor {
			t.Errorf("%+v", p)
		}
	}
}

// The slips, each at a reading of a barn whose true length is known to the
// adjustment, must be recognised for what they are.
func TestSlipsAreRecognised(t *testing.T) {
	ft, in := measure.Foot, measure.Inch
	for _, c := range []struct {
		name    string
		meant   measure.Length
		written measure.Length
		slip    string
	}{
		{"transposed digits", 13*ft + 2*in + in/2, 12*ft + 3*in + in/2, "digits changed places"},
		{"one foot short", 12*ft + 4*in + in/4, 11*ft + 4*in + in/4, "one whole foot short"},
		{"two feet long", 12*ft + 4*in + in/4, 14*ft + 4*in + in/4, "2 whole feet long"},
		{"tape held at 1 in", 12 * ft, 12*ft + in, "1 in mark"},
		{"fraction misread", 12*ft + 3*in + in*3/4, 12*ft + 3*in + in*3/16, "fraction misread"},
		{"metres as feet", 366 * measure.Centimetre, measure.Foot * 366 / 100, "read in metres and written as feet"},
		{"inches as millimetres", 148 * in, 148 * measure.Millimetre, "read in inches and written as millimetres"},
		{"millimetres as inches", 3660 * measure.Millimetre, 3660 * in, "read in millimetres and written as inches"},
		{"tenths of a foot", 12*ft + ft*7/10, 12*ft + 7*in, "tenths of a foot"},
		{"feet and inches over", 9*ft + 11*in, 11*ft + 9*in, "changed places"},
		{"six for nine", 12*ft + 9*in, 12*ft + 6*in, "one digit misread"},
		{"metric digits", 3852 * measure.Millimetre, 3582 * measure.Millimetre, "digits changed places"},
		{"wrong face", 12*ft + in*5/8, 12*ft + in*5/8 + in*11/2, "wrong face"},
	} {
		t.Run(c.name, func(t *testing.T) {
			g := Options{PostFaces: []measure.Length{in * 11 / 2}}.filled().guesses(c.written, c.meant.Metres()+0.0004, 0.0015)
			for _, s := range g {
				if strings.Contains(s.Slip, c.slip) && (s.Value-c.meant).Abs() < in/32 {
					return
				}
			}
			t.Errorf("written %s for %s: guesses %v, want one with %q", c.written, c.meant, g, c.slip)
		})
	}
}

func TestNoSlipIsGuessedWhereNoneFits(t *testing.T) {
	o := Options{}.filled()
	if g := o.guesses(12*measure.Foot+3*measure.Inch, (12*measure.Foot + 4*measure.Inch + measure.Inch*7/16).Metres(), 0.001); len(g) > 0 {
		t.Errorf("guesses %v for a difference of 1 7/16 in", g)
	}
}

// Slips in a whole barn: the sentence names reading and slip.
func TestSlipInABarn(t *testing.T) {
	for _, c := range []struct {
		name string
		slip func(measure.Length) measure.Length
		want string
	}{
		{"a foot", func(l measure.Length) measure.Length { return l - measure.Foot }, "One whole foot short would explain it"},
		{"inches as millimetres", func(l measure.Length) measure.Length {
			return measure.Length(l.DivDown(measure.Inch)) * measure.Millimetre
		}, "ead in inches and written as millimetres"},
		{"metres as feet", func(l measure.Length) measure.Length { return measure.Length(float64(l) * .3048) }, "ead in metres and written as feet"},
	} {
		t.Run(c.name, func(t *testing.T) {
			net := barn(rand.New(rand.NewSource(8)), 6)
			i := reading(net, "A3", "A4")
			net.Readings[i].Value = c.slip(net.Readings[i].Value.Round(measure.SixteenthInch, measure.Nearest))
			r := Adjust(net, Options{})
			if len(r.Suspects) != 1 || r.Suspects[0].Reading != i || !strings.Contains(r.Suspects[0].Sentence, c.want) {
				t.Fatalf("suspects %+v", r.Suspects)
			}
		})
	}
}

func TestReadingOfTheWrongPair(t *testing.T) {
	net := barn(rand.New(rand.NewSource(3)), 6)
	i, j := reading(net, "A2", "A4"), reading(net, "A2", "B4")
	net.Readings[i].Value = net.Readings[j].Value + measure.Inch/16
	r := Adjust(net, Options{})
	if len(r.Suspects) != 1 || r.Suspects[0].Reading != i {
		t.Fatalf("suspects %+v", r.Suspects)
	}
	if g := r.Suspects[0].Guesses; len(g) == 0 || !strings.Contains(g[len(g)-1].Slip+g[0].Slip, "from A2 to B4 instead") {
		t.Errorf("guesses %v", g)
	}
}

func TestTwoReadingsChangedOver(t *testing.T) {
	net := barn(rand.New(rand.NewSource(3)), 6)
	i, j := reading(net, "A2", "A4"), reading(net, "A2", "B4")
	net.Readings[i].Value, net.Readings[j].Value = net.Readings[j].Value, net.Readings[i].Value
	r := Adjust(net, Options{})
	if len(r.Suspects) != 2 {
		t.Fatalf("suspects %+v", r.Suspects)
	}
	for _, s := range r.Suspects {
		if len(s.Guesses) == 0 || !strings.Contains(s.Guesses[0].Slip, "changed over with") {
			t.Errorf("guesses %v", s.Guesses)
		}
	}
}

func TestSeveralWrongReadingsAreAllNamed(t *testing.T) {
	net := barn(rand.New(rand.NewSource(21)), 10)
	wrong := []int{reading(net, "A2", "B3"), reading(net, "A7", "A8"), reading(net, "B9", "B10")}
	net.Readings[wrong[0]].Value += 3 * measure.Inch
	net.Readings[wrong[1]].Value -= measure.Foot
	net.Readings[wrong[2]].Value += 2 * measure.Inch
	r := Adjust(net, Options{})
	named := map[int]bool{}
	for _, s := range r.Suspects {
		named[s.Reading] = true
	}
	for _, w := range wrong {
		if !named[w] {
			t.Errorf("%s is not named", r.Readings[w].Name)
		}
	}
	if len(r.Suspects) != 3 || !r.Test.Passed {
		t.Errorf("%d suspects, test %+v", len(r.Suspects), r.Test)
	}
}

// One bay with both diagonals has one spare reading: a blunder shows, but any
// of the six may be the wrong one. The set is named and a reading proposed.
func TestOneSpareReadingDetectsButCannotLocate(t *testing.T) {
	s := 12 * measure.Foot
	net := Network{Points: []Point{{Name: "A"}, {Name: "B", X: s}, {Name: "C", X: s, Y: s}, {Name: "D", Y: s}, {Name: "E", X: 2 * s}}}
	for _, p := range [][2]string{{"A", "B"}, {"B", "C"}, {"C", "D"}, {"D", "A"}} {
		net.Readings = append(net.Readings, Reading{Kind: Distance, Posts: p[:], Value: s})
	}
	diagonal := toLength(s.Metres() * math.Sqrt2)
	net.Readings = append(net.Readings,
		Reading{Kind: Diagonal, Posts: []string{"A", "C"}, Value: diagonal},
		Reading{Kind: Diagonal, Posts: []string{"B", "D"}, Value: diagonal + 2*measure.Inch},
		Reading{Kind: Distance, Posts: []string{"B", "E"}, Value: s},
		Reading{Kind: Diagonal, Posts: []string{"C", "E"}, Value: diagonal})
	r := Adjust(net, Options{})
	if len(r.Suspects) != 1 || len(r.Suspects[0].Others) != 5 {
		t.Fatalf("suspects %+v", r.Suspects)
	}
	for _, o := range r.Suspects[0].Others {
		near(t, "correlation", math.Abs(o.Correlation), 1, 1e-6)
	}
	if a := r.Suspects[0].Separate; a == nil {
		t.Error("no reading is proposed to tell them apart")
	} else if got := strings.Join(a.Posts, ""); got != "AE" && got != "DE" {
		t.Errorf("proposed %v; only A–E and D–E are not taken", a)
	}
	if len(r.Wanted) == 0 {
		t.Error("nothing is proposed to check B–E")
	}
}

// The proposed reading must do what it promises: once taken, the wrong reading
// is told from more of its rivals.
func TestTheProposedReadingSeparates(t *testing.T) {
	net, stands := barnAndStands(rand.New(rand.NewSource(4)), 4)
	var kept []Reading // single bays only: few spare readings
	for _, r := range net.Readings {
		if d := int(r.Posts[0][1]) - int(r.Posts[1][1]); d >= -1 && d <= 1 {
			kept = append(kept, r)
		}
	}
	net.Readings = kept
	i := reading(net, "A2", "B3")
	net.Readings[i].Value += 2 * measure.Inch
	before := Adjust(net, Options{})
	if len(before.Suspects) != 1 || len(before.Suspects[0].Others) == 0 || before.Suspects[0].Separate == nil {
		t.Fatalf("suspects %+v", before.Suspects)
	}
	s := before.Suspects[0]
	p, q := stands[s.Separate.Posts[0]], stands[s.Separate.Posts[1]]
	net.Readings = append(net.Readings, Reading{Kind: Distance, Posts: s.Separate.Posts, Value: metre(math.Hypot(p[0]-q[0], p[1]-q[1]))})
	after := Adjust(net, Options{})
	if len(after.Suspects) != 1 || len(after.Suspects[0].Others) >= len(s.Others) {
		t.Errorf("before %d others; with %v %+v", len(s.Others), s.Separate, after.Suspects)
	}
	t.Log(s.Sentence)
	t.Log(after.Suspects[0].Sentence)
}

// A reduced blunder-power simulation: the full one is in bench/survey. Barns of
// 2×3 to 2×20 posts; one blunder of ½ in to 6 in. Of those larger than their
// smallest findable blunder and correlated under 0.9 with every other, at
// least 95 in 100 must be named first and alone responsible; without a blunder
// each reading is suspected about once in a thousand.
func TestBlunderPower(t *testing.T) {
	rng := rand.New(rand.NewSource(1968))
	var fair, named, good, alarms int
	for trial := 0; trial < 250; trial++ {
		net := barn(rng, 3+rng.Intn(18))
		clean := Adjust(net, Options{})
		good += len(net.Readings)
		alarms += len(clean.Suspects)
		i := rng.Intn(len(net.Readings))
		size := measure.Length((0.5 + 5.5*rng.Float64()) * float64(measure.Inch))
		if size < clean.Readings[i].Smallest || clean.Readings[i].Smallest == 0 || worstRho(net, i) >= 0.9 {
			continue
		}
		fair++
		if rng.Intn(2) == 0 {
			size = -size
		}
		net.Readings[i].Value += size
		r := Adjust(net, Options{})
		if len(r.Suspects) > 0 && r.Suspects[0].Reading == i {
			named++
		}
	}
	t.Logf("%d of %d blunders named; %d alarms in %d good readings", named, fair, alarms, good)
	if fair < 150 || float64(named) < 0.95*float64(fair) {
		t.Errorf("%d of %d blunders named, want 95 in 100", named, fair)
	}
	// 0.001 each; three standard deviations of a count either way.
	expect := 0.001 * float64(good)
	if d := float64(alarms) - expect; math.Abs(d) > 3*math.Sqrt(expect)+2 {
		t.Errorf("%d alarms in %d good readings, expected about %.0f", alarms, good, expect)
	}
}

// worstRho is the largest correlation of reading i's residual with another's.
func worstRho(net Network, i int) float64 {
	p := newPlane(net, Options{CutOff: 90}.filled())
	c := p.clean()
	col := c.shadow(i)
	worst := 0.0
	for j := range col {
		if r := c.redundancy(i) * c.redundancy(j); j != i && r > 0 {
			worst = math.Max(worst, math.Abs(col[j])/math.Sqrt(r))
		}
	}
	return worst
}
