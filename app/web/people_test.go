package web

import (
	"context"
	"fmt"
	"strings"
	"sync"
	"testing"
	"time"

	"stallwright/app/account"
	"stallwright/app/store"
	"stallwright/app/store/storetest"
)

func credentials(name, word string) map[string]any {
	return map[string]any{"name": name, "password": word}
}

// From the first account to the last: once there is one, one has to sign in.
func TestFirstAccountClosesTheDoor(t *testing.T) {
	storetest.Run(t, func(t *testing.T, o store.Options) {
		a := start(t, o)
		var s Session
		a.call("GET", "/api/session", nil).want(200).into(&s)
		if s.Role != "owner" || s.Accounts {
			t.Errorf("%+v", s)
		}
		add := func(name, role, word string, cookie ...string) *reply {
			return a.call("POST", "/api/accounts", map[string]any{"name": name, "role": role, "password": word}, cookie...)
		}
		add("Ann", "crew", password).want(409)
		add("Ann", "owner", "short").want(422)
		add("<b>", "owner", password).want(422)
		add("Ann", "owner", password).want(201)
		a.call("GET", "/api/jobs", nil).want(401)
		a.call("GET", "/api/session", nil).want(200).into(&s)
		if s.Role != "nobody" || !s.Accounts {
			t.Errorf("%+v", s)
		}
		a.call("POST", "/api/session", credentials("Ann", "another word here")).want(401)
		r := a.call("POST", "/api/session", credentials("ann", password)).want(200)
		set := r.Header.Get("Set-Cookie")
		for _, want := range []string{"HttpOnly", "SameSite=Strict", "Path=/", "Max-Age="} {
			if !strings.Contains(set, want) {
				t.Errorf("the cookie lacks %s: %s", want, set)
			}
		}
		cookie, _, _ := strings.Cut(set, ";")
		a.call("GET", "/api/jobs", nil, "Cookie", cookie).want(200)
		add("Bob", "crew", password, "Cookie", cookie).want(201)
		add("BOB", "crew", password, "Cookie", cookie).want(409)

		// A new password ends the other sessions.
		other := strings.SplitN(a.call("POST", "/api/session", credentials("Ann", password)).want(200).Header.Get("Set-Cookie"), ";", 2)[0]
		a.call("PUT", "/api/session/password", map[string]any{"old": "not this one", "new": "five words are even better"}, "Cookie", cookie).want(403)
		r = a.call("PUT", "/api/session/password", map[string]any{"old": password, "new": "five words are even better"}, "Cookie", cookie).want(200)
		a.call("GET", "/api/jobs", nil, "Cookie", other).want(401)
		cookie = strings.SplitN(r.Header.Get("Set-Cookie"), ";", 2)[0]
		a.call("GET", "/api/jobs", nil, "Cookie", cookie).want(200)

		var people struct{ Accounts []Person }
		a.call("GET", "/api/accounts", nil, "Cookie", cookie).want(200).into(&people)
		if len(people.Accounts) != 2 || strings.Contains(string(a.call("GET", "/api/accounts", nil, "Cookie", cookie).Body), "argon2") {
			t.Errorf("%+v", people)
		}
		for _, p := range people.Accounts {
			status := 204
			if p.Role == "owner" {
				status = 409 // the last one
			}
			a.call("PATCH", "/api/accounts/"+p.ID, map[string]any{"disabled": true}, "Cookie", cookie).want(status)
		}
		a.call("POST", "/api/session", credentials("Bob", password)).want(401)
		a.call("DELETE", "/api/session", nil, "Cookie", cookie).want(200)
		a.call("GET", "/api/jobs", nil, "Cookie", cookie).want(401)
	})
}

// Another process that made the first account closes this one's door too.
func TestAccountMadeElsewhereCounts(t *testing.T) {
	now := time.Now()
	var mu sync.Mutex
	a := start(t, sqlite(t), func(c *Config) {
		c.Clock = func() time.Time { mu.Lock(); defer mu.Unlock(); return now }
	})
	a.call("GET", "/api/jobs", nil).want(200)
	if err := a.store.AddAccount(context.Background(), store.Actor{}, store.Account{ID: "1", Name: "Ann", Role: "owner", Hash: cheapHash}); err != nil {
		t.Fatal(err)
	}
	mu.Lock()
	now = now.Add(countFor)
	mu.Unlock()
	a.call("GET", "/api/jobs", nil).want(401)
}

