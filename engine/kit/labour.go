package kit

import "stallwright/engine/document"

// Labour is how long one kind of work takes, in minutes of one person, where the
// shop knows better than common practice.
type Labour struct {
	document.Where `yaml:"-" json:"-"`

	Do       string `yaml:"do,required" doc:"the kind of work: set-out, mark, pour, seat, lay-out, bolt, stand, move, pin, brace, lag, level, square, tighten, anchor, unbrace, measure, cut, load, trim, capture, fit, fasten, clamp, roof, track, rollers, hang, adjust, handle, check"`
	Begin    int    `yaml:"begin" min:"0" max:"600" doc:"minutes before the first piece"`
	Piece    int    `yaml:"piece" min:"0" max:"600" doc:"minutes for each piece or part"`
	Fastener int    `yaml:"fastener" min:"0" max:"600" doc:"minutes for each fastener"`
	People   int    `yaml:"people" min:"1" max:"8" doc:"hands it takes even where nothing is heavy; 1 where left out"`
	Source   string `yaml:"source" doc:"what the minutes rest on: the shop's own times, say"`
}

// Work lists the kinds of work that labour may speak of.
func Work() []string {
	return []string{
		"set-out", "mark", "pour", "seat", "lay-out", "bolt", "stand", "move", "pin", "brace", "lag", "level", "square", "tighten", "anchor", "unbrace",
		"measure", "cut", "load", "trim", "capture", "fit", "fasten", "clamp", "roof", "track", "rollers", "hang", "adjust", "handle", "check",
		"loosen", "unload", "unhang",
	}
}

// labour checks that each kind of work is one, and stated once.
func (c *checker) labour() {
	seen := map[string]bool{}
	for i := range c.k.Labour {
		x, p := &c.k.Labour[i], at("labour", i)
		known := false
		for _, w := range Work() {
			known = known || w == x.Do
		}
		switch {
		case !known:
			c.r.Add(x.Of("do"), p+".do", x.Do, "there is no kind of work "+x.Do, didYouMean(x.Do, Work()))
		case seen[x.Do]:
			c.r.Add(x.Of("do"), p+".do", x.Do, x.Do+" is given twice", "keep the one with the right minutes")
		}
		seen[x.Do] = true
	}
}
