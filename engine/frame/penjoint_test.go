package frame_test

import (
	"fmt"
	"strings"
	"testing"

	"stallwright/engine/finding"
	"stallwright/engine/frame"
	"stallwright/engine/job"
	"stallwright/engine/kit"
)

// By hand, from the kits' uprights: the inner corner of an upright that stands back
// from its pin by d, and is w across, crosses the line that halves the angle of a ring
// of n sections where w/2 · tan(180°/n) > d. Fernhollow: d = 2 + 1 3/8 − 2 1/4 =
// 1 1/8 in, w/2 = 1 in; tan 60° = 1.732, tan 45° = 1: three are too few, four are not.
// Nordhag: d = 45 + 32 − 50 = 27 mm, w/2 = 30 mm; 30 · tan 45° = 30, 30 · tan 36° =
// 21.8: four are too few, five are not.
func TestPensNeedRoomForTheirPins(t *testing.T) {
	for _, c := range []struct {
		kit, units, section string
		sections, least     int
	}{
		{"fernhollow", "feet", "12'", 3, 4}, {"fernhollow", "feet", "12'", 4, 0}, {"fernhollow", "feet", "12'", 16, 0},
		{"nordhag", "metric", "3.6 m", 3, 5}, {"nordhag", "metric", "3.6 m", 4, 5}, {"nordhag", "metric", "3.6 m", 5, 0},
	} {
		src := fmt.Sprintf("job: pen\nunits: %s\nkit: %s\nfarm: {name: Farm}\nlumber: {species: southern-pine, tongue: 3/8 in, lengths: [12 ft]}\nstructures:\n  - pen: {name: P, sections: %d, section: %s}\n", c.units, c.kit, c.sections, c.section)
		j, err := job.Read("job.yaml", []byte(src))
		if err != nil {
			t.Fatal(err)
		}
		file, text, _ := kit.Shipped(c.kit)
		k, err := kit.Read(file, text)
		if err != nil {
			t.Fatal(err)
		}
		l, err := frame.Build(j, k)
		if err != nil {
			t.Fatalf("%s, %d sections: %v", c.kit, c.sections, err)
		}
		var told []string
		for _, f := range l.Findings {
			if f.Code == finding.PenJoint {
				told = append(told, f.Message)
			}
		}
		switch {
		case c.least == 0 && len(told) > 0:
			t.Errorf("%s, %d sections: %q", c.kit, c.sections, told)
		case c.least > 0 && (len(told) != 1 || !strings.Contains(told[0], fmt.Sprintf("at least %d leave room", c.least))):
			t.Errorf("%s, %d sections: %q, want at least %d", c.kit, c.sections, told, c.least)
		}
	}
}
