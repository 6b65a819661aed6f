package site

import (
	"cmp"
	"slices"

	"stallwright/engine/kit"
	"stallwright/engine/measure"
)

// wallGap is the most that is left under the lowest board of a horse's wall, so
// that no hoof and no foal's leg goes under: common practice, no published source;
// under 3 in is the published advice for doors (Penn State Extension, Horse Stall
// Design; second-hand). A kit whose own datum is higher is taken at its word.
const wallGap = 3 * measure.Inch

// Gap is what a line leaves under the lowest board, or leaf, of one bay.
type Gap struct {
	Bay       int
	Line      int               // in Lines
	Ends      [2]measure.Length // under its left and right end
	Least     measure.Length
	Most      measure.Length
	Low, High measure.Length // finished floor under the bay, lowest and highest
	Allowed   measure.Length // none for sliding leaves, whose stems fit settles, and where no horse stands
	// What closes a gap that is too wide: Fill raises the floor where it is lowest;
	// Skirt is a board under the lowest one, this high at its left and right end.
	Fill  measure.Length
	Skirt [2]measure.Length
	// Skirted says that the job has the skirt put in: Ends, Least and Most are then
	// what is left under it.
	Skirted bool
}

// Wide says whether the gap would let a hoof or a foal's leg under.
func (g *Gap) Wide() bool { return g.Allowed > 0 && g.Most > g.Allowed }

// station is a known floor along a run.
type station struct {
	x     measure.Length // from the left post's axis
	floor measure.Length
}

// stations are the known floors along a run, from left to right: its posts, its
// door posts, and the spots under it.
func (s *Site) stations(run int) []station {
	r := &s.lay.Runs[run]
	var out []station
	post := func(i int, x measure.Length) {
		if at := s.floorAt(i); at >= 0 {
			out = append(out, station{x, s.Levels[at].Finished})
		}
	}
	post(r.From, 0)
	post(r.To, r.Centres)
	for _, b := range r.Bays {
		v := &s.lay.Bays[b]
		for k, e := range v.Ends {
			if e.Post != r.From && e.Post != r.To {
				x := r.Ends[0].Reach + v.Start
				if k == 1 {
					x += v.Clear
				}
				post(e.Post, x)
			}
		}
	}
	for i := range s.Levels {
		v := &s.Levels[i]
		if v.Spot < 0 || !v.Known {
			continue
		}
		spot := &s.job.Spots[v.Spot]
		if spot.Bay == "" || s.runOf(spot.Bay) != run {
			continue
		}
		x := spot.Along
		if !spot.Has("along") {
			x = r.Centres / 2
			if b, ok := s.lay.Bay(spot.Bay); ok {
				x = r.Ends[0].Reach + s.lay.Bays[b].Start + s.lay.Bays[b].Clear/2
			}
		}
		out = append(out, station{x, v.Finished})
	}
	slices.SortStableFunc(out, func(a, b station) int { return cmp.Compare(a.x, b.x) })
	return out
}

// floorBetween is the floor at x between stations: straight from one to the next,
// level beyond the last.
func floorBetween(list []station, x measure.Length) measure.Length {
	for i, b := range list {
		switch {
		case x <= b.x && (i == 0 || x == b.x):
			return b.floor
		case x < b.x:
			a := list[i-1]
			rise, _ := measure.MulDiv(int64(b.floor-a.floor), int64(x-a.x), int64(b.x-a.x), measure.Nearest)
			return a.floor + measure.Length(rise)
		}
	}
	return list[len(list)-1].floor
}

// gaps works out what the lines leave under each filled bay whose posts' floors
// are both known.
func (s *Site) gaps(structure, first int) {
	for i := range s.lay.Bays {
		b := &s.lay.Bays[i]
		r := &s.lay.Runs[b.Run]
		if b.Structure != structure || b.IsOpen() || s.floorAt(r.From) < 0 || s.floorAt(r.To) < 0 {
			continue
		}
		line := s.lineOf(b.Run, first)
		list := s.stations(b.Run)
		left := r.Ends[0].Reach + b.Start
		ends := [2]measure.Length{floorBetween(list, left), floorBetween(list, left+b.Clear)}
		g := Gap{Bay: i, Line: line, Low: min(ends[0], ends[1]), High: max(ends[0], ends[1])}
		for _, v := range list {
			if v.x >= left && v.x <= left+b.Clear {
				g.Low, g.High = min(g.Low, v.floor), max(g.High, v.floor)
			}
		}
		under := s.Lines[line].Height
		if b.IsDoor() {
			under = s.leafBottom(i, line)
		}
		g.Ends = [2]measure.Length{under - ends[0], under - ends[1]}
		g.Least, g.Most = under-g.High, under-g.Low
		if s.skirted(b.Name) {
			s.close(&g, s.Lines[line].Datum)
			g.Skirted = true
			g.behind(list, left, b.Clear, under)
		}
		if sliding := b.IsDoor() && b.Door.Kind == kit.Sliding; !sliding && s.horse[b.Run] {
			g.Allowed = max(wallGap, s.Lines[line].Datum)
		}
		if g.Wide() && !g.Skirted {
			s.close(&g, s.Lines[line].Datum)
		}
		s.Gaps = append(s.Gaps, g)
	}
}

// skirted says whether the job closes a bay's gap with a board.
func (s *Site) skirted(bay string) bool {
	if s.job.Datum == nil {
		return false
	}
	for i := range s.job.Datum.Skirts {
		if s.job.Datum.Skirts[i].Bay == bay {
			return true
		}
	}
	return false
}

// behind takes the gap's skirt off it, at both ends and at every known floor
// between; it runs straight from end to end.
func (g *Gap) behind(list []station, left, clear, under measure.Length) {
	at := func(x measure.Length) measure.Length {
		rise, _ := measure.MulDiv(int64(g.Skirt[1]-g.Skirt[0]), int64(x-left), int64(max(clear, 1)), measure.Nearest)
		return g.Skirt[0] + measure.Length(rise)
	}
	g.Ends = [2]measure.Length{g.Ends[0] - g.Skirt[0], g.Ends[1] - g.Skirt[1]}
	g.Least, g.Most = min(g.Ends[0], g.Ends[1]), max(g.Ends[0], g.Ends[1])
	for _, v := range list {
		if v.x >= left && v.x <= left+clear {
			rest := under - v.floor - at(v.x)
			g.Least, g.Most = min(g.Least, rest), max(g.Most, rest)
		}
	}
}

// leafBottom is the underside of a swing leaf; of a sliding one, whose stems are
// set to the floor by fit, the line itself.
func (s *Site) leafBottom(bay, line int) measure.Length {
	d := s.lay.Bays[bay].Door
	if d.Hinge == nil {
		return s.Lines[line].Height
	}
	return s.Lines[line].Height - s.Lines[line].Datum + d.Hinge.FloorGap
}

// close works out what closes a gap that is too wide.
func (s *Site) close(g *Gap, datum measure.Length) {
	g.Fill = (g.Most - g.Allowed).Round(s.tape.Mark, measure.Up)
	if s.lay.Bays[g.Bay].IsDoor() {
		return
	}
	for k := range g.Skirt {
		g.Skirt[k] = max(0, g.Ends[k]-datum).Round(s.tape.Mark, measure.Down)
	}
}
