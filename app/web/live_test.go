package web

import (
	"bufio"
	"context"
	"encoding/json"
	"fmt"
	"net/http"
	"strings"
	"testing"
	"time"

	"stallwright/app/store"
	"stallwright/app/store/storetest"
)

// listen opens a live connection and gives its events as they come.
func (a *app) listen(ctx context.Context, path string, header ...string) <-chan Event {
	a.t.Helper()
	req, err := http.NewRequestWithContext(ctx, "GET", a.http.URL+path, nil)
	if err != nil {
		a.t.Fatal(err)
	}
	for i := 0; i < len(header); i += 2 {
		req.Header.Set(header[i], header[i+1])
	}
	res, err := (&http.Client{Transport: &http.Transport{}}).Do(req)
	if err != nil {
		a.t.Fatal(err)
	}
	if res.StatusCode != 200 || res.Header.Get("Content-Type") != "text/event-stream" {
		a.t.Fatalf("%d %s", res.StatusCode, res.Header)
	}
	out := make(chan Event, 100)
	go func() {
		defer close(out)
		defer res.Body.Close()
		lines := bufio.NewScanner(res.Body)
		lines.Buffer(nil, 1<<20)
		id := ""
		for lines.Scan() {
			if v, ok := strings.CutPrefix(lines.Text(), "id: "); ok {
				id = v
			}
			if v, ok := strings.CutPrefix(lines.Text(), "data: "); ok {
				var e Event
				if json.Unmarshal([]byte(v), &e) != nil || fmt.Sprint(e.Seq) != id {
					return // the test sees that nothing comes
				}
				out <- e
			}
		}
	}()
	return out
}

func next(t *testing.T, events <-chan Event) Event {
	t.Helper()
	select {
	case e, ok := <-events:
		if !ok {
			t.Fatal("the connection ended")
		}
		return e
	case <-time.After(15 * time.Second):
		t.Fatal("no event came")
	}
	return Event{}
}

// What one process takes in, devices at another see, each once and in order; a
// device that was away names its last event and misses nothing.
func TestLiveAcrossProcesses(t *testing.T) {
	storetest.Run(t, func(t *testing.T, o store.Options) {
		o.Poll = 20 * time.Millisecond
		one, two := start(t, o), start(t, o)
		one.make("farm", exampleJob(t, "three-meadows"))
		ctx, cancel := context.WithCancel(context.Background())
		defer cancel()
		here, there := one.listen(ctx, "/api/jobs/farm/live"), two.listen(ctx, "/api/jobs/farm/live?after=1")
		if e := next(t, here); e.Kind != "revision" || e.Ref != "1" || e.Seq != 1 {
			t.Errorf("%+v", e)
		}
		for i := range 3 {
			one.records("farm", cutLine(fmt.Sprint("c", i))).want(200)
			two.records("farm", cutLine(fmt.Sprint("d", i))).want(200)
		}
		for seq := int64(2); seq <= 7; seq++ {
			for _, events := range []<-chan Event{here, there} {
				if e := next(t, events); e.Seq != seq || e.Kind != "record" || !strings.Contains(string(e.Record), `"kind":"cut"`) {
					t.Fatalf("%+v, want number %d", e, seq)
				}
			}
		}
		back := two.listen(ctx, "/api/jobs/farm/live?after=1", "Last-Event-ID", "5")
		if e := next(t, back); e.Seq != 6 {
			t.Errorf("behind 5 comes %d", e.Seq)
		}
		one.call("DELETE", "/api/jobs/farm", nil).want(204)
		if e := next(t, there); e.Kind != "deleted" {
			t.Errorf("%+v", e)
		}
	})
}

func TestLiveEndsWithTheServer(t *testing.T) {
	a := start(t, sqlite(t), func(c *Config) { c.Beat = 10 * time.Millisecond })
	a.make("farm", exampleJob(t, "harrow-field-pen"))
	events := a.listen(context.Background(), "/api/jobs/farm/live")
	next(t, events)
	a.call("GET", "/metrics", nil).says("stallwright_live_connections 1")
	a.server.end()
	select {
	case _, open := <-events:
		if open {
			t.Error("an event came")
		}
	case <-time.After(5 * time.Second):
		t.Error("the connection stays open")
	}
	a.call("GET", "/api/jobs/none/live", nil).want(404)
}

// A device that goes away is let go.
func TestGoneDeviceIsForgotten(t *testing.T) {
	a := start(t, sqlite(t))
	a.make("farm", exampleJob(t, "harrow-field-pen"))
	ctx, cancel := context.WithCancel(context.Background())
	next(t, a.listen(ctx, "/api/jobs/farm/live"))
	cancel()
	for deadline := time.Now().Add(5 * time.Second); a.store.Watching() > 0; {
		if time.Now().After(deadline) {
			t.Fatal("it is watched for still")
		}
		time.Sleep(5 * time.Millisecond)
	}
}
