package draw

import (
	"stallwright/engine/measure"
)

// The samples are drawings of our own invention that together use every
// element. Their golden SVGs are to be looked at, not only compared.

const (
	inch = measure.Inch
	foot = measure.Foot
	mil  = measure.Millimetre
)

func pt(x, y measure.Length) Point { return Point{x, y} }

var (
	cutPen  = Pen{Weight: Heavy}
	seenPen = Pen{Weight: Light}
	hidden  = Pen{Weight: Light, Type: Dashed}
	axisPen = Pen{Weight: Thin, Type: Chain, Yields: true}
)

// stallRow is a plan of n box stalls of 12 ft between posts of 3 in.
func stallRow(n int) *Drawing {
	d := NewDrawing(LayerGround, LayerHatch, LayerBeyond, LayerOutline, LayerCut, LayerAxis)
	const deep, wide, post = 12 * foot, 12 * foot, 3 * inch
	length := measure.Length(n)*(wide+post) + post
	d.Add(Rectangle(LayerGround, Pen{}, Tint(93), pt(0, 0), pt(length, deep)))
	var chain []Point
	for i := range measure.Length(measure.Length(n) + 1) {
		x := i * (wide + post)
		chain = append(chain, pt(x, 0), pt(x+post, 0))
		for _, y := range []measure.Length{0, deep - post} {
			d.Add(Rectangle(LayerCut, cutPen, Tint(0), pt(x, y), pt(x+post, y+post)))
		}
		d.Add(Rectangle(LayerCut, Pen{Weight: Medium}, Hatch(45*Degree, 1200), pt(x+inch/2, post), pt(x+post-inch/2, deep-post)))
		d.Add(NewLine(LayerAxis, axisPen, pt(x+post/2, -foot), pt(x+post/2, deep+foot)))
	}
	var doors, stalls []Point
	for i := range measure.Length(n) {
		x := i*(wide+post) + post
		door := x + 4*foot
		d.Add(
			Rectangle(LayerCut, Pen{Weight: Medium}, Hatch(45*Degree, 1200), pt(x, deep-post+inch/2), pt(x+wide, deep-inch/2)),
			Rectangle(LayerCut, Pen{Weight: Medium}, Hatch(45*Degree, 1200), pt(x, inch/2), pt(door, post-inch/2)),
			Rectangle(LayerCut, Pen{Weight: Medium}, Hatch(45*Degree, 1200), pt(door+4*foot, inch/2), pt(x+wide, post-inch/2)),
			Rectangle(LayerBeyond, hidden, Fill{}, pt(door-2*inch, -3*inch), pt(door+4*foot+2*inch, -inch)),
			&Dim{Points: []Point{pt(x, 6*foot), pt(x+wide, 6*foot)}, Side: Above, Arrows: true},
			&Label{At: pt(x+wide/2, deep/2+2*foot), Texts: []string{"Stall " + itoa(int(i)+1) + "\n12' × 12'", "Stall " + itoa(int(i)+1)}, Height: Text35, Face: Bold,
				Where: []Where{Centre}, Within: []Point{pt(x, post), pt(x+wide, post), pt(x+wide, deep-post), pt(x, deep-post)}, Lead: LeadNever},
			&Label{At: pt(door+2*foot, -2*inch), Texts: []string{"sliding door D" + itoa(int(i)+1), "D" + itoa(int(i)+1)}, End: Arrow},
			&Arc{Layer: LayerBeyond, Pen: seenPen, Centre: pt(x+6*inch, deep-9*inch), Radius: 9 * inch, Start: 270 * Degree, Sweep: 90 * Degree},
			&Label{At: pt(x+9*inch, deep-12*inch), Texts: []string{"feeder"}},
		)
		doors = append(doors, pt(door, 0), pt(door+4*foot, 0))
		stalls = append(stalls, pt(x-post/2, deep))
	}
	stalls = append(stalls, pt(length-post/2, deep))
	d.Add(
		&Dim{Points: chain, Side: Below, Tier: 2},
		&Dim{Points: append(append([]Point{pt(0, 0)}, doors...), pt(length, 0)), Side: Below, Tier: 1},
		&Dim{Points: []Point{pt(0, 0), pt(length, 0)}, Side: Below, Tier: 3},
		&Dim{Points: stalls, Side: Above, Tier: 1},
		&Dim{Points: []Point{pt(0, 0), pt(0, post), pt(0, deep-post), pt(0, deep)}, Side: Left, Tier: 1},
		&Dim{Points: []Point{pt(0, 0), pt(0, deep)}, Side: Left, Tier: 2},
	)
	return d
}

