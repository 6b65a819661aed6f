package build

import (
	"slices"

	"stallwright/engine/kit"
	"stallwright/engine/measure"
)

// toolsOf is what each kind of operation takes besides what its fasteners ask for.
var toolsOf = map[Kind][]string{
	SetOut:  {"tape", "string", "stakes", "hammer"},
	Mark:    {"level", "square", "pencil"},
	Pour:    {"auger", "shovel", "mixer", "level"},
	Seat:    {"shovel", "level", "mallet"},
	Layout:  {"trestles", "tape"},
	Stand:   {"props", "level"},
	Move:    {"tape"},
	Pin:     {"hammer", "level"},
	Brace:   {"props", "driver"},
	Lag:     {"level", "drill"},
	Level:   {"laser", "tape", "pencil"},
	Square:  {"tape", "mallet"},
	Tighten: {"level"},
	Anchor:  {"hammer-drill"},
	Measure: {"tape", "pencil"},
	Cut:     {"saw", "tape"},
	Load:    {"mallet"},
	Trim:    {"metal-saw", "file", "zinc"},
	Capture: {"mallet"},
	Fit:     {"mallet", "level"},
	Fasten:  {"driver"},
	Roof:    {"ladder"},
	Track:   {"ladder", "level"},
	Hang:    {"ladder"},
	Adjust:  {"level", "tape"},
	Handle:  {"driver"},
	Check:   {"tape"},
	Unload:  {"mallet"},
	Unhang:  {"ladder"},
}

// tools adds what an operation takes by its kind, then by its fasteners.
func (b *builder) tools() {
	for i := range b.nodes {
		n := &b.nodes[i]
		bolts := n.Bolts
		if n.role == roleTighten {
			bolts = b.frameBolts(n.spot.at)
		}
		b.equip(&n.Operation, bolts)
	}
}

// equip gives an operation its tools.
func (b *builder) equip(o *Operation, bolts []Use) {
	var list []Tool
	add := func(key string, size measure.Length) {
		if t := (Tool{key, size}); !slices.Contains(list, t) {
			list = append(list, t)
		}
	}
	for _, k := range toolsOf[o.Kind] {
		add(k, 0)
	}
	for _, u := range bolts {
		switch u.Fastener {
		case kit.Bolt, kit.LagScrew:
			add("wrench", u.Diameter)
		case kit.Anchor:
			add("masonry-bit", u.Diameter)
			add("wrench", u.Diameter)
		case kit.WoodScrew:
			add("driver", 0)
		}
	}
	for _, t := range o.Tools {
		add(t.Key, t.Size)
	}
	for _, u := range o.Parts {
		if b.Takeoff.Needs[u.Need].Class == kit.ClassClamp {
			add("clamp-key", 0)
		}
	}
	o.Tools = list
}

// frameBolts are the bolts of a frame, for whoever tightens them.
func (b *builder) frameBolts(r int) []Use {
	var out []Use
	take := func(list []int) {
		for _, i := range list {
			if f := b.Kit.Fastener(b.Takeoff.Needs[i].Item); f != nil {
				out = append(out, Use{Need: i, Diameter: f.Diameter, Fastener: f.Kind})
			}
		}
	}
	take(b.needsAt(kit.JointFrame, r, -1))
	for _, p := range b.Layout.Runs[r].DoorPosts {
		take(b.needsAt(kit.JointDoorPost, r, p))
	}
	return out
}
