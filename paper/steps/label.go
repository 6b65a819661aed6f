package steps

import (
	"math"
	"slices"

	"stallwright/paper/draw"
	"stallwright/paper/solid"
)

// name is what a label says, and the actors that it names.
type name struct {
	code   string // by which the pieces are labelled
	text   string // how many, how long
	actors []int  // first and last of a row, into the cast
	at     []draw.PaperPoint
	small  bool       // on one line, where many have to find room
	fixed  *solid.Vec // the place named, where it is no part
}

// Least is the height of capitals of the smallest text in a picture: read at arm's
// length, by a crew that wears gloves and may have left its glasses in the truck.
const Least draw.Micron = 3000

// Sizes of labels.
const (
	codeHigh   = 3500
	textHigh   = Least
	labelGap   = 2500
	labelPitch = 4900
	columnMost = 40 * draw.MM
)

// columns puts labels to the left or the right of the picture, each on the side
// where its part shows, about as many on both.
func columns(list []name, box rectangle, p *picture) (left, right []name) {
	type placed struct {
		n name
		x float64
	}
	var all []placed
	for _, n := range list {
		x, ok := 0.0, false
		if n.fixed != nil {
			x, ok = p.cam.On(*n.fixed).X, true
		}
		for _, i := range n.actors {
			if at, seen := p.middle(i); seen {
				x, ok = at, true
				break
			}
		}
		if !ok {
			continue // nothing of it shows
		}
		all = append(all, placed{n, x})
	}
	slices.SortStableFunc(all, func(a, b placed) int {
		switch {
		case a.x < b.x:
			return -1
		case a.x > b.x:
			return 1
		}
		return 0
	})
	half := (len(all) + 1) / 2
	for i, v := range all {
		if i < half {
			left = append(left, v.n)
		} else {
			right = append(right, v.n)
		}
	}
	return left, right
}

// middle is where the middle of what shows of an actor lies.
func (p *picture) middle(actor int) (float64, bool) {
	lo, hi := math.Inf(1), math.Inf(-1)
	for i := range p.lines {
		if l := &p.lines[i]; l.Body == actor {
			if x0, _, x1, _, ok := p.box.clip(l.X0, l.Y0, l.X1, l.Y1); ok {
				lo, hi = math.Min(lo, math.Min(x0, x1)), math.Max(hi, math.Max(x0, x1))
			}
		}
	}
	return (lo + hi) / 2, lo <= hi
}

// columnWidth is the room a column of labels takes.
func columnWidth(list []name) draw.Micron {
	w := draw.Micron(0)
	for _, n := range list {
		w = max(w, n.wide())
	}
	if w == 0 {
		return 0
	}
	return min(w, columnMost) + labelGap + 5*draw.MM
}

// wide is how wide a label is.
func (n *name) wide() draw.Micron {
	if n.small {
		return width(n.code, textHigh, draw.Bold) + smallGap + width(n.text, textHigh, draw.Regular)
	}
	return max(width(n.code, codeHigh, codeFace(n.code)), width(n.text, textHigh, draw.Regular))
}

// smallGap is between code and text on one line.
const smallGap = 1200

// codeFace is the face a code is written in: condensed where it is long.
func codeFace(code string) draw.Face {
	if width(code, codeHigh, draw.Bold) > columnMost {
		return draw.Condensed
	}
	return draw.Bold
}

// width is how wide a text is.
func width(text string, high draw.Micron, face draw.Face) draw.Micron {
	if text == "" {
		return 0
	}
	s := draw.Sheet{Marks: []draw.Mark{draw.Text{Text: text, Height: high, Face: face}}}
	b := s.Texts()[0]
	return b.Corners[1].X - b.Corners[0].X
}

