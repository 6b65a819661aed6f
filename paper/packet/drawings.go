package packet

import (
	"fmt"
	"strings"

	"stallwright/engine/plan"
	"stallwright/paper/draw"
	"stallwright/paper/views"
)

// drawingFolder holds the drawings.
const drawingFolder = "drawings"

// PaperError is a paper size nobody prints on.
type PaperError struct{ Name string }

func (e *PaperError) Error() string {
	return fmt.Sprintf("there is no paper %q; choose letter or a4", e.Name)
}

// paperSize reads a paper's name; none leaves the choice to the job's units.
func paperSize(name string) (draw.PaperSize, error) {
	switch strings.ToLower(name) {
	case "":
		return draw.PaperSize{}, nil
	case "letter":
		return draw.Letter, nil
	case "a4":
		return draw.A4, nil
	}
	return draw.PaperSize{}, &PaperError{name}
}

// drawings are the plan views and elevations as SVG.
func drawings(p *plan.Plan, paper string) ([]File, error) {
	size, err := paperSize(paper)
	if err != nil {
		return nil, err
	}
	sheets, err := views.All(p, views.Options{Paper: size})
	if err != nil {
		return nil, err
	}
	files := make([]File, 0, len(sheets))
	for _, s := range sheets {
		files = append(files, File{drawingFolder + "/" + s.Name + ".svg", []byte(s.SVG())})
	}
	return files, nil
}
