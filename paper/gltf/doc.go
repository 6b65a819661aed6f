// Package gltf writes the model of a whole job as a binary glTF 2.0 file (GLB),
// as the Khronos specification (glTF 2.0, revision 2.0.1; ISO/IEC 12113:2022)
// has it: a node for every piece, named by its label, under its bay, run and
// structure.
//
// In comes a scene; out come bytes. Lengths are metres, y points up, x east and
// −z north. Each structure stands beside the one before, since each is drawn from
// a zero of its own; its posts, and what they stand on, are its own children.
// Colours are plain and by kind. Pieces of one shape share one mesh.
//
// What always holds: the file is valid; every piece of the job that has a shape
// has one node; the same scene gives the same bytes on every platform.
package gltf

import (
	"bytes"
	"encoding/binary"
	"encoding/json"
	"fmt"

	"stallwright/paper/solid"
)

// Write is a scene as a GLB file.
func Write(s *solid.Scene) ([]byte, error) {
	w := &writer{scene: s, mesh: map[string]int{}, material: map[solid.Kind]int{}}
	w.tree()
	return w.file()
}

// The two chunks of a GLB file (specification, 4.4).
const (
	magic     = 0x46546C67
	chunkJSON = 0x4E4F534A
	chunkBin  = 0x004E4942
)

// file puts header and chunks together, each chunk a multiple of four long.
func (w *writer) file() ([]byte, error) {
	w.doc.Asset = asset{Version: "2.0", Generator: "Stallwright"}
	if w.bin.Len() > 0 {
		w.doc.Buffers = []buffer{{w.bin.Len()}}
	}
	text, err := json.Marshal(&w.doc)
	if err != nil {
		return nil, err
	}
	for len(text)%4 != 0 {
		text = append(text, ' ')
	}
	bin := w.bin.Bytes()
	for len(bin)%4 != 0 {
		bin = append(bin, 0)
	}
	total := 12 + 8 + len(text)
	if len(bin) > 0 {
		total += 8 + len(bin)
	}
	if int64(total) > 1<<32-1 {
		return nil, fmt.Errorf("the model would be %d bytes, more than a GLB file can hold: split the job", total)
	}
	var out bytes.Buffer
	put := func(v ...uint32) {
		for _, n := range v {
			_ = binary.Write(&out, binary.LittleEndian, n) // a buffer takes everything
		}
	}
	put(magic, 2, uint32(total), uint32(len(text)), chunkJSON)
	out.Write(text)
	if len(bin) > 0 {
		put(uint32(len(bin)), chunkBin)
		out.Write(bin)
	}
	return out.Bytes(), nil
}
