package survey

import (
	"fmt"
	"math"
	"math/rand"

	"stallwright/engine/measure"
)

// barn is two walls of n posts 12 ft apart, read as a crew would with enough
// to name a wrong reading: each wall by bays and by double bays, across, and
// both diagonals of single and double bays. Posts stand up to a few inches
// from where they were drawn.
func barn(rng *rand.Rand, n int) Network {
	net, _ := barnAndStands(rng, n)
	return net
}

// barnAndStands gives the posts' true places too, metres.
func barnAndStands(rng *rand.Rand, n int) (Network, map[string][2]float64) {
	bay := 12 * measure.Foot
	var net Network
	name := func(row, i int) string { return fmt.Sprintf("%c%d", 'A'+row, i+1) }
	stands := map[string][2]float64{}
	for row := 0; row < 2; row++ {
		for i := 0; i < n; i++ {
			p := Point{Name: name(row, i), X: bay * measure.Length(i), Y: bay * measure.Length(row)}
			net.Points = append(net.Points, p)
			stands[p.Name] = [2]float64{p.X.Metres() + 0.05*rng.NormFloat64(), p.Y.Metres() + 0.05*rng.NormFloat64()}
		}
	}
	tape := tapePrecision
	read := func(k Kind, a, b string) {
		p, q := stands[a], stands[b]
		l := math.Hypot(p[0]-q[0], p[1]-q[1])
		l += tape.sigma(l) * rng.NormFloat64()
		net.Readings = append(net.Readings, Reading{Kind: k, Posts: []string{a, b}, Value: toLength(l)})
	}
	for i := 0; i < n; i++ {
		read(Distance, name(0, i), name(1, i))
		for _, step := range []int{1, 2} {
			if i+step >= n {
				continue
			}
			for row := 0; row < 2; row++ {
				read(Distance, name(row, i), name(row, i+step))
				read(Diagonal, name(row, i), name(1-row, i+step))
			}
		}
	}
	return net, stands
}

// reading finds a reading by its posts.
func reading(net Network, a, b string) int {
	for i, r := range net.Readings {
		if len(r.Posts) == 2 && (r.Posts[0] == a && r.Posts[1] == b || r.Posts[0] == b && r.Posts[1] == a) {
			return i
		}
	}
	return -1
}

// grid is rows × cols posts, each read to its neighbours: some four readings a
// post, and every sixth over two bays.
func grid(rng *rand.Rand, rows, cols int) Network {
	var net Network
	at := make([][2]float64, rows*cols)
	name := func(i int) string { return fmt.Sprintf("P%d", i) }
	for i := range at {
		x, y := 3.6*float64(i%cols), 3.6*float64(i/cols)
		net.Points = append(net.Points, Point{Name: name(i), X: metre(x), Y: metre(y)})
		at[i] = [2]float64{x + 0.05*rng.NormFloat64(), y + 0.05*rng.NormFloat64()}
	}
	read := func(k Kind, i, j int) {
		l := math.Hypot(at[i][0]-at[j][0], at[i][1]-at[j][1])
		l += tapePrecision.sigma(l) * rng.NormFloat64()
		net.Readings = append(net.Readings, Reading{Kind: k, Posts: []string{name(i), name(j)}, Value: toLength(l)})
	}
	for i := range at {
		r, c := i/cols, i%cols
		if c+1 < cols {
			read(Distance, i, i+1)
		}
		if r+1 < rows {
			read(Distance, i, i+cols)
		}
		if c+2 < cols && i%6 == 0 {
			read(Distance, i, i+2)
		}
		if r+1 < rows && c+1 < cols {
			read(Diagonal, i, i+cols+1)
			read(Diagonal, i+1, i+cols)
		}
	}
	return net
}
