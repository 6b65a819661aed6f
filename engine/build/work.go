package build

import (
	"stallwright/engine/frame"
	"stallwright/engine/kit"
)

// Stages of the work on one structure, in the order a crew goes through them
// where the rules leave a choice. The first two come for all structures before
// anything else, so that concrete cures while other work goes on.
const (
	stageSetOut = iota
	stageBases
	stageChannels // channels on timber, and the bays between them
	stageWallMeasure
	stageWallCut
	stageWallTrim
	stageWallBoards
	stageFrames
	stageTighten
	stageMeasure // framed bays
	stageCut
	stageTrim
	stageBoards
	stageRoof
	stageDoors
	stageCheck
)

// gather makes every operation of the job.
func (b *builder) gather() {
	for s := range b.Layout.Structures {
		runs := b.runs[s]
		b.setOut(s)
		b.bases(s)
		if b.Layout.Structures[s].Kind == frame.Pen {
			b.pen(s)
			runs = b.ring(s)
		} else {
			b.steelPosts(s)
			for n, r := range b.runs[s] {
				switch b.Layout.Runs[r].Assembly.Ends {
				case kit.EndsChannel:
					b.channels(r, n)
				case kit.EndsMounted:
					b.mounted(r, n)
				default:
					b.shared(r, n)
				}
			}
			b.squares(s)
			b.frames(s)
		}
		for n, r := range runs {
			for _, v := range b.Layout.Runs[r].Bays {
				b.bay(v, n)
			}
		}
		b.roof(s)
		for n, r := range runs {
			for _, v := range b.Layout.Runs[r].Bays {
				if b.Layout.Bays[v].IsDoor() {
					b.door(v, n)
				}
			}
		}
		b.last(s)
	}
	for i := range b.Fit.Pieces {
		if !b.placed[i] {
			b.out.Aside = append(b.out.Aside, i)
		}
	}
}
