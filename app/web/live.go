package web

import (
	"context"
	"encoding/json"
	"fmt"
	"net/http"
	"strconv"
	"time"

	"github.com/danielgtaylor/huma/v2"
	"github.com/danielgtaylor/huma/v2/adapters/humago"

	"stallwright/app/store"
)

// Event is one thing that happened to a job.
type Event struct {
	Seq     int64           `json:"seq" doc:"1, 2, 3 … within the job, without a gap"`
	Kind    string          `json:"kind" enum:"revision,record,photo,deleted,brought back"`
	Ref     string          `json:"ref,omitempty" doc:"the revision's number, the photo's id"`
	At      string          `json:"at"`
	Account string          `json:"account" doc:"whose account"`
	Record  json.RawMessage `json:"record,omitempty"`
}

func eventOf(e *store.Event) Event {
	return Event{e.Seq, e.Kind, e.Ref, e.At, e.Account, e.Record}
}

// mostWatchers is how many live connections one process holds.
const mostWatchers = 1000

// eventBatch is how many events are read at once.
const eventBatch = 200

func (s *Server) handleLive() {
	op(s, "live", s.live, func(o *huma.Operation) {
		o.Description = "A stream of server-sent events (WHATWG HTML, section 9.2). The id of each is its number within the job, its data an Event. " +
			"A device that lost its connection says which it had last (Last-Event-ID) and misses nothing."
		o.Responses["200"] = &huma.Response{Description: "OK", Content: map[string]*huma.MediaType{
			"text/event-stream": {Schema: &huma.Schema{Type: "string", Description: "each data line is an Event"}},
		}}
		_ = s.api.OpenAPI().Components.Schemas.Schema(typeOf[Event](), true, "Event")
	})
}

func (s *Server) live(ctx context.Context, in *struct {
	OfJob
	LastEventID string `header:"Last-Event-ID" maxLength:"20" doc:"as a browser sends it when it connects again"`
	After       int64  `query:"after" minimum:"0" maximum:"9007199254740991" doc:"begin behind this event; the first of all where left out"`
}) (*huma.StreamResponse, error) {
	if _, err := s.store.Job(ctx, in.Job); err != nil {
		return nil, err
	}
	last := in.After
	if n, err := strconv.ParseInt(in.LastEventID, 10, 64); err == nil && n >= 0 {
		last = n
	}
	if s.store.Watching() >= mostWatchers {
		return nil, huma.Error503ServiceUnavailable("too many devices watch already; try again")
	}
	return &huma.StreamResponse{Body: func(c huma.Context) {
		_, w := humago.Unwrap(c)
		told, stop := s.store.Watch(in.Job)
		defer stop()
		f := &feed{w: w, control: http.NewResponseController(w)}
		w.Header().Set("Content-Type", "text/event-stream")
		w.Header().Set("X-Accel-Buffering", "no") // some proxies hold answers back
		w.WriteHeader(http.StatusOK)
		s.run(ctx, f, in.Job, last, told)
	}}, nil
}

// feed writes to one live connection.
type feed struct {
	w       http.ResponseWriter
	control *http.ResponseController
}

// feedWithin is how long a device may take to accept what is written; one that went
// away is let go then.
const feedWithin = 15 * time.Second

func (f *feed) write(text string) error {
	_ = f.control.SetWriteDeadline(time.Now().Add(feedWithin)) // a test's recorder has none
	if _, err := f.w.Write([]byte(text)); err != nil {
		return err
	}
	return f.control.Flush()
}

// run sends the events behind last, then each as it happens, until either side ends.
func (s *Server) run(ctx context.Context, f *feed, job string, last int64, told <-chan struct{}) {
	// A comment at once: the device sees that it is connected. It is to try again
	// after a second where that ends.
	if f.write(": here\nretry: 1000\n\n") != nil {
		return
	}
	beat := time.NewTicker(s.conf.Beat)
	defer beat.Stop()
	for {
		for more := true; more; {
			events, err := s.store.Events(ctx, job, last, eventBatch)
			if err != nil {
				return // the device connects again
			}
			more = len(events) == eventBatch
			for i := range events {
				e := eventOf(&events[i])
				if f.write(fmt.Sprintf("id: %d\nevent: %s\ndata: %s\n\n", e.Seq, e.Kind, raw(e))) != nil {
					return
				}
				last = e.Seq
			}
		}
		select {
		case <-ctx.Done():
			return
		case <-s.ending.Done():
			return
		case _, open := <-told:
			if !open {
				return
			}
		case <-beat.C:
			if f.write(": still here\n\n") != nil {
				return
			}
		}
	}
}
