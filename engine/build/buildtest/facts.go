package buildtest

import (
	"slices"

	"stallwright/engine/build"
	"stallwright/engine/job"
	"stallwright/engine/kit"
)

// Fact is a fact of the trade: which operation must come before which, in every
// order of work. Source: common practice, no published source, for each.
type Fact struct {
	Says string
	Rule build.RuleID // without it the fact no longer holds
	// Pairs tells each pair of operations that it orders.
	Pairs func(v *View, before func(first, then int))
}

// Facts are those of a round pen, of a stall front with its dividing wall in a
// post-frame barn, of a free-standing stall, and those that hold everywhere.
func Facts() []Fact {
	return slices.Concat(penFacts, barnFacts, freeFacts, fillFacts, doorFacts, groundFacts)
}

// follow is a fact about two roles at one place.
func follow(says string, rule build.RuleID, first, then string) Fact {
	return Fact{says, rule, func(v *View, before func(int, int)) {
		for _, i := range v.Ops(then) {
			before(v.At(v.PlaceOf(i), first), i)
		}
	}}
}

var penFacts = []Fact{
	follow("a section is laid out on the ground before it is bolted", "laid-out-before-bolted", "lay-out", "bolt"),
	follow("it is bolted before it stands", "bolted-before-stood", "bolt", "stand"),
	follow("it stands before it is moved to its place", "stood-before-moved", "stand", "move"),
	{"both sections are in place before they are pinned", "moved-before-pinned", func(v *View, before func(int, int)) {
		v.sections(func(r int) {
			for _, p := range v.ends(r) {
				before(v.At(v.Run(r), "move"), v.At(v.Post(p), "pin-bottom"))
			}
		})
	}},
	follow("bottom pin before top", "bottom-pin-first", "pin-bottom", "pin-top"),
	{"corner bolts are tightened after pinning", "tighten-after-pins", func(v *View, before func(int, int)) {
		v.sections(func(r int) {
			for _, p := range v.ends(r) {
				before(v.At(v.Post(p), "pin-top"), v.At(v.Run(r), "tighten"))
			}
		})
	}},
	{"sections go round", "round-the-ring", func(v *View, before func(int, int)) {
		for s := range v.Layout.Structures {
			ring := v.Ring(s)
			for k := 3; k < len(ring); k++ { // 0 is the gate, 1 the first to stand
				before(v.At(v.Post(v.Layout.Runs[ring[k-1]].From), "pin-top"), v.At(v.Run(ring[k]), "move"))
			}
		}
	}},
	{"the gate section closes the ring, dropped in last", "gate-section-last", func(v *View, before func(int, int)) {
		for s := range v.Layout.Structures {
			ring := v.Ring(s)
			for k := 1; k < len(ring); k++ {
				before(v.At(v.Run(ring[k]), "move"), v.At(v.Run(ring[0]), "move"))
				if k > 1 {
					before(v.At(v.Post(v.Layout.Runs[ring[k]].From), "pin-top"), v.At(v.Run(ring[0]), "move"))
				}
			}
		}
	}},
	{"boards only after the ring is closed", "ring-before-boards", func(v *View, before func(int, int)) {
		v.sections(func(r int) {
			if v.Layout.Runs[r].Role != job.WallGate {
				return
			}
			for _, p := range v.ends(r) {
				for _, o := range v.built(v.Layout.Runs[r].Structure) {
					for _, bay := range v.Layout.Runs[o].Bays {
						before(v.At(v.Post(p), "pin-top"), v.FirstOf(bay))
					}
				}
			}
		})
	}},
	{"the gate is boarded after the pen's clamps", "pen-before-gate", func(v *View, before func(int, int)) {
		v.sections(func(r int) {
			for _, door := range v.Layout.Runs[r].Bays {
				for _, o := range v.built(v.Layout.Runs[r].Structure) {
					for _, bay := range v.Layout.Runs[o].Bays {
						before(v.At(v.Bay(bay), "clamp"), v.At(v.Bay(door), "leaf-from-above"))
					}
				}
			}
		})
	}},
	{"the first section is braced before the second comes", "brace-the-first", func(v *View, before func(int, int)) {
		for s := range v.Layout.Structures {
			if ring := v.Ring(s); len(ring) > 2 {
				before(v.At(v.Run(ring[1]), "brace"), v.At(v.Run(ring[2]), "move"))
			}
		}
	}},
	{"the ring is made round once it is closed", "ring-closed-before-round", func(v *View, before func(int, int)) {
		for s := range v.Layout.Structures {
			if ring := v.Ring(s); len(ring) > 0 {
				before(v.At(v.Post(v.Layout.Runs[ring[0]].From), "pin-top"), v.At(v.Layout.Structures[s].Name, "round"))
			}
		}
	}},
	{"a pen's braces stay until its frames are tight", "braces-until-tight", func(v *View, before func(int, int)) {
		v.sections(func(r int) {
			before(v.At(v.Run(r), "tighten"), v.At(v.Layout.Structures[v.Layout.Runs[r].Structure].Name, "unbrace"))
		})
	}},
}

