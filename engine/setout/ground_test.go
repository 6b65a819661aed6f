package setout_test

import (
	"fmt"
	"math"
	"reflect"
	"strings"
	"testing"

	"stallwright/engine/finding"
	"stallwright/engine/frame"
	"stallwright/engine/measure"
	"stallwright/engine/reason"
	"stallwright/engine/setout"
)

// slope lays ground over a layout: h = rise·x + more·y, per unit length.
func slope(l *frame.Layout, rise, more float64) map[string]setout.Height {
	out := map[string]setout.Height{}
	for i := range l.Posts {
		p := &l.Posts[i]
		out[p.Name] = setout.Height{Above: measure.Length(math.Round(rise*float64(p.At.X) + more*float64(p.At.Y)))}
	}
	return out
}

// Concrete. A pier 12 in by 42 in takes π/4·144·42 = 4 750.1 in³ = 2.749 ft³,
// five bags of 0.60 ft³ (common practice for 80 lb: second-hand). A pier 12 in
// across and 2 ft 9 in long takes 2.16 ft³ (constructionwork.com, Columns and
// posts, works it as 3.14·.25·2.75 = 2.15 and 3.6 bags of 80 lb).
func TestCylinder(t *testing.T) {
	for _, c := range []struct {
		across, length measure.Length
		ft3            float64
		within         float64
	}{
		{12 * in, 42 * in, 2.749, 0.0005},
		{12 * in, 33 * in, 2.15, 0.01},
		{300 * mm, 900 * mm, 0.0636173 / 0.028316846592, 1e-5}, // 63.6 l
	} {
		got := float64(setout.Cylinder(c.across, c.length)) / float64(measure.CubicFoot)
		if math.Abs(got-c.ft3) > c.within {
			t.Errorf("%v by %v: %v ft³, want %v", c.across, c.length, got, c.ft3)
		}
		exact := math.Pi / 4 * c.across.Metres() * c.across.Metres() * c.length.Metres() * 1e12
		if d := float64(setout.Cylinder(c.across, c.length)) - exact; d < -1 || d > 2 {
			t.Errorf("%v by %v: %v nL over π/4·d²·l", c.across, c.length, d)
		}
	}
	if setout.Cylinder(0, ft) != 0 || setout.Cylinder(ft, -1) != 0 {
		t.Error("nothing takes concrete")
	}
}

// Sixteen piers on level ground: 16·5 bags. On falling ground each pier is as
// much longer as it stands out of the ground, and what the order lacks is told.
func TestBagsAndHeights(t *testing.T) {
	src := penJob(16, 12*ft, "base: pier-12\ngate: {front: open}")
	r, l := setOut(t, src, setout.Field{})
	b := r.Structures[0].Bases
	if b.Bags != 80 || len(b.List) != 16 || b.List[3].Ground != nil || b.Bench != "" || len(r.Findings) != 0 {
		t.Fatalf("unlevelled: %d bags, %+v", b.Bags, r.Findings)
	}
	if total := float64(b.Concrete.Value) / float64(measure.CubicFoot); math.Abs(total-16*2.748894) > 1e-4 {
		t.Errorf("concrete %v ft³, want 16·2.748894", total)
	}

	ground := slope(l, 0.02, 0)
	r, _ = setOut(t, src, setout.Field{Bench: "the spike", Ground: ground})
	b = r.Structures[0].Bases
	short := 0
	var highest measure.Length
	for _, h := range ground {
		highest = max(highest, h.Above)
	}
	for i := range b.List {
		k := &b.List[i]
		out := highest - ground[k.Name].Above
		if k.Top.Value != highest || k.Out.Value != out || k.Length.Value != 42*in+out || k.Depth.Value != 42*in {
			t.Errorf("%s: top %v, out %v, length %v", k.Name, k.Top.Value, k.Out.Value, k.Length.Value)
		}
		volume := math.Pi / 4 * (42 + out.Inches()) * 144 / 1728
		if want := int(math.Ceil(volume / 0.6)); k.Bags != want {
			t.Errorf("%s: %d bags for %v ft³, want %d", k.Name, k.Bags, volume, want)
		}
		short += k.Bags - 5
	}
	f := found(r, finding.BagsShort)
	if short == 0 || len(f) != 1 || !strings.HasPrefix(f[0].Message, fmt.Sprint(short)+" bags more") {
		t.Errorf("%d bags short: %+v", short, f)
	}
}

