package site_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"stallwright/engine/finding"
	"stallwright/engine/measure"
	"stallwright/engine/plan"
	"stallwright/engine/site"
)

// One stall of 12 ft by 12 ft between 5 1/2 in posts, worked by hand: faces are
// 144 − 5 1/2 = 138 1/2 in apart, inner corners 138 1/2·√2 = 195.868 in. Post A.a2
// then stands 2 in farther along: its faces read 140 1/2 in to A.a1; its corner to
// A.b1's √(140.5² + 138.5²) = 197.288 in; A.b2 looks at it over 138 1/2 in across,
// their axes 2 in out of line: √(138.5² + 2²) = 138.5144 in; A.a1–A.b2 is as it was.
const handWorked = `readings:
  - {distance: [A.a1, A.a2], is: 140.5"}
  - {distance: [A.b1, A.b2], is: 138.5"}
  - {distance: [A.a1, A.b1], is: 138.5"}
  - {distance: [A.a2, A.b2], is: 138.5144"}
  - {diagonal: [A.a1, A.b2], is: 195.8686"}
  - {diagonal: [A.a2, A.b1], is: 197.2878"}
`

func TestFacesAndCornersComeToAxes(t *testing.T) {
	s, l := adjust(t, barn("one", 1, handWorked))
	at := map[string][2]float64{}
	for _, p := range s.Posts {
		if !p.Placed {
			t.Errorf("%s is not placed", l.Posts[p.Post].Name)
		}
		at[l.Posts[p.Post].Name] = [2]float64{p.At.X.Inches(), p.At.Y.Inches()}
	}
	axes := func(a, b string) float64 { return math.Hypot(at[a][0]-at[b][0], at[a][1]-at[b][1]) }
	for _, c := range []struct {
		a, b string
		want float64
	}{
		{"A.a1", "A.a2", 146}, {"A.b1", "A.b2", 144}, {"A.a1", "A.b1", 144}, {"A.a2", "A.b2", math.Hypot(144, 2)},
		{"A.a1", "A.b2", math.Hypot(144, 144)}, {"A.a2", "A.b1", math.Hypot(146, 144)},
	} {
		if got := axes(c.a, c.b); math.Abs(got-c.want) > 0.002 {
			t.Errorf("%s and %s are %.4f in apart from axis to axis, want %.4f", c.a, c.b, got, c.want)
		}
	}
	for i, r := range s.Readings {
		if r.Status != site.Used || r.Off.Abs() > measure.Inch/500 || r.Redundancy <= 0 || r.Smallest <= 0 {
			t.Errorf("reading %d: %+v", i, r)
		}
	}
	if len(s.Tests) != 1 || s.Tests[0].Redundancy != 1 {
		t.Errorf("six distances between four posts leave %d spare, want 1", s.Tests[0].Redundancy)
	}
}

// The same posts read over the outer faces, from like face to like face, and from
// axis to axis.
func TestWhatTheTapeTouched(t *testing.T) {
	s, _ := adjust(t, barn("one", 1, `readings:
  - {distance: [A.a1, A.a2], is: 149.5", between: outer}
  - {distance: [A.b1, A.b2], is: 144", between: same}
  - {distance: [A.a1, A.b1], is: 144", between: axes}
  - {distance: [A.a2, A.b2], is: 149.5", between: outer}
  - {diagonal: [A.a1, A.b2], is: 203.6468", between: axes}
  - {diagonal: [A.a2, A.b1], is: 211.4249", between: outer}
`)) // the outer corners of a 149 1/2 in square are 149.5·√2 = 211.425 in apart
	if len(s.Places) > 4 {
		t.Fatal(s.Places)
	}
	for i, r := range s.Readings {
		if r.Off.Abs() > measure.Inch/500 {
			t.Errorf("reading %d is %v off", i, r.Off)
		}
	}
	for _, p := range s.Posts {
		if d := p.At.Sub(p.Drawn); d.X.Abs() > measure.Inch/500 || d.Y.Abs() > measure.Inch/500 {
			t.Errorf("a post moved by %v", d)
		}
	}
}

// A post that leans 1 in along over 8 ft is 1/2 in nearer to the next at 4 ft up.
func TestTapeHeldHighOnALeaningPost(t *testing.T) {
	s, l := adjust(t, barn("one", 1, `readings:
  - {plumb: A.a1, over: 8', along: 1"}
  - {distance: [A.a1, A.a2], is: 138", height: 4'}
`))
	var x [2]measure.Length
	for _, p := range s.Posts {
		switch l.Posts[p.Post].Name {
		case "A.a1":
			x[0] = p.At.X
		case "A.a2":
			x[1] = p.At.X
		}
	}
	if got := x[1] - x[0]; (got - 144*measure.Inch).Abs() > 10 {
		t.Errorf("at the foot the axes are %v apart, want 12'", got)
	}
	if f := said(s, finding.PostLeans); len(f) != 1 || !strings.Contains(f[0].Message, `A.a1 leans over 8' 0": its top stands 1" along`) {
		t.Errorf("the lean is told as %v", f)
	}
}

