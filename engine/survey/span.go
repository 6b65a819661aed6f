package survey

import (
	"math"

	"stallwright/engine/measure"
)

// Span is the distance between two adjusted points.
type Span struct {
	From, To string
	Length   measure.Length
	Sigma    measure.Length // standard deviation of Length, the same in every datum
	// Determined: both points stand and the readings tie the one to the other. If
	// not, or where a name is unknown, Length and Sigma are none.
	Determined bool
}

// spans answers for the distances asked for.
func (p *plane) spans(c *cleaned) []Span {
	var out []Span
	at := c.covariances()
	for _, s := range p.net.Spans {
		v := Span{From: s[0], To: s[1]}
		a, okA := p.index[s[0]]
		b, okB := p.index[s[1]]
		if okA && okB && a != b && !c.loose[a] && !c.loose[b] {
			e := equation{kind: Distance, post: [3]int{a, b, 0}}
			l, _ := e.evaluate(c.xy)
			k, _ := p.candidate(c.solution, e)
			v.Length, v.Sigma, v.Determined = toLength(l), toLength(math.Sqrt(k.spread(at))), true
		}
		out = append(out, v)
	}
	return out
}