// wall is the elevation of one partition: boards in courses under a grille.
func wall() *Drawing {
	d := NewDrawing(LayerGround, LayerBeyond, LayerHidden, LayerOutline, LayerCut, LayerAxis)
	const width, post, course, courses = 3500 * mil, 80 * mil, 127 * mil, 10
	const top = 2200 * mil
	d.Add(
		NewLine(LayerGround, Pen{Weight: Extra}, pt(-post-300*mil, 0), pt(width+post+300*mil, 0)),
		Rectangle(LayerGround, Pen{}, Hatch(45*Degree, 1500), pt(-post-300*mil, -120*mil), pt(width+post+300*mil, 0)),
		Rectangle(LayerCut, cutPen, White(), pt(-post, 0), pt(0, top)),
		Rectangle(LayerCut, cutPen, White(), pt(width, 0), pt(width+post, top)),
		Rectangle(LayerOutline, Pen{Weight: Medium}, White(), pt(0, top-50*mil), pt(width, top)),
	)
	left := []Point{pt(-post, 0), pt(-post, 40*mil)}
	for i := range measure.Length(courses) {
		y := 40*mil + i*course
		d.Add(Rectangle(LayerOutline, seenPen, Fill{}, pt(0, y), pt(width, y+course)))
		d.Add(&Label{At: pt(width/2, y+course/2), Texts: []string{"B" + itoa(int(i)+1) + ", 3476 × 127", "B" + itoa(int(i)+1)}, Where: []Where{Centre},
			Within: []Point{pt(0, y), pt(width, y), pt(width, y+course), pt(0, y+course)}, Lead: LeadNever})
		left = append(left, pt(-post, y+course))
	}
	rail := 40*mil + courses*course
	d.Add(Rectangle(LayerOutline, Pen{Weight: Medium}, White(), pt(0, rail), pt(width, rail+40*mil)))
	for x := measure.Length(75 * mil); x < width; x += 90 * mil {
		d.Add(Rectangle(LayerBeyond, seenPen, Fill{}, pt(x, rail+40*mil), pt(x+20*mil, top-50*mil)))
	}
	d.Add(
		&Label{At: pt(600*mil, rail+300*mil), Texts: []string{"grille, bars 20\u00a0mm at 90\u00a0mm, clear gap 70\u00a0mm"}},
		&Label{At: pt(2600*mil, top-25*mil), Texts: []string{"top tube 50 × 50 × 3"}, End: Arrow},
		&Label{At: pt(1800*mil, top-25*mil), Texts: []string{"stack clamp, one turn of the screw = 2 mm", "stack clamp"}, End: Arrow},
		&Label{At: pt(width+post/2, 1500*mil), Texts: []string{"post P7, galvanised", "P7"}, End: Arrow, Where: []Where{ToRight}},
		NewLine(LayerAxis, axisPen, pt(width/2, -250*mil), pt(width/2, top+200*mil)),
		&Dim{Points: left, Side: Left, Tier: 1},
		&Dim{Points: []Point{pt(-post, 0), pt(-post, rail), pt(-post, rail+40*mil), pt(-post, top-50*mil), pt(-post, top)}, Side: Left, Tier: 2},
		&Dim{Points: []Point{pt(width+post, 0), pt(width+post, top)}, Side: Right, Tier: 1},
		&Dim{Points: []Point{pt(-post, 0), pt(0, 0), pt(width, 0), pt(width+post, 0)}, Side: Below, Tier: 1, Texts: []string{"", "3500 clear width"}},
		&Dim{Points: []Point{pt(0, 40*mil), pt(width, rail)}, Side: Along, Offset: 0, Texts: []string{"diagonal 3706"}},
	)
	return d
}

