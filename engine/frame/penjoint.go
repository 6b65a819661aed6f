package frame

import (
	"fmt"
	"math"

	"stallwright/engine/finding"
	"stallwright/engine/job"
	"stallwright/engine/kit"
	"stallwright/engine/measure"
	"stallwright/engine/phrase"
)

// penJoints tells of a ring that turns so sharply at a joint that the uprights of its
// two sections run into each other. An upright stands back from its pin by a little;
// its inner corner must stay on its own side of the line that halves the angle
// between the sections:
//
//	(across / 2) / back ≤ tan(half the inside angle)
func (b *builder) penJoints(p *job.Pen, s int, ring *Ring) {
	use := b.kit.Uses.Pen
	a := b.kit.Assembly(use.Section)
	post := b.kit.Post(a.End)
	if a.Ends != kit.EndsOwn || post == nil {
		return
	}
	back, half := post.Reach+post.Leg-post.Along, post.Across/2
	worst, most := "", measure.Length(0)
	for i := range b.out.Posts {
		q := &b.out.Posts[i]
		if q.Structure != s || q.Kind != Joint {
			continue
		}
		if over := half - b.room(i, s, back); over > most {
			worst, most = q.Name, over
		}
	}
	if worst == "" {
		return
	}
	n, least := len(ring.Sections), 3
	for ; float64(half)*math.Tan(math.Pi/float64(least)) > float64(back) && least < 100; least++ {
	}
	least = max(least, n+1) // sections of unlike lengths turn more sharply than alike ones
	by := (2 * most).Round(b.kit.Board.Mark, measure.Up)
	b.out.Findings = append(b.out.Findings, finding.Finding{
		Code: finding.PenJoint, Severity: finding.Error, Place: p.Name,
		Message: fmt.Sprintf("%d sections turn too sharply at %s: the uprights of neighbouring sections run into each other by %s, and no pin goes in; at least %d leave room", n, worst, b.show(by), least),
		Say:     phrase.Of("found.pen-joint", phrase.With("n", phrase.Count(n)), phrase.With("post", phrase.Name(worst)), phrase.With("by", phrase.Length(by)), phrase.With("least", phrase.Count(least))),
		Choices: []phrase.Phrase{phrase.Of("way.more-sections", phrase.With("n", phrase.Count(least)), phrase.With("key", phrase.Name("across, section")))},
	})
}

// room is how far from the section's axis an upright may reach on the inside of a
// joint, back from the pin: as far as the line that halves the inside angle.
func (b *builder) room(post, structure int, back measure.Length) measure.Length {
	at := b.out.Posts[post].At
	var ways []Point
	for i := range b.out.Runs {
		r := &b.out.Runs[i]
		switch {
		case r.Structure != structure:
		case r.From == post:
			ways = append(ways, b.out.Posts[r.To].At.Sub(at))
		case r.To == post:
			ways = append(ways, b.out.Posts[r.From].At.Sub(at))
		}
	}
	if len(ways) != 2 {
		return measure.MaxLength
	}
	x1, y1, x2, y2 := ways[0].X.Metres(), ways[0].Y.Metres(), ways[1].X.Metres(), ways[1].Y.Metres()
	dot, long := x1*x2+y1*y2, math.Sqrt(x1*x1+y1*y1)*math.Sqrt(x2*x2+y2*y2)
	if dot >= long {
		return 0
	}
	if long+dot <= long*1e-12 {
		return measure.MaxLength // straight on
	}
	return measure.Length(math.Min(float64(back)*math.Sqrt((long-dot)/(long+dot)), float64(measure.MaxLength)))
}
