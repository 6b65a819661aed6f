package job

import (
	"fmt"

	"stallwright/engine/document"
	"stallwright/engine/measure"
)

// structure checks one structure in itself and returns how many rooms or
// sections it has.
func (c *checker) structure(s *Structure, path string) int {
	set := 0
	for _, on := range []bool{s.Pen != nil, s.BarnRow != nil, s.FreeRow != nil, s.FreeBarn != nil, s.FreeForm != nil} {
		if on {
			set++
		}
	}
	if set != 1 {
		c.r.Add(s.Pos(), path, "", fmt.Sprintf("a structure is one thing; %d are given here", set), "start each with its own dash: - pen:, - barn-row:, - free-row:, - free-barn: or - free-form:")
		return 0
	}
	switch {
	case s.Pen != nil:
		return c.pen(s.Pen, path+".pen")
	case s.BarnRow != nil:
		return c.barnRow(s.BarnRow, path+".barn-row")
	case s.FreeRow != nil:
		return c.freeRow(s.FreeRow, path+".free-row", false)
	case s.FreeBarn != nil:
		return c.freeRow(s.FreeBarn, path+".free-barn", true)
	}
	return c.freeForm(s.FreeForm, path+".free-form")
}

func (c *checker) pen(p *Pen, path string) int {
	c.name(p.Where, path, p.Name, "pen")
	c.size(p.Where, "across", path, p.Across, false)
	c.size(p.Where, "section", path, p.Section, false)
	c.height(p.Where, path, p.Height)
	c.fill(p.Fill, path+".fill")
	if p.Across == 0 && p.Sections == 0 {
		c.r.Add(p.Pos(), path, p.Name, "the pen's size is not given", "across: 60', or sections: 16, or either with section: 12'")
	}
	if p.Across != 0 && p.Sections != 0 && p.Section != 0 {
		c.r.Add(p.Of("section"), path+".section", p.Section.String(), "across, sections and section together say the size twice", "leave out the one that should follow from the others")
	}
	if p.Measured != "" && p.Across == 0 {
		c.r.Add(p.Of("measured"), path+".measured", string(p.Measured), "measured says what across means, but across is not given", "add across, or leave measured out")
	}
	if g := p.Gate; g != nil {
		c.size(g.Where, "length", path+".gate", g.Length, false)
		c.front(g.Front, path+".gate.front")
	}
	seen := map[int]bool{}
	for i := range p.Different {
		s := &p.Different[i]
		sp := fmt.Sprintf("%s.different[%d]", path, i)
		c.size(s.Where, "length", sp, s.Length, true)
		c.fill(s.Fill, sp+".fill")
		if seen[s.At] {
			c.r.Add(s.Of("at"), sp+".at", fmt.Sprint(s.At), fmt.Sprintf("section %d is given twice", s.At), "keep one")
		}
		seen[s.At] = true
		if p.Sections != 0 && s.At > p.Sections {
			c.r.Add(s.Of("at"), sp+".at", fmt.Sprint(s.At), fmt.Sprintf("the pen has only %d sections", p.Sections), "a number from 2 to that")
		}
	}
	return max(p.Sections, 1)
}

func (c *checker) barnRow(b *BarnRow, path string) int {
	c.name(b.Where, path, b.Name, "row")
	c.size(b.Where, "depth", path, b.Depth, true)
	c.height(b.Where, path, b.Height)
	facing := b.Rows == Facing
	c.size(b.Where, "aisle", path, b.Aisle, facing)
	if !facing && b.Has("aisle") {
		c.r.Add(b.Of("aisle"), path+".aisle", b.Aisle.String(), "only rows that face each other have an aisle between them", "add rows: facing, or leave aisle out")
	}
	if b.Rows != Facing && b.Rows != BackToBack && len(b.Second) > 0 {
		c.r.Add(b.Of("second"), path+".second", "", "there is no second row", "add rows: facing or rows: back-to-back")
	}
	for _, l := range b.Spacing {
		if l <= 0 || l > maxSize {
			c.r.Add(b.Of("spacing"), path+".spacing", l.String(), "no posts stand this far apart", "centre to centre, such as 12'")
		}
	}
	n := c.rooms(b.Rooms, path+".rooms", false)
	if m := c.rooms(b.Second, path+".second", false); len(b.Second) > 0 && m != n {
		c.r.Add(b.Of("second"), path+".second", "", fmt.Sprintf("the second row takes %d post spacings, the first %d", m, n), "both rows stand between the same posts: add a room (open, passage) or spans")
	}
	if len(b.Spacing) > 1 && len(b.Spacing) != n {
		c.r.Add(b.Of("spacing"), path+".spacing", "", fmt.Sprintf("%d post spacings are given, but the rooms take %d", len(b.Spacing), n), "one spacing for all, or one for each")
	}
	c.front(b.Fronts, path+".fronts")
	c.fills(path, map[string]*Fill{"dividers": b.Divider, "sides": b.Sides, "back": b.Back})
	seen := map[string]bool{}
	for i := range b.Offsets {
		o := &b.Offsets[i]
		op := fmt.Sprintf("%s.offsets[%d]", path, i)
		if seen[o.Post] {
			c.r.Add(o.Of("post"), op+".post", o.Post, fmt.Sprintf("post %s is moved twice", o.Post), "add the two up")
		}
		seen[o.Post] = true
		for key, l := range map[string]measure.Length{"along": o.Along, "across": o.Across} {
			if l.Abs() > 3*measure.Metre {
				c.r.Add(o.Of(key), op+"."+key, l.String(), "a post this far off its place belongs elsewhere in the grid", "state the spacing itself, bay by bay")
			}
		}
	}
	return n * 2
}

