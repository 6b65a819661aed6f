package build

import (
	"slices"
	"strings"

	"stallwright/engine/fit"
	"stallwright/engine/frame"
	"stallwright/engine/job"
	"stallwright/engine/kit"
	"stallwright/engine/measure"
	"stallwright/engine/phrase"
)

// channels lags a run's channels to timber: one post, then the opposite.
func (b *builder) channels(r, walk int) {
	v := &b.Layout.Runs[r]
	here := spot{ofRun, r}
	for side, post := range []int{v.From, v.To} {
		code := []string{"left", "right"}[side]
		do := phrase.Of([]string{"build.do-channel", "build.do-channel-opposite"}[side], phrase.With("name", name(v.Name)), phrase.With("post", name(b.Layout.Posts[post].Name)), phrase.With("height", b.near(b.markAt(post, r))))
		i := b.add([]role{roleLagLeft, roleLagRight}[side], Lag, here, stageChannels, walk, do)
		b.piece(i, b.pieceOf(r, code+" channel")...)
		b.hold(i, kit.JointChannel, r, post, 1, 1)
		b.pilot(i)
		b.nodes[i].Check = &Target{What: phrase.Of("build.check-channel-at-mark"), Value: b.markAt(post, r), Least: b.markAt(post, r) - b.mark(), Most: b.markAt(post, r) + b.mark(), Basis: byTape}
		b.nodes[i].Cautions = []phrase.Phrase{phrase.Of("build.caution-sound-post")}
		b.page("channels "+v.Name, phrase.Of("build.step-channels", phrase.With("name", name(v.Name))), i)
	}
}

// markAt is how high above the finished floor a run's datum mark stands on a post.
func (b *builder) markAt(post, run int) measure.Length {
	for _, i := range b.marksAt[post] {
		m, own := &b.Fit.Marks[i], &b.Layout.Runs[run]
		// Where the line steps at a post, it carries a mark for each side.
		if of := &b.Layout.Runs[m.Runs[0]]; of.Datum == own.Datum && of.Drop == own.Drop {
			return m.Height
		}
	}
	return b.Layout.Runs[run].Datum
}

// pilot tells of the holes that an operation's lags want.
func (b *builder) pilot(op int) {
	for i := range b.nodes[op].Bolts {
		u := &b.nodes[op].Bolts[i]
		if f := b.Kit.Fastener(u.Item); f != nil && f.Pilot > 0 {
			b.nodes[op].How = append(b.nodes[op].How, phrase.Of("build.how-pilot", phrase.With("size", phrase.Length(f.Pilot)), phrase.With("depth", phrase.Length(u.Length))))
			b.nodes[op].Tools = append(b.nodes[op].Tools, Tool{"drill-bit", f.Pilot})
			return
		}
	}
}

// mounted puts a frame between standing timber: one end post to the line, the
// frame slid into it, the other end post last.
func (b *builder) mounted(r, walk int) {
	v := &b.Layout.Runs[r]
	here := spot{ofRun, r}
	title, page := b.runTitle("build.step-first-post", r), b.framePage(r)
	ground, up := b.runTitle("build.step-ground", r), b.runTitle("build.step-stand-up", r)
	nm := phrase.With("name", name(v.Name))
	for _, p := range []int{v.From, v.To} {
		b.markPost(p, r, walk)
	}
	b.endPost(r, walk, v.From, "left", rolePostLow, rolePostHigh, "build.do-front-post", page, title)

	i := b.add(roleLayout, Layout, here, stageFrames, walk, phrase.Of("build.do-lay-out-tubes", nm))
	b.piece(i, b.kindOf(r, fit.Tube, nil)...)
	b.page(page+" ground", ground, i)
	if len(v.DoorPosts) > 0 {
		i = b.add(roleDoorPosts, Bolt, here, stageFrames, walk, phrase.Of("build.do-door-posts", nm, phrase.With("n", phrase.Count(len(v.DoorPosts)))))
		b.doorPosts(i, r, 1)
		b.openingCheck(i, r)
		b.page(page+" ground", ground, i)
	}
	i = b.add(roleStand, Stand, here, stageFrames, walk, phrase.Of("build.do-slide-in", nm, phrase.With("post", name(b.Layout.Posts[v.From].Name))))
	b.nodes[i].Cautions = []phrase.Phrase{phrase.Of("build.caution-tips"), phrase.Of("build.caution-hard-hat")}
	b.page(page+" up", up, i)
	b.endPost(r, walk, v.To, "right", roleEndLow, roleEndHigh, "build.do-end-post", page+" up", up)
	i = b.add(roleCorners, Bolt, here, stageFrames, walk, phrase.Of("build.do-bolt-corners", nm))
	b.hold(i, kit.JointFrame, r, -1, 1, 1)
	b.nodes[i].How = []phrase.Phrase{phrase.Of("build.how-hand-tight")}
	b.page(page+" up", up, i)
	b.tighten(r, walk)
}

