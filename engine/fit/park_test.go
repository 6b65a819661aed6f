package fit_test

import (
	"strings"
	"testing"

	"stallwright/engine/finding"
	"stallwright/engine/job"
)

// Positions along the front from the first post's axis, by hand: the jamb of a
// doorway at the left stands half a timber 2 3/4 + reach 1 1/4 + leg 1 1/2 =
// 5 1/2 in from the axis; the opening is 48, the leaf 51 1/2, its lap 1 3/4.
func TestLeafParks(t *testing.T) {
	f := fitWith(t, barn)
	d := f.bay("A1-front-door").Door.Track
	same(t, "closed from", d.Closed[0], 3*in+in*3/4)
	same(t, "closed to", d.Closed[1], 55*in+in/4)
	same(t, "parked from", d.Parked[0], 53*in+in/2)
	same(t, "parked to", d.Parked[1], 105*in)
	// The track is opening + leaf + 6 = 105 1/2 in long and starts where the end
	// stop, 1 1/4 in wide, holds the closed leaf: 3 3/4 − 1 1/4 = 2 1/2.
	same(t, "track from", d.X[0], 2*in+in/2)
	same(t, "track to", d.X[1], 108*in)
	if d.Hand != job.Right {
		t.Errorf("parks on the %s", d.Hand)
	}
	// Needed: from 2 1/2 to 105 + 1 1/4. A track of 98 in is 5 3/4 too short.
	f = fitWith(t, barn, `length: opening + leaf + L("6 in")`, `length: L("98 in")`)
	f.tells(finding.DoorPark, finding.Warning, "A1-front-door", `track of 8' 2"`, `5 3/4" too short`)
}

// A doorway in the middle of 12 ft opens from 48 to 96. On the left the leaf
// would stand from −3 1/2, on the right to 147 1/2.
func TestLeafPastTheWall(t *testing.T) {
	f := fitWith(t, barn, "at: left, slides: right", "at: centre")
	f.tells(finding.DoorPark, finding.Warning, "A1-front-door", `3 1/2" past the end`)
}

// Two such doors side by side: the first parks to the right, to 147 1/2; the
// second, opening from 192, would stand from 140 1/2 on the left, 7 in into it,
// and 3 1/2 in past the wall's end on the right.
func TestParkedLeavesMeet(t *testing.T) {
	f := fitWith(t, barn, "at: left, slides: right", "at: centre", "rooms: [stall]", "rooms: [stall, stall]")
	f.silent(finding.DoorMeets, "A1-front-door")
	f.silent(finding.DoorPark, "A1-front-door")
	if tr := f.bay("A1-front-door").Door.Track; tr.Hand != job.Right {
		t.Errorf("the first parks on the %s", tr.Hand)
	}
	f.tells(finding.DoorMeets, finding.Warning, "A2-front-door", `parked leaf of A1-front-door over 7"`)
}

// A leaf that must park before the next doorway: the first opens from 90 1/2 to
// 138 1/2 (at: right) and parks to 190; the second, at the left of its front,
// is closed from 144 + 3 3/4 to 144 + 55 1/4: 42 1/4 in are covered.
func TestParkedLeafCoversADoorway(t *testing.T) {
	two := "rooms: [{kind: stall, front: {at: right, slides: right, panels: boards}}, "
	f := fitWith(t, barn, "rooms: [stall]", two+"stall]")
	f.tells(finding.DoorMeets, finding.Warning, "A1-front-door", `covers 3' 6 1/4" of A2-front-door`)
	// A swing door's doorway there, from 149 1/2 to 197 1/2: 40 1/2 in.
	f = fitWith(t, barn, "rooms: [stall]", two+"{kind: tack, front: {door: swing, at: left, panels: boards}}]")
	f.tells(finding.DoorMeets, finding.Warning, "A1-front-door", `stands 3' 4 1/2" before the doorway of A2-front-door`)
	// Left to choose, it parks on the left.
	f = fitWith(t, barn, "rooms: [stall]", strings.Replace(two, "slides: right, ", "", 1)+"stall]")
	f.silent(finding.DoorMeets, "A1-front-door")
}

