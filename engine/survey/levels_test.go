package survey

import (
	"fmt"
	"math"
	"math/rand"
	"strings"
	"testing"

	"stallwright/engine/measure"

	"gonum.org/v1/gonum/mat"
)

// row is n posts read from s set-ups, each set-up reading a window of posts
// that overlaps its neighbours' by two.
func row(rng *rand.Rand, n, s int) (LevelNetwork, map[string]float64) {
	var net LevelNetwork
	height := map[string]float64{}
	for i := 0; i < n; i++ {
		m := Mark{Name: fmt.Sprintf("P%d", i+1)}
		height[m.Name] = 0.1 * rng.NormFloat64()
		if i == 0 {
			height[m.Name] = 0
			m.Fixed = true
		}
		net.Points = append(net.Points, m)
	}
	for k := 0; k < s; k++ {
		sight := 1.4 + 0.1*rng.NormFloat64()
		for i := 0; i < n; i++ {
			if i >= k*n/s-1 && i <= (k+1)*n/s+1 {
				name := net.Points[i].Name
				v := sight - height[name] + rodPrecision.sigma(0)*rng.NormFloat64()
				net.Readings = append(net.Readings, LevelReading{SetUp: fmt.Sprint(k + 1), Point: name, Value: toLength(v)})
			}
		}
	}
	return net, height
}

// gonum's QR of the dense design is the independent solution.
func TestLevelsAgainstIndependentSolution(t *testing.T) {
	rng := rand.New(rand.NewSource(77))
	for trial := 0; trial < 50; trial++ {
		net, _ := row(rng, 4+rng.Intn(20), 2+rng.Intn(3))
		r := AdjustLevels(net, Options{CutOff: 50})
		col := map[string]int{}
		for _, p := range net.Points[1:] {
			col[p.Name] = len(col)
		}
		for _, rd := range net.Readings {
			if _, ok := col["s"+rd.SetUp]; !ok {
				col["s"+rd.SetUp] = len(col)
			}
		}
		m := len(net.Readings)
		a, b := mat.NewDense(m, len(col), nil), mat.NewVecDense(m, nil)
		sigma := rodPrecision.sigma(0)
		for i, rd := range net.Readings {
			a.Set(i, col["s"+rd.SetUp], 1/sigma)
			if c, ok := col[rd.Point]; ok {
				a.Set(i, c, -1/sigma)
			}
			b.SetVec(i, rd.Value.Metres()/sigma)
		}
		var qr mat.QR
		qr.Factorize(a)
		var x mat.VecDense
		if err := qr.SolveVecTo(&x, false, b); err != nil {
			t.Fatal(err)
		}
		var n, q mat.Dense
		n.Mul(a.T(), a)
		if err := q.Inverse(&n); err != nil {
			t.Fatal(err)
		}
		for i, p := range net.Points[1:] {
			got := r.Points[i+1]
			c := col[p.Name]
			// Lengths come back rounded to a nanometre.
			if math.Abs(got.Height.Metres()-x.AtVec(c)) > 6e-10 || math.Abs(got.Sigma.Metres()-math.Sqrt(q.At(c, c))) > 6e-10 {
				t.Fatalf("trial %d: %s %v ± %v, gonum %v ± %v", trial, p.Name, got.Height.Metres(), got.Sigma.Metres(), x.AtVec(c), math.Sqrt(q.At(c, c)))
			}
		}
		var hat mat.Dense
		hat.Product(a, &q, a.T())
		for i := range net.Readings {
			if got, want := r.Readings[i].Redundancy, 1-hat.At(i, i); math.Abs(got-want) > 1e-9 && want > leastRedundancy {
				t.Fatalf("trial %d: redundancy %v, gonum %v", trial, got, want)
			}
		}
		if len(r.Loops) != r.Test.Redundancy {
			t.Errorf("%d loops, redundancy %d; with one known height they are the same", len(r.Loops), r.Test.Redundancy)
		}
	}
}

func TestWrongRodReadingIsNamed(t *testing.T) {
	net, _ := row(rand.New(rand.NewSource(6)), 10, 3)
	net.Readings = append(net.Readings, LevelReading{SetUp: "3", Point: "P1", Value: measure.Length(0)})
	// Close the row: the last set-up reads the first post too, and set-ups 1 and
	// 2 read each other's posts.
	full, height := row(rand.New(rand.NewSource(6)), 10, 3)
	sight := func(setUp string) float64 {
		for _, r := range full.Readings {
			if r.SetUp == setUp {
				return r.Value.Metres() + height[r.Point]
			}
		}
		return 0
	}
	net.Readings[len(net.Readings)-1].Value = toLength(sight("3"))
	for _, x := range []struct{ s, p string }{{"1", "P6"}, {"2", "P2"}, {"3", "P5"}} {
		net.Readings = append(net.Readings, LevelReading{SetUp: x.s, Point: x.p, Value: toLength(sight(x.s) - height[x.p])})
	}
	i := -1
	for k, r := range net.Readings {
		if r.SetUp == "2" && r.Point == "P5" {
			i = k
		}
	}
	net.Readings[i].Value = net.Readings[i].Value.Round(measure.SixteenthInch, measure.Nearest) + measure.Foot
	r := AdjustLevels(net, Options{})
	if len(r.Suspects) != 1 || r.Suspects[0].Reading != i {
		t.Fatalf("suspects %+v", r.Suspects)
	}
	if s := r.Suspects[0].Sentence; !strings.Contains(s, "Level reading at P5 from set-up 2 disagrees with the others by") || !strings.Contains(s, "One whole foot long") {
		t.Errorf("sentence %q", s)
	}
	open := 0
	for _, l := range r.Loops {
		if !l.Closed() {
			open++
		}
	}
	if open == 0 {
		t.Error("every loop closes although a reading is a foot off")
	}
}