func (c *checker) freeRow(f *FreeRow, path string, barn bool) int {
	c.name(f.Where, path, f.Name, "row")
	c.size(f.Where, "width", path, f.Width, true)
	c.size(f.Where, "depth", path, f.Depth, true)
	c.height(f.Where, path, f.Height)
	facing := f.Rows == FacingRow
	c.size(f.Where, "aisle", path, f.Aisle, facing)
	if !facing && (f.Has("aisle") || len(f.Second) > 0) {
		c.r.Add(f.Pos(), path, f.Name, "an aisle or a second row is given, but the row is single", "add rows: facing, or leave them out")
	}
	switch {
	case barn && f.Roof == nil:
		c.r.Add(f.Pos(), path, f.Name, "a free-barn's posts bear a roof, but no roof is given", "add roof with eave and pitch, or make it a free-row")
	case !barn && f.Roof != nil:
		c.r.Add(f.Of("roof"), path+".roof", "", "a free-row bears no roof", "make it a free-barn, or leave roof out")
	case barn:
		c.size(f.Roof.Where, "eave", path+".roof", f.Roof.Eave, true)
		if f.Roof.Pitch.Rise < 0 || f.Roof.Pitch.Run <= 0 || f.Roof.Pitch.Rise > 4*f.Roof.Pitch.Run {
			c.r.Add(f.Roof.Of("pitch"), path+".roof.pitch", f.Roof.Pitch.String(), "no roof has this pitch", "rise over run, as 4/12")
		}
	}
	n := c.rooms(f.Rooms, path+".rooms", true) + c.rooms(f.Second, path+".second", true)
	c.front(f.Fronts, path+".fronts")
	c.fills(path, map[string]*Fill{"dividers": f.Divider, "sides": f.Sides, "back": f.Back})
	return n * 2
}

// rooms checks a row's rooms and returns how many post spacings they take.
func (c *checker) rooms(rooms []Room, path string, free bool) int {
	n := 0
	for i := range rooms {
		r := &rooms[i]
		rp := fmt.Sprintf("%s[%d]", path, i)
		if r.Name != "" {
			c.name(r.Where, rp, r.Name, "room")
		}
		c.size(r.Where, "width", rp, r.Width, false)
		if !free && r.Has("width") {
			c.r.Add(r.Of("width"), rp+".width", r.Width.String(), "a room between standing posts is as wide as they are apart", "state spacing bay by bay, and spans where a room takes more than one")
		}
		if free && r.Has("spans") {
			c.r.Add(r.Of("spans"), rp+".spans", fmt.Sprint(r.Spans), "a free-standing room has no post spacings to take", "state its width")
		}
		if r.Front != nil && r.Front.Span > max(r.Spans, 1) {
			c.r.Add(r.Front.Of("span"), rp+".front.span", fmt.Sprint(r.Front.Span), fmt.Sprintf("the room takes only %d post spacings", max(r.Spans, 1)), "a number from 1 to that")
		}
		c.front(r.Front, rp+".front")
		c.fills(rp, map[string]*Fill{"left": r.Left, "right": r.Right, "back": r.Back})
		n += max(r.Spans, 1)
	}
	return n
}

