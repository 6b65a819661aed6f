package gltf

import (
	"bytes"
	"fmt"
	"math"

	"stallwright/engine/frame"
	"stallwright/engine/measure"
	"stallwright/paper/solid"
)

// writer builds one file.
type writer struct {
	scene    *solid.Scene
	doc      document
	bin      bytes.Buffer
	mesh     map[string]int // by shape and material
	material map[solid.Kind]int
}

// apart is left free between structures.
const apart = 3 // metres

// tree makes the nodes: the job, its structures, their runs, bays and pieces.
func (w *writer) tree() {
	p := w.scene.Plan
	root := w.node(node{Name: p.Job.Job})
	w.doc.Scenes = []sceneList{{p.Job.Job, []int{root}}}
	at := 0.0
	bySolid := make([][]int, len(p.Layout.Structures))
	for i := range w.scene.Solids {
		s := &w.scene.Solids[i]
		bySolid[s.Structure] = append(bySolid[s.Structure], i)
	}
	for n := range p.Layout.Structures {
		if len(bySolid[n]) == 0 {
			continue
		}
		lo, hi := math.Inf(1), math.Inf(-1)
		for _, i := range bySolid[n] {
			b := w.scene.Bounds(i)
			lo, hi = min(lo, b.Min.X), max(hi, b.Max.X)
		}
		shift := at - lo
		at += hi - lo + apart
		v := w.node(node{Name: p.Layout.Structures[n].Name, Translation: &[3]float64{micro(shift), 0, 0}})
		w.child(root, v)
		w.structure(v, bySolid[n])
	}
}

// structure adds the solids of one structure under their runs and bays.
func (w *writer) structure(parent int, list []int) {
	p := w.scene.Plan
	runs, bays := map[int]int{}, map[int]int{}
	run := func(r int) int {
		n, ok := runs[r]
		if !ok {
			n = w.node(node{Name: p.Layout.Runs[r].Name})
			runs[r] = n
			w.child(parent, n)
		}
		return n
	}
	for _, i := range list {
		s := &w.scene.Solids[i]
		under := parent
		switch {
		case s.Bay >= 0:
			n, ok := bays[s.Bay]
			if !ok {
				n = w.node(node{Name: p.Layout.Bays[s.Bay].Name})
				bays[s.Bay] = n
				w.child(run(p.Layout.Bays[s.Bay].Run), n)
			}
			under = n
		case s.Run >= 0:
			under = run(s.Run)
		}
		if n, ok := w.solid(s); ok {
			w.child(under, n)
		}
	}
}

func (w *writer) node(n node) int {
	w.doc.Nodes = append(w.doc.Nodes, n)
	return len(w.doc.Nodes) - 1
}

func (w *writer) child(parent, n int) {
	w.doc.Nodes[parent].Children = append(w.doc.Nodes[parent].Children, n)
}

// solid adds the node of one solid. Its shape is written from a corner of its own
// in its own axes, so that pieces of one shape share it.
func (w *writer) solid(s *solid.Solid) (int, bool) {
	if len(s.Parts) == 0 {
		return 0, false
	}
	p := w.scene.Plan
	f := s.Parts[0].Frame
	zero, ok := corner(s)
	if !ok { // its parts have axes of their own
		f = solid.NewFrame(frame.Point{}, frame.Point{X: 1})
	}
	m := w.shape(s, f, zero)
	e := &extras{Item: s.Item, Kind: "hardware"}
	switch {
	case s.Piece >= 0:
		q := &p.Fit.Pieces[s.Piece]
		e.Kind, e.Length = string(q.Kind), int64(q.Length)
	case s.Kind == solid.Timber, s.Kind == solid.Building:
		e.Kind = string(s.Kind)
	}
	n := node{Name: s.Name, Mesh: &m, Extras: e}
	v := f.Place(zero[0].Metres(), zero[1].Metres(), zero[2].Metres())
	if t := [3]float64{micro(v.X), micro(v.Z), micro(-v.Y)}; t != [3]float64{} {
		n.Translation = &t
	}
	n.Rotation = turn(f)
	return w.node(n), true
}

// corner is the least corner of a solid in the axes that all its parts share.
func corner(s *solid.Solid) (out [3]measure.Length, ok bool) {
	f := s.Parts[0].Frame
	for i := range s.Parts {
		p := &s.Parts[i]
		if p.Frame != f {
			return [3]measure.Length{}, false
		}
		lo := p.Corner()
		for k := range lo {
			if i == 0 || lo[k] < out[k] {
				out[k] = lo[k]
			}
		}
	}
	return out, true
}

// turn is a frame's turn about the upright as a quaternion; nil for none.
func turn(f solid.Frame) *[4]float64 {
	v := f.Turn(solid.Vec{X: 1})
	half := math.Sqrt(math.Max(0, (1+v.X)/2))
	s := 1.0
	if half > 1e-9 {
		s = v.Y / (2 * half)
	}
	if n := math.Sqrt(float64(half*half) + float64(s*s)); n > 0 {
		half, s = half/n, s/n
	}
	if s == 0 {
		return nil
	}
	return &[4]float64{0, s, 0, half}
}

// micro rounds metres to a micrometre, which writes short.
func micro(v float64) float64 {
	r := math.Round(v*1e6) / 1e6
	if r == 0 {
		return 0 // never minus nought
	}
	return r
}

// colours of the kinds: plain ones of our own, told apart in grey too.
var colours = map[solid.Kind][4]float64{
	solid.Timber:   {0.46, 0.36, 0.25, 1},
	solid.Lumber:   {0.80, 0.66, 0.43, 1},
	solid.Treated:  {0.55, 0.60, 0.38, 1},
	solid.Steel:    {0.62, 0.65, 0.68, 1},
	solid.Panel:    {0.48, 0.51, 0.55, 1},
	solid.Leaf:     {0.40, 0.47, 0.55, 1},
	solid.Hardware: {0.25, 0.27, 0.30, 1},
	solid.Concrete: {0.74, 0.73, 0.70, 1},
	solid.Building: {0.70, 0.45, 0.40, 1},
}

// materialOf is the number of a kind's material.
func (w *writer) materialOf(k solid.Kind) int {
	n, ok := w.material[k]
	if !ok {
		n = len(w.doc.Materials)
		w.material[k] = n
		w.doc.Materials = append(w.doc.Materials, material{string(k), pbr{colours[k], 0, 0.9}})
	}
	return n
}

// shape is the number of the mesh of a solid seen from a corner of its own.
func (w *writer) shape(s *solid.Solid, f solid.Frame, zero [3]measure.Length) int {
	own := solid.NewFrame(frame.Point{}, frame.Point{X: 1})
	list := make([]solid.Part, len(s.Parts))
	key := fmt.Sprint(s.Kind)
	for i, p := range s.Parts {
		if p.Frame == f {
			p.Prism = p.Prism.Moved(-zero[0], -zero[1], -zero[2])
			p.Frame = own
			key += fmt.Sprint(p.Prism)
		} else {
			key += fmt.Sprint(p.Prism, p.Frame.At, p.Frame.Way)
		}
		list[i] = p
	}
	if n, ok := w.mesh[key]; ok {
		return n
	}
	n := w.addMesh(s, list)
	w.mesh[key] = n
	return n
}
