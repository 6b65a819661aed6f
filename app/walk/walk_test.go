package walk

import (
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"stallwright/engine/fit"
	"stallwright/engine/job"
	"stallwright/engine/kit"
	"stallwright/engine/measure"
)

// barn is two stalls of 12 ft between posts 5 1/2 in thick; its channels take
// 3/16 in a side: a wall between stalls is drawn 138 1/4 in wide in this kit.
const barn = `job: Two stalls
units: feet
kit: fernhollow
farm: {name: Walk Farm}
lumber: {species: southern-pine, coverage: 5 1/8", tongue: 3/8", lengths: [8', 12', 16']}
structures:
  - barn-row: {name: A, post: 5 1/2 in x 5 1/2 in, spacing: 12', depth: 12', rooms: [stall, stall]}
`

// crew is a person at a walk, with a notebook that forgets nothing.
type crew struct {
	t       *testing.T
	job     *job.Job
	kit     *kit.Kit
	walk    *Walk
	written []job.Entry
	said    []string // since the last type
}

func begin(t *testing.T, src string) *crew {
	t.Helper()
	j, err := job.Read("barn.yaml", []byte(src))
	if err != nil {
		t.Fatal(err)
	}
	file, text, _ := kit.Shipped(j.Kit)
	k, err := kit.Read(file, text)
	if err != nil {
		t.Fatal(err)
	}
	c := &crew{t: t, job: j, kit: k}
	c.resume()
	return c
}

// resume begins a new session on what was written.
func (c *crew) resume() {
	c.t.Helper()
	w, err := New(c.job, c.kit, c.written)
	if err != nil {
		c.t.Fatal(err)
	}
	c.walk = w
}

// types types lines, as at a terminal; what is said for the last stays in said.
func (c *crew) types(lines ...string) *crew {
	c.t.Helper()
	for _, l := range lines {
		r := c.walk.Say(l)
		c.said = r.Say
		if r.Entry == nil {
			continue
		}
		e := *r.Entry
		if e.Typed != l {
			c.t.Errorf("typed %q, kept %q", l, e.Typed)
		}
		e.ID, e.By = fmt.Sprintf("e%d", len(c.written)), "Sam"
		e.At = time.Date(2026, 5, 3, 14, 0, len(c.written), 0, time.UTC).Format(time.RFC3339)
		line, err := e.Line()
		if err != nil {
			c.t.Fatal(err)
		}
		if e, err = job.ReadEntry(line); err != nil {
			c.t.Fatal(err)
		}
		c.written = append(c.written, e)
		told, err := c.walk.Keep(e)
		if err != nil {
			c.t.Fatal(err)
		}
		c.said = append(c.said, told...)
	}
	return c
}

// asks asks for the question that stands.
func (c *crew) asks(id string) *crew {
	c.t.Helper()
	got := ""
	if q := c.walk.Question(); q != nil {
		got = q.ID
	}
	if got != id {
		c.t.Errorf("asked %q, want %q", got, id)
	}
	return c
}

// hears asks for words among what was said last.
func (c *crew) hears(parts ...string) *crew {
	c.t.Helper()
	all := strings.Join(c.said, " ")
	for _, p := range parts {
		if !strings.Contains(all, p) {
			c.t.Errorf("said %q, without %q", all, p)
		}
	}
	return c
}

// wrote asks how many entries were written so far.
func (c *crew) wrote(n int) *crew {
	c.t.Helper()
	if len(c.written) != n {
		c.t.Errorf("%d entries written, want %d", len(c.written), n)
	}
	return c
}

// Feet and inches change places in the hand: 11' 6 1/4" is written as 16' 1 1/4".
// It is held back, named, and not written; the right one is taken.
func TestTransposedDigitsAreHeldBack(t *testing.T) {
	c := begin(t, barn).types("go A1-A2", "yes").asks("width A1-A2 bottom").wrote(1)
	c.types("16 1 1/4").hears("STOP", "4' 7\" off", "Two digits changed places", `11' 6 1/4"`, "Not written down").wrote(1).asks("width A1-A2 bottom")
	// 138 1/8 less 3/16 is 137 15/16.
	c.types("11 6 1/8").hears(`BOARD 11' 5 15/16"`, "middle, top").wrote(2).asks("width A1-A2 middle")
	// Against the bottom, kept already, a foot is caught as well.
	c.types("10 6 1/8").hears("STOP", "at the bottom it is", "ne whole foot short").wrote(2)
}

