package web

import (
	"bytes"
	"context"
	"net/http"
	"strings"
	"testing"
	"time"

	"stallwright/app/account"
	"stallwright/app/store"
	"stallwright/app/store/storetest"
)

// may is who may use what, stated a second time in another form and by hand: the
// names of operations that each role may use beyond those of the role before it.
var may = map[account.Role]string{
	account.Nobody:   "page health description read-session sign-in sign-out share-style",
	account.Customer: "see-job see-drawing",
	account.Saw: "change-password list-jobs read-job take-along export-job list-revisions read-revision compare-revisions add-records list-records live " +
		"add-photo list-photos read-photo read-saw read-progress read-plan list-files read-file read-packet list-drawings list-shop read-shop download-shop list-shop-revisions read-shop-revision",
	account.Crew: "",
	account.Estimator: "import-job save-job delete-job bring-back-job restore-revision list-links add-link revoke-link save-shop delete-shop bring-back-shop " +
		"read-offer read-offer-file list-prices read-prices download-prices list-prices-revisions read-prices-revision",
	account.Owner: "metrics list-accounts add-account change-account read-audit",
}

func allowed(role account.Role, name string) bool {
	order := []account.Role{account.Saw, account.Crew, account.Estimator, account.Owner}
	if contains(strings.Fields(may[account.Nobody]), name) || contains(strings.Fields(may[role]), name) {
		return true
	}
	for _, r := range order {
		if role == account.Nobody || role == account.Customer {
			return false
		}
		if contains(strings.Fields(may[r]), name) {
			return true
		}
		if r == role {
			return false
		}
	}
	return false
}

