package web

import (
	"bytes"
	"context"
	"errors"
	"io"
	"net"
	"net/http"
	"net/url"
	"slices"
	"strings"
	"time"
	"unicode/utf8"

	"stallwright/app/account"
	"stallwright/app/store"
)

// person is who asks.
type person struct {
	Account string // id; empty where nobody signed in
	Name    string
	Role    account.Role
	Remote  string      // address
	Link    *store.Link // of a customer
	Session string      // sum of the session's token
	Free    bool        // the server is used without accounts
}

func (p *person) actor() store.Actor {
	return store.Actor{Account: p.Name, Role: string(p.Role), Remote: p.Remote}
}

// office says whether the person works in the office.
func (p *person) office() bool { return slices.Contains(office, p.Role) }

// thisMachine is what whoever uses the server without an account is called.
const thisMachine = "this machine"

type personKey struct{}

// asking is who asks.
func asking(ctx context.Context) *person {
	p, _ := ctx.Value(personKey{}).(*person)
	if p == nil {
		return &person{Role: account.Nobody}
	}
	return p
}

// guarded finds a request's route and lets it through where its role may.
func (s *Server) guarded(w http.ResponseWriter, r *http.Request) {
	if !clean(r.URL) {
		s.refuse(w, http.StatusBadRequest, "the address holds characters that no address has")
		return
	}
	_, pattern := s.mux.Handler(r)
	route, ok := s.routes[pattern]
	if pattern == "GET /" && !s.pages.has(r.URL.Path) && !isVisit(r) {
		ok = false // the pattern takes every path
	}
	if !ok {
		s.missing(w, r)
		return
	}
	noteRoute(r.Context(), route.Name)
	who, err := s.who(r)
	if err != nil {
		s.log.Error("who asks could not be read", "error", err)
		s.refuse(w, http.StatusServiceUnavailable, "the database does not answer; try again")
		return
	}
	if who == nil {
		s.refuse(w, http.StatusForbidden, "this server is open to its own machine only; make accounts before others use it")
		return
	}
	noteWho(r.Context(), who.Name)
	if !route.Open() && !route.Allows(who.Role) {
		s.turnAway(w, r, route, who)
		return
	}
	if route.Body > texts {
		select {
		case s.large <- struct{}{}:
			defer func() { <-s.large }()
		case <-r.Context().Done():
			return
		}
	}
	if !s.takeBody(w, r, route) {
		return
	}
	s.mux.ServeHTTP(w, r.WithContext(context.WithValue(r.Context(), personKey{}, who)))
}

// missing answers where there is no route: which methods there are, if any.
func (s *Server) missing(w http.ResponseWriter, r *http.Request) {
	var allowed []string
	for _, m := range []string{get, put, post, patch, remove} {
		other := r.Clone(r.Context())
		other.Method = m
		if _, pattern := s.mux.Handler(other); pattern != "" && pattern != "GET /" {
			allowed = append(allowed, m)
		}
	}
	if len(allowed) > 0 {
		w.Header().Set("Allow", strings.Join(allowed, ", "))
		s.refuse(w, http.StatusMethodNotAllowed, "this address does not take "+r.Method)
		return
	}
	s.refuse(w, http.StatusNotFound, "there is nothing at this address")
}

// turnAway tells somebody that they may not, and leaves a line where they have an
// account. Whoever holds no link that counts hears that there is nothing.
func (s *Server) turnAway(w http.ResponseWriter, r *http.Request, route *Route, who *person) {
	if route.Allows(account.Customer) {
		s.refuse(w, http.StatusNotFound, "this link does not count any more; ask for a new one")
		return
	}
	if who.Role == account.Nobody {
		s.refuse(w, http.StatusUnauthorized, "sign in first")
		return
	}
	if err := s.store.Note(r.Context(), who.actor(), "turned away", route.Name); err != nil {
		s.log.Error("the audit trail could not be written", "error", err)
	}
	s.refuse(w, http.StatusForbidden, "the role "+string(who.Role)+" may not do this")
}

// who finds out who asks: by a session, by a customer's link, or, while there are no
// accounts, anybody on this machine. It is nil where the server would stand open.
func (s *Server) who(r *http.Request) (*person, error) {
	p := &person{Role: account.Nobody, Remote: remote(r)}
	if rest, ok := strings.CutPrefix(r.URL.Path, "/share/"); ok {
		token, _, _ := strings.Cut(rest, "/")
		l, err := s.store.OpenLink(r.Context(), account.TokenSum(token))
		switch {
		case err == nil:
			p.Role, p.Link, p.Name = account.Customer, &l, "link "+l.ID
			return p, nil
		case !errors.Is(err, store.ErrNotFound):
			return nil, err
		}
		return p, nil
	}
	if c, err := r.Cookie(s.cookieName()); err == nil {
		sum := account.TokenSum(c.Value)
		a, err := s.store.SessionAccount(r.Context(), sum)
		switch {
		case err == nil:
			p.Account, p.Name, p.Role, p.Session = a.ID, a.Name, account.Role(a.Role), sum
			return p, nil
		case !errors.Is(err, store.ErrNotFound):
			return nil, err
		}
	}
	free, err := s.free(r.Context())
	if err != nil || !free {
		return p, err
	}
	if !fromHere(r) {
		return nil, nil
	}
	p.Name, p.Role, p.Free = thisMachine, account.Owner, true
	return p, nil
}

