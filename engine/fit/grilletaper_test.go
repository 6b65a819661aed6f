package fit_test

import (
	"testing"

	"stallwright/engine/finding"
)

// By hand. The grille stands on ten courses: from 49 3/8 to 80 3/4 in up a zone of
// 92 in. The bay is 118 in wide at the datum. Cut to that, 117 3/4 in, the grille
// keeps 3/4 in in a channel of 1 1/2 in while the bay is at most 118 1/2 in wide at
// 80 3/4 in, so at most 0.57 in wider at the top of the zone. At 3/4 in more it is
// cut to its own lower edge, 118 + 3/4·49.375/92 = 118.403 in: 118 1/8 in, and has
// 118.658 − 118.125 = 0.533 in to move. At 3 in more it would have 1.3 in.
func TestGrilleInTaperedBay(t *testing.T) {
	with := func(top, shim string) *fitted {
		return fitWith(t, barn, "back: boards", "back: {fill: grille, grille: bars}", "structures:",
			"bays: {A1-back: {shim: "+shim+"}}\nmeasurements:\n  - {bay: A1-back, width: {bottom: 118 in, top: "+top+"}}\nstructures:")
	}
	f := with("118 1/2 in", "false")
	same(t, "to the narrowest reading", f.bay("A1-back").Grille.Width, 117*in+in*3/4)
	f.silent(finding.GrilleTaper, "A1-back")
	f = with("118 3/4 in", "false")
	g := f.bay("A1-back").Grille
	same(t, "to its own height", g.Width, 118*in+in/8)
	same(t, "trimmed", g.Trim[0]+g.Trim[1], 120*in-g.Width)
	f.silent(finding.GrilleTaper, "A1-back")
	if hold := in + in/2 - g.Play; hold < 3*in/4 {
		t.Errorf("held by %v", hold)
	}
	f = with("121 in", "false")
	f.tells(finding.GrilleTaper, finding.Error, "A1-back", "at least 3/4\"")
	f = with("121 in", "true")
	same(t, "shimmed", f.bay("A1-back").Grille.Width, 117*in+in*3/4)
	f.silent(finding.GrilleTaper, "A1-back")
}

// Trimmed to 115 3/4 in, 4 1/4 in come off; with half off each end a gap beside a bar
// can open to 3 1/2 − 1/2 − 2 1/8 + play − 1 1/2 in and stays under the 2 in between
// bars while the play is under 2 5/8 in; bars of less pitch would not allow it.
func TestGrilleGapsInTaperedBay(t *testing.T) {
	f := fitWith(t, barn, "back: boards", "back: {fill: grille, grille: bars}", "bar: 1\", pitch: 3\"", "bar: 1\", pitch: 1 1/8\"",
		"structures:", "measurements:\n  - {bay: A1-back, width: {bottom: 118 in, top: 118 3/4 in}}\nstructures:")
	f.tells(finding.GrilleTaper, finding.Error, "A1-back", "gap beside the", "between bars it is 1/8\"")
}
