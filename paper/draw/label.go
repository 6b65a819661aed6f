package draw

// Where is a place for a label beside, over or under the point it names.
type Where uint8

// The places. Centre puts the middle of the text on the point.
const (
	Centre Where = iota
	Over
	Under
	ToLeft
	ToRight
	OverLeft
	OverRight
	UnderLeft
	UnderRight
)

// everywhere is the order tried for a label without wishes: upper right first,
// as in the placing of names on maps (Imhof, Am. Cartographer 2 (1975), from
// memory).
var everywhere = []Where{OverRight, Over, ToRight, UnderRight, Under, OverLeft, ToLeft, UnderLeft}

// Lead says whether a label has a leader line to its point.
type Lead uint8

// The choices.
const (
	LeadIfNeeded Lead = iota // beside the point if there is room, else with a leader
	LeadAlways
	LeadNever // beside the point, else a balloon
)

// LeaderEnd is how a leader ends at the thing named.
type LeaderEnd uint8

// The ends: a dot within an area, an arrow head on an outline, none at a
// dimension line (ISO 128-2, from memory).
const (
	Dot LeaderEnd = iota
	Arrow
	Plain
)

// Label is text that Lay finds a place for. It is never put where it would
// touch another text, a dimension line or anything marked Keep. If no text of
// Texts finds room, a numbered balloon stands for the first and the text goes
// to the key in the margin.
type Label struct {
	Layer  string   // "" is LayerText
	At     Point    // what is named
	Texts  []string // best first, each may have several lines
	Height Micron   // 0 is 2.5 mm
	Face   Face
	Where  []Where // places to try in order, also the directions preferred for a leader; nil for all round
	Within []Point // a polygon that text without leader must stay inside, or nil
	Lead   Lead
	End    LeaderEnd
}

func (l *Label) points() []Point { return []Point{l.At} }
func (l *Label) layer() string   { return orElse(l.Layer, LayerText) }

func (l *Label) fault() string {
	switch {
	case l.Height != 0 && l.Height < MinText:
		return tooSmall
	case len(l.Texts) == 0 || clean(l.Texts[0]) == "":
		return "a label needs a text"
	case l.Within != nil && len(l.Within) < 3:
		return "the area of a label needs three points or more"
	}
	if f := farAway(l.Within); f != "" {
		return f
	}
	return farAway(l.points())
}

// wanted is a label ready for placing on paper.
type wanted struct {
	layer  string
	at     PaperPoint
	texts  []string
	height Micron
	face   Face
	where  []Where
	within []PaperPoint
	lead   Lead
	end    LeaderEnd
}

// lettering is a block of lines of text, measured.
type lettering struct {
	lines  []string
	height Micron
	face   Face
	width  Micron
	up     Micron // above the first baseline
	down   Micron // below the last baseline
	round  bool   // a balloon of this width
}

func letter(text string, face Face, h Micron) lettering {
	b := lettering{lines: lines(text), height: h, face: face}
	for _, l := range b.lines {
		e := face.measure(l, h)
		b.width, b.up, b.down = max(b.width, e.Width), max(b.up, e.Up), max(b.down, e.Down)
	}
	return b
}

func (b lettering) pitch() Micron { return max(b.height*spacing10/10, b.up+b.down) }

func (b lettering) tall() Micron { return b.up + b.down + Micron(len(b.lines)-1)*b.pitch() }

// block is the box of the lettering with its centre at c.
func (b lettering) block(c PaperPoint) block {
	w, h := b.width, b.tall()
	return block{at: c, round: b.round, local: PaperRect{PaperPoint{-w/2 - 1, -h / 2}, PaperPoint{w - w/2 + 1, h - h/2}}}
}

// texts are the lines of the lettering with its centre at c.
func (b lettering) texts(layer string, c PaperPoint) []Text {
	base := c.Y - b.tall()/2 + b.down + Micron(len(b.lines)-1)*b.pitch()
	var out []Text
	for i, l := range b.lines {
		out = append(out, Text{Layer: layer, At: PaperPoint{c.X, base - Micron(i)*b.pitch()}, Text: l,
			Height: b.height, Face: b.face, Anchor: Middle})
	}
	return out
}

// spot is a possible place: centre of the text and leader from text to thing.
type spot struct {
	centre PaperPoint
	leader []PaperPoint
	cost   int64
	clash  int64 // part of the cost due to lines that the text touches
}