// Every route of the table is asked by every role, and by somebody whose session or
// link no longer counts. Who may not gets 401, 403 or, by a link, 404 before anything
// is looked at; who may gets past the guard.
func TestEveryRouteWithEveryRole(t *testing.T) {
	a := start(t, sqlite(t), func(c *Config) { c.Clock = time.Now })
	a.make("farm", exampleJob(t, "harrow-field-pen"))
	a.make("other", exampleJob(t, "harrow-field-pen"))
	token, dead := account.NewToken(), account.NewToken()
	ctx := context.Background()
	for id, tk := range map[string]string{"l1": token, "l2": dead} {
		if _, err := a.store.AddLink(ctx, store.Actor{Account: "x"}, id, account.TokenSum(tk), "farm", "the owner", time.Hour); err != nil {
			t.Fatal(err)
		}
	}
	if err := a.store.RevokeLink(ctx, store.Actor{}, "farm", "l2"); err != nil {
		t.Fatal(err)
	}
	cookies := map[account.Role]string{}
	for _, r := range account.Roles() {
		cookies[r] = a.person(r)
	}
	named := 0
	for _, list := range may {
		named += len(strings.Fields(list))
	}
	if n := len(Routes()); named != n {
		t.Errorf("the table has %d routes, this test names %d", n, named)
	}
	ask := func(r *Route, token, cookie string) int {
		path := strings.NewReplacer("{job}", "farm", "{number}", "1", "{photo}", "p1", "{kind}", "kits", "{name}", "x.yaml", "{account}", "nobody", "{link}", "none", "{token}", token, "{drawing}", "none.svg").Replace(r.Path)
		if strings.Contains(path, "{") {
			t.Fatalf("%s: the test does not fill %s", r.Name, path)
		}
		if r.Name == "live" {
			path += "?after=9"
		}
		within, cancel := context.WithTimeout(ctx, 20*time.Second)
		defer cancel()
		req, err := http.NewRequestWithContext(within, r.Method, a.http.URL+path, nil)
		if err != nil {
			t.Fatal(err)
		}
		if r.Body > 0 {
			req, _ = http.NewRequestWithContext(within, r.Method, a.http.URL+path, bytes.NewReader([]byte("{}")))
			req.Header.Set("Content-Type", "application/json")
		}
		if cookie != "" {
			req.Header.Set("Cookie", cookie)
		}
		res, err := client.Do(req)
		if err != nil {
			t.Fatal(err)
		}
		_ = res.Body.Close()
		return res.StatusCode
	}
	table := Routes()
	for i := range table {
		r := &table[i]
		if r.Name == "sign-out" || r.Name == "delete-job" {
			continue // last: they end what the others need
		}
		for _, role := range []account.Role{account.Nobody, account.Customer, account.Saw, account.Crew, account.Estimator, account.Owner} {
			tk, cookie := "nonsense", cookies[role]
			if role == account.Customer {
				tk = token
			}
			got := ask(r, tk, cookie)
			refused := got == 401 || got == 403 || strings.HasPrefix(r.Path, "/share/") && got == 404 && r.Name == "see-job"
			if r.Name == "see-drawing" {
				continue // told apart below
			}
			if r.Name == "sign-in" && got != 422 {
				t.Errorf("sign-in as %s without a name: %d", role, got)
			}
			want := allowed(role, r.Name)
			if refused == want {
				t.Errorf("%s as %s: %d; allowed is %v", r.Pattern(), role, got, want)
			}
			if r.Allows(role) != want {
				t.Errorf("%s as %s: the table says %v, this test %v", r.Pattern(), role, r.Allows(role), want)
			}
		}
		for what, cookie := range map[string]string{"a made-up session": a.server.cookieName() + "=" + account.NewToken(), "an empty session": a.server.cookieName() + "=", "another cookie": "session=1"} {
			if got := ask(r, dead, cookie); !r.Open() && got != 401 && !(strings.HasPrefix(r.Path, "/share/") && got == 404) {
				t.Errorf("%s with %s: %d", r.Pattern(), what, got)
			}
		}
		// A customer's token is worth nothing anywhere else.
		if got := ask(r, "x", a.server.cookieName()+"="+token); !r.Open() && got != 401 && got != 404 {
			t.Errorf("%s with a link's token as a session: %d", r.Pattern(), got)
		}
	}
	for _, name := range []string{"delete-job", "sign-out"} {
		r := a.server.named[name]
		for _, role := range []account.Role{account.Nobody, account.Saw, account.Crew, account.Estimator} {
			if got := ask(r, "x", cookies[role]); (got == 401 || got == 403) == allowed(role, name) {
				t.Errorf("%s as %s: %d", name, role, got)
			}
		}
	}
}

// A customer sees the one job, its drawings, and nothing a page could run.
func TestCustomersLink(t *testing.T) {
	storetest.Run(t, func(t *testing.T, o store.Options) {
		a := start(t, o)
		hostile := strings.NewReplacer("job: Harrow Field, round pen", `job: "<script>alert(1)</script>"`, "name: Harrow Field", `name: "\"><img src=x onerror=alert(1)>"`).Replace(exampleJob(t, "harrow-field-pen"))
		a.make("farm", hostile)
		a.make("other", exampleJob(t, "harrow-field-pen"))
		var l NewLink
		a.call("POST", "/api/jobs/farm/links", map[string]any{"label": "the owner", "days": 2}).want(201).into(&l)
		r := a.call("GET", l.Path, nil).want(200)
		if bytes.Contains(r.Body, []byte("<script>")) || bytes.Contains(r.Body, []byte("<img src=x")) || !bytes.Contains(r.Body, []byte("&lt;script&gt;")) {
			t.Errorf("%s", r.Body)
		}
		if r.Header.Get("Referrer-Policy") != "no-referrer" || r.Header.Get("Cache-Control") != "no-store" {
			t.Error(r.Header)
		}
		_, rest, ok := strings.Cut(string(r.Body), `<img src="`)
		if !ok {
			t.Fatalf("no drawing in %s", r.Body)
		}
		address, _, _ := strings.Cut(rest, `"`)
		svg := a.call("GET", address, nil).want(200)
		if svg.Header.Get("Content-Type") != "image/svg+xml" || bytes.Contains(svg.Body, []byte("<script>")) || !strings.Contains(svg.Header.Get("Content-Security-Policy"), "sandbox") {
			t.Errorf("%s", svg.Header)
		}
		a.call("GET", l.Path+"/../../api/jobs/farm", nil, "Sec-Fetch-Site", "none").want(403)
		a.call("POST", l.Path, nil).want(405)
		if strings.Contains(a.log.String(), strings.TrimPrefix(l.Path, "/share/")) {
			t.Error("the link's token is in the log")
		}
		var list struct{ Links []Link }
		a.call("GET", "/api/jobs/farm/links", nil).want(200).into(&list)
		if len(list.Links) != 1 || list.Links[0].Label != "the owner" {
			t.Errorf("%+v", list)
		}
		a.call("DELETE", "/api/jobs/other/links/"+l.ID, nil).want(404)
		a.call("DELETE", "/api/jobs/farm/links/"+l.ID, nil).want(204)
		a.call("GET", l.Path, nil).want(404)
		a.call("GET", address, nil).want(404)
	})
}