// countFor is how long a count of accounts is believed: another process may make
// the first one.
const countFor = 2 * time.Second

// free says whether the server is used without accounts.
func (s *Server) free(ctx context.Context) (bool, error) {
	if !s.conf.Local {
		return false, nil
	}
	now := s.conf.Clock().UnixNano()
	if s.people.Load() > 0 {
		return false, nil // there never comes a time without any again
	}
	if at := s.counted.Load(); at != 0 && now-at < int64(countFor) {
		return true, nil
	}
	n, err := s.store.CountAccounts(ctx)
	if err != nil {
		return false, err
	}
	s.people.Store(int64(n))
	s.counted.Store(now)
	return n == 0, nil
}

// fromHere says that a request came from this machine and was meant for it: not
// through a proxy, and not from a page whose name was pointed at this machine.
func fromHere(r *http.Request) bool {
	for _, h := range []string{"Forwarded", "X-Forwarded-For", "X-Forwarded-Host", "X-Real-Ip", "Via"} {
		if r.Header.Get(h) != "" {
			return false
		}
	}
	ip := net.ParseIP(remote(r))
	return ip != nil && ip.IsLoopback() && IsLoopback(r.Host)
}

// IsLoopback says whether an address, with a port or without, is one of this
// machine's own: localhost, 127.0.0.1 and its like, or ::1.
func IsLoopback(addr string) bool {
	host := addr
	if h, _, err := net.SplitHostPort(addr); err == nil {
		host = h
	}
	host = strings.TrimSuffix(strings.TrimPrefix(host, "["), "]")
	if strings.EqualFold(host, "localhost") {
		return true
	}
	ip := net.ParseIP(host)
	return ip != nil && ip.IsLoopback()
}

// remote is the address a request came from, without its port.
func remote(r *http.Request) string {
	host, _, err := net.SplitHostPort(r.RemoteAddr)
	if err != nil {
		return r.RemoteAddr
	}
	return host
}

// clean says that an address holds only what a database and a log can.
func clean(u *url.URL) bool {
	q, err := url.QueryUnescape(u.RawQuery)
	if err != nil {
		return false
	}
	for _, s := range []string{u.Path, q} {
		if !utf8.ValidString(s) || strings.ContainsRune(s, 0) {
			return false
		}
	}
	return true
}

// isVisit says that a person opened an address, so that the app's page answers it.
func isVisit(r *http.Request) bool {
	return (r.Method == get || r.Method == http.MethodHead) && strings.Contains(r.Header.Get("Accept"), "text/html") &&
		!strings.HasPrefix(r.URL.Path, "/api/") && !strings.HasPrefix(r.URL.Path, "/share/")
}

// readWithin is how long a request's body may take; a photo over a poor line needs
// its time.
const readWithin = 2 * time.Minute

// writeWithin is how long an answer may take; live connections set their own.
const writeWithin = 2 * time.Minute

// takeBody reads what a request carries, so that no more than the route takes is
// ever held, and refuses what no text of ours holds.
func (s *Server) takeBody(w http.ResponseWriter, r *http.Request, route *Route) bool {
	control := http.NewResponseController(w)
	_ = control.SetWriteDeadline(time.Now().Add(writeWithin)) // a recorder of a test has none
	_ = control.SetReadDeadline(time.Now().Add(readWithin))
	body, err := io.ReadAll(io.LimitReader(r.Body, route.Body+1))
	_ = control.SetReadDeadline(time.Time{})
	var late net.Error
	switch {
	case errors.As(err, &late) && late.Timeout():
		s.refuse(w, http.StatusRequestTimeout, "the request took too long to come")
		return false
	case err != nil:
		s.refuse(w, http.StatusBadRequest, "the request broke off")
		return false
	case int64(len(body)) > route.Body && route.Body == 0:
		s.refuse(w, http.StatusBadRequest, "this takes no content")
		return false
	case int64(len(body)) > route.Body:
		s.refuse(w, http.StatusRequestEntityTooLarge, "this is larger than "+size(route.Body))
		return false
	}
	if strings.Contains(r.Header.Get("Content-Type"), "json") || route.Body == small {
		if !utf8.Valid(body) || bytes.Contains(body, []byte(`\u0000`)) || bytes.IndexByte(body, 0) >= 0 {
			s.refuse(w, http.StatusBadRequest, "the text holds characters that no text has (NUL, or not UTF-8)")
			return false
		}
	}
	r.Body = io.NopCloser(bytes.NewReader(body))
	r.ContentLength = int64(len(body))
	return true
}
