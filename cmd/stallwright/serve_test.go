package main

import (
	"context"
	"encoding/json"
	"io"
	"net/http"
	"strings"
	"sync"
	"testing"
	"time"
)

// told is a writer that says when an address was written.
type told struct {
	mu   sync.Mutex
	text strings.Builder
	got  chan string
}

func (w *told) Write(p []byte) (int, error) {
	w.mu.Lock()
	defer w.mu.Unlock()
	w.text.WriteString(string(p))
	if _, rest, ok := strings.Cut(w.text.String(), "ready: "); ok {
		if address, _, ended := strings.Cut(rest, "\n"); ended {
			select {
			case w.got <- address:
			default:
			}
		}
	}
	return len(p), nil
}

// The program serves the demo farm and its pages, and stops when it is told to; the
// demo is put in once.
func TestServeDemo(t *testing.T) {
	dir := t.TempDir()
	for range 2 {
		ctx, stop := context.WithCancel(context.Background())
		out := &told{got: make(chan string, 1)}
		ended := make(chan error, 1)
		go func() {
			ended <- serve(ctx, out, io.Discard, serveArgs{listen: "127.0.0.1:0", data: dir, demo: true, metrics: "127.0.0.1:0"})
		}()
		var address string
		select {
		case address = <-out.got:
		case err := <-ended:
			t.Fatal(err)
		case <-time.After(30 * time.Second):
			t.Fatal("it does not start")
		}
		body := func(path string) []byte {
			res, err := http.Get(address + path)
			if err != nil {
				t.Fatal(err)
			}
			defer res.Body.Close()
			data, err := io.ReadAll(res.Body)
			if err != nil || res.StatusCode != 200 {
				t.Fatalf("%s: %d %s %v", path, res.StatusCode, data, err)
			}
			return data
		}
		if page := string(body("/")); !strings.Contains(page, "<html") {
			t.Errorf("the page is %s", page)
		}
		var jobs struct{ Jobs []struct{ ID, Farm string } }
		if err := json.Unmarshal(body("/api/jobs"), &jobs); err != nil || len(jobs.Jobs) != 1 || jobs.Jobs[0].Farm != "Three Meadows Farm" {
			t.Errorf("%+v %v", jobs, err)
		}
		stop()
		select {
		case err := <-ended:
			if err != nil {
				t.Error(err)
			}
		case <-time.After(30 * time.Second):
			t.Fatal("it does not stop")
		}
	}
}