func TestTypedTwiceIsKept(t *testing.T) {
	c := begin(t, barn).types("go A1-A2", "yes", "12 6 1/4").hears("STOP").wrote(1)
	c.types("12 6 1/2").hears("STOP").wrote(1) // another one, not the same again
	c.types("12' 6-1/2\"").hears("Twice the same").wrote(2).asks("width A1-A2 middle")
	if note := c.written[1].Note; !strings.Contains(note, "typed twice") {
		t.Errorf("note %q", note)
	}
}

// What cannot be an answer leaves nothing behind.
func TestRefusedAnswers(t *testing.T) {
	c := begin(t, barn).types("go A1-A2", "yes").wrote(1)
	for _, typed := range []string{"138", "138 1/2", "11 14", "-11 6", "0", "600 m", "about 11 6", "11,6", "yes", "", "   ", "3,5 m"} {
		c.types(typed).asks("width A1-A2 bottom").wrote(1)
		if strings.TrimSpace(typed) != "" && len(c.said) == 0 {
			t.Errorf("%q: nothing was said", typed)
		}
	}
	c.types("138").hears("unit is missing", "feet, inches")
	begin(t, barn).types("go A1-A2", "perhaps").hears("yes, or no").wrote(0)
	begin(t, barn).types("mark", "mark A1-A2 cut", "mark A1-A2 gone", "mark A1-Z cut", "mark A1-A2 tight", "mark A1-front lagged", "note", "go nowhere", "back").wrote(0)
}

func TestWaysToType(t *testing.T) {
	for _, typed := range []string{"11 6 1/4", "11-6-1/4", `11' 6 1/4"`, "11ft 6-1/4in", `138 1/4"`, "138.25 in", "  11  6 1/4 ", "3.51155 m"} {
		c := begin(t, barn).types("go A1-A2", "yes", typed).wrote(2)
		if len(c.written) == 2 && c.written[1].Width.Is != 138*measure.Inch+measure.Inch/4 {
			t.Errorf("%q was read as %s", typed, c.written[1].Width.Is)
		}
	}
	metric := strings.Replace(barn, "units: feet", "units: metric", 1)
	c := begin(t, metric).types("go A1-A2", "yes", "3512").wrote(2)
	if c.written[1].Width.Is != 3512*measure.Millimetre {
		t.Errorf("a bare number was read as %s", c.written[1].Width.Is)
	}
}

// A framed bay waits for its frame; no answer about it is taken before.
func TestFrameFirst(t *testing.T) {
	c := begin(t, barn).types("go A1-front-left").asks("ready A1-front")
	if q := c.walk.find("width A1-front-left bottom"); q.Status != Waiting {
		t.Errorf("it is %s", q.Status)
	}
	c.types("go A1-front-left bottom").hears("waits", "tight and squared").asks("ready A1-front")
	c.types("no").wrote(1).asks("ready A2-front")
	c.types("go ready A1-front", "yes").hears("Tight").asks("width A1-front-left bottom")
	if s := c.written[1].State; s.Frame != "A1-front" || s.Is != job.StepTight {
		t.Errorf("%+v", s)
	}
	// Loosened and tightened again, what was read before is read again.
	c.types("3 5 3/8", "3 5 3/8", "3 5 3/8").asks("release A1-front-left")
	c.types("mark A1-front standing", "mark A1-front tight")
	if q := c.walk.find("width A1-front-left bottom"); q.Status != Open {
		t.Errorf("read before the frame was tight again, it is %s", q.Status)
	}
}