// doorPosts adds a run's door posts and a half, or all, of what bolts them.
func (b *builder) doorPosts(op, r, parts int) {
	v := &b.Layout.Runs[r]
	b.piece(op, b.kindOf(r, fit.Post, func(p *fit.Piece) bool {
		at, ok := b.Layout.Post(p.Label)
		return ok && b.Layout.Posts[at].Kind == frame.Door
	})...)
	for _, p := range v.DoorPosts {
		b.hold(op, kit.JointDoorPost, r, p, 1, parts)
	}
}

// openingCheck checks a doorway's clear opening, top and bottom.
func (b *builder) openingCheck(op, r int) {
	for _, v := range b.Layout.Runs[r].Bays {
		if bay := &b.Layout.Bays[v]; bay.IsDoor() {
			off := measure.Inch / 8
			b.nodes[op].Check = &Target{What: phrase.Of("build.check-opening", phrase.With("name", name(bay.Name))), Value: bay.Clear, Least: bay.Clear - off, Most: bay.Clear + off, Basis: byPractice}
			return
		}
	}
}

// markPost marks the datum line on two faces of a timber post, carried over from
// the first board of the wall that meets it there.
func (b *builder) markPost(post, r, walk int) {
	here := spot{ofPost, post}
	if b.node(roleMark, here) >= 0 {
		return
	}
	do := phrase.Of("build.do-mark-post", phrase.With("post", name(b.Layout.Posts[post].Name)), phrase.With("height", b.near(b.markAt(post, r))))
	if from := b.wallAt(post); from >= 0 {
		do = phrase.Of("build.do-mark-post-from", phrase.With("post", name(b.Layout.Posts[post].Name)), phrase.With("wall", name(b.Layout.Runs[from].Name)), phrase.With("height", b.near(b.markAt(post, r))))
	}
	i := b.add(roleMark, Mark, here, stageFrames, walk, do)
	b.nodes[i].Check = &Target{What: phrase.Of("build.check-two-faces"), Value: b.markAt(post, r), Least: b.markAt(post, r) - b.mark(), Most: b.markAt(post, r) + b.mark(), Basis: byTape}
	b.page(b.framePage(r), b.runTitle("build.step-first-post", r), i)
}

// wallAt is the first wall between channels that meets a front at a post; -1 for
// none.
func (b *builder) wallAt(post int) int {
	if w := b.wallsAt(post); len(w) > 0 {
		return slices.Min(w)
	}
	return -1
}

