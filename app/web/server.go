package web

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"log/slog"
	"net"
	"net/http"
	"sync/atomic"
	"time"

	"github.com/danielgtaylor/huma/v2"
	"github.com/danielgtaylor/huma/v2/adapters/humago"

	"stallwright/app/making"
	"stallwright/app/store"
)

// Config is what a server needs.
type Config struct {
	Store   *store.Store
	Maker   *making.Maker
	Pages   fs.FS        // the app's pages, index.html at the top
	Log     *slog.Logger // none where nil
	Version string
	// Local says that the server listens on loopback only and behind no proxy. There
	// it can be used without accounts until the first one is made.
	Local bool
	// Secure says that people reach the server by https, by its own certificate or a
	// proxy's: cookies are then sent by https only. It must be set where Local is not.
	Secure bool
	Clock  func() time.Time // time.Now where nil
	Beat   time.Duration    // how often a quiet live connection is written to; 20 s where zero
}

// Server answers HTTP.
type Server struct {
	store  *store.Store
	maker  *making.Maker
	pages  *pages
	log    *slog.Logger
	conf   Config
	routes map[string]*Route // by pattern
	named  map[string]*Route // by name
	mux    *http.ServeMux
	api    huma.API
	limits *limits
	count  *counters
	large  chan struct{} // photos being taken in, at once
	decode chan struct{} // photos being decoded, at once

	people  atomic.Int64 // accounts, as last counted
	counted atomic.Int64 // when: Unix nanoseconds

	ending context.Context // ends when the server is to stop
	end    context.CancelFunc
}

// ErrOpen says that a server would stand open to others.
var ErrOpen = errors.New("only on loopback can the server be used without accounts")

// New makes a server. It refuses to stand open: without accounts it must be Local.
func New(ctx context.Context, c Config) (*Server, error) {
	if c.Log == nil {
		c.Log = slog.New(slog.DiscardHandler)
	}
	if c.Clock == nil {
		c.Clock = time.Now
	}
	if c.Beat == 0 {
		c.Beat = 20 * time.Second
	}
	s := &Server{
		store: c.Store, maker: c.Maker, log: c.Log, conf: c, mux: http.NewServeMux(), pages: newPages(c.Pages),
		routes: map[string]*Route{}, named: map[string]*Route{}, limits: newLimits(c.Clock), count: newCounters(),
		large: make(chan struct{}, 8), decode: make(chan struct{}, 1),
	}
	n, err := c.Store.CountAccounts(ctx)
	if err != nil {
		return nil, err
	}
	if n == 0 && !c.Local {
		return nil, fmt.Errorf("%w; make one first with: stallwright account add NAME --role owner", ErrOpen)
	}
	s.ending, s.end = context.WithCancel(context.Background())
	table := Routes()
	for i := range table {
		s.routes[table[i].Pattern()] = &table[i]
		s.named[table[i].Name] = &table[i]
	}
	s.api = humago.New(s.mux, describe(c.Version))
	s.handleJobs()
	s.handleRevisions()
	s.handleRecords()
	s.handleLive()
	s.handlePhotos()
	s.handlePapers()
	s.handleShop()
	s.handleOffer()
	s.handlePeople()
	s.handleLinks()
	s.handlePlain()
	for _, r := range s.named {
		if _, pattern := s.mux.Handler(example(r)); pattern != r.Pattern() {
			return nil, fmt.Errorf("the route %s is in the table and nobody answers it", r.Pattern())
		}
	}
	return s, nil
}

// example is a request that a route's pattern matches.
func example(r *Route) *http.Request {
	req, err := http.NewRequest(r.Method, r.Path, nil)
	if err != nil {
		panic(err) // the table's paths are addresses
	}
	return req
}

// Handler answers every request.
func (s *Server) Handler() http.Handler {
	cross := http.NewCrossOriginProtection()
	cross.SetDenyHandler(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		s.refuse(w, http.StatusForbidden, "a page of another site asked for this")
	}))
	return s.logged(s.recovered(s.headed(cross.Handler(http.HandlerFunc(s.guarded)))))
}

// stopWithin is how long requests may take that are under way when the server is
// told to stop.
const stopWithin = 20 * time.Second

// Serve answers on a listener until ctx ends, then lets what is under way finish.
// Live connections are closed at once; their devices connect again elsewhere.
func (s *Server) Serve(ctx context.Context, l net.Listener) error {
	h := &http.Server{
		Handler:           s.Handler(),
		ReadHeaderTimeout: 10 * time.Second,
		IdleTimeout:       2 * time.Minute,
		MaxHeaderBytes:    32 << 10,
		ErrorLog:          slog.NewLogLogger(s.log.Handler(), slog.LevelWarn),
	}
	failed := make(chan error, 1)
	go func() { failed <- h.Serve(l) }()
	select {
	case err := <-failed:
		s.end()
		return err
	case <-ctx.Done():
	}
	s.end()
	stop, cancel := context.WithTimeout(context.WithoutCancel(ctx), stopWithin)
	defer cancel()
	err := h.Shutdown(stop)
	if served := <-failed; !errors.Is(served, http.ErrServerClosed) {
		err = errors.Join(err, served)
	}
	return err
}

// describe is the frame of the OpenAPI description. Its pages of documentation are
// off: they load scripts from elsewhere.
func describe(version string) huma.Config {
	c := huma.DefaultConfig("Stallwright", version)
	c.Info.Description = "Jobs of horse stalls and round pens: what is wanted, what was measured, what was cut and built. Every change is kept; nothing is lost when two people or a phone without signal write at once. See docs/server.md."
	c.OpenAPIPath, c.DocsPath, c.SchemasPath = "", "", ""
	c.CreateHooks = nil // no links to schemas in the answers
	c.RejectUnknownQueryParameters = true
	return c
}

// op registers what answers a route of the table. A name that the table does not
// hold is a fault of the program, found by any start.
func op[I, O any](s *Server, name string, do func(context.Context, *I) (*O, error), more ...func(*huma.Operation)) {
	r, ok := s.named[name]
	if !ok {
		panic("web: no route is called " + name)
	}
	o := huma.Operation{OperationID: r.Name, Method: r.Method, Path: r.Path, Summary: r.Summary, MaxBodyBytes: r.Body + 1, BodyReadTimeout: -1}
	o.Extensions = map[string]any{"x-roles": roleNames(r)}
	o.Responses = map[string]*huma.Response{"default": {Description: "What is wrong", Content: map[string]*huma.MediaType{
		problemType: {Schema: s.api.OpenAPI().Components.Schemas.Schema(typeOf[huma.ErrorModel](), true, "")},
	}}}
	for _, m := range more {
		m(&o)
	}
	huma.Register(s.api, o, func(ctx context.Context, in *I) (*O, error) {
		out, err := do(ctx, in)
		if err != nil {
			return nil, s.told(ctx, name, err)
		}
		return out, nil
	})
}

func roleNames(r *Route) []string {
	var out []string
	for _, role := range r.Roles {
		out = append(out, string(role))
	}
	return out
}
