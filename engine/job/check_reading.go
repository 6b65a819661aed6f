package job

import (
	"fmt"
	"slices"
	"strings"

	"stallwright/engine/document"
	"stallwright/engine/measure"
)

// Bounds on what a reading may state; beyond them it is a slip of the pen.
const (
	mostOff  = 3 * measure.Metre // a post out of line or out of square
	mostLaid = measure.Metre     // base and mats
	mostRod  = 10 * measure.Metre
	// mostFuzz: a tape or rod read worse than this is no tape.
	mostFuzz = measure.Inch
	// steepLean: a post that leans one part in so many falls over.
	steepLean = 5
)

// readings checks what was read between posts and off the rod.
func (c *checker) readings(j *Job) {
	c.layers(j.Floor, "floor")
	if t := j.Tape; t != nil {
		c.fuzz(t.Where, "fixed", "tape", t.Fixed)
	}
	c.fuzz(j.Where, "rod", "", j.Rod)
	for i := range j.Structures {
		s := &j.Structures[i]
		path := fmt.Sprintf("structures[%d]", i)
		c.layers(s.Floor, path+".floor")
		if t := s.Trusses; t != nil {
			c.size(t.Where, "under", path+".trusses", t.Under, true)
		}
	}
	for i := range j.Spots {
		c.spot(&j.Spots[i], fmt.Sprintf("spots[%d]", i))
	}
	for i := range j.Readings {
		c.reading(&j.Readings[i], fmt.Sprintf("readings[%d]", i))
	}
}

func (c *checker) layers(l *Layers, path string) {
	if l == nil {
		return
	}
	for _, v := range []struct {
		key string
		l   measure.Length
	}{{"base", l.Base}, {"mats", l.Mats}} {
		if v.l < 0 || v.l > mostLaid {
			c.r.Add(l.Of(v.key), path+"."+v.key, v.l.String(), "no "+v.key+" is this thick, or thinner than nothing", "what is still to be laid on the ground that was measured, such as 4\"")
		}
	}
}

func (c *checker) fuzz(w document.Where, key, path string, l measure.Length) {
	if w.Has(key) && (l <= 0 || l > mostFuzz) {
		c.r.Add(w.Of(key), strings.TrimPrefix(path+"."+key, "."), l.String(), fmt.Sprintf("a reading is good to something between nothing and %s", mostFuzz), "1/16\" is usual")
	}
}

func (c *checker) spot(s *Spot, path string) {
	c.name(s.Where, path, s.Name, "spot")
	if s.Room != "" && s.Bay != "" {
		c.r.Add(s.Of("bay"), path+".bay", s.Bay, "a spot lies in a room or under a bay, not both", "keep bay: it says more")
	}
	if s.Has("along") && s.Bay == "" {
		c.r.Add(s.Of("along"), path+".along", s.Along.String(), "along says where under a bay a spot lies, but no bay is named", "add bay, or leave along out")
	}
	if s.Has("along") && (s.Along < 0 || s.Along > maxSize) {
		c.r.Add(s.Of("along"), path+".along", s.Along.String(), "no bay reaches this far", "measure from the left post's axis")
	}
	if s.Height.Abs() > maxSize {
		c.r.Add(s.Of("height"), path+".height", s.Height.String(), "a benchmark this far off the job's zero is a slip", "check the unit")
	}
}

// readingKeys says which kinds of reading a key is for.
var readingKeys = []struct {
	key   string
	kinds []ReadingKind
}{
	{"is", []ReadingKind{ReadDistance, ReadDiagonal, ReadOffset}},
	{"between", []ReadingKind{ReadDistance, ReadDiagonal}},
	{"height", []ReadingKind{ReadDistance, ReadDiagonal}},
	{"side", []ReadingKind{ReadOffset}},
	{"off", []ReadingKind{ReadSquare, ReadStraight}},
	{"from", []ReadingKind{ReadLevel}},
	{"rod", []ReadingKind{ReadLevel}},
	{"over", []ReadingKind{ReadPlumb}},
	{"along", []ReadingKind{ReadPlumb}},
	{"across", []ReadingKind{ReadPlumb}},
	{"face", []ReadingKind{ReadPlumb}},
}

// readingNeeds says what a reading of each kind has to state.
var readingNeeds = map[ReadingKind][]string{
	ReadDistance: {"is"}, ReadDiagonal: {"is"}, ReadOffset: {"is"}, ReadLevel: {"from", "rod"}, ReadPlumb: {"over"},
}