// label writes a column of labels and leads them to their parts.
func (p *picture) label(list []name, x draw.Micron, left bool, floor, top draw.Micron) {
	if len(list) == 0 {
		return
	}
	for k := range list {
		p.anchors(&list[k], left)
	}
	slices.SortStableFunc(list, func(a, b name) int { return int(b.high() - a.high()) })
	// From the top down as high as each wants, then up from the floor where the
	// last ones fell too low.
	gap := gapOf(list)
	ys := make([]draw.Micron, len(list)) // tops
	at := top
	for k := range list {
		h := list[k].tall()
		ys[k] = min(at, list[k].high()+h/2)
		at = ys[k] - h - gap
	}
	low := floor
	for k := len(list) - 1; k >= 0; k-- {
		h := list[k].tall()
		if ys[k]-h < low {
			ys[k] = low + h
		}
		low = ys[k] + gap
	}
	anchor := draw.Start
	if !left {
		anchor = draw.End
	}
	for k := range list {
		n := &list[k]
		w, mid := n.wide(), draw.Micron(0)
		if n.small {
			base := ys[k] - textHigh - 300
			mid = base + textHigh/2
			at := x
			if !left {
				at = x - w
			}
			p.put(draw.Text{Layer: layerLabel, At: draw.PaperPoint{X: at, Y: base}, Text: n.code, Height: textHigh, Face: draw.Bold})
			if n.text != "" {
				p.put(draw.Text{Layer: layerLabel, At: draw.PaperPoint{X: at + w, Y: base}, Text: n.text, Height: textHigh, Anchor: draw.End})
			}
		} else {
			base := ys[k] - codeHigh
			mid = base + codeHigh/2
			p.put(draw.Text{Layer: layerLabel, At: draw.PaperPoint{X: x, Y: base}, Text: n.code, Height: codeHigh, Face: codeFace(n.code), Anchor: anchor})
			if n.text != "" {
				p.put(draw.Text{Layer: layerLabel, At: draw.PaperPoint{X: x, Y: base - labelPitch}, Text: n.text, Height: textHigh, Anchor: anchor})
			}
		}
		from := draw.PaperPoint{X: x + w + 1200, Y: mid}
		knee := draw.PaperPoint{X: from.X + 2500, Y: from.Y}
		if !left {
			from.X = x - w - 1200
			knee.X = from.X - 2500
		}
		for _, to := range n.at {
			p.put(draw.Stroke{Layer: layerLabel, Pen: penThin, Runs: [][]draw.PaperPoint{{from, knee, to}}},
				draw.Curve{Layer: layerLabel, Fill: draw.Tint(0), Centre: to, Radius: 500, Sweep: 360 * draw.Degree})
		}
	}
}

// tall is how much of its column a label takes.
func (n *name) tall() draw.Micron {
	if n.small {
		return textHigh + 900
	}
	if n.text == "" {
		return codeHigh + 1600
	}
	return codeHigh + labelPitch
}

// high is how high a label wants to stand.
func (n *name) high() draw.Micron {
	if len(n.at) == 0 {
		return 0
	}
	sum := draw.Micron(0)
	for _, q := range n.at {
		sum += q.Y
	}
	return sum / draw.Micron(len(n.at))
}

// anchors finds where the leaders of a label end: on what shows of its first and
// last part, toward the label.
func (p *picture) anchors(n *name, left bool) {
	n.at = nil
	if n.fixed != nil {
		n.at = append(n.at, p.flat(*n.fixed))
		return
	}
	ends := []int{n.actors[0]}
	if len(n.actors) > 1 {
		ends = append(ends, n.actors[len(n.actors)-1])
	}
	for _, i := range ends {
		if q, ok := p.spot(i, left); ok {
			n.at = append(n.at, q)
		}
	}
}

// spot is a place on a visible line of an actor, near its end toward a side.
func (p *picture) spot(actor int, left bool) (draw.PaperPoint, bool) {
	best, found := 0.0, false
	var at draw.PaperPoint
	for i := range p.lines {
		l := &p.lines[i]
		if l.Body != actor {
			continue
		}
		x0, y0, x1, y1, ok := p.box.clip(l.X0, l.Y0, l.X1, l.Y1)
		if !ok {
			continue
		}
		long := hypot(x1-x0, y1-y0)
		if (x0 < x1) != left {
			x0, y0, x1, y1 = x1, y1, x0, y0
		}
		// A tenth in from the end toward the label.
		t := math.Min(0.5, 0.02+0.04/math.Max(long, 0.04))
		x, y := x0+float64((x1-x0)*t), y0+float64((y1-y0)*t)
		worth := long
		if left {
			worth -= float64(0.5 * (x - p.box.x0))
		} else {
			worth -= float64(0.5 * (p.box.x1 - x))
		}
		if !found || worth > best {
			best, found, at = worth, true, p.paper(x, y)
		}
	}
	return at, found
}