// Base and mats still to be laid raise the tops of piers, not of plates on a slab.
func TestTopsStandOnTheFinishedFloor(t *testing.T) {
	for _, c := range []struct {
		base string
		laid measure.Length
	}{{"pier-12", 5 * in}, {"pad-12", 5 * in}, {"slab-plate", 0}} {
		src := rowJob("free-row", "[stall]", "fronts: open\nbase: "+c.base)
		_, l := setOut(t, src, setout.Field{})
		r, _ := setOut(t, src, setout.Field{Ground: slope(l, 0.01, 0), Laid: map[string]setout.Layer{"B": {Thick: 5 * in}}})
		b := r.Structures[0].Bases
		near(t, c.base, b.Top.Value, 1.44*float64(in)+float64(c.laid), 1)
		if b.Laid != c.laid {
			t.Errorf("%s: %v laid", c.base, b.Laid)
		}
	}
}

// A plane that falls s along a rectangle L by W, closed form: level at the middle
// height, cut and fill are each a wedge of half the length, s·L²·W/8; at the
// highest post all is fill, s·L²·W/2. Steps: each room of width w fills s·w²·W/2,
// the step is s·w. The same turned a quarter round.
func TestPlaneSlope(t *testing.T) {
	const s = 1.0 / 64
	for _, turned := range []bool{false, true} {
		src := rowJob("free-row", "[stall, stall, stall, stall]", "fronts: open")
		_, l := setOut(t, src, setout.Field{})
		length, width := 48.0, 12.0
		ground := slope(l, s, 0)
		if turned {
			ground = slope(l, 0, s)
			length, width = 12, 48
		}
		r, _ := setOut(t, src, setout.Field{Ground: ground})
		site := r.Structures[0].Site
		near(t, "level", site.Levels[0].At.Value, s*length/2*float64(ft), 1)
		bulk := func(what string, got measure.Volume, want float64) {
			t.Helper()
			if g := float64(got) / float64(measure.CubicFoot); math.Abs(g-want) > 1e-6*want+1e-9 {
				t.Errorf("%s: %v ft³, want %v", what, g, want)
			}
		}
		bulk("cut", site.Levels[0].Cut.Value, s*length*length*width/8)
		bulk("fill", site.Levels[0].Fill.Value, s*length*length*width/8)
		bulk("cut at the highest", site.Levels[1].Cut.Value, 0)
		bulk("fill at the highest", site.Levels[1].Fill.Value, s*length*length*width/2)
		if site.Fall.Value != measure.Length(s*length*float64(ft)) {
			t.Errorf("fall %v", site.Fall.Value)
		}
		for _, k := range site.Levels[0].Stakes {
			near(t, "dig at "+k.Name, k.Dig.Value, float64(ground[k.Name].Above)-s*length/2*float64(ft), 1)
		}
		if turned {
			if site.Stepped.Most.Value != 0 {
				t.Errorf("rooms side by side across the fall step by %v", site.Stepped.Most.Value)
			}
			continue
		}
		bulk("fill in steps", site.Stepped.Fill.Value, 4*s*12*12*width/2)
		if site.Stepped.Most.Value != measure.Length(s*12*float64(ft)) || len(site.Stepped.Bays) != 4 {
			t.Errorf("steps %+v", site.Stepped)
		}
		if p := site.Levels[0].Prisms[0]; p.Shape != "rectangle" || p.Area != 144*measure.SquareFoot {
			t.Errorf("%+v", p)
		}
		if len(found(r, finding.GroundFalls)) != 1 {
			t.Errorf("%+v", r.Findings)
		}
	}
}

// Over an aisle between rows of unlike rooms the ground is taken in trapezoids,
// and all parts together make the plan's area: 36 by 38 ft, less nothing.
func TestAisleIsTrapezoids(t *testing.T) {
	src := rowJob("free-row", "[{width: 10'}, {width: 14'}, {width: 12'}]", "rows: facing\naisle: 14'\nsecond: [{width: 12'}, {width: 12'}, {width: 12'}]\nfronts: open")
	_, l := setOut(t, src, setout.Field{})
	r, _ := setOut(t, src, setout.Field{Ground: slope(l, 0.01, 0.03)})
	site := r.Structures[0].Site
	var area measure.Area
	trapezoids := 0
	for _, p := range site.Levels[0].Prisms {
		area += p.Area
		if p.Shape == "trapezoid" {
			trapezoids++
		}
	}
	if area != 36*38*measure.SquareFoot || trapezoids != 2 {
		t.Errorf("area %v, %d trapezoids, want 1 368 ft² and 2", area.In(measure.FeetInches), trapezoids)
	}
	// On a plane the mean height is that of the middle of the plan: x 18, y −7.
	near(t, "level", site.Levels[0].At.Value, (0.01*18-0.03*7)*float64(ft), in/32+1)
}

