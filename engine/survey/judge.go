package survey

import (
	"math"

	"stallwright/engine/measure"
)

// Judged is what a planned reading will be worth once all planned ones are
// taken.
type Judged struct {
	// Redundancy is the part of an error in it that would show in its own
	// residual; 0 where nothing checks it.
	Redundancy float64
	// Smallest is the smallest blunder in it that would be found with the asked
	// power; 0 where nothing checks it.
	Smallest measure.Length
	// Alike is the reading whose blunders are hardest to tell from this one's,
	// -1 for none; Correlation is that of the two residuals, without its sign:
	// at 1 the wrong one of the two is noticed but cannot be named.
	Alike       int
	Correlation float64
}

// Named reports whether a blunder in the reading would be laid at its own door:
// something checks it, and no other reading's residual goes with its own by more
// than most.
func (j Judged) Named(least, most float64) bool {
	return j.Redundancy >= least && j.Correlation <= most
}

// Judge says what each reading of a planned network will be worth, before any is
// taken: the values in net are ignored, the drawn places stand for them. A
// reading that could not be used is worth nothing. Which blunders can be told
// apart follows from the design alone (W. Förstner, Reliability and
// discernability of extended Gauss–Markov models, 1983; second-hand).
func Judge(net Network, opt Options) []Judged {
	p := newPlane(asDrawn(net), opt.filled())
	loose := p.determine(p.usable)
	return p.solve(p.drawn, p.usable, loose).judge(p.opt)
}

// asDrawn is a network whose readings show just what was drawn.
func asDrawn(net Network) Network {
	at := make(map[string]Point, len(net.Points))
	for _, p := range net.Points {
		if _, twice := at[p.Name]; !twice {
			at[p.Name] = p
		}
	}
	readings := append([]Reading(nil), net.Readings...)
	for i := range readings {
		r := &readings[i]
		r.Value = 0
		if len(r.Posts) != r.Kind.posts() {
			continue
		}
		var xy []float64
		e := equation{kind: r.Kind}
		for k, name := range r.Posts {
			p := at[name]
			o := at[r.Posts[0]]
			xy = append(xy, metres(p.X-o.X), metres(p.Y-o.Y))
			e.post[k] = k
		}
		v, _ := e.evaluate(xy)
		r.Value = toLength(v)
	}
	net.Readings = readings
	return net
}

// JudgeLevels does the same for a planned level network.
func JudgeLevels(net LevelNetwork, opt Options) []Judged {
	flat := LevelNetwork{Readings: append([]LevelReading(nil), net.Readings...)}
	for _, m := range net.Points {
		m.Height = 0
		flat.Points = append(flat.Points, m)
	}
	for i := range flat.Readings {
		flat.Readings[i].Value = 0
	}
	l := newLeveller(flat, opt.filled())
	return l.solve(l.usable).judge(l.opt)
}

func (e *estimate) judge(o Options) []Judged {
	out := make([]Judged, e.readings)
	for i := range out {
		out[i] = Judged{Redundancy: e.redundancy(i), Alike: -1}
		if out[i].Redundancy == 0 {
			continue
		}
		out[i].Smallest = toLength(float64(o.noncentrality()*e.sigma[i]) / math.Sqrt(out[i].Redundancy))
		for j, c := range e.shadow(i) {
			r := e.redundancy(j)
			if j == i || r == 0 {
				continue
			}
			rho := min(1, math.Abs(c)/math.Sqrt(float64(out[i].Redundancy*r)))
			if rho > out[i].Correlation+1e-9 { // the first of equals
				out[i].Alike, out[i].Correlation = j, rho
			}
		}
	}
	return out
}
