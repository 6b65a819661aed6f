package packet

import (
	"fmt"
	"strings"

	"stallwright/engine/plan"
	"stallwright/paper/draw"
	"stallwright/paper/views"
	"stallwright/paper/words"
)

// drawingFolder holds the drawings.
const drawingFolder = "drawings"

// PaperError is a paper size nobody prints on.
type PaperError struct{ Name string }

func (e *PaperError) Error() string {
	return fmt.Sprintf("there is no paper %q; choose letter or a4", e.Name)
}

// PaperOf reads a paper's name, letter or a4; none is a zero size, which leaves
// the choice to the job's units. The error is a PaperError.
func PaperOf(name string) (draw.PaperSize, error) {
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

// Sheets lays the drawings out: for the packet's folder and for its PDF alike.
// The error is a PaperError, or names the drawing that cannot be laid out.
func Sheets(p *plan.Plan, paper string, w *words.Words) ([]views.Sheet, error) {
	size, err := PaperOf(paper)
	if err != nil {
		return nil, err
	}
	return views.All(p, views.Options{Paper: size, Words: w})
}

// drawings are the plan views and elevations as SVG.
func drawings(p *plan.Plan, o Options, w *words.Words) ([]File, error) {
	sheets := o.Sheets
	if sheets == nil {
		var err error
		if sheets, err = Sheets(p, o.Paper, w); err != nil {
			return nil, err
		}
	}
	files := make([]File, 0, len(sheets))
	for _, s := range sheets {
		files = append(files, File{drawingFolder + "/" + s.Name + ".svg", []byte(s.SVG())})
	}
	return files, nil
}