// readingExample is a right line of each kind.
var readingExample = map[ReadingKind]string{
	ReadDistance: `{distance: [A.a1, A.a2], is: 11' 6 1/2"}`,
	ReadDiagonal: `{diagonal: [A.a1, A.b2], is: 16' 2 7/8"}`,
	ReadSquare:   `{square: [A.a1, A.a4, A.b1], off: 1/4"}`,
	ReadStraight: `{straight: [A.a2, A.a1, A.a4]}`,
	ReadOffset:   `{offset: [A.a2, A.a1, A.a4], is: 3/8", side: right}`,
	ReadLevel:    `{level: A.a1, from: S1, rod: 4' 3 1/2"}`,
	ReadPlumb:    `{plumb: A.a1, over: 7', along: 1/4", across: -1/8"}`,
}

// reading checks one reading in itself.
func (c *checker) reading(r *Reading, path string) {
	c.time(r.Where, path, r.At)
	kinds, posts := r.kinds()
	if len(kinds) != 1 {
		c.r.Add(r.Pos(), path, "", fmt.Sprintf("a reading is one thing; %d are given here", len(kinds)), "start each with its own dash, as "+readingExample[ReadDistance]+" or "+readingExample[ReadLevel])
		return
	}
	kind := kinds[0]
	for i, p := range posts {
		if slices.Contains(posts[:i], p) {
			c.r.Add(r.Of(fmt.Sprintf("%s[%d]", kind, i)), path+"."+string(kind), p, fmt.Sprintf("the %s names %s twice", kind, p), "which post was the other?")
		}
	}
	for _, b := range readingKeys {
		if r.Has(b.key) && !slices.Contains(b.kinds, kind) {
			c.r.Add(r.Of(b.key), path+"."+b.key, "", fmt.Sprintf("%s does not belong to a reading of %s", b.key, kind), "leave it out; such a reading is written "+readingExample[kind])
		}
	}
	missing := false
	for _, key := range readingNeeds[kind] {
		if !r.Has(key) {
			missing = true
			c.r.Add(r.Pos(), path, "", fmt.Sprintf("a reading of %s states %s", kind, key), "write it as "+readingExample[kind])
		}
	}
	if !missing {
		c.readingValues(r, kind, path)
	}
}

func (c *checker) readingValues(r *Reading, kind ReadingKind, path string) {
	add := func(key, text, message, hint string) {
		c.r.Add(r.Of(key), path+"."+key, text, message, hint)
	}
	switch kind {
	case ReadDistance, ReadDiagonal:
		c.size(r.Where, "is", path, r.Is, true)
		if r.Height < 0 || r.Height > maxHeight {
			add("height", r.Height.String(), "no tape is held at this height", "above the ground, such as 3'")
		}
		if kind == ReadDistance && r.Between == BetweenCorners {
			add("between", string(r.Between), "a distance runs between faces", "faces, axes, outer or same; from corner to corner it is a diagonal")
		}
		if kind == ReadDiagonal && (r.Between == BetweenFaces || r.Between == BetweenSame) {
			add("between", string(r.Between), "a diagonal runs between corners", "corners, axes or outer; between faces it is a distance")
		}
	case ReadOffset:
		if r.Is.Abs() > mostOff {
			add("is", r.Is.String(), "a post this far from the string belongs to another line", "check the unit")
		}
	case ReadSquare, ReadStraight:
		if r.Off.Abs() > mostOff {
			add("off", r.Off.String(), "a post this far off belongs to another line", "check the unit")
		}
	case ReadLevel:
		if strings.TrimSpace(r.From) == "" {
			add("from", r.From, "the set-up has no name", "S1 for the first, S2 once the instrument was moved")
		}
		if r.Rod.Abs() > mostRod {
			add("rod", r.Rod.String(), fmt.Sprintf("no rod is over %s", mostRod), "check the unit")
		}
	case ReadPlumb:
		c.size(r.Where, "over", path, r.Over, true)
		for _, v := range []struct {
			key string
			l   measure.Length
		}{{"along", r.Along}, {"across", r.Across}} {
			if r.Over > 0 && v.l.Abs() > r.Over/steepLean {
				add(v.key, v.l.String(), "a post that leans this far does not stand", "check the unit and the sign")
			}
		}
	}
}
