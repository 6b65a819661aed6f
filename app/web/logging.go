package web

import (
	"context"
	"errors"
	"log/slog"
	"net/http"
	"runtime/debug"
	"strings"
	"time"
)

// trace is what is learned of a request on its way, for its line in the log.
type trace struct {
	route string
	who   string
}

type traceKey struct{}

func noteRoute(ctx context.Context, route string) {
	if t, ok := ctx.Value(traceKey{}).(*trace); ok {
		t.route = route
	}
}

func noteWho(ctx context.Context, who string) {
	if t, ok := ctx.Value(traceKey{}).(*trace); ok {
		t.who = who
	}
}

// counting remembers what was answered.
type counting struct {
	http.ResponseWriter
	status int
	bytes  int64
}

func (c *counting) WriteHeader(status int) {
	if c.status == 0 {
		c.status = status
	}
	c.ResponseWriter.WriteHeader(status)
}

func (c *counting) Write(b []byte) (int, error) {
	if c.status == 0 {
		c.status = http.StatusOK
	}
	n, err := c.ResponseWriter.Write(b)
	c.bytes += int64(n)
	return n, err
}

// Unwrap lets http.ResponseController reach what is inside.
func (c *counting) Unwrap() http.ResponseWriter { return c.ResponseWriter }

// logged writes a line for each request and counts it. Neither a query nor a
// customer's token gets into the log.
func (s *Server) logged(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		t := &trace{route: "none"}
		c := &counting{ResponseWriter: w}
		start := time.Now()
		s.count.begin()
		next.ServeHTTP(c, r.WithContext(context.WithValue(r.Context(), traceKey{}, t)))
		took := time.Since(start)
		if c.status == 0 {
			c.status = http.StatusOK
		}
		s.count.end(t.route, c.status, took)
		level := slog.LevelInfo
		if c.status >= 500 {
			level = slog.LevelError
		}
		s.log.LogAttrs(r.Context(), level, "request", slog.String("method", r.Method), slog.String("path", withoutToken(r.URL.Path)), slog.String("operation", t.route),
			slog.Int("status", c.status), slog.Int64("bytes", c.bytes), slog.Duration("took", took), slog.String("who", t.who), slog.String("remote", remote(r)))
	})
}

func withoutToken(path string) string {
	if rest, ok := strings.CutPrefix(path, "/share/"); ok {
		_, tail, _ := strings.Cut(rest, "/")
		return "/share/…/" + tail
	}
	return path
}

// recovered turns a panic into an answer and a line in the log: one request must not
// end the server.
func (s *Server) recovered(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		defer func() {
			v := recover()
			if v == nil {
				return
			}
			err, _ := v.(error)
			if errors.Is(err, http.ErrAbortHandler) || r.Context().Err() != nil {
				return // the client went away
			}
			s.count.panicked()
			s.log.Error("a request panicked", "panic", v, "stack", string(debug.Stack()))
			if c, ok := w.(*counting); ok && c.status == 0 {
				s.refuse(w, http.StatusInternalServerError, "something went wrong here; it is in the server's log")
			}
		}()
		next.ServeHTTP(w, r)
	})
}