// A pen's middle, where it was levelled, takes the place of the piers' mean; a
// cone over a level ring of piers is a third of its height (n triangles on the
// pins' polygon of area n/2·R²·sin(2π/n)).
func TestPenMiddle(t *testing.T) {
	src := penJob(12, 12*ft, "gate: {front: open}")
	_, l := setOut(t, src, setout.Field{})
	ground := slope(l, 0, 0)
	ground["P"+setout.CentreSuffix] = setout.Height{Above: -9 * in}
	r, _ := setOut(t, src, setout.Field{Ground: ground})
	site := r.Structures[0].Site
	radius := 6 / math.Sin(math.Pi/12)
	area := 6 * radius * radius * math.Sin(math.Pi/6)
	got := float64(site.Levels[1].Fill.Value) / float64(measure.CubicFoot)
	if !site.Read || math.Abs(got-area*0.75/3) > 1e-5 {
		t.Errorf("fill %v ft³, want %v", got, area*0.75/3)
	}
	near(t, "level", site.Levels[0].At.Value, -3*float64(in), 1)
}

// The ground read at some posts only is told, and no heights are made up.
func TestGroundAtSomePosts(t *testing.T) {
	src := rowJob("free-row", "[stall, stall]", "fronts: open\nbase: pier-12")
	_, l := setOut(t, src, setout.Field{})
	ground := slope(l, 0.01, 0)
	delete(ground, "B.a2")
	r, _ := setOut(t, src, setout.Field{Ground: ground})
	s := &r.Structures[0]
	if f := found(r, finding.GroundMissing); len(f) != 1 || !strings.Contains(f[0].Message, "B.a2") || s.Site != nil || s.Bases.List[0].Top != nil {
		t.Errorf("%+v", r.Findings)
	}
}

// every calls f for each reason hanging on a value, with its path.
func every(v reflect.Value, path string, f func(path string, value int64, why *reason.Reason)) {
	switch v.Kind() {
	case reflect.Pointer:
		if !v.IsNil() && v.Type() != reflect.TypeFor[*reason.Reason]() && v.Type().String() != "*kit.Base" {
			every(v.Elem(), path, f)
		}
	case reflect.Slice, reflect.Array:
		for i := range v.Len() {
			every(v.Index(i), fmt.Sprintf("%s[%d]", path, i), f)
		}
	case reflect.Struct:
		if why := v.FieldByName("Why"); why.IsValid() && v.FieldByName("Value").IsValid() {
			f(path, v.FieldByName("Value").Int(), why.Interface().(*reason.Reason))
			return
		}
		for i := range v.NumField() {
			if v.Type().Field(i).IsExported() {
				every(v.Field(i), path+"."+v.Type().Field(i).Name, f)
			}
		}
	}
}

// Every number of every example, the ground levelled too, has a reason that says
// what it is; and the same job gives the same numbers twice.
func TestEveryNumberHasItsReason(t *testing.T) {
	for name, src := range exampleText(t) {
		_, l := setOut(t, src, setout.Field{})
		field := setout.Field{Bench: "the spike", Ground: slope(l, 0.01, -0.02)}
		r, _ := setOut(t, src, field)
		n := 0
		every(reflect.ValueOf(r).Elem(), name, func(path string, value int64, why *reason.Reason) {
			n++
			if value != 0 && (why == nil || why.What.Empty() || why.Value == nil) {
				t.Errorf("%s = %d has no reason: %v", path, value, why)
			}
		})
		if n < 10 {
			t.Errorf("%s: only %d numbers", name, n)
		}
		again, _ := setOut(t, src, field)
		if !reflect.DeepEqual(r, again) {
			t.Errorf("%s: set out twice, it differs", name)
		}
	}
}

// Asked why, a post tells its own numbers.
func TestWhyOfAPost(t *testing.T) {
	r, l := setOut(t, penJob(16, 12*ft, "base: pier-12\ngate: {front: open}"), setout.Field{})
	i, _ := l.Post("P.p4")
	text := ""
	for _, why := range r.Why(i) {
		text += why.Trace()
	}
	for _, want := range []string{"why.radius", "why.from-to from=P.p4 to=P.p5", "why.from-to from=P.p4 to=P.p6", "why.angle post=P.p4", "name=80 lb bag of concrete) post=P.p4", "amount.sections count=16 length=" + (12 * ft).String()} {
		if !strings.Contains(text, want) {
			t.Errorf("no %q in\n%s", want, text)
		}
	}
}
