package setout

import (
	"math"
	"math/big"

	"stallwright/engine/finding"
	"stallwright/engine/frame"
	"stallwright/engine/job"
	"stallwright/engine/kit"
	"stallwright/engine/measure"
	"stallwright/engine/phrase"
	"stallwright/engine/reason"
)

// ZeroBench is the Bench of a Field whose heights count from the job's own zero.
const ZeroBench = "the job's zero"

// Height is the ground's height above the benchmark. Why may be nil.
type Height struct {
	Above measure.Length
	Why   *reason.Reason
}

// Place is where something was measured to stand, and who measured it. Only the
// places' relation to each other counts.
type Place struct {
	At     frame.Point
	Source phrase.Phrase
}

// Field is what was read in the field, as plain values.
type Field struct {
	Bench  string            // what heights count from, in words
	Ground map[string]Height // ground as found, by post; a pen's middle by its name and CentreSuffix
	Piers  map[string]Place  // places of a pen's piers, by post
	Laid   map[string]Layer  // what is still to be laid on the ground, by structure
}

// Layer is the thickness of base and mats still to be laid. Walls and posts
// count from the finished floor.
type Layer struct {
	Thick  measure.Length
	Source phrase.Phrase
}

// CentreSuffix after a pen's name is the name of its middle, where the ground
// may be read too.
const CentreSuffix = ".centre"

// PiersOf takes the places of piers that a job holds; the latest of each counts.
func PiersOf(j *job.Job) map[string]Place {
	out := map[string]Place{}
	for i := range j.Piers {
		p := &j.Piers[i]
		out[p.Post] = Place{frame.Point{X: p.X, Y: p.Y}, p.Cite()}
	}
	return out
}

// OnBaseline is a place of the layout as the sheet of a pen gives it: from the
// centre, along the baseline through the gate's middle and to its left. The post
// is any joint of the pen; ok is false where it is none.
func OnBaseline(l *frame.Layout, joint int, at frame.Point) (p frame.Point, ok bool) {
	if l.Posts[joint].Kind != frame.Joint {
		return at, false
	}
	for i := range l.Runs {
		if r := &l.Runs[i]; r.Structure == l.Posts[joint].Structure {
			a, b := l.Posts[r.From].At, l.Posts[r.To].At // the gate, the pen's first run
			return project(at, frame.Point{}, frame.Point{X: (a.X + b.X) / 2, Y: (a.Y + b.Y) / 2}), true
		}
	}
	return at, false
}

// Make sets a layout out. The layout must come from the same job and kit.
func Make(j *job.Job, k *kit.Kit, l *frame.Layout, f Field) *Result {
	m := &maker{job: j, kit: k, layout: l, field: f, out: &Result{}, tape: measure.TapeSixteenth}
	if j.Units == measure.Metric {
		m.tape = measure.TapeMillimetre
	}
	m.sort()
	for i := range l.Structures {
		s := &l.Structures[i]
		o := Structure{Name: s.Name, Kind: s.Kind}
		switch s.Kind {
		case frame.Pen:
			m.pen(i, &o)
		case frame.FreeRow, frame.FreeBarn:
			m.grid(i, &o)
		case frame.BarnRow:
			m.fronts(i, &o)
		case frame.FreeForm:
			m.fronts(i, &o)
			m.free(i, &o)
		}
		m.ground(i, &o)
		m.bases(i, &o)
		m.out.Structures = append(m.out.Structures, o)
	}
	return m.out
}

// maker holds what every part needs.
type maker struct {
	job    *job.Job
	kit    *kit.Kit
	layout *frame.Layout
	field  Field
	out    *Result
	tape   measure.Tape
	posts  [][]int // steel posts and joints of each structure
	rooms  [][]int // rooms of each structure
}

// sort lists what belongs to each structure, once.
func (m *maker) sort() {
	n := len(m.layout.Structures)
	m.posts, m.rooms = make([][]int, n), make([][]int, n)
	for i := range m.layout.Posts {
		if p := &m.layout.Posts[i]; p.Kind == frame.Steel || p.Kind == frame.Joint {
			m.posts[p.Structure] = append(m.posts[p.Structure], i)
		}
	}
	for i := range m.layout.Rooms {
		s := m.layout.Rooms[i].Structure
		m.rooms[s] = append(m.rooms[s], i)
	}
}

// show writes a length to the nearest mark of the tape, as the sheets do.
func (m *maker) show(l measure.Length) string {
	return m.tape.Show(m.tape.Round(l, measure.Nearest))
}

// of is a number worked out from others.
func (m *maker) of(v measure.Length, what, rule, source phrase.Phrase, from ...*reason.Reason) Number {
	return Number{v, reason.Of(what, m.near(v), rule, source, from...)}
}

// given is a number somebody stated.
func (m *maker) given(v measure.Length, what, source phrase.Phrase) Number {
	return Number{v, reason.Given(what, m.near(v), source)}
}

// groundAt is the ground at a place whose height was read.
func (m *maker) groundAt(name string) Number {
	h := m.field.Ground[name]
	if h.Why == nil {
		return m.given(h.Above, phrase.Of("why.ground-above", called("post", name), m.bench()), phrase.Of("source.levelled"))
	}
	return Number{h.Above, h.Why}
}

func (m *maker) name(post int) string { return m.layout.Posts[post].Name }

func (m *maker) find(code finding.Code, severity finding.Severity, place, message, source string, choices ...phrase.Phrase) {
	m.out.Findings = append(m.out.Findings, finding.Finding{Code: code, Severity: severity, Place: place, Message: message, Choices: choices, Source: source})
}

// kitSource names a place in the kit, with its line where that is known.
func (m *maker) kitSource(what string, line int) phrase.Phrase { return m.kit.Line(what, line) }

// project is where p lies along and to the left of the line from a to b, to the
// nearest nanometre.
func project(p, a, b frame.Point) frame.Point {
	d, v := p.Sub(a), b.Sub(a)
	if v.Y == 0 && v.X > 0 {
		return d
	}
	return frame.Point{X: over(d.X, v.X, d.Y, v.Y, v), Y: over(v.X, d.Y, -v.Y, d.X, v)}
}

// over is (a·b + c·d) / |v|, to the nearest nanometre.
func over(a, b, c, d measure.Length, v frame.Point) measure.Length {
	mul := func(x, y measure.Length) *big.Int {
		return new(big.Int).Mul(big.NewInt(int64(x)), big.NewInt(int64(y)))
	}
	// The root is taken of 10¹⁸ times the square, so that it is right to nine
	// more digits than a nanometre.
	scale := big.NewInt(1_000_000_000)
	square := new(big.Int).Add(mul(v.X, v.X), mul(v.Y, v.Y))
	root := new(big.Int).Sqrt(square.Mul(square, new(big.Int).Mul(scale, scale)))
	top := new(big.Int).Add(mul(a, b), mul(c, d))
	return measure.Length(nearest(top.Mul(top, scale), root))
}

// nearest is a/b to the nearest whole number, a half going away from zero; the
// most or least an int64 holds where that is beyond it.
func nearest(a, b *big.Int) int64 {
	n := new(big.Int).Mul(new(big.Int).Abs(a), big.NewInt(2))
	n.Add(n, b)
	n.Quo(n, new(big.Int).Mul(b, big.NewInt(2)))
	if !n.IsInt64() {
		n.SetInt64(math.MaxInt64)
	}
	if a.Sign() < 0 {
		n.Neg(n)
	}
	return n.Int64()
}
