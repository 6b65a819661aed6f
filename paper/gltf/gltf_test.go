package gltf_test

import (
	"bytes"
	"encoding/json"
	"path/filepath"
	"testing"

	"stallwright/checks"
	"stallwright/engine/plan/plantest"
	"stallwright/paper/gltf"
	"stallwright/paper/solid"
)

// report is what the Khronos glTF validator says (github.com/KhronosGroup/
// glTF-Validator, by its npm package).
type report struct {
	Issues struct {
		NumErrors, NumWarnings int
		Messages               []struct{ Code, Message, Pointer string }
	}
	Info struct {
		TotalTriangleCount int
		DrawCallCount      int
	}
	Names   []string
	Parents []int
}

// The Khronos validator finds neither errors nor warnings in the model of any
// example, and each piece with a shape is one node under its bay or run.
func TestValid(t *testing.T) {
	files, _ := filepath.Glob(filepath.Join("..", "..", "examples", "*.yaml"))
	if len(files) < 5 {
		t.Fatalf("only %d examples", len(files))
	}
	for _, f := range files {
		t.Run(filepath.Base(f), func(t *testing.T) {
			p := plantest.File(t, f)
			s := solid.Make(p)
			data, err := gltf.Write(s)
			if err != nil {
				t.Fatal(err)
			}
			again, err := gltf.Write(solid.Make(p))
			if err != nil || !bytes.Equal(data, again) {
				t.Errorf("written twice with two results (%v)", err)
			}
			var r report
			if err := json.Unmarshal(checks.Node(t, "gltf.mjs", data), &r); err != nil {
				t.Fatal(err)
			}
			if r.Issues.NumErrors != 0 || r.Issues.NumWarnings != 0 {
				t.Errorf("%d errors, %d warnings: %+v", r.Issues.NumErrors, r.Issues.NumWarnings, r.Issues.Messages)
			}
			if r.Info.TotalTriangleCount < 1000 {
				t.Errorf("only %d triangles", r.Info.TotalTriangleCount)
			}
			count := map[string]int{}
			at := map[string]int{}
			for i, n := range r.Names {
				count[n]++
				at[n] = i
			}
			for i := range p.Fit.Pieces {
				v := &p.Fit.Pieces[i]
				want := 1
				if s.OfPiece(i) < 0 {
					want = 0
				}
				if count[v.Label] != want {
					t.Errorf("%s is the name of %d nodes, want %d", v.Label, count[v.Label], want)
				}
				if want == 1 && v.Bay >= 0 {
					if up := r.Names[r.Parents[at[v.Label]]]; up != p.Layout.Bays[v.Bay].Name {
						t.Errorf("%s stands under %s, want %s", v.Label, up, p.Layout.Bays[v.Bay].Name)
					}
				}
			}
			t.Logf("%d bytes, %d nodes, %d triangles", len(data), len(r.Names), r.Info.TotalTriangleCount)
		})
	}
}