// Nothing carries a track before a room whose front is open: from the post at
// 144 on, 46 in of the parked leaf hang in the air.
func TestNoTrackBeforeAnOpenFront(t *testing.T) {
	f := fitWith(t, barn, "rooms: [stall]", "rooms: [{kind: stall, front: {at: right, slides: right, panels: boards}}, open, stall]")
	f.tells(finding.DoorPark, finding.Warning, "A1-front-door", `3' 10" past the end of what carries its track`)
}

// The leaf parks from 53 1/2 to 105. A feeder at the left of the panel stands
// from 55 3/4 to 79 3/4, before it; at the right, from 116 on, beside it.
func TestParkedLeafBeforeAFeeder(t *testing.T) {
	f := fitWith(t, barn, "panels: boards", "panels: {fill: feeder, hand: left}")
	f.tells(finding.DoorMeets, finding.Warning, "A1-front-door", "feeder of A1-front-right", `2' 2"`)
	f = fitWith(t, barn, "panels: boards", "panels: {fill: feeder, hand: right}")
	f.silent(finding.DoorMeets, "A1-front-door")
}

// In a pen the wall turns at every joint: a leaf can only park before its own
// section. 12 ft less two reaches of 1 3/4 leave 140 1/2; a doorway in the middle
// opens from 48 to 96, and the leaf would pass the joint by 3 1/2 in.
func TestPenGateParksBeforeItsOwnSection(t *testing.T) {
	pen := barn[:strings.Index(barn, "structures:")] + "structures:\n  - pen: {name: P, sections: 16, section: 12 ft, height: 96 in, gate: {front: {door: slide}}}\n"
	f := fitWith(t, pen)
	f.tells(finding.DoorPark, finding.Warning, "P-gate-door", `3 1/2" past the end`)
	f = fitWith(t, pen, "{door: slide}", "{door: slide, at: left}")
	f.silent(finding.DoorPark, "P-gate-door")
}

// Two doorways whose leaves park toward each other, to 105 in and from 183 in, by
// hand as above. The first track starts at 2 1/2; the second ends where its closed
// leaf's stop does, at 288 − 5 1/2 + 1 3/4 + 1 1/4 = 285 1/2. Made 189 1/2 in long,
// they reach to 192 and from 96.
func TestTracksMeet(t *testing.T) {
	two := "rooms: [{kind: stall, front: {at: left, slides: right, panels: boards}}, {kind: stall, front: {at: right, slides: left, panels: boards}}]"
	f := fitWith(t, barn, "rooms: [stall]", two, `length: opening + leaf + L("6 in")`, `length: opening + leaf + L("90 in")`)
	a, b := f.bay("A1-front-door").Door.Track, f.bay("A2-front-door").Door.Track
	same(t, "first track to", a.X[1], 192*in)
	same(t, "second track from", b.X[0], 96*in)
	f.tells(finding.DoorMeets, finding.Warning, "A2-front-door", `its track runs 8' 0" into the track of A1-front-door`)
	// By the kit's own rule they are 105 1/2 in long and stay clear.
	fitWith(t, barn, "rooms: [stall]", two).silent(finding.DoorMeets, "A2-front-door")
	// Made 145 in they reach to 147 1/2 and from 140 1/2, 7 in into each other; each is
	// 145 − 105 1/2 + 1 3/4 = 41 1/4 longer than it need be: the second is cut.
	f = fitWith(t, barn, "rooms: [stall]", two, `length: opening + leaf + L("6 in")`, `length: L("145 in")`)
	f.silent(finding.DoorMeets, "A2-front-door")
	same(t, "second track from", f.bay("A2-front-door").Door.Track.X[0], 147*in+in/2)
}
