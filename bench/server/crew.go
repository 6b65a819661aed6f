package main

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"image"
	"image/color"
	"image/jpeg"
	"io"
	"io/fs"
	"maps"
	"math/rand/v2"
	"net/http"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"sync/atomic"
	"time"

	"stallwright/examples"
)

// jobs is how many jobs the office has open.
const jobs = 20

// crew is the people and what they measured of the server.
type crew struct {
	address string
	people  int
	left    atomic.Int64
	think   time.Duration
	client  *http.Client
	photo   []byte

	mu    sync.Mutex
	times map[string][]time.Duration
	bad   map[string]int
	tags  map[string]string
	live  atomic.Int64 // events that came over live connections
	wrote atomic.Int64 // records taken
}

func newCrew(address string, people, requests int, think time.Duration) *crew {
	c := &crew{address: address, people: people, think: think, times: map[string][]time.Duration{}, bad: map[string]int{}, tags: map[string]string{},
		client: &http.Client{Timeout: 30 * time.Second, Transport: &http.Transport{MaxIdleConnsPerHost: people * 2}}}
	c.left.Store(int64(requests))
	p := image.NewRGBA(image.Rect(0, 0, 1600, 1200))
	for i := range p.Pix {
		p.Pix[i] = byte(i * 7 >> 4) // something that does not shrink to nothing
	}
	p.Set(0, 0, color.Black)
	var b bytes.Buffer
	if err := jpeg.Encode(&b, p, nil); err != nil {
		panic(err)
	}
	c.photo = b.Bytes()
	return c
}

func job(i int) string { return fmt.Sprintf("job-%d", i) }

func text(i, edit int) map[string]string {
	return map[string]string{"text": strings.Replace(examples.Demo, "job: Three Meadows", fmt.Sprintf("job: Farm %d, edit %d", i, edit), 1)}
}

// prepare makes the jobs.
func (c *crew) prepare(ctx context.Context) error {
	for i := range jobs {
		_, body, err := c.call(ctx, "", "PUT", "/api/jobs/"+job(i), text(i, 0), "If-None-Match", "*")
		if err != nil {
			return err
		}
		c.keepTag(job(i), body)
	}
	return nil
}

func (c *crew) keepTag(id string, body []byte) {
	var h struct{ Tag string }
	if json.Unmarshal(body, &h) == nil && h.Tag != "" {
		c.mu.Lock()
		defer c.mu.Unlock()
		c.tags[id] = h.Tag
	}
}

// call makes a request and notes how long it took; what is empty is not noted.
func (c *crew) call(ctx context.Context, what, method, path string, body any, header ...string) (int, []byte, error) {
	var in io.Reader
	kind := "application/json"
	switch b := body.(type) {
	case nil:
	case []byte:
		in, kind = bytes.NewReader(b), "image/jpeg"
	default:
		data, err := json.Marshal(b)
		if err != nil {
			return 0, nil, err
		}
		in = bytes.NewReader(data)
	}
	req, err := http.NewRequestWithContext(ctx, method, c.address+path, in)
	if err != nil {
		return 0, nil, err
	}
	if in != nil {
		req.Header.Set("Content-Type", kind)
	}
	for i := 0; i < len(header); i += 2 {
		req.Header.Set(header[i], header[i+1])
	}
	start := time.Now()
	res, err := c.client.Do(req)
	if err != nil {
		return 0, nil, err
	}
	defer res.Body.Close()
	out, err := io.ReadAll(res.Body)
	took := time.Since(start)
	c.mu.Lock()
	defer c.mu.Unlock()
	if what != "" && err == nil {
		c.times[what] = append(c.times[what], took)
		if res.StatusCode >= 400 && res.StatusCode != http.StatusPreconditionFailed {
			c.bad[fmt.Sprintf("%s %d", what, res.StatusCode)]++
		}
	}
	return res.StatusCode, out, err
}

// work has everybody at it until the requests or the time are used up.
func (c *crew) work(ctx context.Context) {
	ctx, stop := context.WithCancel(ctx)
	var crew, watchers sync.WaitGroup
	for p := range c.people {
		watchers.Go(func() { c.watch(ctx, job(p%jobs)) })
		crew.Go(func() { c.person(ctx, p) })
	}
	crew.Wait()
	stop()
	watchers.Wait()
}

// watch counts the events of a live connection.
func (c *crew) watch(ctx context.Context, id string) {
	req, err := http.NewRequestWithContext(ctx, "GET", c.address+"/api/jobs/"+id+"/live", nil)
	if err != nil {
		return
	}
	res, err := (&http.Client{Transport: &http.Transport{}}).Do(req)
	if err != nil {
		return
	}
	defer res.Body.Close()
	buf := make([]byte, 4096)
	for {
		n, err := res.Body.Read(buf)
		c.live.Add(int64(bytes.Count(buf[:n], []byte("\ndata: "))))
		if err != nil {
			return
		}
	}
}

