package survey

import (
	"fmt"
	"math"
	"math/cmplx"
	"math/rand"
	"testing"

	"stallwright/engine/measure"

	"gonum.org/v1/gonum/mat"
)

// randomNetwork is a barn-like grid a little out of place, read with random
// error in all kinds of reading. With fixed, two of its posts are known.
func randomNetwork(rng *rand.Rand, fixed bool) Network {
	rows, cols := 2+rng.Intn(3), 3+rng.Intn(4)
	var net Network
	at := map[string][2]float64{}
	name := func(r, c int) string { return fmt.Sprintf("%c%d", 'A'+r, c+1) }
	for r := 0; r < rows; r++ {
		for c := 0; c < cols; c++ {
			x, y := 3.6*float64(c)+0.2*rng.NormFloat64(), 3.6*float64(r)+0.2*rng.NormFloat64()
			at[name(r, c)] = [2]float64{x, y}
			net.Points = append(net.Points, Point{Name: name(r, c), X: metre(x + 0.05*rng.NormFloat64()), Y: metre(y + 0.05*rng.NormFloat64())})
		}
	}
	if fixed {
		for _, i := range []int{0, len(net.Points) - 1} {
			p := at[net.Points[i].Name]
			net.Points[i] = Point{Name: net.Points[i].Name, X: metre(p[0]), Y: metre(p[1]), Fixed: true}
		}
	}
	read := func(k Kind, posts ...string) {
		v := real(model(k, func(i int) complex128 { return complex(at[posts[i/2]][i%2], 0) }))
		net.Readings = append(net.Readings, Reading{Kind: k, Posts: posts, Value: metre(v + 0.0015*rng.NormFloat64()), Sigma: metre(0.001 + 0.001*rng.Float64())})
	}
	for r := 0; r < rows; r++ {
		for c := 0; c < cols; c++ {
			if c+1 < cols {
				read(Distance, name(r, c), name(r, c+1))
			}
			if r+1 < rows {
				read(Distance, name(r, c), name(r+1, c))
			}
			if c+1 < cols && r+1 < rows {
				read(Diagonal, name(r, c), name(r+1, c+1))
				read(Diagonal, name(r+1, c), name(r, c+1))
			}
			if c > 0 && c+1 < cols && rng.Intn(2) == 0 {
				read([]Kind{Offset, Straight}[rng.Intn(2)], name(r, c), name(r, 0), name(r, cols-1))
			}
			if c+1 < cols && r+1 < rows && rng.Intn(4) == 0 {
				read(RightAngle, name(r, c), name(r, c+1), name(r+1, c))
			}
		}
	}
	return net
}

// model is a reading's value in complex arithmetic, written apart from the
// package's own equations: offsets by the cross product over the line's
// length, squares by the scalar product over the first arm's. A step of i·h in
// one coordinate gives its derivative without cancellation (complex step).
func model(k Kind, at func(int) complex128) complex128 {
	hyp := func(x, y complex128) complex128 { return cmplx.Sqrt(x*x + y*y) }
	switch k {
	case Offset, Straight:
		bx, by := at(4)-at(2), at(5)-at(3)
		px, py := at(0)-at(2), at(1)-at(3)
		return (bx*py - by*px) / hyp(bx, by)
	case RightAngle:
		ax, ay := at(2)-at(0), at(3)-at(1)
		cx, cy := at(4)-at(0), at(5)-at(1)
		return (ax*cx + ay*cy) / hyp(ax, ay)
	}
	return hyp(at(2)-at(0), at(3)-at(1))
}

// dense adjusts with gonum: Gauss–Newton on a dense design with derivatives by
// complex step, each step the least-norm solution by singular values. It gives
// coordinates, residuals over σ, the hat matrix of the scaled design and the
// least-norm covariance.
func dense(net Network) (xy, v []float64, hat, cov *mat.Dense, rank int) {
	index := map[string]int{}
	for i, p := range net.Points {
		index[p.Name] = i
		xy = append(xy, p.X.Metres(), p.Y.Metres())
	}
	var free []int
	for c := range xy {
		if !net.Points[c/2].Fixed {
			free = append(free, c)
		}
	}
	m, n := len(net.Readings), len(free)
	v = make([]float64, m)
	a := mat.NewDense(m, n, nil)
	var svd mat.SVD
	for step := 0; step < 15; step++ {
		rhs := mat.NewVecDense(m, nil)
		for i, r := range net.Readings {
			value := func(bump int) complex128 {
				return model(r.Kind, func(k int) complex128 {
					c := 2*index[r.Posts[k/2]] + k%2
					if c == bump {
						return complex(xy[c], 1e-100)
					}
					return complex(xy[c], 0)
				})
			}
			s := r.Sigma.Metres()
			rhs.SetVec(i, (r.Value.Metres()-real(value(-1)))/s)
			v[i] = -rhs.AtVec(i)
			for k, c := range free {
				a.Set(i, k, imag(value(c))/1e-100/s)
			}
		}
		if !svd.Factorize(a, mat.SVDThin) {
			panic("no singular values")
		}
		rank = svd.Rank(1e-9)
		var dx mat.VecDense
		svd.SolveVecTo(&dx, rhs, rank)
		for k, c := range free {
			xy[c] += dx.AtVec(k)
		}
	}
	var u, w mat.Dense
	svd.UTo(&u)
	svd.VTo(&w)
	hat = new(mat.Dense)
	hat.Mul(u.Slice(0, m, 0, rank), u.Slice(0, m, 0, rank).T())
	scaled := mat.DenseCopyOf(w.Slice(0, n, 0, rank))
	for k, s := range svd.Values(nil)[:rank] {
		for i := 0; i < n; i++ {
			scaled.Set(i, k, scaled.At(i, k)/s)
		}
	}
	cov = new(mat.Dense)
	cov.Mul(scaled, scaled.T())
	return xy, v, hat, cov, rank
}

