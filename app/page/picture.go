package page

import (
	"fmt"
	"slices"

	"stallwright/engine/build"
	"stallwright/engine/plan"
	"stallwright/paper/steps"
)

// picture draws a step as it is drawn on paper: SVG, or nothing where the step has
// nothing to show.
func picture(a *Asked) (any, error) {
	svg := ""
	err := a.pictures(func(p *plan.Plan, d *steps.Drawer) error {
		i := slices.IndexFunc(p.Build.Steps, func(s build.Step) bool { return stepID(p, &s) == a.About })
		if i < 0 {
			return fmt.Errorf("the work has no step %q any more", a.About)
		}
		sheet, err := d.Picture(i)
		if err == nil && sheet != nil {
			svg = sheet.SVG()
		}
		return err
	})
	return svg, err
}