func TestReleaseCutLoad(t *testing.T) {
	c := begin(t, barn).types("go A1-A2", "yes", "11 6 1/8", "11 6 3/16", "11 6 1/4").asks("release A1-A2")
	c.types("mark A1-A2 cut").hears("cannot be cut").wrote(4)
	c.types("yes").hears("RELEASED: A1-A2, 17 boards of 11' 5 15/16\"").wrote(5)
	s := c.written[4].State
	if s.Is != job.StepReleased || len(s.Pieces) != 17 || s.Pieces[0].Label != "A1-A2/c1" || s.Width.Middle != 138*measure.Inch+measure.Inch*3/16 {
		t.Errorf("%+v", s)
	}
	c.types("mark A1-A2 loaded").hears("loaded once it is cut").wrote(5)
	c.types("mark A1-A2 cut", "mark A1-A2 loaded").wrote(7)
	i, _ := c.walk.Plan().Layout.Bay("A1-A2")
	if b := c.walk.Plan().Fit.Bays[i]; b.State != fit.Loaded || !b.Frozen {
		t.Errorf("%s, frozen %v", b.State, b.Frozen)
	}
	// Measured again, an eighth narrower at the bottom: the boards stay, and what no
	// longer fits is said. Straight up to 138 3/16 in half way, 138 1/16 in lies
	// 14 13/16 in up, in the third course: three boards need 137 13/16 in.
	c.types("go A1-A2 bottom", "11 6").hears("stay as they are", `c1, c2, c3: 11' 5 15/16" is 1/8" too long`, `cut again to 11' 5 13/16"`)
	c.types("go A1-A2").asks("release A1-A2").types("yes").hears(`17 boards of 11' 5 13/16"`)
	if b := c.walk.Plan().Fit.Bays[i]; b.State != fit.Released {
		t.Errorf("released again, it is %s", b.State)
	}
}

// A bay that tapers is released with boards of lengths of their own heights.
func TestTaperIsReleasedByHeight(t *testing.T) {
	c := begin(t, barn).types("go A1-A2", "yes", "11 6 1/8", "11 6 5/8", "11 7").hears("BOARDS 11' 5 15/16\" to", "4 lengths in 17 courses", "WARNING")
	c.asks("release A1-A2").types("yes").hears("RELEASED: A1-A2, 5 boards of 11' 5 15/16\", 4 boards of")
}

// A bay so wide at the top that not even one course is held there cannot be released.
func TestTaperIsNotReleased(t *testing.T) {
	c := begin(t, barn).types("go A1-A2", "yes", "11 6 1/8", "11 6 1/8", "11 9", "11 9").hears("ERROR")
	if q := c.walk.find("release A1-A2"); q.Status != Waiting || !strings.Contains(q.Watch, "cannot be released") {
		t.Errorf("%s: %s", q.Status, q.Watch)
	}
	n := len(c.written)
	c.types("mark A1-A2 released").hears("cannot be released", "Not written down").wrote(n)
}

// The next session goes on where the last one stopped; what was skipped comes last.
func TestResume(t *testing.T) {
	c := begin(t, barn).asks("level A.a1 from A-1").types("4 2", "skip").asks("plumb A.a1 across").wrote(2)
	c.types("quit")
	c.resume()
	c.asks("plumb A.a1 across")
	if q := c.walk.find("plumb A.a1 along"); q.Status != Skipped {
		t.Errorf("it is %s", q.Status)
	}
	if q := c.walk.find("level A.a1 from A-1"); q.Status != Done || q.Read != 50*measure.Inch {
		t.Errorf("it is %s, %s", q.Status, q.Read)
	}
	// All others left open: the skipped one is asked again, then nothing.
	for n := 0; c.walk.Question() != nil && n < 500; n++ {
		c.types("skip")
	}
	if !slices.ContainsFunc(c.written[2:], func(e job.Entry) bool { return e.Asked == "plumb A.a1 along" }) {
		t.Error("what an earlier session skipped was not asked again")
	}
	if c.walk.Question() != nil {
		t.Errorf("still asked: %s", c.walk.Question().ID)
	}
	c.types("11 6").hears("no question left")
}

