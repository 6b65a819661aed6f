package solid_test

import (
	"fmt"
	"testing"

	"pgregory.net/rapid"

	"stallwright/engine/finding"
	"stallwright/engine/fit"
	"stallwright/engine/frame"
	"stallwright/engine/job"
	"stallwright/engine/kit"
	"stallwright/engine/measure"
	"stallwright/engine/plan"
	"stallwright/engine/plan/jobs"
	"stallwright/paper/solid"
)

// tolerance is how far two solids may stand in each other before it counts, in
// metres: a paper's thickness, more than half lengths and turned axes are rounded
// by, less than any sheet is thick.
const tolerance = 1e-3

// drawnOff is how far a measured clear width may differ from the drawn one for the
// posts still to be drawn where they were: further off, the measured bay stands in
// none of the drawn posts, and the layout has to be drawn anew.
const drawnOff = 2 * measure.Inch

// A finished job has nothing that stands in another, for a hundred jobs drawn at
// random over each kind of structure. What the plan itself calls impossible is left
// out, and so are the three things named in excused.
func TestNothingStandsInAnotherAtRandom(t *testing.T) {
	kits := map[string]*kit.Kit{}
	for _, name := range kit.ShippedNames() {
		file, src, _ := kit.Shipped(name)
		k, err := kit.Read(file, src)
		if err != nil {
			t.Fatal(err)
		}
		kits[name] = k
	}
	for _, kind := range jobs.Kinds {
		t.Run(kind, func(t *testing.T) {
			t.Parallel()
			gen := rapid.Custom(func(t *rapid.T) string { return jobs.Draw(t, kind) })
			planned, boards := 0, 0
			for seed := 0; planned < 100 && seed < 200; seed++ {
				j, err := job.Read("drawn.yaml", []byte(gen.Example(seed)))
				if err != nil {
					continue
				}
				p, err := plan.Make(j, kits[j.Kit])
				if err != nil {
					continue
				}
				planned++
				s := solid.Make(p)
				told := toldOf(p)
				for _, c := range s.Clashes(tolerance) {
					a, b := &s.Solids[c.A], &s.Solids[c.B]
					if told.of(a) || told.of(b) || excused(p, a, b) {
						continue
					}
					t.Errorf("job %d: %s and %s stand %.1f mm in each other", seed, a.Name, b.Name, c.Depth*1000)
				}
				boards += inChannels(t, fmt.Sprint("job ", seed), s, told)
			}
			if planned < 100 || boards < 500 {
				t.Errorf("only %d jobs planned, %d boards looked at: the test says little", planned, boards)
			}
		})
	}
}

// excused are clashes that are not the fitting's:
//
//   - what crosses a bay is the building's own: the steel it meets is for the crew
//     to see to, the boards are cut for it (where they were);
//   - tracks of two doors that slide on one line may meet end to end: one track
//     then serves both;
//   - sections of a pen of few sections meet at so sharp an angle that their
//     uprights do.
func excused(p *plan.Plan, a, b *solid.Solid) bool {
	kindOf := func(s *solid.Solid) fit.PieceKind {
		if s.Piece < 0 {
			return ""
		}
		return p.Fit.Pieces[s.Piece].Kind
	}
	for _, v := range [2][2]*solid.Solid{{a, b}, {b, a}} {
		one, other := v[0], v[1]
		if one.Kind == solid.Building && (other.Kind == solid.Building || other.Bay != one.Bay || kindOf(other) != fit.Board) {
			return true
		}
		stop := func(s *solid.Solid) bool {
			return s.Kind == solid.Hardware && s.Bay >= 0 && p.Layout.Bays[s.Bay].IsDoor()
		}
		if stop(one) && stop(other) && one.Bay != other.Bay {
			return true
		}
	}
	r := p.Layout.Structures[a.Structure].Ring
	return r != nil && a.Run != b.Run && len(r.Sections) <= sharp
}

// sharp is how many sections a pen has at most whose uprights may stand in each
// other: in a ring of five, two sections meet at 108°, and uprights 2 in wide whose
// backs stand 1 1/8 in from the pin need 2·atan(1/1.125) = 83° between their axes.
// With sections of several lengths the sharpest angle is less.
const sharp = 5

