package survey

import (
	"math/rand"
	"testing"

	"stallwright/engine/measure"
)

// quad is a rectangle with all six distances between its corners.
func quad() Network {
	net := Network{Points: []Point{
		{Name: "A"}, {Name: "B", X: 12 * measure.Foot},
		{Name: "C", X: 12 * measure.Foot, Y: 9 * measure.Foot}, {Name: "D", Y: 9 * measure.Foot},
	}}
	for _, p := range [][2]string{{"A", "B"}, {"B", "C"}, {"C", "D"}, {"D", "A"}, {"A", "C"}, {"B", "D"}} {
		net.Readings = append(net.Readings, Reading{Kind: Distance, Posts: p[:]})
	}
	return net
}

// One spare reading detects and cannot locate: in a braced quadrilateral of six
// distances with one condition all residuals go together (W. Baarda 1968), and
// each reading taken twice frees them.
func TestJudgeOfOneSpareReading(t *testing.T) {
	net := quad()
	sum := 0.0
	for i, j := range Judge(net, Options{}) {
		sum += j.Redundancy
		if j.Correlation < 1-1e-9 || j.Alike < 0 || j.Alike == i || j.Named(0.1, 0.9) {
			t.Errorf("reading %d: %+v, want one that cannot be told from another", i, j)
		}
	}
	if sum < 1-1e-9 || sum > 1+1e-9 {
		t.Errorf("redundancy numbers add up to %v, want 1", sum)
	}
	net.Readings = append(net.Readings, net.Readings...)
	for i, j := range Judge(net, Options{}) {
		if !j.Named(0.1, 0.9) {
			t.Errorf("reading %d of twelve: %+v, want one that is named", i, j)
		}
	}
}

// What is judged before is what comes out after: redundancy numbers and the
// correlation the adjustment itself finds between a suspect and its rival.
func TestJudgeAgreesWithTheAdjustment(t *testing.T) {
	net := barn(rand.New(rand.NewSource(5)), 5)
	after := Adjust(net, Options{})
	for i, j := range Judge(net, Options{}) {
		if d := j.Redundancy - after.Readings[i].Redundancy; d > 0.03 || d < -0.03 { // the posts stand inches off the drawing
			t.Errorf("%s: judged %.3f, adjusted %.3f", after.Readings[i].Name, j.Redundancy, after.Readings[i].Redundancy)
		}
		if d := (j.Smallest - after.Readings[i].Smallest).Abs(); 10*d > after.Readings[i].Smallest {
			t.Errorf("%s: judged to find %v, finds %v", after.Readings[i].Name, j.Smallest, after.Readings[i].Smallest)
		}
	}
	net = quad()
	for i, v := range []measure.Length{12 * measure.Foot, 9 * measure.Foot, 12 * measure.Foot, 9 * measure.Foot, 15*measure.Foot + 3*measure.Inch, 15 * measure.Foot} {
		net.Readings[i].Value = v
	}
	r := Adjust(net, Options{})
	if len(r.Suspects) != 1 || len(r.Suspects[0].Others) != 5 {
		t.Fatalf("suspects: %+v", r.Suspects)
	}
}

// A point read from two set-ups has one condition and two suspects; from three,
// the odd one is named.
func TestJudgeOfLevels(t *testing.T) {
	var net LevelNetwork
	for _, p := range []string{"A", "B", "C", "D"} {
		net.Points = append(net.Points, Mark{Name: p})
		for _, s := range []string{"1", "2"} {
			net.Readings = append(net.Readings, LevelReading{SetUp: s, Point: p, Value: measure.Foot})
		}
	}
	for i, j := range JudgeLevels(net, Options{}) {
		if j.Redundancy < 0.3 || j.Correlation < 1-1e-9 || j.Alike != i^1 {
			t.Errorf("reading %d: %+v, want to be taken for its own point's other", i, j)
		}
	}
	for _, p := range net.Points {
		net.Readings = append(net.Readings, LevelReading{SetUp: "3", Point: p.Name, Value: measure.Foot})
	}
	for i, j := range JudgeLevels(net, Options{}) {
		if !j.Named(0.3, 0.9) {
			t.Errorf("reading %d of three set-ups: %+v", i, j)
		}
	}
}

// A span's standard deviation is that of a read distance where there is one, and
// does not hang on the datum.
func TestSpans(t *testing.T) {
	net := barn(rand.New(rand.NewSource(7)), 4)
	net.Spans = [][2]string{{"A1", "A2"}, {"A1", "B4"}, {"A1", "Z9"}, {"A1", "A1"}}
	r := Adjust(net, Options{})
	i := reading(net, "A1", "A2")
	if s := r.Spans[0]; !s.Determined || (s.Length-r.Readings[i].Adjusted).Abs() > 2 || (s.Sigma-r.Readings[i].SigmaAdjusted).Abs() > 2 {
		t.Errorf("A1–A2: %+v, read and adjusted %v ± %v", s, r.Readings[i].Adjusted, r.Readings[i].SigmaAdjusted)
	}
	if s := r.Spans[1]; !s.Determined || s.Sigma <= 0 {
		t.Errorf("A1–B4: %+v", s)
	}
	if r.Spans[2].Determined || r.Spans[3].Determined {
		t.Errorf("spans to nowhere: %+v", r.Spans[2:])
	}
	net.Datum = Datum{Origin: "B1", Toward: "B4"}
	for k, s := range Adjust(net, Options{}).Spans {
		if (s.Length-r.Spans[k].Length).Abs() > 2 || (s.Sigma-r.Spans[k].Sigma).Abs() > 2 {
			t.Errorf("span %d in another datum: %+v, was %+v", k, s, r.Spans[k])
		}
	}
}

// A slip is looked for in the number on the tape, not in the one between axes.
func TestHooksAreTakenOffBeforeGuessing(t *testing.T) {
	net := barn(rand.New(rand.NewSource(3)), 6)
	for i := range net.Readings {
		net.Readings[i].Hooks = 5*measure.Inch + measure.Inch/2
	}
	i := reading(net, "A3", "A4")
	tape := (net.Readings[i].Value - net.Readings[i].Hooks).Round(measure.SixteenthInch, measure.Nearest)
	if tape/measure.Foot != 11 || tape%measure.Foot/measure.Inch < 2 {
		t.Fatalf("the tape shows %v: choose another seed", tape)
	}
	wrong := tape - 2*measure.Foot
	net.Readings[i].Value = wrong + net.Readings[i].Hooks
	r := Adjust(net, Options{})
	if len(r.Suspects) == 0 || r.Suspects[0].Reading != i {
		t.Fatalf("suspects: %+v", r.Suspects)
	}
	g := r.Suspects[0].Guesses
	if len(g) == 0 || g[0].Value != tape || g[0].Slip != "2 whole feet short" {
		t.Errorf("guesses %+v, want 2 whole feet short of %v; %s", g, tape, r.Suspects[0].Sentence)
	}
}
