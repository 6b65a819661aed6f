package web

import (
	"fmt"
	"io"
	"maps"
	"net/http"
	"runtime"
	"slices"
	"sync"
	"time"
)

// steps are the upper bounds of the times counted, in seconds.
var steps = []float64{0.005, 0.01, 0.025, 0.05, 0.1, 0.2, 0.5, 1, 2.5, 5, 10}

// counters count what the server did.
type counters struct {
	mu     sync.Mutex
	routes map[string]*routeCount
	active int64
	panics int64
}

type routeCount struct {
	status map[int]int64
	within []int64 // by steps; the last for all
	sum    float64
}

func newCounters() *counters { return &counters{routes: map[string]*routeCount{}} }

func (c *counters) begin() {
	c.mu.Lock()
	defer c.mu.Unlock()
	c.active++
}

func (c *counters) end(route string, status int, took time.Duration) {
	c.mu.Lock()
	defer c.mu.Unlock()
	c.active--
	r := c.routes[route]
	if r == nil {
		r = &routeCount{status: map[int]int64{}, within: make([]int64, len(steps)+1)}
		c.routes[route] = r
	}
	r.status[status]++
	r.sum += took.Seconds()
	r.within[len(steps)]++
	for i, most := range steps {
		if took.Seconds() <= most {
			r.within[i]++
		}
	}
}

func (c *counters) panicked() {
	c.mu.Lock()
	defer c.mu.Unlock()
	c.panics++
}

// Panics counts the requests that ended in a panic since the start.
func (s *Server) Panics() int64 {
	s.count.mu.Lock()
	defer s.count.mu.Unlock()
	return s.count.panics
}

// WriteMetrics writes the figures in Prometheus' text format, version 0.0.4.
func (s *Server) WriteMetrics(w io.Writer) {
	made, hits, kept := s.maker.Counts()
	var m runtime.MemStats
	runtime.ReadMemStats(&m)
	c := s.count
	c.mu.Lock()
	defer c.mu.Unlock()
	gauge := func(kind, name, help string, v int64) {
		fmt.Fprintf(w, "# HELP stallwright_%s %s\n# TYPE stallwright_%s %s\nstallwright_%s %d\n", name, help, name, kind, name, v)
	}
	gauge("gauge", "requests_active", "Requests under way, live connections too.", c.active)
	gauge("gauge", "live_connections", "Devices that watch a job.", int64(s.store.Watching()))
	gauge("counter", "panics_total", "Requests that ended in a fault of the program.", c.panics)
	gauge("counter", "plans_made_total", "Plans worked through.", made)
	gauge("counter", "plans_found_total", "Plans that were there already.", hits)
	gauge("gauge", "plans_kept_bytes", "Plans and papers kept, about.", kept)
	gauge("gauge", "memory_bytes", "Memory taken from the system.", int64(m.Sys-m.HeapReleased))
	gauge("gauge", "goroutines", "Goroutines.", int64(runtime.NumGoroutine()))
	names := slices.Sorted(maps.Keys(c.routes))
	fmt.Fprint(w, "# HELP stallwright_requests_total Requests by operation and status.\n# TYPE stallwright_requests_total counter\n")
	for _, n := range names {
		for _, status := range slices.Sorted(maps.Keys(c.routes[n].status)) {
			fmt.Fprintf(w, "stallwright_requests_total{operation=%q,status=\"%d\"} %d\n", n, status, c.routes[n].status[status])
		}
	}
	fmt.Fprint(w, "# HELP stallwright_request_seconds How long requests took.\n# TYPE stallwright_request_seconds histogram\n")
	for _, n := range names {
		r := c.routes[n]
		for i, most := range steps {
			fmt.Fprintf(w, "stallwright_request_seconds_bucket{operation=%q,le=\"%g\"} %d\n", n, most, r.within[i])
		}
		fmt.Fprintf(w, "stallwright_request_seconds_bucket{operation=%q,le=\"+Inf\"} %d\n", n, r.within[len(steps)])
		fmt.Fprintf(w, "stallwright_request_seconds_sum{operation=%q} %g\nstallwright_request_seconds_count{operation=%q} %d\n", n, r.sum, n, r.within[len(steps)])
	}
}

func (s *Server) metrics(w http.ResponseWriter, _ *http.Request) {
	w.Header().Set("Content-Type", "text/plain; version=0.0.4; charset=utf-8")
	s.WriteMetrics(w)
}
