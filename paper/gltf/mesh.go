package gltf

import (
	"bytes"
	"encoding/binary"
	"math"

	"stallwright/paper/solid"
)

// addMesh writes the surface of parts: each face with corners of its own, so that
// edges stay sharp.
func (w *writer) addMesh(s *solid.Solid, parts []solid.Part) int {
	m := solid.Surface(parts)
	var position, normal []float32
	var index []uint32
	for i := range m.Faces {
		f := &m.Faces[i]
		nx, ny, nz := float32(f.Normal.X), float32(f.Normal.Z), float32(-f.Normal.Y)
		for _, ring := range f.Convex() {
			first := uint32(len(position) / 3)
			for _, k := range ring {
				v := m.Points[k]
				position = append(position, float32(v.X), float32(v.Z), float32(-v.Y))
				normal = append(normal, nx, ny, nz)
			}
			for k := 2; k < len(ring); k++ {
				index = append(index, first, first+uint32(k-1), first+uint32(k))
			}
		}
	}
	lo, hi := []float64{math.Inf(1), math.Inf(1), math.Inf(1)}, []float64{math.Inf(-1), math.Inf(-1), math.Inf(-1)}
	for i, v := range position {
		if v == 0 {
			position[i] = 0 // never minus nought
		}
		lo[i%3], hi[i%3] = min(lo[i%3], float64(position[i])), max(hi[i%3], float64(position[i]))
	}
	a := attributes{Position: w.floats(position), Normal: w.floats(normal)}
	w.doc.Accessors[a.Position].Min, w.doc.Accessors[a.Position].Max = lo, hi
	w.doc.Meshes = append(w.doc.Meshes, mesh{Primitives: []primitive{{a, w.indices(index, len(position)/3), w.materialOf(s.Kind)}}})
	return len(w.doc.Meshes) - 1
}

// floats writes triples of numbers and returns their accessor.
func (w *writer) floats(v []float32) int {
	var b bytes.Buffer
	b.Grow(4 * len(v))
	_ = binary.Write(&b, binary.LittleEndian, v)
	return w.accessor(b.Bytes(), arrayData, accessor{ComponentType: typeFloat, Count: len(v) / 3, Type: "VEC3"})
}

// indices writes corner numbers, short where they can be.
func (w *writer) indices(v []uint32, points int) int {
	var b bytes.Buffer
	a := accessor{ComponentType: typeInt, Count: len(v), Type: "SCALAR"}
	if points < mostShorts {
		a.ComponentType = typeShort
		short := make([]uint16, len(v))
		for i, n := range v {
			short[i] = uint16(n)
		}
		_ = binary.Write(&b, binary.LittleEndian, short)
	} else {
		_ = binary.Write(&b, binary.LittleEndian, v)
	}
	return w.accessor(b.Bytes(), indexData, a)
}

// accessor keeps bytes in a view of their own, beginning at a multiple of four.
func (w *writer) accessor(data []byte, target int, a accessor) int {
	for w.bin.Len()%4 != 0 {
		w.bin.WriteByte(0)
	}
	w.doc.BufferViews = append(w.doc.BufferViews, bufferView{0, w.bin.Len(), len(data), target})
	w.bin.Write(data)
	a.BufferView = len(w.doc.BufferViews) - 1
	w.doc.Accessors = append(w.doc.Accessors, a)
	return len(w.doc.Accessors) - 1
}
