package web

import (
	"bufio"
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"io"
	"net"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"stallwright/app/making"
	"stallwright/app/store"
	"stallwright/app/store/storetest"
)

// serveAsChild is the test program run as a server of its own, to be killed. It
// says on standard output where it listens.
func serveAsChild(options string) int {
	var o store.Options
	if strings.HasPrefix(options, "postgres://") {
		o.URL = options
	} else {
		o.Dir = options
	}
	ctx := context.Background()
	st, err := store.Open(ctx, o)
	if err != nil {
		fmt.Fprintln(os.Stderr, err)
		return 1
	}
	s, err := New(ctx, Config{Store: st, Maker: making.NewMaker(1 << 20), Local: true})
	if err != nil {
		fmt.Fprintln(os.Stderr, err)
		return 1
	}
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		fmt.Fprintln(os.Stderr, err)
		return 1
	}
	fmt.Println(l.Addr())
	if err := s.Serve(ctx, l); err != nil {
		fmt.Fprintln(os.Stderr, err)
	}
	return 0
}

// child starts a server in a process of its own.
func child(t *testing.T, o store.Options) (*exec.Cmd, string) {
	t.Helper()
	c := exec.Command(os.Args[0])
	c.Env = append(os.Environ(), "STALLWRIGHT_TEST_SERVER="+o.Dir+o.URL)
	c.Stderr = os.Stderr
	out, err := c.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := c.Start(); err != nil {
		t.Fatal(err)
	}
	line, err := bufio.NewReader(out).ReadString('\n')
	if err != nil {
		t.Fatal(err)
	}
	return c, "http://" + strings.TrimSpace(line)
}

// The server is killed (SIGKILL) while fifty clients have 1,000 writes under way:
// records, and saves of jobs. Whatever was acknowledged is there afterwards, once;
// the database passes its integrity check, and a new server goes on.
func TestKilledWhileWriting(t *testing.T) {
	storetest.Run(t, func(t *testing.T, o store.Options) {
		src := exampleJob(t, "harrow-field-pen")
		c, address := child(t, o)
		post := func(method, path string, body any, header ...string) (*http.Response, []byte, error) {
			data, err := json.Marshal(body)
			if err != nil {
				return nil, nil, err
			}
			req, err := http.NewRequest(method, address+path, bytes.NewReader(data))
			if err != nil {
				return nil, nil, err
			}
			req.Header.Set("Content-Type", "application/json")
			for i := 0; i < len(header); i += 2 {
				req.Header.Set(header[i], header[i+1])
			}
			res, err := client.Do(req)
			if err != nil {
				return nil, nil, err
			}
			defer res.Body.Close()
			got, err := io.ReadAll(res.Body)
			return res, got, err
		}
		if res, got, err := post("PUT", "/api/jobs/farm", text(src), "If-None-Match", "*"); err != nil || res.StatusCode != 200 {
			t.Fatal(err, string(got))
		}
		const clients, writes = 50, 1000
		var mu sync.Mutex
		acked := map[string]bool{} // ids of records
		saved := map[string]int64{}
		var sent, begun atomic.Int64
		var wg sync.WaitGroup
		for w := range clients {
			wg.Go(func() {
				id := fmt.Sprint("job", w)
				tag := ""
				for i := 0; begun.Add(1) <= writes; i++ {
					if i%4 == 3 {
						head := []string{"If-Match", tag}
						if tag == "" {
							head = []string{"If-None-Match", "*"}
						}
						res, got, err := post("PUT", "/api/jobs/"+id, text(fmt.Sprintf("%s# edit %d\n", src, i)), head...)
						if err != nil || res.StatusCode != 200 {
							return
						}
						var h JobHead
						if json.Unmarshal(got, &h) != nil {
							return
						}
						tag = h.Tag
						mu.Lock()
						saved[id] = h.Revision
						mu.Unlock()
					} else {
						rec := fmt.Sprintf("r-%d-%d", w, i)
						res, got, err := post("POST", "/api/jobs/farm/records", map[string]any{"records": []json.RawMessage{json.RawMessage(stepLine(rec, i%60, true))}})
						if err != nil || res.StatusCode != 200 || !bytes.Contains(got, []byte(`"new":true`)) {
							return
						}
						mu.Lock()
						acked[rec] = true
						mu.Unlock()
					}
					if sent.Add(1) == writes*6/10 {
						if err := c.Process.Kill(); err != nil {
							t.Error(err)
						}
					}
				}
			})
		}
		wg.Wait()
		_ = c.Process.Kill() // if it still runs, the next line says so
		_ = c.Wait()
		if n := sent.Load(); n < writes*6/10 || n > writes*8/10 {
			t.Fatalf("%d writes were acknowledged before and around the kill", n)
		}
		if o.Dir != "" {
			if err := store.Integrity(context.Background(), filepath.Join(o.Dir, store.FileName)); err != nil {
				t.Error(err)
			}
		}
		s := storetest.Open(t, o)
		kept, err := s.Records(context.Background(), "farm", 0, 10*writes)
		if err != nil {
			t.Fatal(err)
		}
		count := map[string]int{}
		for i, k := range kept {
			count[k.Record.ID]++
			if k.Seq != int64(i+2) {
				t.Fatalf("event %d stands at place %d", k.Seq, i)
			}
		}
		for id := range acked {
			if count[id] != 1 {
				t.Errorf("%s was acknowledged and is there %d times", id, count[id])
			}
		}
		for id, n := range saved {
			j, err := s.Job(context.Background(), id)
			if err != nil || j.Revision < n {
				t.Errorf("revision %d of %s was acknowledged, there is %d, %v", n, id, j.Revision, err)
			}
		}
		if len(acked) < 300 || len(saved) < 20 {
			t.Errorf("too few to mean anything: %d records, %d jobs", len(acked), len(saved))
		}
		// And it goes on.
		a := startOn(t, s)
		a.records("farm", stepLine("after", 1, true)).want(200).says(`"new":true`)
	})
}

// Told to stop, the server finishes what is under way.
func TestStopsGracefully(t *testing.T) {
	st := storetest.Open(t, sqlite(t))
	s, err := New(context.Background(), Config{Store: st, Maker: making.NewMaker(1 << 20), Local: true})
	if err != nil {
		t.Fatal(err)
	}
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	ctx, stop := context.WithCancel(context.Background())
	ended := make(chan error, 1)
	go func() { ended <- s.Serve(ctx, l) }()
	// A request whose second half comes after the word to stop.
	c, err := net.Dial("tcp", l.Addr().String())
	if err != nil {
		t.Fatal(err)
	}
	defer c.Close()
	body := `{"text":"job: x"}`
	fmt.Fprintf(c, "PUT /api/jobs/x HTTP/1.1\r\nHost: %s\r\nContent-Type: application/json\r\nIf-None-Match: *\r\nContent-Length: %d\r\n\r\n%s", l.Addr(), len(body), body[:5])
	time.Sleep(100 * time.Millisecond)
	stop()
	time.Sleep(100 * time.Millisecond)
	fmt.Fprint(c, body[5:])
	answer, err := http.ReadResponse(bufio.NewReader(c), nil)
	if err != nil || answer.StatusCode != 422 {
		t.Errorf("%v %v", answer, err)
	}
	select {
	case err := <-ended:
		if err != nil {
			t.Error(err)
		}
	case <-time.After(10 * time.Second):
		t.Error("it does not stop")
	}
	if _, err := net.DialTimeout("tcp", l.Addr().String(), time.Second); err == nil {
		t.Error("it still takes connections")
	}
}