var barnFacts = []Fact{
	{"dividing wall before front", "dividing-wall-before-front", func(v *View, before func(int, int)) {
		v.fronts(kit.EndsMounted, func(r int) {
			for _, w := range v.meeting(r) {
				for _, bay := range v.Layout.Runs[w].Bays {
					before(v.At(v.Bay(bay), "fasten"), v.At(v.Run(r), "front-post-below"))
				}
			}
		})
	}},
	follow("a channel on one post, then the opposite", "one-channel-then-the-opposite", "channel-left", "channel-right"),
	{"channels are lagged before the first board", "tight-before-measured", func(v *View, before func(int, int)) {
		for bay := range v.Layout.Bays {
			before(v.At(v.Run(v.Layout.Bays[bay].Run), "channel-right"), v.At(v.Bay(bay), "first-board"))
		}
	}},
	{"the first board is levelled and screwed before others", "first-board-level", func(v *View, before func(int, int)) {
		for bay := range v.Layout.Bays {
			if loads := v.Loads(bay); len(loads) > 1 && v.Role(loads[0]) == "first-board" {
				before(loads[0], loads[1])
			}
		}
	}},
	follow("a grille is trimmed before it is set", "trimmed-before-set", "trim-grille", "grille"),
	{"the datum on the front post comes from the dividing wall's first board", "datum-from-first-board", func(v *View, before func(int, int)) {
		v.fronts(kit.EndsMounted, func(r int) {
			for _, p := range v.ends(r) {
				for _, w := range v.meeting(r) {
					if q := &v.Layout.Runs[w]; q.From == p || q.To == p {
						for _, bay := range q.Bays {
							before(v.At(v.Bay(bay), "first-board"), v.At(v.Post(p), "mark"))
						}
					}
				}
			}
		})
	}},
	{"a front's posts are raised to the line", "raised-to-the-line", func(v *View, before func(int, int)) {
		v.fronts(kit.EndsMounted, func(r int) {
			before(v.At(v.Post(v.Layout.Runs[r].From), "mark"), v.At(v.Run(r), "front-post-below"))
			before(v.At(v.Post(v.Layout.Runs[r].To), "mark"), v.At(v.Run(r), "end-post-below"))
		})
	}},
	follow("the front post is lagged below, then above", "lagged-below-then-above", "front-post-below", "front-post-above"),
	follow("so is the end post", "lagged-below-then-above", "end-post-below", "end-post-above"),
	{"door posts go on tubes that lie ready", "tubes-before-door-posts", func(v *View, before func(int, int)) {
		v.fronts(kit.EndsMounted, func(r int) { before(v.At(v.Run(r), "lay-out"), v.At(v.Run(r), "door-posts")) })
	}},
	{"door posts are bolted before the frame stands", "door-posts-before-standing", func(v *View, before func(int, int)) {
		v.fronts(kit.EndsMounted, func(r int) { before(v.At(v.Run(r), "door-posts"), v.At(v.Run(r), "stand")) })
	}},
	{"the frame is slid into a fixed post", "slid-into-fixed-post", func(v *View, before func(int, int)) {
		v.fronts(kit.EndsMounted, func(r int) { before(v.At(v.Run(r), "front-post-above"), v.At(v.Run(r), "stand")) })
	}},
	{"the end post goes on last", "end-post-last", func(v *View, before func(int, int)) {
		v.fronts(kit.EndsMounted, func(r int) { before(v.At(v.Run(r), "stand"), v.At(v.Run(r), "end-post-below")) })
	}},
	follow("corners are bolted when both posts stand", "corners-after-end-post", "end-post-above", "corners"),
	follow("a front's bolts are in before they are tightened", "bolted-before-tight", "corners", "tighten"),
	{"all fronts are framed before boards are measured and loaded", "fronts-before-their-boards", func(v *View, before func(int, int)) { v.framedFirst(kit.EndsMounted, before) }},
}

