package packet

import (
	"stallwright/engine/plan"
	"stallwright/paper/dxf"
	"stallwright/paper/gltf"
	"stallwright/paper/solid"
	"stallwright/paper/views"
	"stallwright/paper/words"
)

// ModelName is the model of the whole job.
const ModelName = "model.glb"

// exchange writes the model of the job, each structure's plan, and its elevations one below the other,
// in true size for other people's drawing programs.
func exchange(p *plan.Plan, w *words.Words) ([]File, error) {
	models, err := views.Models(p, views.Options{Words: w})
	if err != nil {
		return nil, err
	}
	var names []string
	of := map[string][]dxf.View{}
	for _, m := range models {
		if of[m.File] == nil {
			names = append(names, m.File)
		}
		of[m.File] = append(of[m.File], dxf.View{Drawing: m.Drawing, Scale: m.Scale, Title: m.Title})
	}
	var files []File
	for _, name := range names {
		o := dxf.Options{Units: p.Job.Units}
		data, err := dxf.Write(dxf.Column(of[name], o), o)
		if err != nil {
			return nil, err
		}
		files = append(files, File{drawingFolder + "/" + name + ".dxf", data})
	}
	model, err := gltf.Write(solid.Make(p))
	if err != nil {
		return nil, err
	}
	return append(files, File{ModelName, model}), nil
}
