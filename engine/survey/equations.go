package survey

import "math"

// equation is a plane reading with its posts resolved, in metres.
type equation struct {
	kind  Kind
	post  [3]int // indexes of points, in the kind's order
	value float64
	sigma float64
}

// evaluate gives the reading's value at the coordinates xy (x, y of point p at
// 2p, 2p+1) and its derivatives by the coordinates of its posts, x and y of
// each in turn.
func (e equation) evaluate(xy []float64) (value float64, grad [6]float64) {
	at := func(k int) (float64, float64) { return xy[2*e.post[k]], xy[2*e.post[k]+1] }
	switch e.kind {
	case Offset, Straight:
		return offsetFromLine(at)
	case RightAngle:
		return offSquare(at)
	}
	x0, y0 := at(0)
	x1, y1 := at(1)
	ux, uy, l := unit(x1-x0, y1-y0)
	return l, [6]float64{-ux, -uy, ux, uy}
}

// unit is the direction and length of a vector; the x direction for none.
func unit(dx, dy float64) (ux, uy, length float64) {
	length = math.Sqrt(float64(dx*dx) + float64(dy*dy))
	if length < 1e-12 {
		return 1, 0, length
	}
	return dx / length, dy / length, length
}

// offsetFromLine is how far post 0 stands left of the line from 1 to 2.
func offsetFromLine(at func(int) (float64, float64)) (float64, [6]float64) {
	px, py := at(0)
	ax, ay := at(1)
	bx, by := at(2)
	ux, uy, l := unit(bx-ax, by-ay)
	nx, ny := -uy, ux
	d := float64(nx*(px-ax)) + float64(ny*(py-ay))
	t := 0.0 // how far along the line, as part of its length
	if l > 0 {
		t = (float64(ux*(px-ax)) + float64(uy*(py-ay))) / l
	}
	s := 1 - t
	return d, [6]float64{nx, ny, float64(-nx * s), float64(-ny * s), float64(-nx * t), float64(-ny * t)}
}

// offSquare is how far the end of the second arm (post 2) is ahead of the
// square raised on the first arm (0 to 1) at the corner 0.
func offSquare(at func(int) (float64, float64)) (float64, [6]float64) {
	bx, by := at(0)
	ax, ay := at(1)
	cx, cy := at(2)
	ux, uy, l := unit(ax-bx, ay-by)
	nx, ny := -uy, ux
	d := float64(ux*(cx-bx)) + float64(uy*(cy-by))
	side := 0.0
	if l > 0 {
		side = (float64(nx*(cx-bx)) + float64(ny*(cy-by))) / l
	}
	dax, day := float64(nx*side), float64(ny*side)
	return d, [6]float64{-dax - ux, -day - uy, dax, day, ux, uy}
}

// span is the length a reading runs over, from which its precision follows: a
// distance itself, the line of an offset, the second arm of a right angle.
func (e equation) span(xy []float64) float64 {
	if e.kind.isDistance() {
		return math.Abs(e.value)
	}
	a, b := e.post[1], e.post[2]
	if e.kind == RightAngle {
		a = e.post[0]
	}
	_, _, l := unit(xy[2*b]-xy[2*a], xy[2*b+1]-xy[2*a+1])
	return l
}