var freeFacts = []Fact{
	{"both posts stand before their tubes", "posts-before-tubes", func(v *View, before func(int, int)) {
		v.frames(kit.EndsShared, func(r int) {
			for _, p := range v.ends(r) {
				before(v.At(v.Post(p), "stand"), v.At(v.Run(r), "bottom-tubes"))
			}
		})
	}},
	follow("a door post stands on its bottom tube", "door-posts-on-bottom-tubes", "bottom-tubes", "door-posts"),
	{"the front with its door opening first, then the back posts", "front-first", func(v *View, before func(int, int)) {
		for i := range v.Layout.Rooms {
			for _, r := range v.Layout.Rooms[i].Runs {
				if v.Layout.Runs[r].Role != job.WallFront {
					continue
				}
				for _, p := range v.Layout.Rooms[i].Corners {
					if !v.onFront(p) {
						before(v.At(v.Run(r), "top-tube"), v.At(v.Post(p), "stand"))
					}
				}
			}
		}
	}},
	follow("bottom tubes before top", "bottom-before-top", "bottom-tubes", "top-tube"),
	{"a room is squared when its tubes are in", "framed-before-square", func(v *View, before func(int, int)) {
		v.walls(func(room, r int) { before(v.At(v.Run(r), "top-tube"), v.At(v.Layout.Rooms[room].Name, "square")) })
	}},
	{"a room is square before its bolts are tightened", "square-before-tight", func(v *View, before func(int, int)) {
		v.walls(func(room, r int) { before(v.At(v.Layout.Rooms[room].Name, "square"), v.At(v.Run(r), "tighten")) })
	}},
	{"square and tighten all, then boards", "all-tight-before-boards", func(v *View, before func(int, int)) { v.framedFirst(kit.EndsShared, before) }},
	{"boards: the back wall before the sides", "back-before-sides", func(v *View, before func(int, int)) {
		v.boards(before, []job.WallRole{job.WallBack}, []job.WallRole{job.WallSide, job.WallDivider})
	}},
	{"boards: the sides before the front", "sides-before-front", func(v *View, before func(int, int)) {
		v.boards(before, []job.WallRole{job.WallSide, job.WallDivider}, []job.WallRole{job.WallFront})
	}},
	{"clamps before roof posts", "clamps-before-roof", func(v *View, before func(int, int)) {
		for _, i := range v.Ops("roof") {
			for _, k := range v.Ops("clamp") {
				if v.Structure(i) == v.Structure(k) {
					before(k, i)
				}
			}
		}
	}},
	{"braces stay until the roof posts are fixed", "braces-until-roof", func(v *View, before func(int, int)) {
		for _, i := range v.Ops("roof") {
			before(i, v.At(v.Layout.Structures[v.Structure(i)].Name, "unbrace"))
		}
	}},
	{"roof posts before the door's track", "roof-before-track", func(v *View, before func(int, int)) {
		for _, i := range v.Ops("track") {
			for _, k := range v.Ops("roof") {
				if v.Structure(i) == v.Structure(k) {
					before(k, i)
				}
			}
		}
	}},
}

// stackFact is a fact about what follows what in a bay's stack.
func stackFact(says string, rule build.RuleID, these func(lower, upper string) bool) Fact {
	return Fact{says, rule, func(v *View, before func(int, int)) {
		for bay := range v.Layout.Bays {
			list := v.Stack(bay)
			for k := 1; k < len(list); k++ {
				if these(v.Role(list[k-1]), v.Role(list[k])) {
					before(list[k-1], list[k])
				}
			}
		}
	}}
}