// person is one at work: measuring, sawing, ticking off, now and then editing.
func (c *crew) person(ctx context.Context, p int) {
	r := rand.New(rand.NewPCG(uint64(p), 7))
	id := job(p % jobs)
	for n := 0; c.left.Add(-1) >= 0; n++ {
		pause := time.Duration(r.ExpFloat64() * float64(c.think))
		select {
		case <-ctx.Done():
			return
		case <-time.After(pause):
		}
		c.one(ctx, r, id, p, n)
	}
}

// one is one request, drawn by how often people do such a thing.
func (c *crew) one(ctx context.Context, r *rand.Rand, id string, p, n int) {
	base := "/api/jobs/" + id
	at := time.Date(2026, 5, 20, 8, 0, n, 0, time.UTC).Format(time.RFC3339)
	switch d := r.IntN(100); {
	case d < 40:
		if status, _, err := c.call(ctx, "add-records", "POST", base+"/records", map[string]any{"records": []any{map[string]any{
			"id": fmt.Sprintf("p%d-%d", p, n), "at": at, "by": fmt.Sprint("person ", p), "kind": "step", "step": map[string]any{"step": fmt.Sprint("s", n%40), "done": true}}}}); err == nil && status == 200 {
			c.wrote.Add(1)
		}
	case d < 50:
		note := fmt.Sprintf(`{"id":"n%d-%d","at":%q,"by":"person %d","typed":"138","width":{"bay":"L4-right","height":"bottom","is":"%d/64 in"}}`, p, n, at, p, 8800+r.IntN(40))
		_, _, _ = c.call(ctx, "add-records", "POST", base+"/records", map[string]any{"records": []any{map[string]any{"kind": "note", "note": json.RawMessage(note)}}})
	case d < 62:
		_, body, _ := c.call(ctx, "read-job", "GET", base, nil)
		c.keepTag(id, body)
	case d < 70:
		c.mu.Lock()
		tag := c.tags[id]
		c.mu.Unlock()
		_, body, _ := c.call(ctx, "save-job", "PUT", base, text(p%jobs, n), "If-Match", tag)
		c.keepTag(id, body)
	case d < 80:
		_, _, _ = c.call(ctx, "list-records", "GET", base+"/records?after=20", nil)
	case d < 84:
		_, _, _ = c.call(ctx, "take-along", "GET", base+"/take-along", nil)
	case d < 90:
		_, _, _ = c.call(ctx, "read-saw", "GET", base+"/saw", nil)
	case d < 93:
		_, _, _ = c.call(ctx, "read-plan", "GET", base+"/plan", nil)
	case d < 97:
		_, _, _ = c.call(ctx, "list-jobs", "GET", "/api/jobs", nil)
	case d < 98:
		_, _, _ = c.call(ctx, "list-drawings", "GET", base+"/drawings", nil)
	default:
		_, _, _ = c.call(ctx, "add-photo", "PUT", fmt.Sprintf("%s/photos/p%d-%d?place=L1-L2", base, p, n), c.photo)
	}
}

// report prints the waits by operation.
func (c *crew) report(w io.Writer) {
	var all []time.Duration
	fmt.Fprintf(w, "%-14s %7s %9s %9s %9s %9s\n", "operation", "count", "median", "p95", "p99", "longest")
	for _, what := range slices.Sorted(maps.Keys(c.times)) {
		all = append(all, c.times[what]...)
		line(w, what, c.times[what])
	}
	line(w, "all", all)
	fmt.Fprintf(w, "\nevents over live connections: %d; answers that were errors: %v\n", c.live.Load(), c.bad)
}

// count is how many requests were answered.
func (c *crew) count() (n int) {
	for _, t := range c.times {
		n += len(t)
	}
	return n
}

func line(w io.Writer, what string, t []time.Duration) {
	if len(t) == 0 {
		return
	}
	slices.Sort(t)
	at := func(part float64) time.Duration {
		return t[min(len(t)-1, int(part*float64(len(t))))].Round(100 * time.Microsecond)
	}
	fmt.Fprintf(w, "%-14s %7d %9s %9s %9s %9s\n", what, len(t), at(0.5), at(0.95), at(0.99), t[len(t)-1].Round(100*time.Microsecond))
}

// cost prints what stands on the disk.
func (c *crew) cost(w io.Writer, dir, database string) error {
	if database != "" {
		return nil
	}
	sum := int64(0)
	err := filepath.WalkDir(dir, func(_ string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		info, err := d.Info()
		if os.IsNotExist(err) {
			return nil
		}
		if err == nil {
			sum += info.Size()
		}
		return err
	})
	saves := len(c.times["save-job"]) + jobs
	photos := len(c.times["add-photo"])
	fmt.Fprintf(w, "on the disk: %.1f MB, write-ahead log included, for %d jobs with %d saves, %d records and %d photos\n",
		float64(sum)/1e6, jobs, saves, len(c.times["add-records"]), photos)
	return err
}
