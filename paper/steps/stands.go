package steps

// Comes tells when each solid of the scene comes: with which step, by its index in
// build.Result.Steps; -1 for what stands before the work begins, and as many as
// there are steps for what none of them brings.
func (d *Drawer) Comes() []int {
	out := make([]int, len(d.appears))
	for i, op := range d.appears {
		switch {
		case op < 0:
			out[i] = -1
		case op >= len(d.build.Operations):
			out[i] = len(d.build.Steps)
		default:
			out[i] = d.build.Operations[op].Step
		}
	}
	return out
}
