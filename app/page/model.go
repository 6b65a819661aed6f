package page

import (
	"stallwright/engine/plan"
	"stallwright/paper/gltf"
	"stallwright/paper/solid"
	"stallwright/paper/steps"
)

// Model is the whole job in space, with when each of its solids comes.
type Model struct {
	GLB   []byte         `json:"glb"`   // binary glTF; JSON carries it in base 64
	Steps []string       `json:"steps"` // titles, in order
	Comes map[string]int `json:"comes"` // name of a solid: with which of the steps, from 0; what stands before is left out
}

func model(a *Asked) (any, error) {
	m := &Model{Steps: []string{}, Comes: map[string]int{}}
	err := a.pictures(func(p *plan.Plan, d *steps.Drawer) (err error) {
		scene := d.Scene()
		for i, step := range d.Comes() {
			name := scene.Solids[i].Name
			if had, ok := m.Comes[name]; step >= 0 && (!ok || step < had) {
				m.Comes[name] = step
			}
		}
		w, err := a.words(p)
		if err != nil {
			return err
		}
		for i := range p.Build.Steps {
			m.Steps = append(m.Steps, w.Say(p.Build.Steps[i].Title))
		}
		m.GLB, err = gltf.Write(solid.Make(p)) // without the props that pictures show
		return err
	})
	return m, err
}