// One hundred random networks, half with fixed posts, half free, against an
// independent dense solution with gonum's singular value decomposition:
// coordinates, residuals, redundancy numbers, covariances to 1e-9 relative.
func TestHundredNetworksAgainstIndependentSolution(t *testing.T) {
	rng := rand.New(rand.NewSource(2024))
	close := func(got, want, scale float64) bool { return math.Abs(got-want) <= 1e-9*scale }
	for trial := 0; trial < 100; trial++ {
		net := randomNetwork(rng, trial%2 == 0)
		xy, v, hat, cov, rank := dense(net)
		p := newPlane(net, Options{CutOff: 50}.filled()) // nothing is set aside
		c := p.clean()
		if !c.settled || len(c.aside) > 0 || c.spare != len(net.Readings)-rank {
			t.Fatalf("trial %d: settled %v, aside %v, spare %d, want %d", trial, c.settled, c.aside, c.spare, len(net.Readings)-rank)
		}
		for i := range net.Readings {
			// The computed value's sensitivity to rounding is that of a length
			// of some 10 m, 1e-15 of it over σ; relative is to the larger of
			// one σ and the residual.
			if u := -c.misclose[i] / c.sigma[i]; !close(u, v[i], math.Max(1, math.Abs(v[i]))) {
				t.Fatalf("trial %d: residual %d: %v σ, independent %v", trial, i, u, v[i])
			}
			if r := c.redundancy(i); !close(r, 1-hat.At(i, i), 1) {
				t.Fatalf("trial %d: redundancy %d: %v, independent %v", trial, i, r, 1-hat.At(i, i))
			}
		}
		shadow := c.shadow(trial % len(net.Readings))
		for j := range shadow {
			want := -hat.At(j, trial%len(net.Readings))
			if j == trial%len(net.Readings) {
				want++
			}
			if !close(shadow[j], want, 1) {
				t.Fatalf("trial %d: shadow %d: %v, independent %v", trial, j, shadow[j], want)
			}
		}
		d := p.datum(c.solution, c.loose)
		fitted := alignedTo(net, xy, d.free)
		free := 0
		for i, pt := range net.Points {
			for a := 0; a < 2; a++ {
				origin := []measure.Length{p.originX, p.originY}[a].Metres()
				if !close(d.xy[2*i+a]+origin, fitted[2*i+a], 10) {
					t.Fatalf("trial %d: %s: coordinate %v, independent %v", trial, pt.Name, d.xy[2*i+a]+origin, fitted[2*i+a])
				}
			}
			if pt.Fixed {
				continue
			}
			xx, yy, xyc := d.covariance(i)
			wx, wy, wxy := turned(cov.At(free, free), cov.At(free+1, free+1), cov.At(free, free+1), turnBetween(xy, fitted))
			for _, q := range [][2]float64{{xx, wx}, {yy, wy}, {xyc, wxy}} {
				if !close(q[0], q[1], wx+wy) {
					t.Fatalf("trial %d: %s: covariance %v, independent %v", trial, pt.Name, q[0], q[1])
				}
			}
			free += 2
		}
	}
}

// alignedTo moves and turns coordinates onto the drawn ones, in complex
// arithmetic: the turn is the direction of Σ conj(z)·w about the centres.
func alignedTo(net Network, xy []float64, free bool) []float64 {
	if !free {
		return xy
	}
	var zc, wc complex128
	n := complex(float64(len(net.Points)), 0)
	w := make([]complex128, len(net.Points))
	z := make([]complex128, len(net.Points))
	for i, p := range net.Points {
		w[i], z[i] = complex(p.X.Metres(), p.Y.Metres()), complex(xy[2*i], xy[2*i+1])
		zc, wc = zc+z[i]/n, wc+w[i]/n
	}
	var sum complex128
	for i := range z {
		sum += cmplx.Conj(z[i]-zc) * (w[i] - wc)
	}
	turn := cmplx.Rect(1, cmplx.Phase(sum))
	out := make([]float64, len(xy))
	for i := range z {
		q := (z[i]-zc)*turn + wc
		out[2*i], out[2*i+1] = real(q), imag(q)
	}
	return out
}

// turned is a covariance in a frame turned by t.
func turned(xx, yy, xy, t float64) (float64, float64, float64) {
	turn := mat.NewDense(2, 2, []float64{math.Cos(t), -math.Sin(t), math.Sin(t), math.Cos(t)})
	var out mat.Dense
	out.Product(turn, mat.NewDense(2, 2, []float64{xx, xy, xy, yy}), turn.T())
	return out.At(0, 0), out.At(1, 1), out.At(0, 1)
}

// turnBetween is the turn of the first side between two sets of coordinates.
func turnBetween(a, b []float64) float64 {
	return cmplx.Phase(complex(b[2]-b[0], b[3]-b[1]) / complex(a[2]-a[0], a[3]-a[1]))
}