func TestLinkRunsOut(t *testing.T) {
	now := time.Date(2026, 5, 4, 8, 0, 0, 0, time.UTC)
	o := sqlite(t)
	o.Clock = func() time.Time { return now }
	a := start(t, o)
	a.make("farm", exampleJob(t, "harrow-field-pen"))
	var l NewLink
	a.call("POST", "/api/jobs/farm/links", map[string]any{"label": "x", "days": 1}).want(201).into(&l)
	now = now.Add(25 * time.Hour)
	a.call("GET", l.Path, nil).want(404)
}

// Without accounts the server answers its own machine only.
func TestOpenOnlyToItsOwnMachine(t *testing.T) {
	a := start(t, sqlite(t))
	a.call("GET", "/api/jobs", nil).want(200)
	port := a.http.URL[strings.LastIndex(a.http.URL, ":"):]
	a.call("GET", "/api/jobs", nil, "Host", "localhost"+port).want(200)
	a.call("GET", "/api/jobs", nil, "Host", "[::1]"+port).want(200)
	// A page of another site whose name was pointed at this machine.
	a.call("GET", "/api/jobs", nil, "Host", "evil.example"+port).want(403)
	a.call("GET", "/api/jobs", nil, "Host", "127.0.0.1.evil.example").want(403)
	// A proxy that makes it reachable for others.
	a.call("GET", "/api/jobs", nil, "X-Forwarded-For", "203.0.113.9").want(403)
	a.call("GET", "/api/jobs", nil, "Forwarded", "for=203.0.113.9").want(403)

	req := http.Request{RemoteAddr: "192.0.2.7:4000", Host: "127.0.0.1:8000", Header: http.Header{}}
	if fromHere(&req) {
		t.Error("a request from another machine counts as from this one")
	}
	st := storetest.Open(t, sqlite(t))
	if _, err := New(context.Background(), Config{Store: st}); err == nil || !strings.Contains(err.Error(), "account add") {
		t.Errorf("it starts open to everybody: %v", err)
	}
}

// A page of another site can have nothing done here (Fetch Metadata, Origin).
func TestOtherSitesCanDoNothing(t *testing.T) {
	a := start(t, sqlite(t))
	a.make("farm", exampleJob(t, "harrow-field-pen"))
	for _, h := range [][]string{{"Sec-Fetch-Site", "cross-site"}, {"Sec-Fetch-Site", "same-site"}, {"Origin", "https://evil.example"}, {"Origin", "null"}} {
		a.call("DELETE", "/api/jobs/farm", nil, h...).want(403)
	}
	a.call("GET", "/api/jobs/farm", nil).want(200)
	r := a.call("GET", "/api/jobs", nil, "Origin", "https://evil.example")
	if r.Header.Get("Access-Control-Allow-Origin") != "" || r.Header.Get("Cross-Origin-Resource-Policy") != "same-origin" {
		t.Errorf("another site may read: %v", r.Header)
	}
	a.call("DELETE", "/api/jobs/farm", nil, "Sec-Fetch-Site", "same-origin", "Origin", a.http.URL).want(204)
}

