package web

import (
	"bytes"
	_ "embed"
	"html/template"
	"net/http"
	"strings"

	"stallwright/app/making"
)

//go:embed share/page.html
var sharePage string

//go:embed share/share.css
var shareStyle []byte

var shareTemplate = template.Must(template.New("share").Parse(sharePage))

// shared is what a customer's page shows.
type shared struct {
	Title, Farm, Place, Changed, By, Language string
	Revision                                  int64
	Drawings                                  []sharedDrawing
}

type sharedDrawing struct{ Title, Address string }

// seeJob shows a customer the drawings of the one job their link is for.
func (s *Server) seeJob(w http.ResponseWriter, r *http.Request) {
	link := asking(r.Context()).Link
	j, err := s.store.Job(r.Context(), link.Job)
	if err != nil {
		s.failShare(w, r, err)
		return
	}
	v := shared{Title: j.Title, Farm: j.Farm, Revision: j.Revision, Changed: strings.SplitN(j.Changed, "T", 2)[0], By: link.Account, Language: "en"}
	if v.By == thisMachine {
		v.By = "the office"
	}
	made, drawings, err := s.sharedDrawings(r, link.Job)
	if _, cannot := making.ProblemsOf(err); err != nil && !cannot {
		s.failShare(w, r, err)
		return
	}
	if made != nil {
		v.Place = made.Plan.Job.Farm.Place
		for _, d := range drawings {
			v.Drawings = append(v.Drawings, sharedDrawing{d.Title, "/share/" + r.PathValue("token") + "/" + d.Name + ".svg"})
		}
	}
	var buf bytes.Buffer
	if err := shareTemplate.Execute(&buf, v); err != nil {
		s.failShare(w, r, err)
		return
	}
	w.Header().Set("Content-Type", "text/html; charset=utf-8")
	_, _ = w.Write(buf.Bytes())
}

func (s *Server) sharedDrawings(r *http.Request, job string) (*making.Made, []making.Drawing, error) {
	made, err := s.made(r.Context(), &OfPlan{OfJob: OfJob{Job: job}})
	if err != nil {
		return nil, nil, err
	}
	list, err := made.Drawings(r.Context(), making.Paper{})
	return made, list, err
}

// seeDrawing sends a customer one drawing.
func (s *Server) seeDrawing(w http.ResponseWriter, r *http.Request) {
	_, list, err := s.sharedDrawings(r, asking(r.Context()).Link.Job)
	if err != nil {
		s.failShare(w, r, err)
		return
	}
	for _, d := range list {
		if d.Name+".svg" == r.PathValue("drawing") {
			w.Header().Set("Content-Type", "image/svg+xml")
			w.Header().Set("Content-Security-Policy", filePolicy)
			_, _ = w.Write(d.SVG)
			return
		}
	}
	s.refuse(w, http.StatusNotFound, "there is no such drawing")
}

func (s *Server) failShare(w http.ResponseWriter, r *http.Request, err error) {
	if _, cannot := making.ProblemsOf(err); cannot || isMissing(err) {
		s.refuse(w, http.StatusNotFound, "there are no drawings of this job now")
		return
	}
	if r.Context().Err() == nil {
		s.log.Error("a customer's page failed", "error", err)
	}
	s.refuse(w, http.StatusInternalServerError, "something went wrong here; it is in the server's log")
}
