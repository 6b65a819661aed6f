package normal

import "math"

// Structure is the elimination order of a design and the shape of its factor.
// It depends on which entries a design has, not on their values, and may serve
// any number of factorisations.
type Structure struct {
	at    []int // at[unknown] = its place in the elimination order
	order []int // order[place] = unknown
	first []int // first stored column of each row of the factor
	start []int // offset of each row; row i holds columns first[i]…i
}

// Analyse finds the elimination order of a design's unknowns.
func Analyse(d *Design) *Structure {
	adj := neighbours(d)
	n := d.Unknowns
	s := &Structure{at: make([]int, n), order: order(adj), first: make([]int, n), start: make([]int, n+1)}
	for k, u := range s.order {
		s.at[u] = k
	}
	for k, u := range s.order {
		f := k
		for _, v := range adj[u] {
			f = min(f, s.at[v])
		}
		s.first[k] = f
		s.start[k+1] = s.start[k] + k - f + 1
	}
	return s
}

// Stored is the number of entries the factor holds.
func (s *Structure) Stored() int { return s.start[len(s.first)] }

// Factor is a Cholesky factor N = LLᵀ of a normal matrix.
type Factor struct {
	*Structure
	l []float64

	// Collapsed are the unknowns, in elimination order, that the equations do
	// not determine once the others are held: their pivot fell below the
	// tolerance. They are held at zero change so that the rest can be solved.
	Collapsed []int
}

// held is the pivot that stands for an unknown held in place.
const held = 1e150

// Factorise forms the normal matrix AᵀPA of the design with one weight a row
// and factors it. The design must have the entries the structure was analysed
// for. An unknown whose pivot is not above tolerance times its own diagonal
// entry is not determined; it is held and listed.
func (s *Structure) Factorise(d *Design, weight []float64, tolerance float64) *Factor {
	f := &Factor{Structure: s, l: make([]float64, s.Stored())}
	for r := 0; r < d.Rows(); r++ {
		w := weight[r]
		if w == 0 {
			continue
		}
		cols, vals := d.Row(r)
		for a, ca := range cols {
			i := s.at[ca]
			wa := float64(w * vals[a])
			for b, cb := range cols {
				if j := s.at[cb]; j <= i {
					f.l[s.start[i]+j-s.first[i]] += float64(wa * vals[b])
				}
			}
		}
	}
	for i := range s.first {
		f.eliminate(i, tolerance)
	}
	return f
}

// eliminate turns row i of the normal matrix into row i of the factor.
func (f *Factor) eliminate(i int, tolerance float64) {
	fi := f.first[i]
	row := f.l[f.start[i]:f.start[i+1]]
	n := i - fi
	diagonal := row[n]
	for j := fi; j < i; j++ {
		fj := f.first[j]
		from := max(fi, fj)
		// Two slices of equal length let the compiler drop bounds checks.
		a := row[from-fi : j-fi]
		b := f.l[f.start[j]+from-fj : f.start[j+1]-1]
		row[j-fi] = (row[j-fi] - dot(a, b)) / f.l[f.start[j+1]-1]
	}
	pivot := diagonal - dot(row[:n], row[:n])
	if !(pivot > float64(tolerance*diagonal)) {
		f.Collapsed = append(f.Collapsed, f.order[i])
		for k := range row[:n] {
			row[k] = 0
		}
		row[n] = held
		return
	}
	row[n] = math.Sqrt(pivot)
}

// dot is the sum of products of equally long a and b, four running sums at a
// time: a fixed order, so the same bits everywhere.
func dot(a, b []float64) float64 {
	var s0, s1, s2, s3 float64
	b = b[:len(a)]
	for len(a) >= 4 && len(b) >= 4 {
		s0 += float64(a[0] * b[0])
		s1 += float64(a[1] * b[1])
		s2 += float64(a[2] * b[2])
		s3 += float64(a[3] * b[3])
		a, b = a[4:], b[4:]
	}
	for k := range a {
		s0 += float64(a[k] * b[k])
	}
	return (s0 + s1) + (s2 + s3)
}

// Solve gives x with N·x = b; b is not changed.
func (f *Factor) Solve(b []float64) []float64 {
	n := len(f.first)
	y := make([]float64, n)
	for i := 0; i < n; i++ {
		fi := f.first[i]
		row := f.l[f.start[i]:f.start[i+1]]
		y[i] = (b[f.order[i]] - dot(row[:i-fi], y[fi:i])) / row[i-fi]
	}
	for i := n - 1; i >= 0; i-- {
		fi := f.first[i]
		row := f.l[f.start[i]:f.start[i+1]]
		v := y[i] / row[i-fi]
		y[i] = v
		for k, c := range row[:i-fi] {
			y[fi+k] -= float64(c * v)
		}
	}
	x := make([]float64, n)
	for i, u := range f.order {
		x[u] = y[i]
	}
	return x
}