func TestHeadersOfEveryAnswer(t *testing.T) {
	a := start(t, sqlite(t))
	for _, path := range []string{"/", "/api/jobs", "/nothing", "/healthz", "/api/jobs/none"} {
		h := a.call("GET", path, nil).Header
		p := h.Get("Content-Security-Policy")
		if h.Get("X-Content-Type-Options") != "nosniff" || h.Get("X-Frame-Options") != "DENY" || !strings.Contains(p, "default-src 'none'") || strings.Contains(p, "unsafe-inline") || strings.Contains(p, "'unsafe-eval'") || strings.Contains(p, "http") {
			t.Errorf("%s: %v", path, h)
		}
	}
}

func TestNothingAtThisAddress(t *testing.T) {
	a := start(t, sqlite(t))
	a.call("GET", "/nothing", nil).want(404)
	a.call("GET", "/nothing", nil, "Accept", "text/html,*/*").want(200).says("<title>app")
	a.call("GET", "/api/nothing", nil, "Accept", "text/html").want(404)
	if r := a.call("PATCH", "/api/jobs", nil).want(405); r.Header.Get("Allow") != "GET, POST" {
		t.Error(r.Header.Get("Allow"))
	}
	a.call("GET", "/api/jobs/x%00y", nil).want(400)
	a.call("GET", "/api/jobs/%ff", nil).want(400)
	a.call("GET", "/api/jobs?deleted=%00", nil).want(400)
	a.call("GET", "/api/jobs?what=1", nil).want(422)
	a.call("GET", "/api/jobs/"+strings.Repeat("x", 41), nil).want(422)
	a.call("PUT", "/api/jobs/x", []byte(`{"text":"a\u0000b"}`), "Content-Type", "application/json", "If-None-Match", "*").want(400)
	a.call("PUT", "/api/jobs/x", []byte("{\"text\":\"\xff\"}"), "Content-Type", "application/json", "If-None-Match", "*").want(400)
	a.call("PUT", "/api/jobs/x", bytes.Repeat([]byte(" "), texts+1), "If-None-Match", "*").want(413)
}

func TestPagesAreServedAndKept(t *testing.T) {
	a := start(t, sqlite(t))
	r := a.call("GET", "/assets/app-1.js", nil, "Accept-Encoding", "gzip, br").want(200).says("packed")
	if r.Header.Get("Content-Encoding") != "br" || !strings.Contains(r.Header.Get("Cache-Control"), "immutable") || r.Header.Get("Content-Type") != "text/javascript; charset=utf-8" {
		t.Error(r.Header)
	}
	a.call("GET", "/assets/app-1.js", nil, "Accept-Encoding", "gzip").want(200).says("start()")
	r = a.call("GET", "/", nil).want(200)
	if r.Header.Get("Cache-Control") != "no-cache" {
		t.Error(r.Header)
	}
	a.call("GET", "/", nil, "If-None-Match", r.Header.Get("ETag")).want(304)
	a.call("HEAD", "/", nil).want(200)
	a.call("GET", "/assets/app-2.js", nil).want(404)
	a.call("GET", "/../go.mod", nil).want(404)
}

func TestMetricsAndHealth(t *testing.T) {
	a := start(t, sqlite(t))
	a.call("GET", "/healthz", nil).want(200).says("ok")
	a.call("GET", "/api/jobs", nil).want(200)
	a.call("GET", "/metrics", nil).want(200).says(`stallwright_requests_total{operation="list-jobs",status="200"} 1`).says(`stallwright_request_seconds_bucket{operation="list-jobs",le="+Inf"} 1`)
	if err := a.store.Close(); err != nil {
		t.Fatal(err)
	}
	a.call("GET", "/healthz", nil).want(503)
	a.call("GET", "/api/jobs", nil)
}