// endPost raises one post of a frame to the line and lags it, below, then above.
func (b *builder) endPost(r, walk, post int, code string, below, above role, key, page string, title phrase.Phrase) {
	v := &b.Layout.Runs[r]
	here := spot{ofRun, r}
	args := []phrase.Arg{phrase.With("name", name(v.Name)), phrase.With("post", name(b.Layout.Posts[post].Name)), phrase.With("height", b.near(b.markAt(post, r)))}
	low := b.add(below, Lag, here, stageFrames, walk, phrase.Of(key, args...))
	b.piece(low, b.pieceOf(r, code+" post")...)
	n := max(b.countAt(kit.JointMounted, r, post), 1)
	b.hold(low, kit.JointMounted, r, post, 1, n)
	b.pilot(low)
	b.nodes[low].Check = &Target{What: phrase.Of("build.check-post-at-mark"), Least: -b.mark(), Most: b.mark(), Basis: byTape}
	b.nodes[low].Cautions = []phrase.Phrase{phrase.Of("build.caution-sound-post")}
	high := b.add(above, Lag, here, stageFrames, walk, phrase.Of("build.do-lag-above", args...))
	b.hold(high, kit.JointMounted, r, post, 1, 1)
	b.pilot(high)
	b.plumb(high, v.Height)
	b.page(page, title, low, high)
}

// countAt is how many fasteners hold a joint.
func (b *builder) countAt(kind kit.JointKind, run, post int) int {
	n := 0
	for _, i := range b.needsAt(kind, run, post) {
		if v := &b.Takeoff.Needs[i]; v.Class == kit.ClassFastener {
			n = max(n, v.Count)
		}
	}
	return n
}

// steelPosts stands a structure's steel posts.
func (b *builder) steelPosts(s int) {
	for n, p := range b.posts[s] {
		v := &b.Layout.Posts[p]
		if v.Kind != frame.Steel {
			continue
		}
		i := b.add(roleStand, Stand, spot{ofPost, p}, stageFrames, b.postWalk(s, p, n), phrase.Of("build.do-stand-post", phrase.With("post", name(v.Name)), phrase.With("height", phrase.Length(v.Height))))
		b.piece(i, b.ofPost[v.Name]...)
		b.foot(i, p)
		b.plumb(i, v.Height)
		b.nodes[i].Cautions = []phrase.Phrase{phrase.Of("build.caution-tips"), phrase.Of("build.caution-hard-hat")}
		b.page("posts", phrase.Of("build.step-posts", phrase.With("name", name(b.Layout.Structures[s].Name))), i)
	}
}

// postWalk puts a post beside the first run that stands on it.
func (b *builder) postWalk(s, post, otherwise int) int {
	if at := b.runsAt(post); len(at) > 0 {
		if n, ok := slices.BinarySearch(b.runs[s], slices.Min(at)); ok {
			return n
		}
	}
	return len(b.runs[s]) + otherwise
}

// shared puts a frame between steel posts: bottom tubes, door posts on them, then
// the top tube.
func (b *builder) shared(r, walk int) {
	v := &b.Layout.Runs[r]
	here := spot{ofRun, r}
	title, page := b.runTitle("build.step-frame", r), b.framePage(r)
	nm := phrase.With("name", name(v.Name))
	bottoms := b.kindOf(r, fit.Tube, func(p *fit.Piece) bool { return strings.Contains(p.Label, "/bottom") })
	corners := 2 * len(bottoms)
	if len(v.DoorPosts) > 0 {
		corners = len(bottoms) // the other end is bolted to a door post
	}
	i := b.add(roleBottom, Bolt, here, stageFrames, walk, phrase.Of("build.do-bottom-tubes", nm, phrase.With("n", phrase.Count(len(bottoms)))))
	b.piece(i, bottoms...)
	if corners > 0 {
		b.hold(i, kit.JointFrame, r, -1, corners, corners+2)
	}
	b.nodes[i].How = []phrase.Phrase{phrase.Of("build.how-hand-tight")}
	b.page(page, title, i)
	if len(v.DoorPosts) > 0 {
		i = b.add(roleDoorPosts, Bolt, here, stageFrames, walk, phrase.Of("build.do-door-posts-stand", nm, phrase.With("n", phrase.Count(len(v.DoorPosts)))))
		b.doorPosts(i, r, 2)
		b.page(page, title, i)
	}
	i = b.add(roleTop, Bolt, here, stageFrames, walk, phrase.Of("build.do-top-tube", nm))
	b.piece(i, b.kindOf(r, fit.Tube, nil)...)
	b.hold(i, kit.JointFrame, r, -1, 1, 1)
	for _, p := range v.DoorPosts {
		b.hold(i, kit.JointDoorPost, r, p, 1, 1)
	}
	b.nodes[i].How = []phrase.Phrase{phrase.Of("build.how-hand-tight")}
	b.openingCheck(i, r)
	b.page(page, title, i)
	b.tighten(r, walk)
}