func (c *checker) freeForm(f *FreeForm, path string) int {
	c.name(f.Where, path, f.Name, "free form")
	c.height(f.Where, path, f.Height)
	posts := map[string]int{}
	for i := range f.Posts {
		p := &f.Posts[i]
		pp := fmt.Sprintf("%s.posts[%d]", path, i)
		if _, twice := posts[p.Name]; twice {
			c.r.Add(p.Of("name"), pp+".name", p.Name, fmt.Sprintf("the post %q is given twice", p.Name), "give each post a name of its own")
		}
		posts[p.Name] = i
		if (p.Timber != nil) == (p.Post != "") {
			c.r.Add(p.Pos(), pp, p.Name, "a post is either standing timber or a steel post of the kit", "timber: 5 1/2 in x 5 1/2 in, or post: with an id")
		}
		if p.X.Abs() > 10*maxSize || p.Y.Abs() > 10*maxSize {
			c.r.Add(p.Of("x"), pp, p.Name, "this post stands too far away", "measure from a zero on the farm")
		}
	}
	for i := range f.Walls {
		w := &f.Walls[i]
		wp := fmt.Sprintf("%s.walls[%d]", path, i)
		c.name(w.Where, wp, w.Name, "wall")
		c.formPosts(w.Where, wp, w.Posts, posts)
		c.fill(w.Fill, wp+".fill")
		for k := range w.Doors {
			d := &w.Doors[k]
			dp := fmt.Sprintf("%s.doors[%d]", wp, k)
			if d.Run > len(w.Posts)-1 {
				c.r.Add(d.Of("run"), dp+".run", fmt.Sprint(d.Run), fmt.Sprintf("the wall has only %d runs", len(w.Posts)-1), "a number from 1 to that")
			}
			c.front(d.Front, dp+".front")
		}
	}
	for i := range f.Rooms {
		r := &f.Rooms[i]
		rp := fmt.Sprintf("%s.rooms[%d]", path, i)
		c.name(r.Where, rp, r.Name, "room")
		c.formPosts(r.Where, rp, r.Posts, posts)
	}
	return len(f.Walls)
}

func (c *checker) formPosts(w document.Where, path string, names []string, posts map[string]int) {
	known := make([]string, 0, len(posts))
	for _, n := range names {
		if _, ok := posts[n]; ok {
			continue
		}
		if len(known) == 0 {
			for k := range posts {
				known = append(known, k)
			}
		}
		hint := "name one of the posts listed above"
		if near, ok := document.Nearest(n, sorted(known)); ok {
			hint = "did you mean " + near + "?"
		}
		c.r.Add(w.Of("posts"), path+".posts", n, fmt.Sprintf("there is no post %q", n), hint)
	}
	for i := 1; i < len(names); i++ {
		if names[i] == names[i-1] {
			c.r.Add(w.Of("posts"), path+".posts", names[i], "a run cannot go from a post to itself", "name two different posts")
		}
	}
}

func (c *checker) front(f *Front, path string) {
	if f == nil {
		return
	}
	if f.Whole != nil && (f.Door != "" || f.Panels != nil || f.Left != nil || f.Right != nil) {
		c.r.Add(f.Pos(), path, "", "a front has either a doorway or one fill for the whole", "leave out whole, or the door and its panels")
	}
	if f.At.Word == "" && f.Has("at") && f.At.From <= 0 {
		c.r.Add(f.Of("at"), path+".at", f.At.From.String(), "a doorway's middle cannot stand at the left post or left of it", "measure from the left post's axis toward the right")
	}
	c.fills(path, map[string]*Fill{"panels": f.Panels, "left": f.Left, "right": f.Right, "whole": f.Whole})
}

func (c *checker) fills(path string, named map[string]*Fill) {
	for _, key := range sortedKeys(named) {
		c.fill(named[key], path+"."+key)
	}
}

// fill refuses what belongs to another kind of fill.
func (c *checker) fill(f *Fill, path string) {
	if f == nil {
		return
	}
	belongs := map[string][]FillKind{
		"grille": {FillGrille, FillFeeder}, "below": {FillGrille, FillFeeder}, "above": {FillGrille, FillFeeder},
		"window": {FillWindow}, "sill": {FillWindow}, "from": {FillWindow},
		"feeder": {FillFeeder}, "hand": {FillFeeder},
	}
	for _, key := range sortedKeys(belongs) {
		if !f.Has(key) {
			continue
		}
		fits := false
		for _, k := range belongs[key] {
			fits = fits || k == f.Kind
		}
		if !fits {
			c.r.Add(f.Of(key), path+"."+key, "", fmt.Sprintf("%s does not belong to a fill of %s", key, f.Kind), "leave it out, or choose another fill")
		}
	}
	c.size(f.Where, "from", path, f.From, false)
}
