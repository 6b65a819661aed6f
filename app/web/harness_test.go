package web

import (
	"bytes"
	"context"
	"encoding/json"
	"io"
	"log/slog"
	"net/http"
	"net/http/httptest"
	"os"
	"strings"
	"sync"
	"testing"
	"testing/fstest"
	"time"

	"stallwright/app/account"
	"stallwright/app/making"
	"stallwright/app/store"
	"stallwright/app/store/storetest"
)

func TestMain(m *testing.M) {
	if child := os.Getenv("STALLWRIGHT_TEST_SERVER"); child != "" {
		os.Exit(serveAsChild(child))
	}
	os.Exit(storetest.Main(m))
}

// app is a server under test, reached over a real socket.
type app struct {
	t      testing.TB
	server *Server
	store  *store.Store
	http   *httptest.Server
	log    *logged
}

// logged keeps what a server logs.
type logged struct {
	mu sync.Mutex
	b  bytes.Buffer
}

func (l *logged) Write(p []byte) (int, error) {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.b.Write(p)
}

func (l *logged) String() string {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.b.String()
}

// last is the log's last lines.
func (l *logged) last(n int) string {
	lines := strings.Split(strings.TrimSpace(l.String()), "\n")
	return strings.Join(lines[max(0, len(lines)-n):], "\n")
}

var testPages = fstest.MapFS{
	"index.html":         {Data: []byte("<!doctype html><title>app</title>")},
	"assets/app-1.js":    {Data: []byte("start()")},
	"assets/app-1.js.br": {Data: []byte("packed")},
	"sw.js":              {Data: []byte("worker")},
}

// start starts a server on an empty database. change may change how.
func start(t testing.TB, o store.Options, change ...func(*Config)) *app {
	t.Helper()
	st := storetest.Open(t, o)
	return startOn(t, st, change...)
}

func startOn(t testing.TB, st *store.Store, change ...func(*Config)) *app {
	t.Helper()
	a := &app{t: t, store: st, log: &logged{}}
	c := Config{Store: st, Maker: making.NewMaker(64 << 20), Pages: testPages, Version: "test", Local: true, Log: slog.New(slog.NewTextHandler(a.log, nil))}
	for _, f := range change {
		f(&c)
	}
	var err error
	if a.server, err = New(context.Background(), c); err != nil {
		t.Fatal(err)
	}
	a.http = httptest.NewServer(a.server.Handler())
	t.Cleanup(func() {
		a.server.end()
		a.http.Close()
		if n := a.server.Panics(); n != 0 {
			t.Errorf("%d requests panicked:\n%s", n, a.log.last(20))
		}
	})
	return a
}

// reply is an answer, read.
type reply struct {
	t      testing.TB
	Status int
	Header http.Header
	Body   []byte
}

func (r *reply) into(v any) {
	r.t.Helper()
	if err := json.Unmarshal(r.Body, v); err != nil {
		r.t.Fatalf("%d %s: %v", r.Status, r.Body, err)
	}
}

// want ends the test where the status is another.
func (r *reply) want(status int) *reply {
	r.t.Helper()
	if r.Status != status {
		r.t.Fatalf("status %d, want %d: %s", r.Status, status, r.Body)
	}
	return r
}

func (r *reply) says(part string) *reply {
	r.t.Helper()
	if !bytes.Contains(r.Body, []byte(part)) {
		r.t.Fatalf("%q is not in %s", part, r.Body)
	}
	return r
}

// call asks the server. body may be nil, []byte, or what is written as JSON; header
// holds names and values in turn.
func (a *app) call(method, path string, body any, header ...string) *reply {
	a.t.Helper()
	var in io.Reader
	kind := ""
	switch b := body.(type) {
	case nil:
	case []byte:
		in, kind = bytes.NewReader(b), "application/octet-stream"
	default:
		data, err := json.Marshal(b)
		if err != nil {
			a.t.Fatal(err)
		}
		in, kind = bytes.NewReader(data), "application/json"
	}
	req, err := http.NewRequest(method, a.http.URL+path, in)
	if err != nil {
		a.t.Fatal(err)
	}
	if kind != "" {
		req.Header.Set("Content-Type", kind)
	}
	for i := 0; i < len(header); i += 2 {
		req.Header.Set(header[i], header[i+1])
		if header[i] == "Host" {
			req.Host = header[i+1]
		}
	}
	res, err := client.Do(req)
	if err != nil {
		a.t.Fatal(err)
	}
	defer res.Body.Close()
	out, err := io.ReadAll(res.Body)
	if err != nil {
		a.t.Fatal(err)
	}
	return &reply{a.t, res.StatusCode, res.Header, out}
}

var client = &http.Client{
	Timeout:       time.Minute,
	CheckRedirect: func(*http.Request, []*http.Request) error { return http.ErrUseLastResponse },
	Transport:     &http.Transport{MaxIdleConnsPerHost: 64, DisableCompression: true},
}

// example is an example job's text.
func exampleJob(t testing.TB, name string) string {
	t.Helper()
	text, err := os.ReadFile("../../examples/" + name + ".yaml")
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

func text(s string) map[string]any { return map[string]any{"text": s} }

// make makes a job and gives its tag.
func (a *app) make(id, job string) string {
	a.t.Helper()
	var h JobHead
	a.call("PUT", "/api/jobs/"+id, text(job), "If-None-Match", "*").want(200).into(&h)
	return h.Tag
}

// password is every test account's.
const password = "four words are good"

// cheapHash is of password, at a cost that does not slow the tests.
var cheapHash = account.Hash(password, account.Cost{KiB: 64, Passes: 1, Lanes: 1})

// person adds an account straight into the store and signs it in; the answer is a
// cookie header's value.
func (a *app) person(role account.Role) string {
	a.t.Helper()
	ctx := context.Background()
	name := "The " + string(role)
	if err := a.store.AddAccount(ctx, store.Actor{}, store.Account{ID: "id-" + string(role), Name: name, Role: string(role), Hash: cheapHash}); err != nil {
		a.t.Fatal(err)
	}
	a.server.counted.Store(0)
	token := account.NewToken()
	if err := a.store.AddSession(ctx, store.Actor{Account: name}, account.TokenSum(token), "id-"+string(role), time.Hour); err != nil {
		a.t.Fatal(err)
	}
	return a.server.cookieName() + "=" + token
}

func sqlite(t testing.TB) store.Options { return storetest.Options(t, "sqlite") }

func contains(list []string, s string) bool {
	return strings.Contains("\n"+strings.Join(list, "\n")+"\n", "\n"+s+"\n")
}
