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
