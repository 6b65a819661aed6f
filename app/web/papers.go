package web

import (
	"context"
	"mime"
	"net/http"
	"path"
	"strings"

	"github.com/danielgtaylor/huma/v2"

	"stallwright/app/making"
	"stallwright/app/sawing"
	"stallwright/paper/packet"
)

// FileHead is a file of the packet.
type FileHead struct {
	Name  string `json:"name"`
	Type  string `json:"type"`
	Bytes int    `json:"bytes"`
}

// DrawingHead is a drawing; its picture is the file of its name.
type DrawingHead struct {
	Name  string `json:"name" doc:"for read-file"`
	Title string `json:"title"`
}

type OfPlan struct {
	OfJob
	Revision int64 `query:"revision" minimum:"0" maximum:"1000000000" doc:"the latest where left out"`
}

type OnPaper struct {
	OfPlan
	Paper    string `query:"paper" enum:"letter,a4" doc:"the usual one of the job's units where left out"`
	Language string `query:"language" maxLength:"20" doc:"of what the crew reads: en, es; the job's own where left out"`
}

func (o *OnPaper) paper() making.Paper { return making.Paper{Size: o.Paper, Language: o.Language} }

func (s *Server) handlePapers() {
	unplanned := answers[Mistakes](s, http.StatusUnprocessableEntity, "The job cannot be planned as it is")
	op(s, "read-plan", s.readPlan, file("application/json"), unplanned)
	op(s, "list-files", s.listFiles, unplanned)
	op(s, "read-file", s.readFile, file("application/json", "application/pdf", "image/svg+xml", "text/plain", "text/csv", "application/octet-stream"), unplanned)
	op(s, "read-packet", s.readPacket, file("application/zip"), unplanned)
	op(s, "list-drawings", s.listDrawings, unplanned)
	op(s, "read-saw", s.readSaw, unplanned)
}

func (s *Server) made(ctx context.Context, in *OfPlan) (*making.Made, error) {
	src, err := s.source(ctx, in.Job, in.Revision)
	if err != nil {
		return nil, err
	}
	return s.maker.Make(ctx, src)
}

// again is for what must be asked for anew each time, and need not be sent anew.
const again = "private, no-cache"

type planOut struct {
	Status int
	Type   string `header:"Content-Type"`
	Policy string `header:"Content-Security-Policy"`
	Cache  string `header:"Cache-Control"`
	ETag   string `header:"ETag"`
	Body   []byte
}

func (s *Server) readPlan(ctx context.Context, in *struct {
	OfPlan
	IfNoneMatch string `header:"If-None-Match" maxLength:"100" doc:"ETag of the plan one has"`
}) (*planOut, error) {
	src, err := s.source(ctx, in.Job, in.Revision)
	if err != nil {
		return nil, err
	}
	out := &planOut{Status: http.StatusOK, Type: "application/json", Cache: again, ETag: quoted(src.Key()), Policy: filePolicy}
	if in.IfNoneMatch != "" && unquoted(in.IfNoneMatch) == src.Key() {
		out.Status = http.StatusNotModified
		return out, nil
	}
	made, err := s.maker.Make(ctx, src)
	if err != nil {
		return nil, err
	}
	out.Body = made.JSON
	return out, nil
}

func (s *Server) listFiles(ctx context.Context, in *OnPaper) (*struct {
	Body struct {
		Files []FileHead `json:"files" nullable:"false"`
	}
}, error) {
	files, _, err := s.files(ctx, in)
	if err != nil {
		return nil, err
	}
	var out struct {
		Body struct {
			Files []FileHead `json:"files" nullable:"false"`
		}
	}
	out.Body.Files = []FileHead{}
	for _, f := range files {
		out.Body.Files = append(out.Body.Files, FileHead{f.Name, mediaType(f.Name), len(f.Data)})
	}
	return &out, nil
}

func (s *Server) files(ctx context.Context, in *OnPaper) ([]packet.File, *making.Made, error) {
	made, err := s.made(ctx, &in.OfPlan)
	if err != nil {
		return nil, nil, err
	}
	files, err := made.Files(ctx, in.paper())
	return files, made, err
}

