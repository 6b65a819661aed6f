package plan_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"stallwright/engine/finding"
	"stallwright/engine/measure"
)

// A pen taped from pier to pier, no coordinates: chords, skip chords and the tape
// across, worked out here from places on a circle (R = 6 ft / sin(π/16)), one
// pier set 4 in out of place. The adjustment places the piers, the closing names
// the pier and sends it back. The rod's heights set the bases: what the ground is
// below the highest is what the pier stands out.
func TestTapedPenIsClosed(t *testing.T) {
	const n = 16
	radius := 72 / math.Sin(math.Pi/n)
	var at [n]complex128
	for i := range at {
		a := float64(2*i-1)*math.Pi/n + 3*math.Pi/2
		at[i] = complex(radius*math.Cos(a), radius*math.Sin(a))
	}
	at[6] += complex(3, -3)
	var b strings.Builder
	b.WriteString("job: taped\nunits: feet\nkit: fernhollow\nfarm: {name: Taped}\nlumber: {species: southern-pine, ten_boards: 51 1/4 in, tongue: 3/8 in, lengths: [8 ft, 12 ft]}\n")
	b.WriteString("structures:\n  - pen: {name: P, sections: 16, section: 12 ft, base: pier-12, gate: {front: open}}\nreadings:\n")
	for i := range at {
		for _, k := range []int{1, 2, n / 2} {
			kind := "distance"
			if k > 1 {
				kind = "diagonal"
			}
			d := at[(i+k)%n] - at[i]
			fmt.Fprintf(&b, "  - {%s: [P.p%d, P.p%d], is: %.4f in}\n", kind, i+1, (i+k)%n+1, math.Round(16*math.Hypot(real(d), imag(d)))/16)
		}
		fmt.Fprintf(&b, "  - {level: P.p%d, from: S1, rod: %d in}\n", i+1, 50+i%4)
	}
	p := planOf(t, "taped.yaml", b.String())
	pen := p.Setout.Structures[0].Pen
	if pen.Closing == nil || pen.Closing.Fits {
		t.Fatalf("closing %+v", pen.Closing)
	}
	named := ""
	for _, f := range p.Findings {
		if f.Code == finding.RingOpen {
			named = fmt.Sprint(f.Choices)
		}
	}
	if !strings.Contains(named, "pier=P.p7 ") {
		t.Errorf("P.p7 is out of place; told: %s", named)
	}
	for _, m := range append(pen.Closing.Moves, pen.Closing.Instead...) {
		if q := &pen.Piers[m.Pier]; m.Pier == 6 && ((m.To.X-q.X.Value).Abs() > measure.Inch/2 || (m.To.Y-q.Y.Value).Abs() > measure.Inch/2) {
			t.Errorf("P.p7 is sent to %v, %v; the sheet has it at %v, %v", m.To.X, m.To.Y, q.X.Value, q.Y.Value)
		}
	}
	bases := p.Setout.Structures[0].Bases
	for i := range bases.List {
		if got, want := bases.List[i].Out.Value, measure.Length(i%4)*measure.Inch; got != want {
			t.Errorf("P.p%d stands %v out of the ground, want %v", i+1, got, want)
		}
	}
}
