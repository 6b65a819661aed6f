package setout_test

import (
	"fmt"
	"math"
	"math/cmplx"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"stallwright/engine/finding"
	"stallwright/engine/frame"
	"stallwright/engine/job"
	"stallwright/engine/measure"
	"stallwright/engine/setout"
)

// A regular n-gon, closed form: R = L/(2·sin(π/n)); pier i at (2i − 1)·π/n from
// a baseline through the first side's middle; the chord over k sides is
// 2R·sin(kπ/n); the middle of a side R·cos(π/n) from the centre.
func TestRegularPen(t *testing.T) {
	for _, n := range []int{3, 4, 5, 12, 16, 17, 48} {
		for _, l := range []measure.Length{8 * ft, 12 * ft, 3600 * mm} {
			r, _ := setOut(t, penJob(n, l, "gate: {toward: 17°, front: open}"), setout.Field{})
			p := r.Structures[0].Pen
			if p == nil || len(p.Piers) != n {
				t.Fatalf("%d sections: %+v", n, p)
			}
			pi := math.Pi / float64(n)
			radius := float64(l) / 2 / math.Sin(pi)
			near(t, "radius", p.Radius.Value, radius, 2)
			near(t, "pin circle", p.Pins.Value, 2*radius, 4)
			near(t, "gate", p.Gate.Value, radius*math.Cos(pi), 4)
			near(t, "flats", p.Flats.Value, 2*radius*math.Cos(pi)-1.5*float64(in), 8)
			for i, q := range p.Piers {
				at := cmplx.Rect(radius, float64(2*i-1)*pi)
				near(t, "x", q.X.Value, real(at), 3)
				near(t, "y", q.Y.Value, imag(at), 3)
				near(t, "skip", q.Skip.Value, 2*radius*math.Sin(2*pi), 4)
				near(t, "across", q.Across.Value, 2*radius*math.Sin(float64(n/2)*pi), 4)
				if q.Chord.Value != l {
					t.Errorf("chord %v, want %v", q.Chord.Value, l)
				}
				want := math.Mod(float64(2*i-1)*180/float64(n)+360, 360)
				if got := float64(q.Angle.Value) / float64(measure.Degree); math.Abs(got-want) > 2e-9 {
					t.Errorf("%d sections, pier %d: angle %v, want %v", n, i+1, got, want)
				}
			}
		}
	}
}

// unequal draws a pen whose sections differ.
func unequal(t *rapid.T) (src string, sides []measure.Length) {
	n := rapid.IntRange(5, 24).Draw(t, "sections")
	plain := measure.Length(rapid.Int64Range(int64(3*measure.Metre), int64(5*measure.Metre)).Draw(t, "plain"))
	draw := func(what string) measure.Length {
		return measure.Length(rapid.Int64Range(int64(2*measure.Metre), int64(4*measure.Metre)).Draw(t, what))
	}
	sides = make([]measure.Length, n)
	for i := range sides {
		sides[i] = plain
	}
	sides[0] = draw("gate")
	at := rapid.IntRange(2, n).Draw(t, "at")
	sides[at-1] = draw("different")
	toward := rapid.IntRange(0, 359).Draw(t, "toward")
	more := fmt.Sprintf("gate: {toward: %d°, length: %s, front: open}\ndifferent: [{at: %d, length: %s}]", toward, exact(sides[0]), at, exact(sides[at-1]))
	return penJob(n, plain, more), sides
}