var fillFacts = []Fact{
	stackFact("treated boards first", "treated-at-the-bottom", func(a, _ string) bool { return a == "treated-boards" }),
	stackFact("then full courses, each before the one above", "board-on-board", func(a, c string) bool {
		return slices.Contains([]string{"lower-boards", "cut-boards", "closing-boards", "course-into-grille", "short-boards"}, a) && slices.Contains([]string{"closing-boards", "last-course"}, c)
	}),
	stackFact("a grille after the course that carries it", "grille-on-its-course", func(a, c string) bool { return c == "grille" && a == "lower-boards" }),
	stackFact("one course into the grille's top channel", "course-into-grille", func(a, c string) bool { return a == "grille" }),
	stackFact("clamps, or screws and cap, after the last course", "clamped-when-full", func(a, c string) bool { return a == "last-course" && (c == "clamp" || c == "fasten") }),
	stackFact("a window after its lower courses", "window-on-its-sill", func(a, c string) bool { return c == "window" && a == "lower-boards" }),
	stackFact("its cut courses with it, then the closing course", "boards-beside-window", func(a, _ string) bool { return a == "window" }),
	stackFact("a feeder after its full courses", "feeder-on-its-course", func(_, c string) bool { return c == "feeder" }),
	stackFact("then the short ones", "short-boards-beside-feeder", func(a, _ string) bool { return a == "feeder" }),
	follow("a bay is measured before it is cut", "measured-before-cut", "measure", "cut"),
	{"a channel is shimmed between measuring and the first board", "shimmed-before-boards", func(v *View, before func(int, int)) {
		for bay := range v.Layout.Bays {
			shim := v.At(v.Bay(bay), "shim")
			before(v.At(v.Bay(bay), "measure"), shim)
			before(shim, v.FirstOf(bay))
		}
	}},
	{"it is cut before it is loaded", "cut-before-loaded", func(v *View, before func(int, int)) {
		for bay := range v.Layout.Bays {
			before(v.At(v.Bay(bay), "cut"), v.FirstOf(bay))
		}
	}},
	{"a frame is tight before its bay is boarded", "tight-before-measured", func(v *View, before func(int, int)) {
		for bay := range v.Layout.Bays {
			before(v.At(v.Run(v.Layout.Bays[bay].Run), "tighten"), v.FirstOf(bay))
		}
	}},
}

var doorFacts = []Fact{
	follow("a leaf's last boards from below", "from-above-then-below", "leaf-from-above", "leaf-from-below"),
	follow("its lowest board is fastened last", "lowest-board-fastened-last", "leaf-from-below", "leaf-lowest"),
	follow("then rollers", "boarded-before-rollers", "leaf-from-above", "rollers"),
	follow("then the track", "rollers-before-track", "rollers", "track"),
	follow("then hang", "track-before-hanging", "track", "hang"),
	follow("then adjust", "hung-before-adjusted", "hang", "adjust"),
	follow("then the handle", "adjusted-before-handle", "adjust", "handle"),
	follow("rollers' nuts are loose until the door hangs level and clear of the wall", "loose-until-level", "adjust", "nuts"),
	{"a door is hung beside walls that are clamped", "walls-before-door", func(v *View, before func(int, int)) {
		for _, i := range v.Ops("hang") {
			for _, bay := range v.Layout.Runs[v.RunOf(i)].Bays {
				before(v.At(v.Bay(bay), "clamp"), i)
			}
		}
	}},
	{"a room is looked over when all is done", "checked-when-done", func(v *View, before func(int, int)) {
		for _, i := range v.Ops("check") {
			for _, k := range v.Ops("handle") {
				if r := v.R.Operations[i].Place.Room; r >= 0 && r == v.R.Operations[k].Place.Room {
					before(k, i)
				}
			}
		}
	}},
}

var groundFacts = []Fact{
	{"nothing stands before it is set out", "set-out-first", func(v *View, before func(int, int)) {
		for _, i := range v.Ops("stand") {
			if v.R.Operations[i].Place.Post >= 0 {
				before(v.At(v.Layout.Structures[v.Structure(i)].Name, "set-out"), i)
			}
		}
	}},
	{"a post stands on its base", "base-before-post", func(v *View, before func(int, int)) {
		for _, role := range []string{"seat", "pour"} {
			for _, i := range v.Ops(role) {
				before(i, v.At(v.PlaceOf(i), "stand"))
			}
		}
	}},
	{"feet are anchored when all stands true", "true-before-anchor", func(v *View, before func(int, int)) {
		for _, i := range v.Ops("anchor") {
			for room := range v.Layout.Rooms {
				if slices.Contains(v.Layout.Rooms[room].Corners, v.R.Operations[i].Place.Post) {
					before(v.At(v.Layout.Rooms[room].Name, "square"), i)
				}
			}
		}
	}},
	{"feet are anchored before boards make a frame heavy", "anchored-before-boards", func(v *View, before func(int, int)) {
		for bay := range v.Layout.Bays {
			for _, p := range v.ends(v.Layout.Bays[bay].Run) {
				if st := v.Stack(bay); len(st) > 0 {
					before(v.At(v.Post(p), "anchor"), st[0])
				}
			}
		}
	}},
}
