package build

import (
	"stallwright/engine/frame"
	"stallwright/engine/job"
	"stallwright/engine/kit"
)

// freeRules order frames on steel posts.
var freeRules = []rule{
	{"posts-before-tubes", "Both posts stand before a tube is bolted between them.", func(b *builder, before func(int, int)) {
		b.each(roleBottom, func(i int, s spot) {
			for _, p := range []int{b.Layout.Runs[s.at].From, b.Layout.Runs[s.at].To} {
				before(b.node(roleStand, atPost(p)), i)
			}
		})
	}},
	{"door-posts-on-bottom-tubes", "A door post stands on its bottom tube.", func(b *builder, before func(int, int)) {
		b.each(roleTop, func(i int, s spot) {
			if d := b.node(roleDoorPosts, s); d >= 0 {
				before(b.node(roleBottom, s), d)
				before(d, i)
			}
		})
	}},
	{"bottom-before-top", "Bottom tubes are bolted before the top tube.", func(b *builder, before func(int, int)) {
		b.each(roleTop, func(i int, s spot) {
			before(b.node(roleBottom, s), i)
		})
	}},
	{"front-first", "A front with its door opening stands first, braced; the back posts follow.", func(b *builder, before func(int, int)) {
		b.each(roleBrace, func(i int, s spot) {
			if s.scope != ofWall {
				return
			}
			own := map[int]bool{}
			for _, r := range b.Layout.Walls[s.at].Runs {
				v := &b.Layout.Runs[r]
				before(first(b.node(roleTop, atRun(r)), b.node(roleBottom, atRun(r))), i)
				own[v.From], own[v.To] = true, true
			}
			for _, r := range b.Layout.Walls[s.at].Runs {
				for _, room := range b.rooms[r] {
					for _, c := range b.Layout.Rooms[room].Corners {
						if !own[c] && !b.onFront(c) {
							before(i, b.node(roleStand, atPost(c)))
						}
					}
				}
			}
		})
	}},
	{"framed-before-square", "A room is squared when all its tubes are in.", func(b *builder, before func(int, int)) {
		b.each(roleSquare, func(i int, s spot) {
			for _, r := range b.around(s.at) {
				before(first(b.node(roleTop, atRun(r)), b.node(roleBottom, atRun(r))), i)
			}
			for _, c := range b.Layout.Rooms[s.at].Corners {
				before(b.node(roleStand, atPost(c)), i)
			}
		})
	}},
	{"square-before-tight", "A room is square before its bolts are tightened.", func(b *builder, before func(int, int)) {
		b.each(roleSquare, func(i int, s spot) {
			for _, r := range b.around(s.at) {
				before(i, b.node(roleTighten, atRun(r)))
			}
		})
	}},
	{"all-tight-before-boards", "Every frame is square and tight before a board is measured for any.", func(b *builder, before func(int, int)) {
		b.framesFirst(before, func(e kit.Ends) bool { return e == kit.EndsShared })
	}},
	{"back-before-sides", "The back wall is boarded before the walls beside it.", func(b *builder, before func(int, int)) {
		b.walls(before, func(r job.WallRole) bool { return r == job.WallBack }, func(r job.WallRole) bool { return r == job.WallSide || r == job.WallDivider })
	}},
	{"sides-before-front", "The walls beside are boarded before the front.", func(b *builder, before func(int, int)) {
		b.walls(before, func(r job.WallRole) bool { return r == job.WallSide || r == job.WallDivider }, func(r job.WallRole) bool { return r == job.WallFront })
	}},
	{"clamps-before-roof", "Roof posts are fixed under the roof when every wall beneath is clamped.", func(b *builder, before func(int, int)) {
		b.each(roleClamped, func(i int, s spot) {
			for _, r := range b.runs[s.at] {
				for _, v := range b.Layout.Runs[r].Bays {
					_, end := b.opening(v)
					before(end, i)
				}
			}
			for _, p := range b.posts[s.at] {
				before(i, b.node(roleRoof, atPost(p)))
			}
		})
	}},
	{"braces-until-roof", "Braces stay until every wall is clamped and the roof posts are fixed.", func(b *builder, before func(int, int)) {
		b.each(roleClamped, func(i int, s spot) {
			u := b.node(roleUnbrace, s)
			before(i, u)
			for _, p := range b.posts[s.at] {
				before(b.node(roleRoof, atPost(p)), u)
			}
		})
	}},
	{"roof-before-track", "A door's track is hung when the walls are clamped, the roof posts fixed and the braces out of the way.", func(b *builder, before func(int, int)) {
		b.each(roleTrack, func(i int, s spot) {
			if v := b.Layout.Bays[s.at].Structure; b.Layout.Structures[v].Kind != frame.Pen {
				before(b.node(roleUnbrace, at(v)), i)
			}
		})
	}},
}

// onFront says whether a front stands on a post.
func (b *builder) onFront(post int) bool {
	for _, r := range b.runsAt(post) {
		if b.Layout.Runs[r].Role == job.WallFront {
			return true
		}
	}
	return false
}

// around are the built runs between two corners of a room.
func (b *builder) around(room int) []int {
	in := map[int]bool{}
	for _, c := range b.Layout.Rooms[room].Corners {
		in[c] = true
	}
	seen := map[int]bool{}
	var out []int
	for _, c := range b.Layout.Rooms[room].Corners {
		for _, r := range b.runsAt(c) {
			if v := &b.Layout.Runs[r]; in[v.From] && in[v.To] && !seen[r] {
				seen[r] = true
				out = append(out, r)
			}
		}
	}
	return out
}

// walls puts the boards of a room's walls of one role before those of another,
// where they stand between steel posts.
func (b *builder) walls(before func(int, int), these, those func(job.WallRole) bool) {
	for i := range b.Layout.Rooms {
		if !b.steelRoom(&b.Layout.Rooms[i]) {
			continue
		}
		runs := b.around(i)
		for _, r := range runs {
			if !these(b.Layout.Runs[r].Role) {
				continue
			}
			for _, o := range runs {
				if !those(b.Layout.Runs[o].Role) {
					continue
				}
				for _, v := range b.Layout.Runs[r].Bays {
					_, end := b.opening(v)
					for _, w := range b.Layout.Runs[o].Bays {
						open, _ := b.opening(w)
						before(end, open)
					}
				}
			}
		}
	}
}