func TestRivalRodReadingsAndTheOneThatSeparates(t *testing.T) {
	// Two set-ups share two posts: one spare reading, four rivals.
	v := func(in int) measure.Length { return measure.Length(in) * measure.Inch }
	net := LevelNetwork{
		Points: []Mark{{Name: "A", Fixed: true}, {Name: "B"}, {Name: "C"}, {Name: "D"}},
		Readings: []LevelReading{
			{SetUp: "1", Point: "A", Value: v(50)}, {SetUp: "1", Point: "B", Value: v(52)}, {SetUp: "1", Point: "C", Value: v(51)},
			{SetUp: "2", Point: "B", Value: v(60)}, {SetUp: "2", Point: "C", Value: v(61)}, {SetUp: "2", Point: "D", Value: v(58)},
		},
	}
	r := AdjustLevels(net, Options{})
	if len(r.Suspects) != 1 || len(r.Suspects[0].Others) != 3 || r.Suspects[0].Separate == nil {
		t.Fatalf("suspects %+v", r.Suspects)
	}
	if s := r.Suspects[0].Separate.String(); s != "level reading at D from set-up 1" && s != "level reading at A from set-up 2" {
		t.Errorf("proposed %q", s)
	}
	if !has(r.Problems, NothingChecks, "level reading at A from set-up 1", "level reading at D from set-up 2") {
		t.Errorf("problems %+v", r.Problems)
	}
}

func TestBadLevelInputGetsASentence(t *testing.T) {
	base := func() LevelNetwork {
		net, _ := row(rand.New(rand.NewSource(1)), 6, 2)
		return net
	}
	for _, c := range []struct {
		name  string
		spoil func(*LevelNetwork)
		code  Code
		words []string
	}{
		{"set-up on its own", func(n *LevelNetwork) {
			n.Points = append(n.Points, Mark{Name: "Q1"}, Mark{Name: "Q2"})
			n.Readings = append(n.Readings, LevelReading{SetUp: "9", Point: "Q1", Value: measure.Metre}, LevelReading{SetUp: "9", Point: "Q2", Value: measure.Metre})
		}, NotConnected, []string{"Q1, Q2 and set-up 9", "share no point"}},
		{"point never read", func(n *LevelNetwork) { n.Points = append(n.Points, Mark{Name: "Q1"}) }, NotConnected, []string{"reaches Q1"}},
		{"unknown point", func(n *LevelNetwork) {
			n.Readings = append(n.Readings, LevelReading{SetUp: "1", Point: "X", Value: measure.Metre})
		}, UnknownPost, []string{"“X”"}},
		{"read twice, moved", func(n *LevelNetwork) {
			r := n.Readings[1]
			r.Value += measure.Inch
			n.Readings = append(n.Readings, r)
		}, DuplicateDiffers, []string{"The instrument moved between"}},
		{"beyond any length", func(n *LevelNetwork) { n.Readings[0].Value = 1 << 62 }, BadValue, nil},
		{"two of a name", func(n *LevelNetwork) { n.Points = append(n.Points, Mark{Name: "P1"}) }, RepeatedPost, []string{"P1"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			net := base()
			c.spoil(&net)
			r := AdjustLevels(net, Options{})
			if !has(r.Problems, c.code, c.words...) {
				t.Errorf("problems %+v", r.Problems)
			}
			if len(r.Points) != len(net.Points) || len(r.Readings) != len(net.Readings) {
				t.Error("something was lost")
			}
		})
	}
	net := base()
	net.Points = append(net.Points, Mark{Name: "Q1"}, Mark{Name: "Q2"})
	net.Readings = append(net.Readings, LevelReading{SetUp: "9", Point: "Q1", Value: measure.Metre}, LevelReading{SetUp: "9", Point: "Q2", Value: measure.Metre + measure.Inch})
	r := AdjustLevels(net, Options{})
	q1, q2 := r.Points[6], r.Points[7]
	if q1.Determined || q2.Determined || q1.Height-q2.Height != measure.Inch {
		t.Errorf("%+v %+v: loose, but their difference is known", q1, q2)
	}
	if len(r.Wanted) == 0 || r.Wanted[0].Posts[1] != "9" {
		t.Errorf("wanted %v", r.Wanted)
	}
}
