package normal

// Inverse holds the entries of N⁻¹ inside the envelope of the factor: every
// pair of unknowns that share a row, and more.
type Inverse struct {
	*Structure
	z []float64
}

// Inverse computes the inverse's entries inside the envelope by Takahashi's
// recurrence, from the last unknown to the first. Unknowns that were held have
// zero rows.
func (f *Factor) Inverse() *Inverse {
	n := len(f.first)
	s := f.Structure
	below := make([][]int, n) // rows i > j whose envelope reaches column j
	for i := 0; i < n; i++ {
		for j := s.first[i]; j < i; j++ {
			below[j] = append(below[j], i)
		}
	}
	z := make([]float64, len(f.l))
	acc := make([]float64, n) // Σ Z·L for the rows below the current column
	lcol := make([]float64, n)
	for j := n - 1; j >= 0; j-- {
		rows := below[j]
		pivot := f.l[s.start[j+1]-1]
		for _, i := range rows {
			lcol[i] = f.l[s.start[i]+j-s.first[i]]
			acc[i] = 0
		}
		for k, i := range rows {
			base := s.start[i] - s.first[i]
			li, sum := lcol[i], 0.0
			if k > 0 && rows[0] == i-k { // the usual case: no gaps
				zr := z[base+rows[0] : base+i]
				lr := lcol[rows[0]:i]
				ar := acc[rows[0]:i]
				lr, ar = lr[:len(zr)], ar[:len(zr)]
				for q, v := range zr {
					sum += float64(v * lr[q])
					ar[q] += float64(v * li)
				}
			} else {
				for _, r := range rows[:k] {
					v := z[base+r]
					sum += float64(v * lcol[r])
					acc[r] += float64(v * li)
				}
			}
			acc[i] += sum + float64(z[base+i]*li)
		}
		own := 1 / pivot
		diag := float64(own * own)
		for _, i := range rows {
			v := -acc[i] / pivot
			z[s.start[i]+j-s.first[i]] = v
			diag -= float64(v*lcol[i]) / pivot
		}
		if pivot == held {
			diag = 0
		}
		z[s.start[j+1]-1] = diag
	}
	return &Inverse{Structure: s, z: z}
}

// At is entry (a, b) of the inverse; false when the pair lies outside the
// envelope.
func (v *Inverse) At(a, b int) (float64, bool) {
	i, j := v.at[a], v.at[b]
	if j > i {
		i, j = j, i
	}
	if j < v.first[i] {
		return 0, false
	}
	return v.z[v.start[i]+j-v.first[i]], true
}

// RowVariance is a·N⁻¹·aᵀ for row r of a design whose rows the structure was
// analysed for: the cofactor of the row's computed value.
func (v *Inverse) RowVariance(d *Design, r int) float64 {
	cols, vals := d.Row(r)
	sum := 0.0
	for a, ca := range cols {
		q, _ := v.At(ca, ca)
		sum += float64(float64(vals[a]*vals[a]) * q)
		for b := 0; b < a; b++ {
			q, _ := v.At(ca, cols[b])
			sum += float64(float64(float64(2*vals[a])*vals[b]) * q)
		}
	}
	return sum
}