func TestGuessingIsSlowedDown(t *testing.T) {
	now := time.Now()
	var mu sync.Mutex
	a := start(t, sqlite(t), func(c *Config) {
		c.Clock = func() time.Time { mu.Lock(); defer mu.Unlock(); return now }
	})
	a.person(account.Owner)
	for range tryBurst {
		a.call("POST", "/api/session", credentials("The owner", "guess guess guess")).want(401)
	}
	r := a.call("POST", "/api/session", credentials("The owner", password)).want(429)
	if r.Header.Get("Retry-After") == "" {
		t.Error("nobody says how long to wait")
	}
	mu.Lock()
	now = now.Add(tryEach)
	mu.Unlock()
	a.call("POST", "/api/session", credentials("The owner", password)).want(200)

	// From many addresses for one name: the name's own limit holds.
	l := newLimits(func() time.Time { return now })
	passed := 0
	for i := range 100 {
		if ok, _ := l.allows(fmt.Sprint("192.0.2.", i), "ann"); ok {
			passed++
		}
	}
	if passed != nameBurst {
		t.Errorf("%d tries for one name from 100 addresses", passed)
	}
	// Whoever tries from ever new addresses does not fill the memory.
	for i := range 5 * mostBuckets {
		l.allows(fmt.Sprint("a", i), fmt.Sprint("n", i))
		if i%mostBuckets == 0 {
			mu.Lock()
			now = now.Add(time.Hour)
			mu.Unlock()
		}
	}
	if n := len(l.by); n > 5*mostBuckets {
		t.Errorf("%d buckets", n)
	}
}

func TestCookieIsForHTTPSWhereOthersReachTheServer(t *testing.T) {
	o := sqlite(t)
	st := storetest.Open(t, o)
	if err := st.AddAccount(context.Background(), store.Actor{}, store.Account{ID: "1", Name: "Ann", Role: "owner", Hash: cheapHash}); err != nil {
		t.Fatal(err)
	}
	a := startOn(t, st, func(c *Config) { c.Local, c.Secure = false, true })
	r := a.call("POST", "/api/session", credentials("Ann", password)).want(200)
	if set := r.Header.Get("Set-Cookie"); !strings.HasPrefix(set, "__Host-stallwright=") || !strings.Contains(set, "Secure") {
		t.Error(set)
	}
	if r.Header.Get("Strict-Transport-Security") == "" {
		t.Error("nothing says that https is to be kept to")
	}
	// There it is never open, whoever asks and from wherever.
	a.call("GET", "/api/jobs", nil).want(401)
}

// Who did what is written down, with who was turned away; passwords never are.
func TestAuditTrailOverHTTP(t *testing.T) {
	storetest.Run(t, func(t *testing.T, o store.Options) {
		a := start(t, o)
		owner, saw := a.person(account.Owner), a.person(account.Saw)
		a.call("PUT", "/api/jobs/farm", text(exampleJob(t, "harrow-field-pen")), "If-None-Match", "*", "Cookie", owner).want(200)
		a.call("DELETE", "/api/jobs/farm", nil, "Cookie", saw).want(403)
		a.call("POST", "/api/session", credentials("my secret words by mistake", "my secret words")).want(401)
		var out struct{ Lines []Trace }
		a.call("GET", "/api/audit", nil, "Cookie", owner).want(200).into(&out)
		var got []string
		for _, l := range out.Lines {
			got = append(got, l.Account+" "+l.Action+" "+l.What)
		}
		for _, want := range []string{"The owner job created farm", "The saw turned away delete-job", " sign-in refused "} {
			if !contains(got, want) {
				t.Errorf("%q is not in %q", want, got)
			}
		}
		if all := strings.Join(got, " ") + a.log.String(); strings.Contains(all, "secret") {
			t.Error("what was typed as a name, perhaps a password, was written down")
		}
	})
}

// Who only saws writes about boards and problems, nothing else.
func TestSawDoesNotMeasure(t *testing.T) {
	a := start(t, sqlite(t))
	a.make("farm", exampleJob(t, "three-meadows"))
	a.person(account.Owner)
	saw := a.person(account.Saw)
	var out struct{ Results []Handed }
	body := fmt.Sprintf(`{"records":[%s,%s,%s]}`, note("n1", "L3-left", 138), cutLine("c1"), stepLine("s1", 1, true))
	a.call("POST", "/api/jobs/farm/records", []byte(body), "Content-Type", "application/json", "Cookie", saw).want(200).into(&out)
	if out.Results[0].Refused == "" || !out.Results[1].New || out.Results[2].Refused == "" {
		t.Errorf("%+v", out)
	}
}
