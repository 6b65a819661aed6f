package store

import (
	"context"
	"sync"
	"time"
)

// hub tells those who watch a job that something was written. It carries no
// content: whoever is told reads the events behind the last one they have, so
// nothing is lost when a signal is.
type hub struct {
	mu     sync.Mutex
	at     map[string]map[chan struct{}]bool
	closed bool
}

func newHub() *hub { return &hub{at: map[string]map[chan struct{}]bool{}} }

func (h *hub) tell(job string) {
	h.mu.Lock()
	defer h.mu.Unlock()
	for c := range h.at[job] {
		select {
		case c <- struct{}{}:
		default: // told already and not yet looked
		}
	}
}

func (h *hub) tellAll() {
	for _, job := range h.watched() {
		h.tell(job)
	}
}

func (h *hub) watched() []string {
	h.mu.Lock()
	defer h.mu.Unlock()
	jobs := make([]string, 0, len(h.at))
	for job := range h.at {
		jobs = append(jobs, job)
	}
	return jobs
}

func (h *hub) close() {
	h.mu.Lock()
	defer h.mu.Unlock()
	h.closed = true
	for _, set := range h.at {
		for c := range set {
			close(c)
		}
	}
	h.at = map[string]map[chan struct{}]bool{}
}

// Watch gives a channel that is sent to after events of a job were written, by
// this process or another. It is closed when the store is. stop ends the watch.
func (s *Store) Watch(job string) (told <-chan struct{}, stop func()) {
	c := make(chan struct{}, 1)
	h := s.hub
	h.mu.Lock()
	defer h.mu.Unlock()
	if h.closed {
		close(c)
		return c, func() {}
	}
	if h.at[job] == nil {
		h.at[job] = map[chan struct{}]bool{}
	}
	h.at[job][c] = true
	return c, func() {
		h.mu.Lock()
		defer h.mu.Unlock()
		delete(h.at[job], c)
		if len(h.at[job]) == 0 {
			delete(h.at, job)
		}
	}
}

// Watching counts the watchers.
func (s *Store) Watching() int {
	s.hub.mu.Lock()
	defer s.hub.mu.Unlock()
	n := 0
	for _, set := range s.hub.at {
		n += len(set)
	}
	return n
}

// watch follows what other processes write, until ctx ends.
func (s *Store) watch(ctx context.Context) {
	if s.dialect.dollar {
		s.listen(ctx)
		return
	}
	seen := map[string]int64{}
	tick := time.NewTicker(s.opt.Poll)
	defer tick.Stop()
	for {
		select {
		case <-ctx.Done():
			return
		case <-tick.C:
			s.poll(ctx, seen)
		}
	}
}

// poll looks which of the jobs that are watched have new events.
func (s *Store) poll(ctx context.Context, seen map[string]int64) {
	now := map[string]int64{}
	for _, job := range s.hub.watched() {
		var seq int64
		if err := s.read.QueryRowContext(ctx, "SELECT seq FROM job WHERE id = ?", job).Scan(&seq); err != nil {
			continue // not there, or told at the next look
		}
		if was, ok := seen[job]; !ok || was != seq {
			s.hub.tell(job)
		}
		now[job] = seq
	}
	clear(seen)
	for job, seq := range now {
		seen[job] = seq
	}
}