// told knows the places at which a plan says that something cannot be.
type told struct {
	p     *plan.Plan
	bays  map[int]bool
	posts map[int]bool
}

func toldOf(p *plan.Plan) *told {
	t := &told{p, map[int]bool{}, map[int]bool{}}
	at := map[string]bool{}
	for i := range p.Findings {
		f := &p.Findings[i]
		switch f.Code {
		case finding.FeederHeight, finding.StackShort: // warnings, but of what does not fit
			at[f.Place] = true
		}
		if f.Severity == finding.Error {
			at[f.Place] = true
		}
	}
	for i := range p.Layout.Bays {
		b := &p.Layout.Bays[i]
		run := &p.Layout.Runs[b.Run]
		off := (p.Fit.Bays[i].Clear - b.Clear).Abs()
		if at[b.Name] || at[run.Name] || off > drawnOff || p.Fit.Bays[i].Widest-p.Fit.Bays[i].Clear > drawnOff {
			t.bays[i] = true
			t.posts[run.From], t.posts[run.To] = true, true
		}
	}
	return t
}

// of says whether a solid stands where something cannot be.
func (t *told) of(s *solid.Solid) bool {
	switch {
	case s.Bay >= 0:
		return t.bays[s.Bay]
	case s.Run >= 0:
		for _, v := range t.p.Layout.Runs[s.Run].Bays {
			if t.bays[v] {
				return true
			}
		}
		return false
	}
	return s.Post >= 0 && t.posts[s.Post]
}

// inChannels looks at every board from web to web: each end stands in its channel,
// behind the edge of the legs and before the web, and its middle lies in the plane
// of the wall. It counts the boards.
func inChannels(t *testing.T, at string, s *solid.Scene, told *told) int {
	t.Helper()
	p, n := s.Plan, 0
	for v := range p.Layout.Bays {
		b, out := &p.Layout.Bays[v], &p.Fit.Bays[v]
		if b.IsDoor() || b.IsOpen() || told.bays[v] || out.Taper != nil {
			continue
		}
		r := &p.Layout.Runs[b.Run]
		from := p.Layout.Posts[r.From].At
		f := solid.NewFrame(from, p.Layout.Posts[r.To].At.Sub(from))
		x := p.Fit.BayAt(p.Layout, v)
		if len(r.Bays) > 1 {
			x += (frame.Distance(from, p.Layout.Posts[r.To].At) - r.Centres) / 2
		}
		for _, c := range out.Courses {
			if c.Kind != "full" && c.Kind != "closing" && c.Kind != "ripped" || len(c.Pieces) != 1 {
				continue
			}
			i := s.OfPiece(c.Pieces[0])
			if i < 0 {
				t.Errorf("%s: %s has no solid", at, p.Fit.Pieces[c.Pieces[0]].Label)
				continue
			}
			n++
			var lo, hi, lowest, highest float64
			for k, q := range s.Mesh(i).Points {
				l := f.Back(q)
				if k == 0 {
					lo, hi, lowest, highest = l.X, l.X, l.Y, l.Y
				}
				lo, hi, lowest, highest = min(lo, l.X), max(hi, l.X), min(lowest, l.Y), max(highest, l.Y)
			}
			left, right := x.Metres(), (x + out.Clear).Metres()
			const hair = 1e-6
			if lo < left-hair || lo > left+b.Ends[0].Leg.Metres()+hair || hi > right+hair || hi < right-b.Ends[1].Leg.Metres()-hair {
				t.Errorf("%s: %s runs from %.4f to %.4f m between webs at %.4f and %.4f", at, s.Solids[i].Name, lo, hi, left, right)
			}
			for _, e := range b.Ends {
				if half := e.Inside.Metres() / 2; lowest < -half-hair || highest > half+hair {
					t.Errorf("%s: %s is %.4f m thick about the wall's middle in a channel %v wide inside", at, s.Solids[i].Name, highest-lowest, e.Inside)
				}
			}
		}
	}
	return n
}