// Sections laid as rigid bodies, one after another, each turned from the last by
// the angle that the sheet's own chords and skip chords give (law of cosines),
// must come back to the first pier, and pass every place the sheet gives by
// coordinates, by angle and radius, and across. A skip chord is whole nanometres,
// which leaves an angle some 1e-9 rad and a walk of n sections under 1e-6 m.
func TestPenChecksAgree(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		src, sides := unequal(t)
		r, _ := setOut(t, src, setout.Field{})
		p := r.Structures[0].Pen
		n := len(sides)
		place := func(i int) complex128 {
			q := &p.Piers[i%n]
			return complex(q.X.Value.Metres(), q.Y.Value.Metres())
		}
		at := place(0)
		heading := cmplx.Phase(place(1) - place(0))
		for i := range sides {
			if d := cmplx.Abs(at - place(i)); d > 1e-6 {
				t.Fatalf("laid by chords, pier %d comes %v m off its coordinates", i+1, d)
			}
			q := &p.Piers[i]
			polar := cmplx.Rect(p.Radius.Value.Metres(), q.Angle.Value.Radians())
			if d := cmplx.Abs(polar - place(i)); d > 5e-9 {
				t.Fatalf("pier %d: angle and radius miss the coordinates by %v m", i+1, d)
			}
			if d := cmplx.Abs(place(i+n/2)-place(i)) - q.Across.Value.Metres(); math.Abs(d) > 5e-9 {
				t.Fatalf("pier %d: across is off by %v m", i+1, d)
			}
			if p.Piers[(i+n/2)%n].Name != q.Far {
				t.Fatalf("pier %d: across to %s", i+1, q.Far)
			}
			a, b, c := sides[i].Metres(), sides[(i+1)%n].Metres(), q.Skip.Value.Metres()
			at += cmplx.Rect(a, heading)
			heading += math.Pi - math.Acos((a*a+b*b-c*c)/(2*a*b))
		}
		if d := cmplx.Abs(at - place(0)); d > 1e-6 {
			t.Fatalf("laid by chords, the ring misses its start by %v m", d)
		}
		if x := p.Piers[0].X.Value - p.Piers[1].X.Value; x.Abs() > 2 || (p.Piers[0].Y.Value+p.Piers[1].Y.Value).Abs() > 2 {
			t.Fatal("the baseline does not run through the gate's middle")
		}
	})
}

// The sheet does not depend on where the gate faces; and turned to where it
// faces, it is where the layout has the pins.
func TestPenTurnsWithItsGate(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(6, 20).Draw(t, "sections")
		a := rapid.IntRange(0, 359).Draw(t, "toward")
		more := "gate: {toward: %d°, length: 9', front: open}\ndifferent: [{at: 4, length: 10'}]"
		still, _ := setOut(t, penJob(n, 12*ft, fmt.Sprintf(more, 0)), setout.Field{})
		turned, l := setOut(t, penJob(n, 12*ft, fmt.Sprintf(more, a)), setout.Field{})
		p, q := still.Structures[0].Pen, turned.Structures[0].Pen
		if q.Toward != measure.Angle(a)*measure.Degree {
			t.Fatalf("faces %v", q.Toward)
		}
		turn := cmplx.Rect(1, float64(a)*math.Pi/180)
		for i := range p.Piers {
			x, y := &p.Piers[i], &q.Piers[i]
			if x.X.Value != y.X.Value || x.Y.Value != y.Y.Value || x.Angle.Value != y.Angle.Value || x.Skip.Value != y.Skip.Value || x.Across.Value != y.Across.Value {
				t.Fatalf("pier %d differs once turned", i+1)
			}
			want := complex(float64(y.X.Value), float64(y.Y.Value)) * turn
			got := l.Posts[y.Post].At
			if cmplx.Abs(complex(float64(got.X), float64(got.Y))-want) > 5 {
				t.Fatalf("pier %d: the layout has it at %v, the sheet turned at %v", i+1, got, want)
			}
		}
	})
}

// Brahmagupta: a cyclic quadrilateral of sides 7, 15, 20, 24 has area 234 and
// circumradius 12.5. (Known example; checked: s = 33, √(26·18·13·9) = 234.)
func TestBrahmaguptasPen(t *testing.T) {
	r, _ := setOut(t, penJob(4, 15*ft, "gate: {length: 7', front: open}\ndifferent: [{at: 3, length: 20'}, {at: 4, length: 24'}]\nbase: pad-12"), setout.Field{})
	p := r.Structures[0].Pen
	near(t, "radius", p.Radius.Value, 12.5*float64(ft), 2)
	sum := 0.0
	for i := range p.Piers {
		a, b := &p.Piers[i], &p.Piers[(i+1)%4]
		sum += (float64(a.X.Value)*float64(b.Y.Value) - float64(b.X.Value)*float64(a.Y.Value)) / 2
	}
	if area := sum / float64(ft) / float64(ft); math.Abs(area-234) > 1e-6 {
		t.Errorf("area %v, want 234", area)
	}
}

