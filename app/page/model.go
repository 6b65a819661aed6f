package page

import (
	"stallwright/paper/gltf"
	"stallwright/paper/solid"
)

// model answers with the whole job in space: a binary glTF, which JSON carries in
// base 64.
func model(a *Asked) (any, error) {
	p, err := a.plan()
	if err != nil {
		return nil, err
	}
	return gltf.Write(solid.Make(p))
}