// outward is the place on the outer side of section k of n.
func outward(k, n int) []Where {
	return []Where{[...]Where{ToRight, OverRight, Over, OverLeft, ToLeft, UnderLeft, Under, UnderRight}[((2*k+1)*8/n+1)/2%8]}
}

// pen is a round pen of n rigid sections, every panel numbered.
func pen(n int) *Drawing {
	d := NewDrawing(LayerGround, LayerAxis, LayerOutline, LayerCut)
	const r = 30 * foot
	d.Add(Circle(LayerGround, axisPen, Tint(95), pt(0, 0), r))
	at := func(k int, rad measure.Length) Point {
		a := Arc{Radius: rad}
		return a.on(Angle(k) * 360 * Degree / Angle(n))
	}
	for k := range n {
		a, b := at(k, r), at(k+1, r)
		p := Pen{Weight: Heavy}
		if k == 0 {
			p = Pen{Weight: Medium, Type: Dashed}
		}
		name := "panel " + itoa(k+1)
		if k == 0 {
			name = "gate, hung left, opens inward"
		}
		d.Add(
			&Line{Layer: LayerOutline, Pen: p, Points: []Point{a, b}, Keep: true},
			Circle(LayerCut, Pen{Weight: Medium}, Tint(0), a, 4*inch),
			&Label{At: pt((a.X+b.X)/2, (a.Y+b.Y)/2), Texts: []string{name}, Lead: LeadAlways, End: Arrow, Where: outward(k, n)},
		)
	}
	d.Add(
		&Dim{Points: []Point{at(1, r), at(2, r)}, Side: Along, Offset: -6 * MM},
		&Dim{Points: []Point{pt(0, 0), at(3, r)}, Side: Along, Offset: 0, Texts: []string{`R 30' 0"`}, Arrows: true},
		&Dim{Points: []Point{pt(-r, 0), pt(r, 0)}, Side: Below, Tier: 1},
	)
	return d
}

// detail is a section through a post with two channels.
func detail() *Drawing {
	d := NewDrawing(LayerHatch, LayerOutline, LayerCut, LayerAxis)
	d.Add(
		&Polygon{Layer: LayerCut, Pen: cutPen, Fill: Tint(80), Points: []Point{pt(0, 0), pt(80*mil, 0), pt(80*mil, 80*mil), pt(0, 80*mil)}},
		Rectangle(LayerCut, cutPen, White(), pt(3*mil, 3*mil), pt(77*mil, 77*mil)),
		&Polygon{Layer: LayerCut, Pen: cutPen, Fill: Tint(60), Points: []Point{
			pt(80*mil, 16*mil), pt(120*mil, 16*mil), pt(120*mil, 19*mil), pt(83*mil, 19*mil),
			pt(83*mil, 61*mil), pt(120*mil, 61*mil), pt(120*mil, 64*mil), pt(80*mil, 64*mil)}},
		Rectangle(LayerHatch, Pen{Weight: Medium}, Hatch(30*Degree, 1500), pt(90*mil, 21*mil), pt(180*mil, 59*mil)),
		NewLine(LayerAxis, axisPen, pt(-15*mil, 40*mil), pt(195*mil, 40*mil)),
		&Label{At: pt(150*mil, 50*mil), Texts: []string{"board 38 mm, tongue up"}},
		&Label{At: pt(86*mil, 50*mil), Texts: []string{"end play 7 mm"}},
		&Label{At: pt(110*mil, 62*mil), Texts: []string{"channel 3 mm"}, End: Arrow},
		&Label{At: pt(40*mil, 1500*measure.Micrometre), Texts: []string{"post 80 × 80 × 3", "post"}, End: Arrow},
		&Dim{Points: []Point{pt(0, 80*mil), pt(80*mil, 80*mil), pt(83*mil, 64*mil), pt(120*mil, 64*mil)}, Side: Above, Tier: 1},
		&Dim{Points: []Point{pt(90*mil, 21*mil), pt(120*mil, 16*mil)}, Side: Below, Tier: 1, Texts: []string{"30 engagement"}},
		&Dim{Points: []Point{pt(180*mil, 21*mil), pt(180*mil, 59*mil)}, Side: Right, Tier: 1},
	)
	return d
}