// tighten tightens every bolt of a frame.
func (b *builder) tighten(r, walk int) {
	v := &b.Layout.Runs[r]
	i := b.add(roleTighten, Tighten, spot{ofRun, r}, stageTighten, walk+1, phrase.Of("build.do-tighten", phrase.With("name", name(v.Name)), phrase.With("n", phrase.Count(b.boltCount(r)))))
	b.plumb(i, v.Height)
	b.page("tighten", phrase.Of("build.step-tighten", phrase.With("name", name(b.Layout.Structures[v.Structure].Name))), i)
}

// squares measures the diagonals of every room that stands on steel posts.
func (b *builder) squares(s int) {
	for i := range b.Layout.Rooms {
		room := &b.Layout.Rooms[i]
		if room.Structure != s || len(room.Corners) != 4 || !b.steelRoom(room) {
			continue
		}
		op := b.add(roleSquare, Square, spot{ofRoom, i}, stageTighten, 0, phrase.Of("build.do-square", phrase.With("name", name(room.Name))))
		if g := b.Setout.Structures[s].Grid; g != nil {
			for k := range g.Frames {
				f := &g.Frames[k]
				if b.sameCorners(room, f.Corners) {
					b.nodes[op].Check = diagonals(f.Corners, f.Diagonals[0].Value, f.Tolerance.Value)
				}
			}
		}
		b.page("square", phrase.Of("build.step-square", phrase.With("name", name(b.Layout.Structures[s].Name))), op)
	}
}

// steelRoom says whether all of a room's corners are steel posts.
func (b *builder) steelRoom(room *frame.Room) bool {
	for _, c := range room.Corners {
		if b.Layout.Posts[c].Kind != frame.Steel {
			return false
		}
	}
	return true
}

func (b *builder) sameCorners(room *frame.Room, names [4]string) bool {
	for _, c := range room.Corners {
		found := false
		for _, n := range names {
			found = found || n == b.Layout.Posts[c].Name
		}
		if !found {
			return false
		}
	}
	return true
}

// frames looks at all frames of a structure together once they are tight, and
// braces the fronts of free-standing ones while they go up.
func (b *builder) frames(s int) {
	framed, fronts := 0, map[int]bool{}
	for n, r := range b.runs[s] {
		v := &b.Layout.Runs[r]
		if !v.Framed() {
			continue
		}
		framed++
		if v.Assembly.Ends != kit.EndsShared || v.Role != job.WallFront || fronts[v.Wall] {
			continue
		}
		fronts[v.Wall] = true
		i := b.add(roleBrace, Brace, spot{ofWall, v.Wall}, stageFrames, n, phrase.Of("build.do-brace-wall", phrase.With("name", name(b.Layout.Walls[v.Wall].Name))))
		b.nodes[i].Cautions = []phrase.Phrase{phrase.Of("build.caution-tips")}
		b.page("brace", phrase.Of("build.step-brace", phrase.With("name", name(b.Layout.Walls[v.Wall].Name))), i)
	}
	if framed == 0 {
		return
	}
	nm := phrase.With("name", name(b.Layout.Structures[s].Name))
	i := b.add(roleFrames, Check, spot{ofStructure, s}, stageTighten, 3000, phrase.Of("build.do-look-at-frames", nm))
	b.nodes[i].Check = &Target{What: phrase.Of("build.check-in-line"), Least: -measure.Inch / 8, Most: measure.Inch / 8, Basis: byPractice}
	b.page("tighten", phrase.Of("build.step-tighten", nm), i)
}