// The size asked for in each sense, for sections made to size: what was asked
// comes out in that sense, and the other two by hand for 20 sections. With R
// the pin circle's radius, flats are 2R·cos 9° − 1 1/2 in, corners 2R − 2 in.
func TestPenSizeInEachSense(t *testing.T) {
	c := math.Cos(math.Pi / 20)
	for _, v := range []struct {
		sense   job.Measured
		twoR    float64 // inches
		keepers string
	}{
		{job.AcrossPins, 720, "pins"},
		{job.AcrossFlats, (720 + 1.5) / c, "flats"},
		{job.AcrossCorners, 722, "corners"},
	} {
		src := head(false) + fmt.Sprintf("  - pen: {name: P, across: 60', measured: %s, sections: 20, gate: {front: open}}\n", v.sense)
		r, _ := setOut(t, src, setout.Field{})
		p := r.Structures[0].Pen
		if p.Asked != v.sense || p.AskedFor != 60*ft {
			t.Errorf("asked for %v %v", p.AskedFor, p.Asked)
		}
		// Sections round down to 1/16 in, the circle to 20/π of that at most.
		within := in * 20 / 48
		near(t, "pins "+v.keepers, p.Pins.Value, v.twoR*float64(in), within)
		near(t, "flats "+v.keepers, p.Flats.Value, (v.twoR*c-1.5)*float64(in), within)
		near(t, "corners "+v.keepers, p.Corners.Value, (v.twoR-2)*float64(in), within)
	}
}

// measured sets the job's piers where the sheet has them, some moved.
func measured(p *setout.Pen, moved map[int]frame.Point) map[string]setout.Place {
	out := map[string]setout.Place{}
	for i := range p.Piers {
		q := &p.Piers[i]
		at := frame.Point{X: q.X.Value, Y: q.Y.Value}
		out[q.Name] = setout.Place{At: at.Add(moved[i])}
	}
	return out
}

// Piers where the sheet has them close; one set wrong is named, and moved as told
// it closes. The closing error is that of rigid bodies laid one by one, worked
// out here with complex numbers.
func TestMeasuredPiers(t *testing.T) {
	src := penJob(16, 12*ft, "base: pier-12\ngate: {length: 10', front: open}")
	r, _ := setOut(t, src, setout.Field{})
	p := r.Structures[0].Pen
	if p.Play.Value != in/16 || p.TakeUp.Value != in || p.Seat.Value != 2*in || p.Loose {
		t.Errorf("play %v, round the ring %v, seat %v: the kit states 1/16 in a section and 2 in", p.Play.Value, p.TakeUp.Value, p.Seat.Value)
	}

	good, _ := setOut(t, src, setout.Field{Piers: measured(p, nil)})
	c := good.Structures[0].Pen.Closing
	if c == nil || !c.Fits || c.End > 10 || len(found(good, finding.RingCloses)) != 1 {
		t.Fatalf("piers in place: %+v", good.Findings)
	}

	off := map[int]frame.Point{6: {X: 5 * in, Y: -2 * in}}
	bad, _ := setOut(t, src, setout.Field{Piers: measured(p, off)})
	c = bad.Structures[0].Pen.Closing
	open := found(bad, finding.RingOpen)
	if c.Fits || len(open) != 1 || open[0].Severity != finding.Error || len(c.Moves) != 1 {
		t.Fatalf("pier 7 moved: %+v", bad.Findings)
	}
	var at, start complex128
	places := make([]complex128, 16)
	for i := range places {
		q := &p.Piers[i]
		m := off[i]
		places[i] = complex((q.X.Value + m.X).Metres(), (q.Y.Value + m.Y).Metres())
	}
	at, start = places[0], places[0]
	for i := range places {
		toward := places[(i+1)%16] - at
		at += toward / complex(cmplx.Abs(toward), 0) * complex(p.Piers[i].Chord.Value.Metres(), 0)
	}
	near(t, "closing error", c.End, cmplx.Abs(at-start)*1e9, 5)
	if why := c.Why.Trace(); !strings.Contains(why, "why.place-along post=P.p16") || !strings.Contains(why, "uses.pen.play") {
		t.Errorf("closing error without its inputs:\n%s", why)
	}

	named := false
	for _, mv := range append(c.Moves, c.Instead...) {
		named = named || mv.Pier == 6
		again := measured(p, off)
		again[p.Piers[mv.Pier].Name] = setout.Place{At: frame.Point(mv.To)}
		if s, _ := setOut(t, src, setout.Field{Piers: again}); !s.Structures[0].Pen.Closing.Fits {
			t.Errorf("moved as told, pier %d: %v", mv.Pier+1, s.Findings)
		}
	}
	if !named || !strings.Contains(fmt.Sprint(open[0].Choices), "pier=P.p7") {
		t.Errorf("pier 7 is not named: %q", open[0].Choices)
	}
}

