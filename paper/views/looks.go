package views

import (
	"fmt"
	"strings"
)

// looks is everything that shows in the elevation of a single run, names left
// out: runs that look alike may share a sheet.
func (t *tables) looks(run int) string {
	l, r := t.Layout, &t.Layout.Runs[run]
	var b strings.Builder
	put := func(v ...any) { fmt.Fprintln(&b, v...) }
	put(r.Structure, r.Role, r.Assembly.ID, r.Height, r.Datum, r.Zone, r.Centres, r.Clear, r.Ends[0].Reach, r.Ends[1].Reach)
	for _, post := range append([]int{r.From, r.To}, r.DoorPosts...) {
		p := &l.Posts[post]
		put(p.Kind, l.Seen(post, run), p.Height, t.marks[markAt{post, run}])
	}
	for _, i := range t.steel[run] {
		p := &t.Fit.Pieces[i]
		put(p.Kind, p.Item, p.Length, p.Z)
	}
	for _, v := range r.Bays {
		t.bayLooks(put, v)
	}
	return b.String()
}

func (t *tables) bayLooks(put func(...any), v int) {
	b, f := &t.Layout.Bays[v], &t.Fit.Bays[v]
	put(strings.TrimPrefix(b.Name, t.Layout.Runs[b.Run].Name), b.Fill.Kind, b.Start, b.Clear, b.Hinge, f.State, f.Clear, len(f.Courses), t.clamps[b.Name], t.faults(v))
	for _, i := range f.Pieces {
		p := t.Fit.Pieces[i]
		put(p.Kind, p.Item, p.Course, p.Length, p.Made, p.Height, p.X, p.Z, p.Treated, p.Ripped, p.Below, p.Notches)
	}
	for _, o := range t.crosses[v] {
		put(o.What, o.Face, o.Into, o.X, o.Width, o.Z, o.Height)
	}
	if f.Taper != nil {
		put(f.Taper.Courses, f.Taper.Shimmed, f.Taper.Right, f.Taper.Shims)
	}
	if g := f.Grille; g != nil {
		put(g.Grille.ID, g.Trim, g.X, g.Width)
	}
	if d := f.Door; d != nil {
		put(d.Door.ID, d.Gap, d.Stem, d.Lap)
		if d.Track != nil {
			x := t.line[b.Run] // tracks count from the wall's first post
			put(d.Track.Length, d.Track.X[0]-x, d.Track.X[1]-x, d.Track.Parked[0]-x)
		}
	}
}