// Through the whole plan: the bays beside a post that stands elsewhere follow it,
// stay drawn, and say from what.
func TestPlanFollowsThePosts(t *testing.T) {
	src := barn("one", 1, handWorked)
	j, k, _ := draw(t, src)
	p, err := plan.Make(j, k)
	if err != nil {
		t.Fatal(err)
	}
	i, ok := p.Layout.Bay("A1-back")
	if !ok {
		t.Fatal("no bay A1-back")
	}
	// 146 in − 2 × (2 3/4 in of timber + the channel's web).
	r := &p.Layout.Runs[p.Layout.Bays[i].Run]
	want := 146*measure.Inch - r.Ends[0].Reach - r.Ends[1].Reach
	if d := p.Layout.Bays[i].Clear - want; d.Abs() > measure.Inch/200 {
		t.Errorf("A1-back is %v wide, want %v", p.Layout.Bays[i].Clear, want)
	}
	f := &p.Fit.Bays[i]
	if f.State != "drawn" {
		t.Errorf("A1-back is %s, want drawn: only its own width releases it", f.State)
	}
	chain := f.WhyClear.Trace()
	for _, want := range []string{"why.axes from=A.a1 to=A.a2 = " + (146 * measure.Inch).String(), "rule.posts-adjusted plus=", "slip.distance a=A.a1 b=A.a2 = " + (140*measure.Inch + measure.Inch/2).String(), "source.at at=job.yaml:"} {
		if !strings.Contains(chain, want) {
			t.Errorf("the reason lacks %q:\n%s", want, chain)
		}
	}
	if got := codes(p, finding.PostMoved); len(got) != 1 {
		t.Errorf("post-moved is told %d times", len(got))
	}
}

func codes(p *plan.Plan, code finding.Code) []string {
	var out []string
	for _, f := range p.Findings {
		if f.Code == code {
			out = append(out, f.Message)
		}
	}
	return out
}

// Posts so far off that nothing can be framed leave the drawn plan, and say so.
func TestImpossiblePostsLeaveTheDrawing(t *testing.T) {
	j, k, _ := draw(t, barn("one", 1, "readings:\n  - {distance: [A.b1, A.b2], is: 2' 6\"}\n"))
	p, err := plan.Make(j, k)
	if err != nil {
		t.Fatal(err)
	}
	if got := codes(p, finding.PostsUnframed); len(got) != 1 || !strings.Contains(got[0], "the plan keeps to the drawing") {
		t.Errorf("posts-unframed: %v", got)
	}
	if i, _ := p.Layout.Post("A.b2"); p.Layout.Posts[i].At.X != 12*measure.Foot {
		t.Errorf("A.b2 stands at %v", p.Layout.Posts[i].At)
	}
}

// Precision stated by the job is the one used: a tape of 1/4 in fixed alone gives
// each of two posts 1/8 in along their line (half the distance's, by symmetry).
func TestStatedPrecision(t *testing.T) {
	s, _ := adjust(t, barn("one", 1, "tape: {fixed: 1/4\", per: 1000000}\nreadings:\n  - {distance: [A.a1, A.a2], is: 11' 6 1/2\"}\n"))
	for _, p := range s.Posts {
		if d := p.SigmaX - measure.Inch/8; d.Abs() > measure.Inch/5000 {
			t.Errorf("standard deviation %v, want 1/8 in", p.SigmaX)
		}
	}
	if r := s.Readings[0]; r.Redundancy != 0 || r.Smallest != 0 {
		t.Errorf("a lone reading is checked: %+v", r)
	}
	if f := said(s, finding.ReadingUnchecked); len(f) != 1 || !strings.Contains(f[0].Message, "Nothing checks distance A.a1–A.a2") {
		t.Errorf("told: %v", f)
	}
	if f := said(s, finding.PostUnread); len(f) != 1 || !strings.Contains(f[0].Message, "A.b1 and A.b2") {
		t.Errorf("missing posts told as %v", f)
	}
}

// Offsets, straight lines and squares: A.a2 of three posts 1 in toward the north
// of the string, which is on the left looking from A.a1 to A.a3.
func TestStringsAndSquares(t *testing.T) {
	for _, r := range []string{
		`{offset: [A.a2, A.a1, A.a3], is: 1", side: left}`, `{offset: [A.a2, A.a1, A.a3], is: -1", side: right}`,
		`{straight: [A.a2, A.a1, A.a3], off: 1"}`, `{offset: [A.a2, A.a3, A.a1], is: 1", side: right}`,
	} {
		s, l := adjust(t, barn("one", 2, fmt.Sprintf(`readings:
  - {distance: [A.a1, A.a2], is: 138.5"}
  - {distance: [A.a2, A.a3], is: 138.5"}
  - %s
`, r)))
		at := map[string]measure.Length{}
		for _, p := range s.Posts {
			at[l.Posts[p.Post].Name] = p.At.Y
		}
		if got := at["A.a2"] - (at["A.a1"]+at["A.a3"])/2; (got - measure.Inch).Abs() > measure.Inch/100 {
			t.Errorf("%s: A.a2 stands %v north of the line, want 1 in", r, got)
		}
	}
}
