package normal

// Design is a sparse design matrix: row i has the entries Value[k] in columns
// Column[k] for Start[i] ≤ k < Start[i+1]. Within a row no column repeats.
// The zero value with Unknowns set is an empty design.
type Design struct {
	Unknowns int       // number of columns
	Start    []int     // Rows()+1 offsets; empty for no rows
	Column   []int     // column of each entry
	Value    []float64 // value of each entry
}

// Rows is the number of rows.
func (d *Design) Rows() int { return max(0, len(d.Start)-1) }

// Add appends a row; columns and values run side by side.
func (d *Design) Add(columns []int, values []float64) {
	if len(d.Start) == 0 {
		d.Start = append(d.Start, 0)
	}
	d.Column = append(d.Column, columns...)
	d.Value = append(d.Value, values...)
	d.Start = append(d.Start, len(d.Column))
}

// Row gives row i's columns and values; they may be written to.
func (d *Design) Row(i int) ([]int, []float64) {
	a, b := d.Start[i], d.Start[i+1]
	return d.Column[a:b], d.Value[a:b]
}

// Dot is the product of row i with the vector x.
func (d *Design) Dot(i int, x []float64) float64 {
	s := 0.0
	for k := d.Start[i]; k < d.Start[i+1]; k++ {
		s += float64(d.Value[k] * x[d.Column[k]])
	}
	return s
}

// AddTransposed adds f times row i to the vector x.
func (d *Design) AddTransposed(i int, f float64, x []float64) {
	for k := d.Start[i]; k < d.Start[i+1]; k++ {
		x[d.Column[k]] += float64(f * d.Value[k])
	}
}
