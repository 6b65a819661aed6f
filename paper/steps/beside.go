package steps

// Beside is a drawer of the same plan for another goroutine: it shares the scene,
// and draws what the first would.
func (d *Drawer) Beside() *Drawer {
	o := *d
	o.side = map[int]int{}
	return &o
}
