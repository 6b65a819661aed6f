package draw

// crowd keeps what stands on a view's part of the sheet, so that texts can be
// placed between.
type crowd struct {
	area  PaperRect    // placed texts stay inside
	texts []obstacle   // text boxes, balloons, keep-out areas: nothing may touch them
	wide  []obstacle   // the same with the clearance of lines: no leader may touch them
	lines []obstacle   // dimension lines, leaders, kept outlines: no text may touch them
	soft  []softLine   // other lines: text had better not touch them
	named []PaperPoint // points still to be labelled: only their own text may cover them
}

type obstacle struct {
	shape []PaperPoint // convex area, or the two ends of a segment
	box   PaperRect
}

type softLine struct {
	obstacle
	cost int64
}

// Clearances. They are choices of looks: enough to tell neighbours apart.
const (
	textClear Micron = 800 // between two texts
	lineClear Micron = 500 // between a text and a line
)

func newObstacle(pts ...PaperPoint) obstacle { return obstacle{pts, bounds(pts)} }

// text declares an area that is taken, and the same with the clearance that
// leaders keep from it.
func (c *crowd) text(shape, wide []PaperPoint) {
	c.texts = append(c.texts, newObstacle(shape...))
	c.wide = append(c.wide, newObstacle(wide...))
}

// hard declares a line through points that no text may touch.
func (c *crowd) hard(pts ...PaperPoint) {
	for i := 1; i < len(pts); i++ {
		c.lines = append(c.lines, newObstacle(pts[i-1], pts[i]))
	}
}

// line declares a drawn line; kept ones are as hard as dimension lines.
func (c *crowd) line(w Weight, keep, closed bool, pts []PaperPoint) {
	if closed {
		pts = append(append([]PaperPoint(nil), pts...), pts[0])
	}
	if keep {
		c.hard(pts...)
		return
	}
	cost := int64(70)
	if w > Medium {
		cost = 120
	}
	for i := 1; i < len(pts); i++ {
		c.soft = append(c.soft, softLine{newObstacle(pts[i-1], pts[i]), cost})
	}
}

// near is the quick test whether anything within box can meet the obstacle.
func (o obstacle) near(box PaperRect) bool {
	return o.box.Max.X >= box.Min.X && o.box.Min.X <= box.Max.X && o.box.Max.Y >= box.Min.Y && o.box.Min.Y <= box.Max.Y
}

func (o obstacle) meets(box PaperRect, shape []PaperPoint) bool {
	return o.near(box) && !disjoint(o.shape, shape)
}

func anyMeets(list []obstacle, shape []PaperPoint) bool {
	box := bounds(shape)
	for _, o := range list {
		if o.meets(box, shape) {
			return true
		}
	}
	return false
}

// block is a turned rectangle, or the circle within a square.
type block struct {
	at    PaperPoint
	turn  Angle
	local PaperRect
	round bool
}

func (b block) quad(pad Micron) quad { return boxQuad(b.at, b.turn, b.local.inset(-pad)) }

// shape is the block widened by pad; a circle becomes the eight-sided figure
// round it.
func (b block) shape(pad Micron) []PaperPoint {
	if !b.round {
		q := b.quad(pad)
		return q[:]
	}
	far := b.local.width()/2 + pad
	near := far * 41422 / 100_000 // tan 22.5 degrees
	out := []PaperPoint{{far, -near}, {far, near}, {near, far}, {-near, far}, {-far, near}, {-far, -near}, {-near, -far}, {near, -far}}
	for i := range out {
		out[i] = out[i].add(b.at)
	}
	return out
}

// free says whether a block that names the point own may stand where it is.
func (c *crowd) free(b block, own PaperPoint) bool {
	q := b.quad(0)
	for _, p := range q {
		if !c.area.holds(p) {
			return false
		}
	}
	for _, p := range c.named {
		if p != own && q.holds(p) {
			return false
		}
	}
	return !anyMeets(c.texts, b.shape(textClear)) && !anyMeets(c.lines, b.shape(lineClear))
}

// clearRun says whether a leader may run through points: inside the area and
// past every text.
func (c *crowd) clearRun(pts []PaperPoint) bool {
	for i, p := range pts {
		if !c.area.holds(p) && i < len(pts)-1 { // the last point is the thing named
			return false
		}
		if i > 0 && anyMeets(c.wide, pts[i-1:i+1]) {
			return false
		}
	}
	return true
}

// cost is how much a block would hide or be hidden by soft lines.
func (c *crowd) cost(b block) int64 {
	shape := b.shape(lineClear)
	box, sum := bounds(shape), int64(0)
	for _, s := range c.soft {
		if s.meets(box, shape) {
			sum += s.cost
		}
	}
	return sum
}

// crossings is the cost of a leader crossing other lines: little for outlines,
// much for dimension lines and other leaders, most for points that other labels
// name, since the leader would seem to end there.
func (c *crowd) crossings(pts []PaperPoint) int64 {
	sum := int64(0)
	own := pts[len(pts)-1]
	for i := 1; i < len(pts); i++ {
		seg := pts[i-1 : i+1]
		box := bounds(seg)
		for _, s := range c.soft {
			if s.near(box) && touching(s.shape, seg) {
				sum += s.cost / 10
			}
		}
		for _, o := range c.lines {
			if o.near(box) && touching(o.shape, seg) {
				sum += 25
			}
		}
		for _, p := range c.named {
			near := PaperRect{p, p}.inset(-MM).corners()
			if p != own && newObstacle(near[:]...).meets(box, seg) {
				sum += 60
			}
		}
	}
	return sum
}
