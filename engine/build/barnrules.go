package build

import (
	"stallwright/engine/job"
	"stallwright/engine/kit"
)

// barnRules order walls and fronts between standing timber.
var barnRules = []rule{
	{"one-channel-then-the-opposite", "A channel is levelled and lagged on one post, then the opposite one to it.", func(b *builder, before func(int, int)) {
		b.each(roleLagRight, func(i int, s spot) { before(b.node(roleLagLeft, s), i) })
	}},
	{"dividing-wall-before-front", "The walls that meet a front stand before the front does.", func(b *builder, before func(int, int)) {
		b.each(rolePostLow, func(i int, s spot) {
			for _, p := range []int{b.Layout.Runs[s.at].From, b.Layout.Runs[s.at].To} {
				for _, r := range b.wallsAt(p) {
					before(b.node(roleLagRight, atRun(r)), i)
					for _, v := range b.Layout.Runs[r].Bays {
						_, end := b.opening(v)
						before(end, i)
					}
				}
			}
		})
	}},
	{"datum-from-first-board", "The datum on a front post is carried over from the first board of the wall that meets it.", func(b *builder, before func(int, int)) {
		b.each(roleMark, func(i int, s spot) {
			for _, r := range b.wallsAt(s.at) {
				for _, v := range b.Layout.Runs[r].Bays {
					open, _ := b.opening(v)
					before(open, i)
				}
			}
		})
	}},
	{"raised-to-the-line", "A front's post is raised to the line on the timber: the line is there before.", func(b *builder, before func(int, int)) {
		b.each(rolePostLow, func(i int, s spot) { before(b.node(roleMark, atPost(b.Layout.Runs[s.at].From)), i) })
		b.each(roleEndLow, func(i int, s spot) { before(b.node(roleMark, atPost(b.Layout.Runs[s.at].To)), i) })
	}},
	{"lagged-below-then-above", "A post is lagged below first, plumbed, then lagged above.", func(b *builder, before func(int, int)) {
		b.each(rolePostHigh, func(i int, s spot) { before(b.node(rolePostLow, s), i) })
		b.each(roleEndHigh, func(i int, s spot) { before(b.node(roleEndLow, s), i) })
	}},
	{"tubes-before-door-posts", "Door posts are bolted to tubes that lie ready.", func(b *builder, before func(int, int)) {
		b.each(roleDoorPosts, func(i int, s spot) { before(b.node(roleLayout, s), i) })
		b.each(roleStand, func(i int, s spot) {
			if s.scope == ofRun && b.Layout.Runs[s.at].Assembly.Ends == kit.EndsMounted && b.node(roleDoorPosts, s) < 0 {
				before(b.node(roleLayout, s), i)
			}
		})
	}},
	{"door-posts-before-standing", "Door posts are on their tubes and bolted before the frame stands.", func(b *builder, before func(int, int)) {
		b.each(roleDoorPosts, func(i int, s spot) { before(i, b.node(roleStand, s)) })
	}},
	{"slid-into-fixed-post", "The frame is slid into a post that is fixed already.", func(b *builder, before func(int, int)) {
		b.each(rolePostHigh, func(i int, s spot) { before(i, b.node(roleStand, s)) })
	}},
	{"end-post-last", "The post at the far end goes on last: before it the frame could not be slid in.", func(b *builder, before func(int, int)) {
		b.each(roleEndLow, func(i int, s spot) { before(b.node(roleStand, s), i) })
	}},
	{"corners-after-end-post", "Corners are bolted when both posts stand.", func(b *builder, before func(int, int)) {
		b.each(roleCorners, func(i int, s spot) { before(b.node(roleEndHigh, s), i) })
	}},
	{"bolted-before-tight", "Every bolt is in before the first is tightened.", func(b *builder, before func(int, int)) {
		b.each(roleTighten, func(i int, s spot) {
			before(first(b.node(roleCorners, s), b.node(roleTop, s), b.node(roleBolt, s)), i)
		})
	}},
	{"fronts-before-their-boards", "All fronts are framed before boards are measured and loaded in any.", func(b *builder, before func(int, int)) {
		b.framesFirst(before, func(e kit.Ends) bool { return e == kit.EndsMounted })
	}},
}

// wallsAt are the walls between channels that meet a front at a post.
func (b *builder) wallsAt(post int) []int {
	var out []int
	for _, r := range b.runsAt(post) {
		if v := &b.Layout.Runs[r]; v.Assembly.Ends == kit.EndsChannel && (v.Role == job.WallDivider || v.Role == job.WallSide) {
			out = append(out, r)
		}
	}
	return out
}

// framesFirst puts the look at all frames of a structure after each of them is
// tight, and before their bays are measured.
func (b *builder) framesFirst(before func(int, int), these func(kit.Ends) bool) {
	b.each(roleFrames, func(i int, s spot) {
		for _, r := range b.runs[s.at] {
			if !these(b.Layout.Runs[r].Assembly.Ends) {
				continue
			}
			before(b.node(roleTighten, atRun(r)), i)
			for _, v := range b.Layout.Runs[r].Bays {
				before(i, b.node(roleMeasure, atBay(v)))
			}
		}
	})
}
