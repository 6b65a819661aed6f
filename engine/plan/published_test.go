package plan_test

import (
	"testing"

	"stallwright/engine/frame"
	"stallwright/engine/job"
	"stallwright/engine/measure"
	"stallwright/engine/plan"
)

// Canada Plan Service leaflets M-8203 (rev. 85:03, "Two-story horse barn") and
// 8202 ("Barn for riding horses, 6 or 10 box stalls"): stall counts, sizes and
// passages as their texts state them. Which room stands where is ours.

// rooms lists the rooms of a kind.
func rooms(p *plan.Plan, kind job.RoomKind) []*frame.Room {
	var out []*frame.Room
	for i := range p.Layout.Rooms {
		if r := &p.Layout.Rooms[i]; r.Kind == kind {
			out = append(out, r)
		}
	}
	return out
}

// around is the smallest rectangle around all posts' axes.
func around(p *plan.Plan) (width, depth measure.Length) {
	var lo, hi frame.Point
	for i := range p.Layout.Posts {
		at := p.Layout.Posts[i].At
		if i == 0 {
			lo, hi = at, at
		}
		lo.X, lo.Y, hi.X, hi.Y = min(lo.X, at.X), min(lo.Y, at.Y), max(hi.X, at.X), max(hi.Y, at.Y)
	}
	return hi.X - lo.X, hi.Y - lo.Y
}

func size(t *testing.T, what string, width, depth, wantWidth, wantDepth measure.Length) {
	t.Helper()
	if width != wantWidth || depth != wantDepth {
		t.Errorf("%s: %v x %v, published %v x %v", what, width, depth, wantWidth, wantDepth)
	}
}

// 24 x 40 ft (7.2 x 12 m); three 10 x 12 ft (3 x 3.6 m) box stalls, each with a
// sliding door to the wide work alley; tack room, small feed room.
func TestPlanM8203(t *testing.T) {
	const m = measure.Metre
	for _, c := range []struct {
		file                       string
		length, width, stall, deep measure.Length
	}{
		{"cps-m8203", 40 * ft, 24 * ft, 10 * ft, 12 * ft},
		{"cps-m8203-metric", 12 * m, 7200 * mm, 3 * m, 3600 * mm},
	} {
		t.Run(c.file, func(t *testing.T) {
			p := load(t, c.file)
			noErrors(t, p)
			w, d := around(p)
			size(t, "barn", w, d, c.length, c.width)
			stalls := rooms(p, job.Stall)
			if len(stalls) != 3 || len(rooms(p, job.Tack)) != 1 || len(rooms(p, job.Feed)) != 1 {
				t.Fatalf("%d stalls, %d tack and %d feed rooms", len(stalls), len(rooms(p, job.Tack)), len(rooms(p, job.Feed)))
			}
			for _, r := range stalls {
				size(t, r.Name, r.Width, r.Depth, c.stall, c.deep)
			}
			alley := rooms(p, job.Passage)[0]
			size(t, "alley", alley.Width, alley.Depth, c.length, c.width-c.deep)
			for i := range p.Layout.Posts {
				// A nominal 6x6 is dressed to 5 1/2 in, some 140 mm (PS 20, timbers).
				if v := &p.Layout.Posts[i]; v.Kind == frame.Timber && (v.Along < 139*mm || v.Along > 140*mm) {
					t.Errorf("post %s is %v thick", v.Name, v.Along)
				}
			}
			for _, name := range []string{"front-1", "front-2", "front-3"} {
				b := bay(t, p, name+"-door")
				if b.Door.Track == nil {
					t.Errorf("%s has no sliding door", name)
				}
			}
			for _, name := range []string{"first", "second"} {
				if b := bay(t, p, name); b.Grille == nil || b.Grille.Grille.Mesh == 0 {
					t.Errorf("the partition %s has no open mesh top", name)
				}
			}
		})
	}
}

// Both versions: 36 ft clear span, a central work alley 10 ft wide, a larger
// foaling pen, a tack room 10 x 12 ft; 6 box stalls in 56 ft, 10 in 76 ft (one
// copy of the leaflet prints 176).
func TestPlan8202(t *testing.T) {
	for _, c := range []struct {
		file   string
		stalls int
		length measure.Length
	}{{"cps-8202", 6, 56 * ft}, {"cps-8202-long", 10, 76 * ft}} {
		t.Run(c.file, func(t *testing.T) {
			p := load(t, c.file)
			noErrors(t, p)
			stalls, foaling, tack := rooms(p, job.Stall), rooms(p, job.Foaling), rooms(p, job.Tack)
			if len(stalls) != c.stalls || len(foaling) != 1 || len(tack) != 1 {
				t.Fatalf("%d stalls, %d foaling pens, %d tack rooms", len(stalls), len(foaling), len(tack))
			}
			for _, r := range stalls {
				size(t, r.Name, r.Width, r.Depth, 10*ft, 12*ft)
				if foaling[0].Width <= r.Width || foaling[0].Depth < r.Depth {
					t.Errorf("the foaling pen, %v x %v, is no larger than %s", foaling[0].Width, foaling[0].Depth, r.Name)
				}
			}
			size(t, "tack room", tack[0].Width, tack[0].Depth, 10*ft, 12*ft)
			w, d := around(p)
			length(t, "barn", w, c.length)
			if d > 36*ft {
				t.Errorf("%v does not go under a clear span of 36 ft", d)
			}
			if len(p.Layout.Aisles) != 1 || p.Layout.Aisles[0].Width != 10*ft || p.Layout.Aisles[0].Length != c.length {
				t.Errorf("alley %+v", p.Layout.Aisles)
			}
			doors := 0
			for i := range p.Fit.Bays {
				if p.Fit.Bays[i].Door != nil {
					doors++
				}
			}
			if want := c.stalls + 2; doors != want {
				t.Errorf("%d doors, want one a stall, the foaling pen and the tack room: %d", doors, want)
			}
		})
	}
}