// mediaType is a packet file's type by its name.
func mediaType(name string) string {
	switch path.Ext(name) {
	case ".json":
		return "application/json"
	case ".svg":
		return "image/svg+xml"
	case ".pdf":
		return "application/pdf"
	case ".csv":
		return "text/csv; charset=utf-8"
	case ".txt":
		return "text/plain; charset=utf-8"
	}
	return "application/octet-stream"
}

// disposition names a file for saving. Only pictures and PDF open in place.
func disposition(name string) string {
	kind := "attachment"
	if ext := path.Ext(name); ext == ".svg" || ext == ".pdf" || ext == ".txt" {
		kind = "inline"
	}
	return mime.FormatMediaType(kind, map[string]string{"filename": path.Base(name)})
}

func (s *Server) readFile(ctx context.Context, in *struct {
	OnPaper
	Name string `query:"name" required:"true" maxLength:"300" doc:"as in list-files"`
}) (*FileOut, error) {
	if svg, ok := strings.CutPrefix(in.Name, "drawings/"); ok {
		// Without making the rest of the packet.
		made, err := s.made(ctx, &in.OfPlan)
		if err != nil {
			return nil, err
		}
		drawings, err := made.Drawings(ctx, in.paper())
		if err != nil {
			return nil, err
		}
		for _, d := range drawings {
			if d.Name+".svg" == svg {
				return &FileOut{mediaType(svg), disposition(svg), filePolicy, again, quoted(made.Key), d.SVG}, nil
			}
		}
	}
	files, made, err := s.files(ctx, &in.OnPaper)
	if err != nil {
		return nil, err
	}
	for _, f := range files {
		if f.Name == in.Name {
			return &FileOut{mediaType(f.Name), disposition(f.Name), filePolicy, again, quoted(made.Key), f.Data}, nil
		}
	}
	return nil, huma.Error404NotFound("the packet holds no file of that name; list-files names them")
}

func (s *Server) readPacket(ctx context.Context, in *OnPaper) (*FileOut, error) {
	files, made, err := s.files(ctx, in)
	if err != nil {
		return nil, err
	}
	data, err := making.Zip(files)
	if err != nil {
		return nil, err
	}
	return &FileOut{"application/zip", disposition(in.Job + "-packet.zip"), filePolicy, again, quoted(made.Key), data}, nil
}

func (s *Server) listDrawings(ctx context.Context, in *OnPaper) (*struct {
	Body struct {
		Drawings []DrawingHead `json:"drawings" nullable:"false"`
	}
}, error) {
	made, err := s.made(ctx, &in.OfPlan)
	if err != nil {
		return nil, err
	}
	list, err := made.Drawings(ctx, in.paper())
	if err != nil {
		return nil, err
	}
	var out struct {
		Body struct {
			Drawings []DrawingHead `json:"drawings" nullable:"false"`
		}
	}
	out.Body.Drawings = []DrawingHead{}
	for _, d := range list {
		out.Body.Drawings = append(out.Body.Drawings, DrawingHead{"drawings/" + d.Name + ".svg", d.Title})
	}
	return &out, nil
}

func (s *Server) readSaw(ctx context.Context, in *OfJob) (*struct {
	Body struct {
		Materials []sawing.SawMaterial `json:"materials" nullable:"false" doc:"whose sizes are final"`
	}
}, error) {
	src, err := s.source(ctx, in.Job, 0)
	if err != nil {
		return nil, err
	}
	made, err := s.maker.Make(ctx, src)
	if err != nil {
		return nil, err
	}
	var out struct {
		Body struct {
			Materials []sawing.SawMaterial `json:"materials" nullable:"false" doc:"whose sizes are final"`
		}
	}
	out.Body.Materials = []sawing.SawMaterial{}
	left, err := made.Remaining(ctx, src.Cuts)
	if err != nil {
		return nil, err
	}
	for i := range left {
		out.Body.Materials = append(out.Body.Materials, left[i].Shown(made.Plan.Show))
	}
	return &out, nil
}
