package views

// atSteps parts the runs of a wall where its datum line steps: each stretch is
// drawn over its own line, so that heights on one sheet count from one place.
func (t *tables) atSteps(runs []int) [][]int {
	var out [][]int
	for i, r := range runs {
		if i == 0 || t.Layout.Runs[r].Drop != t.Layout.Runs[runs[i-1]].Drop {
			out = append(out, nil)
		}
		out[len(out)-1] = append(out[len(out)-1], r)
	}
	return out
}
