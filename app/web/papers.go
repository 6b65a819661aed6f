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

// SawMaterial is what is cut of one kind of board or bar. Lengths are whole
// nanometres in fields that end in _nm, and as the job's readers write them beside.
type SawMaterial struct {
	Item     string      `json:"item" doc:"for records of boards cut"`
	Name     string      `json:"name"`
	Treated  bool        `json:"treated"`
	Pieces   int64       `json:"pieces" doc:"wanted in all"`
	Done     int64       `json:"done" doc:"of them, cut right"`
	Boards   int64       `json:"boards" doc:"cut so far, right or wrong"`
	Wrong    int64       `json:"wrong" doc:"of them, with something cut wrong"`
	Again    bool        `json:"again" doc:"the plan was made anew since something was cut"`
	Tickets  []SawTicket `json:"tickets" nullable:"false" doc:"what is left to cut"`
	Buy      []SawLength `json:"buy" nullable:"false" doc:"boards to buy beyond what the plan took"`
	Misfits  []SawPiece  `json:"misfits" nullable:"false" doc:"cut, but the plan wants another length now, or none"`
	Surplus  []SawPiece  `json:"surplus" nullable:"false" doc:"cut once more than wanted"`
	Shortage string      `json:"shortage,omitempty" doc:"why there is no plan for the rest"`
}

// SawLength is how many of a length.
type SawLength struct {
	Length   string `json:"length"`
	LengthNM int64  `json:"length_nm"`
	Count    int64  `json:"count"`
}

// SawPiece is a piece that was cut and does not serve as planned.
type SawPiece struct {
	Record   string `json:"record" doc:"id of the record that tells of it"`
	Label    string `json:"label"`
	Length   string `json:"length" doc:"as it was cut"`
	LengthNM int64  `json:"length_nm"`
	Wanted   string `json:"wanted,omitempty" doc:"as the plan wants it; left out where it wants none"`
	WantedNM int64  `json:"wanted_nm,omitempty"`
}

// SawTicket is boards cut alike.
type SawTicket struct {
	Number   int       `json:"number"`
	Boards   int64     `json:"boards"`
	Length   string    `json:"length" doc:"of each board"`
	LengthNM int64     `json:"length_nm"`
	FromRack bool      `json:"from_rack" doc:"an offcut or a rest on hand, not a bought length"`
	First    string    `json:"first,omitempty" doc:"where the end is squared"`
	FirstNM  int64     `json:"first_nm,omitempty"`
	Marks    []SawMark `json:"marks" nullable:"false" doc:"on the tape, hooked once on the squared end"`
	Keep     string    `json:"keep,omitempty" doc:"what of each board goes on the rack"`
	KeepNM   int64     `json:"keep_nm,omitempty"`
	Label    string    `json:"label,omitempty" doc:"to write on it"`
}

// SawMark is where a piece ends.
type SawMark struct {
	At       string   `json:"at"`
	AtNM     int64    `json:"at_nm"`
	Length   string   `json:"length" doc:"of the piece"`
	LengthNM int64    `json:"length_nm"`
	Labels   []string `json:"labels" nullable:"false" doc:"one for each board"`
}

func (s *Server) readSaw(ctx context.Context, in *OfJob) (*struct {
	Body struct {
		Materials []SawMaterial `json:"materials" nullable:"false" doc:"whose sizes are final"`
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
			Materials []SawMaterial `json:"materials" nullable:"false" doc:"whose sizes are final"`
		}
	}
	out.Body.Materials = []SawMaterial{}
	left, err := made.Remaining(ctx, src.Cuts)
	if err != nil {
		return nil, err
	}
	for i := range left {
		out.Body.Materials = append(out.Body.Materials, sawMaterial(made, &left[i]))
	}
	return &out, nil
}

func sawMaterial(made *making.Made, m *sawing.Material) SawMaterial {
	show := made.Plan.Show
	v := SawMaterial{m.Item, m.Name, m.Treated, m.Pieces, m.Done, m.Boards, m.Wrong, m.Again, []SawTicket{}, []SawLength{}, []SawPiece{}, []SawPiece{}, m.Shortage}
	for _, t := range m.Tickets {
		d := SawTicket{Number: t.Number, Boards: t.Boards, Length: show(t.Length), LengthNM: int64(t.Length), FromRack: t.Rack, FirstNM: int64(t.First), KeepNM: int64(t.Keep), Label: t.Label, Marks: []SawMark{}}
		if t.First > 0 {
			d.First = show(t.First)
		}
		if t.Keep > 0 {
			d.Keep = show(t.Keep)
		}
		for _, k := range t.Marks {
			d.Marks = append(d.Marks, SawMark{show(k.At), int64(k.At), show(k.Length), int64(k.Length), k.Labels})
		}
		v.Tickets = append(v.Tickets, d)
	}
	for _, b := range m.Buy {
		v.Buy = append(v.Buy, SawLength{show(b.Length), int64(b.Length), b.Count})
	}
	pieces := func(list []sawing.Piece) []SawPiece {
		out := []SawPiece{}
		for _, p := range list {
			d := SawPiece{Record: p.Record, Label: p.Label, Length: show(p.Length), LengthNM: int64(p.Length), WantedNM: int64(p.Wanted)}
			if p.Wanted > 0 {
				d.Wanted = show(p.Wanted)
			}
			out = append(out, d)
		}
		return out
	}
	v.Misfits, v.Surplus = pieces(m.Misfits), pieces(m.Surplus)
	return v
}