func TestBackAndNote(t *testing.T) {
	c := begin(t, barn).types("4 2", "1/8", "back").hears(`read as 1/8"`).asks("plumb A.a1 along")
	c.types("-1/8").asks("plumb A.a1 across").wrote(3)
	c.types("note post twisted, see photo").hears("Noted at A.a1").asks("plumb A.a1 across").wrote(4)
	if e := c.written[3]; e.Note != "post twisted, see photo" || e.Place != "A.a1" {
		t.Errorf("%+v", e)
	}
	c.types("0", "7'").asks("level A.a2 from A-1")
	rs := c.walk.Plan().Job.Readings
	if r := rs[len(rs)-1]; r.Plumb != "A.a1" || r.Along != -measure.Inch/8 || r.Across != 0 || r.Over != 7*measure.Foot {
		t.Errorf("%+v", r)
	}
	c.types("back", "skip").hears("As it was").wrote(6).asks("level A.a2 from A-1")
}

func TestLeanThatCannotBe(t *testing.T) {
	begin(t, barn).types("4 2", "4", "0", "7'").hears("STOP", "a lot for a post").wrote(3)
	begin(t, barn).types("4 2", "0", "0", "70 ft").hears("STOP", "odd height").wrote(3)
}

// True readings of the barn as drawn, then a diagonal that is 7/8 in off: within
// what a barn may be off its drawing, so only the other readings can tell.
func TestContradictionIsCaught(t *testing.T) {
	c := begin(t, barn)
	last := ""
	for i := range c.walk.questions {
		q := c.walk.questions[i]
		if !strings.HasPrefix(q.ID, "distance") && !strings.HasPrefix(q.ID, "diagonal") {
			continue
		}
		if strings.HasPrefix(q.ID, "diagonal A.b2 A.a3") || strings.HasPrefix(q.ID, "diagonal A.a3 A.b2") {
			last = q.ID
			continue
		}
		c.types("go "+q.ID, q.Expected.Round(measure.SixteenthInch, measure.Nearest).String())
	}
	if last == "" {
		t.Fatal("no such diagonal is asked for")
	}
	n := len(c.written)
	c.types("go " + last)
	good := c.walk.Question().Expected.Round(measure.SixteenthInch, measure.Nearest)
	c.types((good + measure.Inch*7/8).String()).hears("STOP", "other readings").wrote(n)
	c.types(good.String()).hears("Good").wrote(n + 1)
}

func TestOtherRodFromSecondSetUp(t *testing.T) {
	c := begin(t, barn).types("go level A.a1 from A-1", "4 2", "go level A.a2 from A-1", "4 3", "go level A.a3 from A-1", "4 2 1/2")
	c.types("go level A.a1 from A-2", "5 0", "go level A.a2 from A-2", "5 1").wrote(5)
	c.types("go level A.a3 from A-2", "5 1 1/2").hears("STOP", "other set-up").wrote(5)
	c.types("5 0 1/2").wrote(6)
}

func TestWhy(t *testing.T) {
	c := begin(t, barn).types("go A1-A2", "yes", "why").hears("narrowest of three heights", `drawn 11' 6 1/4"`, "drawn clear width of A1-A2")
	c.types("help").hears("mark NAME STATE").wrote(1)
}

// Every line a person may type gives an answer, and nothing written that cannot be
// read again.
func FuzzSay(f *testing.F) {
	for _, s := range []string{"11 6 1/4", "mark A1-A2 released", "go A1-A2", "note \x00", "-", "1e9 mm", "back"} {
		f.Add(s)
	}
	j, err := job.Read("barn.yaml", []byte(barn))
	if err != nil {
		f.Fatal(err)
	}
	file, text, _ := kit.Shipped(j.Kit)
	k, err := kit.Read(file, text)
	if err != nil {
		f.Fatal(err)
	}
	w, err := New(j, k, nil)
	if err != nil {
		f.Fatal(err)
	}
	f.Fuzz(func(t *testing.T, s string) {
		if r := w.Say(s); r.Entry != nil {
			e := *r.Entry
			e.ID, e.At = "a", "2026-05-03T14:10:00Z"
			line, err := e.Line()
			if err != nil {
				t.Fatal(err)
			}
			if _, err := job.ReadEntry(line); err != nil {
				t.Fatal(err)
			}
		}
	})
}
