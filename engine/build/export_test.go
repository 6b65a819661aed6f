package build

// MakeWithout is Make with some rules left out.
var MakeWithout = makeWithout

// Tools lists the keys of every tool that a kind of operation takes.
func Tools() map[string]bool {
	out := map[string]bool{"wrench": true, "masonry-bit": true, "driver": true, "clamp-key": true, "lifting-aid": true, "drill-bit": true}
	for _, list := range toolsOf {
		for _, t := range list {
			out[t] = true
		}
	}
	return out
}

// Kinds lists the kinds of work that have minutes.
func Kinds() map[Kind]bool {
	out := map[Kind]bool{}
	for k := range minutes {
		out[k] = true
	}
	return out
}
