package steps

import (
	"math"

	"stallwright/paper/draw"
)

// Shows says whether a step has anything to show.
func (d *Drawer) Shows(step int) bool { return len(d.shown(&d.build.Steps[step])) > 0 }

// High is how high a picture should be: as wanted, but higher, up to [Options],
// where it would come out smaller than 1:Coarsest. The zero High is as high as may
// be.
type High struct {
	Wanted   draw.Micron
	Coarsest int64
}

// lower makes a picture as low as wanted.
func (p *picture) lower(high High) {
	rows := draw.Micron(2 * edge)
	shown, bare := 0, 0
	for _, c := range p.calls() {
		if p.drawable(&c) {
			shown++
		} else {
			bare++
		}
	}
	rows += draw.Micron((shown+mostCalls-1)/mostCalls)*(iconTall+5*draw.MM+2*lineTall) + draw.Micron((bare+mostCalls-1)/mostCalls)*(bareTall+2*draw.MM)
	scale := math.Min(1e6/float64(high.Coarsest), float64(p.opt.Width-2*columnMost)/(p.box.x1-p.box.x0))
	need := rows + draw.Micron(math.Round(float64((p.box.y1-p.box.y0)*scale)))
	p.high = min(p.opt.Height, max(high.Wanted, need))
}