// bare is a drawing without its dimensions and bound labels, as a picture for a
// step.
func bare(full *Drawing) *Drawing {
	d := NewDrawing(full.layers...)
	for _, it := range full.items {
		if _, dim := it.(*Dim); dim {
			continue
		}
		if l, ok := it.(*Label); ok && l.Within != nil {
			continue
		}
		d.Add(it)
	}
	return d
}

// crowded is a bundle of parts too close for words, so that most need a balloon.
func crowded() *Drawing {
	d := NewDrawing(LayerOutline)
	for i := range measure.Length(24) {
		c := pt(i%6*60*mil, i/6*60*mil)
		d.Add(Circle(LayerOutline, Pen{Weight: Medium}, Tint(90), c, 22*mil),
			&Label{At: c, Texts: []string{"hex bolt M12 × " + itoa(60+5*int(i)) + ", hot-dip galvanised, with nut and two washers"}})
	}
	return d
}

func landscapeLetter() Page {
	return Page{Size: Letter, Landscape: true, System: measure.FeetInches, Block: TitleBlock{
		Job: "Willow Bend barn, north wing", Title: "Plan of stalls", Date: "2026-03-14", Revision: "B",
		State: "drawn, not measured", Number: 2, Of: 7}}
}

func landscapeA4() Page {
	return Page{Size: A4, Landscape: true, System: measure.Metric, Block: TitleBlock{
		Job: "Hof Birkengrund", Title: "Wall W3, stall side", Date: "14.03.2026", Revision: "1",
		State: "measured", Number: 3, Of: 5}}
}

// longRow is a row too long for one sheet at a legible scale; it returns sheet i.
func longRow(i int) (*Sheet, error) {
	p := landscapeLetter()
	p.Block.Number, p.Block.Of = 1, 1
	var stations []measure.Length
	for k := range measure.Length(8) {
		stations = append(stations, (k+1)*(12*foot+3*inch)+3*inch/2)
	}
	all, err := LaySplit(p, View{Drawing: stallRow(8), Caption: "Plan at 4' above floor", Coarsest: Scale{96, ""}}, stations)
	if err != nil {
		return nil, err
	}
	return all[i], nil
}

// samples are the sheets kept as golden files.
func samples() map[string]func() (*Sheet, error) {
	north := 70 * Degree
	return map[string]func() (*Sheet, error){
		"plan": func() (*Sheet, error) {
			p := landscapeLetter()
			p.Notes = []string{"Clear widths run from web to web of the channels.", "Check diagonals before the frame is tightened.", "Floor means the finished floor, mats included."}
			return Lay(p, View{Drawing: stallRow(3), Caption: "Plan at 4' above floor", North: &north, Room: 14 * MM})
		},
		"wall": func() (*Sheet, error) {
			return Lay(landscapeA4(), View{Drawing: wall(), Caption: "Elevation W3", Room: 12 * MM})
		},
		"pen": func() (*Sheet, error) {
			p := landscapeLetter()
			p.Landscape = false
			p.Block.Title = "Round pen 60'"
			return Lay(p, View{Drawing: pen(24), Caption: "Round pen, 24 sections", North: &north})
		},
		"key": func() (*Sheet, error) {
			p := landscapeA4()
			p.Block.Title = "Hardware board"
			return Lay(p, View{Drawing: crowded(), Caption: "Hardware, in order of use"})
		},
		"long-1": func() (*Sheet, error) { return longRow(0) },
		"long-2": func() (*Sheet, error) { return longRow(1) },
		"details": func() (*Sheet, error) {
			p := landscapeA4()
			p.Landscape = false
			p.Block.Title = "Details"
			p.Notes = []string{"All steel hot-dip galvanised after welding; touch up cuts with zinc-rich paint before boards go in, and again wherever the coating was scratched while lagging."}
			return Lay(p, View{Drawing: detail(), Caption: "Board in channel"}, View{Drawing: detail(), Caption: "Board in channel, far end", Scale: Scale{5, "1:5"}},
				View{Drawing: bare(wall()), Caption: "Step 4: lower the boards", NotToScale: true}, View{Drawing: bare(stallRow(2)), Caption: "Where"})
		},
	}
}
