package job_test

import (
	"strings"
	"testing"

	"stallwright/engine/job"
	"stallwright/engine/measure"
)

func lumber(t *testing.T, src string) job.Board {
	t.Helper()
	j, err := job.Read("job.yaml", []byte(sound[:strings.Index(sound, "lumber:")]+"lumber: {"+src+", lengths: [12']}\n"+sound[strings.Index(sound, "structures:"):]))
	if err != nil {
		t.Fatal(err)
	}
	return j.Lumber.Board()
}

// Dressed sizes: nominal 2 in is 1 1/2 in dry (American Softwood Lumber Standard
// PS 20, Table 4, as reprinted in Tennessee Reg. 0080-07-07-.06; seen). Faces of
// tongue-and-groove decking: 5 and 6 3/4 in (WWPA grading rules; second-hand,
// from memory).
func TestDressedSizes(t *testing.T) {
	for _, c := range []struct {
		text                string
		thickness, coverage measure.Length
		measured            bool
	}{
		{`species: southern-pine, tongue: 3/8"`, measure.Inch * 3 / 2, 5 * measure.Inch, false},
		{`species: southern-pine, nominal: 2x6, tongue: 3/8"`, measure.Inch * 3 / 2, 5 * measure.Inch, false},
		{`species: southern-pine, nominal: 2x8, tongue: 3/8"`, measure.Inch * 3 / 2, 6*measure.Inch + measure.Inch*3/4, false},
		{`species: southern-pine, coverage: 5 1/8", tongue: 3/8"`, measure.Inch * 3 / 2, 5*measure.Inch + measure.Inch/8, true},
		// A tenth of 51 1/4 in.
		{`species: southern-pine, ten_boards: 51 1/4", tongue: 3/8"`, measure.Inch * 3 / 2, 5*measure.Inch + measure.Inch/8, true},
		{`species: southern-pine, coverage: 5", ten_boards: 51 in, tongue: 3/8"`, measure.Inch * 3 / 2, 129540 * measure.Micrometre, true},
		{`species: southern-pine, thickness: 40 mm, coverage: 135 mm, tongue: 9 mm`, 40 * measure.Millimetre, 135 * measure.Millimetre, true},
	} {
		b := lumber(t, c.text)
		if b.Thickness != c.thickness || b.Coverage != c.coverage || b.Measured != c.measured || b.Source == "" {
			t.Errorf("%s: %+v, want %v thick, %v covered, measured %v", c.text, b, c.thickness, c.coverage, c.measured)
		}
	}
}

// Density at a moisture content M in percent from the specific gravity G on
// oven-dry weight and volume, 62.4 [G / (1 + 0.009 G M)] (1 + M/100) lb/ft³ (NDS
// Supplement, section 3.1.3; from memory), with 1000 kg/m³ for water. By hand:
//
//	southern pine .55, 15 %: 1 + .009·.55·15 = 1.07425; .55/1.07425 = .511985;
//	  ·1.15 = .588783: 588.78 kg/m³
//	Douglas-fir-larch .50, 12 %: 1.054; .474383; ·1.12 = .531309: 531.31 kg/m³
//	spruce-pine-fir .42, 19 %: 1.07182; .391857; ·1.19 = .466310: 466.31 kg/m³
//	oven-dry, .55: 550 kg/m³
func TestWoodDensity(t *testing.T) {
	for _, c := range []struct {
		text string
		want float64
	}{
		{`species: southern-pine, tongue: 3/8"`, 588.783},
		{`species: southern-pine, moisture: 15, tongue: 3/8"`, 588.783},
		{`species: douglas-fir-larch, moisture: 12, tongue: 3/8"`, 531.309},
		{`species: spruce-pine-fir, moisture: 19, tongue: 3/8"`, 466.310},
		{`species: southern-pine, moisture: 0, tongue: 3/8"`, 550},
		{`species: other, density: 640 kg/m3, tongue: 3/8"`, 640},
		{`species: southern-pine, density: 600 kg/m3, tongue: 3/8"`, 600},
	} {
		got := float64(lumber(t, c.text).Density) / float64(measure.KilogramPerCubicMetre)
		if d := got - c.want; d > 0.001 || d < -0.001 {
			t.Errorf("%s: %.4f kg/m³, want %.3f", c.text, got, c.want)
		}
	}
}

// A length stands alone or with its price and number; offcuts and the saw are
// read, and what is wrong with them is told at its own place.
func TestLengthsWithPrices(t *testing.T) {
	text := strings.Replace(sound, "lengths: [8', 12']", "lengths: [{length: 8', price: 7.35}, {length: 12', price: 9.8, available: 40}]\n  offcuts: [{length: 6' 2\", count: 3}, {length: 4', treated: true}]\nsaw: {kerf: 3/32\", trim: 1/2\"}", 1)
	j, err := job.Read("job.yaml", []byte(text))
	if err != nil {
		t.Fatal(err)
	}
	l := j.Lumber
	if l.Lengths[0].Price != 735 || l.Lengths[0].Available != nil || l.Lengths[1].Price != 980 || *l.Lengths[1].Available != 40 {
		t.Errorf("%+v", l.Lengths)
	}
	if len(l.Offcuts) != 2 || l.Offcuts[0].Count != 3 || !l.Offcuts[1].Treated {
		t.Errorf("%+v", l.Offcuts)
	}
	if s := j.Sawing(); s.Kerf != 3*measure.Inch/32 || s.Trim != measure.Inch/2 || s.Keep != 24*measure.Inch {
		t.Errorf("%+v", s)
	}
	for _, c := range [][2]string{
		{"price: 9.8, ", "some lengths have a price and some have none"},
		{"price: 7.35", "money"},
		{"kerf: 3/32\"", "kerf lies between"},
		{"available: 40", "available"},
	} {
		with := map[string]string{"price: 7.35": "price: -7", "kerf: 3/32\"": "kerf: 3\"", "available: 40": "available: -1"}[c[0]]
		if _, err := job.Read("job.yaml", []byte(strings.Replace(text, c[0], with, 1))); err == nil || !strings.Contains(err.Error(), c[1]) {
			t.Errorf("%q to %q: %v", c[0], with, err)
		}
	}
}