// A foot on bare ground goes where its pin comes down; some piers missing leaves
// the question open; two piers in one place are refused with a sentence.
func TestMeasuredPiersAtTheEdges(t *testing.T) {
	src := penJob(16, 12*ft, "base: foot-plate\ngate: {front: open}")
	r, _ := setOut(t, src, setout.Field{})
	p := r.Structures[0].Pen
	if !p.Loose {
		t.Error("a foot plate on the ground is taken as a pier")
	}
	far := map[int]frame.Point{3: {X: 9 * in}}
	if s, _ := setOut(t, src, setout.Field{Piers: measured(p, far)}); !s.Structures[0].Pen.Closing.Fits {
		t.Error("feet on the ground that could go along are refused")
	}
	some := measured(p, nil)
	delete(some, "P.p5")
	s, _ := setOut(t, src, setout.Field{Piers: some})
	if m := found(s, finding.PiersMissing); len(m) != 1 || !strings.Contains(m[0].Message, "P.p5") || s.Structures[0].Pen.Closing != nil {
		t.Errorf("one missing: %+v", s.Findings)
	}
	same := measured(p, nil)
	same["P.p5"] = same["P.p4"]
	s, _ = setOut(t, src, setout.Field{Piers: same})
	if m := found(s, finding.RingOpen); len(m) != 1 || !strings.Contains(m[0].Message, "same place") {
		t.Errorf("two in one place: %+v", s.Findings)
	}
}

// Piers that a job states are read with who measured them; names that are none
// are refused with their line.
func TestPiersOfAJob(t *testing.T) {
	src := penJob(12, 12*ft, "gate: {front: open}") + "piers:\n  - {post: %s, x: 20', y: -3' 6\", by: Sam, at: %s}\n"
	j, err := job.Read("job.yaml", []byte(fmt.Sprintf(src, "P.p1", "2026-05-03")))
	if err != nil {
		t.Fatal(err)
	}
	at := setout.PiersOf(j)["P.p1"]
	if (at.At != frame.Point{X: 20 * ft, Y: -42 * in}) || !strings.Contains(at.Source.String(), "by=Sam at=2026-05-03") || !strings.Contains(at.Source.String(), "at=job.yaml:13:") {
		t.Errorf("%+v", at)
	}
	for _, c := range [][3]string{
		{"P.p13", "2026-05-03", `there is no post "P.p13"`},
		{"P-gate.l", "2026-05-03", "is no joint of a pen"},
		{"P.p1", "yesterday", "this is no time"},
	} {
		s := src
		if c[0] == "P-gate.l" {
			s = strings.Replace(s, "gate: {front: open}", "gate: {front: {at: centre}}", 1)
		}
		j, err := job.Read("job.yaml", []byte(fmt.Sprintf(s, c[0], c[1])))
		if err == nil {
			k, _ := readKit(j.Kit)
			_, err = frame.Build(j, k)
		}
		if err == nil || !strings.Contains(err.Error(), c[2]) || !strings.Contains(err.Error(), "job.yaml:13") {
			t.Errorf("%s: %v", c[0], err)
		}
	}
}

// Angles as a transit's circle shows them, by hand.
func TestDegMinSec(t *testing.T) {
	for _, c := range []struct {
		a    measure.Angle
		want string
	}{
		{0, `0° 00' 00"`},
		{11*measure.Degree + measure.Degree/4, `11° 15' 00"`},
		{measure.FullTurn / 7, `51° 25' 43"`}, // 51.428571… = 51° 25' 42.857"
		{60*measure.Degree - 1, `60° 00' 00"`},
		{-measure.Degree / 2, `-0° 30' 00"`},
	} {
		if got := setout.DegMinSec(c.a); got != c.want {
			t.Errorf("%v: %s, want %s", c.a, got, c.want)
		}
	}
}

// Coordinates in nanometres of an irregular pen, recorded on amd64: other
// machines must give the same to the last digit.
func TestSamePenEverywhere(t *testing.T) {
	r, _ := setOut(t, penJob(13, 12*ft, "gate: {length: 10', toward: 31°, front: open}\ndifferent: [{at: 6, length: 9' 7 3/8\"}]"), setout.Field{})
	p := r.Structures[0].Pen
	var b strings.Builder
	fmt.Fprintf(&b, "%d %d", p.Radius.Value, p.Gate.Value)
	for _, i := range []int{1, 5, 9} {
		q := &p.Piers[i]
		fmt.Fprintf(&b, " | %d %d %d %d %d", q.X.Value, q.Y.Value, q.Angle.Value, q.Skip.Value, q.Across.Value)
	}
	const want = `7427959906 7269938952 | 7269938952 1524000000 11839493945 7090022095 14733592781 | -4351757577 6019700520 125863891935 6426047300 14733592781 | -4351757577 -6019700520 234136108065 7090022095 14748471147`
	if b.String() != want {
		t.Errorf("got %s\nwant %s", b.String(), want)
	}
}