// sign of x and y from the point to the centre of the text.
var whereSigns = [...][2]Micron{
	Centre: {0, 0}, Over: {0, 1}, Under: {0, -1}, ToLeft: {-1, 0}, ToRight: {1, 0},
	OverLeft: {-1, 1}, OverRight: {1, 1}, UnderLeft: {-1, -1}, UnderRight: {1, -1},
}

// besideGap is the distance of a text from the point it names.
const besideGap = 1500

// beside lists the places without leader, the wished-for first.
func (l *wanted) beside(w, h Micron) []spot {
	if l.lead == LeadAlways {
		return nil
	}
	where := l.where
	if where == nil {
		where = everywhere
		if l.within != nil {
			where = append([]Where{Centre}, everywhere...)
		}
	}
	var out []spot
	for rank, at := range where {
		sx, sy := whereSigns[at][0], whereSigns[at][1]
		c := l.at.add(PaperPoint{sx * (w/2 + besideGap), sy * (h/2 + besideGap)})
		cost := int64(rank) * 3
		out = append(out, spot{centre: c, cost: cost})
		for k := Micron(1); k <= 2; k++ { // shifted along the point
			var d PaperPoint
			switch {
			case sx == 0 && sy != 0:
				d.X = w * k / 5
			case sy == 0 && sx != 0:
				d.Y = h * k / 5
			default:
				continue
			}
			out = append(out, spot{centre: c.add(d), cost: cost + int64(k)}, spot{centre: c.sub(d), cost: cost + int64(k)})
		}
	}
	if l.within != nil {
		out = append(out, l.about(w, h)...)
	}
	return out
}

// about lists places on a grid over the area that the text must stay in.
func (l *wanted) about(w, h Micron) []spot {
	box := bounds(l.within)
	box = PaperRect{box.Min.add(PaperPoint{w / 2, h / 2}), box.Max.sub(PaperPoint{w / 2, h / 2})}
	const n = 12
	var out []spot
	for i := range Micron(n + 1) {
		for j := range Micron(n + 1) {
			if box.width() < 0 || box.height() < 0 {
				return nil
			}
			c := PaperPoint{box.Min.X + box.width()*i/n, box.Min.Y + box.height()*j/n}
			out = append(out, spot{centre: c, cost: 10 + int64(distance(c, l.at)/(2*MM))})
		}
	}
	return out
}

// Reaches of leaders and the shoulder before the text.
const (
	shoulder    = 2 * MM
	leadLeast   = 6 * MM
	leadMost    = 64 * MM
	directions  = 24
	leadPenalty = 24 // a leader is worth this many soft crossings less
)

// led lists the places with a leader, in rings round the point.
func (l *wanted) led(w, h Micron) []spot {
	if l.lead == LeadNever {
		return nil
	}
	var out []spot
	for r := Micron(leadLeast); r <= leadMost; r += r/4 + MM {
		for k := range Angle(directions) {
			a := (45*Degree + k*(360*Degree/directions)).turn() // up to the right first
			p := polar(l.at, r, a)
			s := spot{cost: leadPenalty + int64(r/MM) + int64(k%2) + l.off(a)}
			switch {
			case a > 75*Degree && a < 105*Degree:
				s.centre, s.leader = p.add(PaperPoint{0, h/2 + lineClear}), []PaperPoint{p, l.at}
				s.cost += 4
			case a > 255*Degree && a < 285*Degree:
				s.centre, s.leader = p.sub(PaperPoint{0, h/2 + lineClear}), []PaperPoint{p, l.at}
				s.cost += 4
			case p.X >= l.at.X:
				s.centre = p.add(PaperPoint{shoulder + lineClear + w/2, 0})
				s.leader = []PaperPoint{p.add(PaperPoint{shoulder, 0}), p, l.at}
			default:
				s.centre = p.sub(PaperPoint{shoulder + lineClear + w/2, 0})
				s.leader = []PaperPoint{p.sub(PaperPoint{shoulder, 0}), p, l.at}
			}
			out = append(out, s)
		}
	}
	return out
}

// off is the cost of leading in direction a: how far it is from the nearest of
// the places wished for, a point for each 6 degrees.
func (l *wanted) off(a Angle) int64 {
	least := int64(0)
	for i, w := range l.where {
		if w == Centre {
			return 0
		}
		sign := whereSigns[w]
		turn := (a - angleOf(PaperPoint{sign[0], sign[1]})).turn()
		if c := int64(min(turn, 360*Degree-turn) / (6 * Degree)); i == 0 || c < least {
			least = c
		}
	}
	return least
}
