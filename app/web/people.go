package web

import (
	"context"
	"errors"
	"math"
	"net/http"
	"strings"
	"time"

	"github.com/danielgtaylor/huma/v2"

	"stallwright/app/account"
	"stallwright/app/notebook"
	"stallwright/app/store"
)

// sessionLasts is how long somebody stays signed in: a crew's phone is opened with
// gloves on, far from the office.
const sessionLasts = 30 * 24 * time.Hour

// Session is who is signed in.
type Session struct {
	Name     string `json:"name" doc:"empty where nobody is"`
	Role     string `json:"role" enum:"owner,estimator,crew,saw,nobody"`
	Accounts bool   `json:"accounts" doc:"there are accounts: one has to sign in"`
	Version  string `json:"version"`
}

type signedIn struct {
	SetCookie http.Cookie `header:"Set-Cookie"`
	Body      Session
}

// Person is an account.
type Person struct {
	ID       string `json:"id"`
	Name     string `json:"name"`
	Role     string `json:"role" enum:"owner,estimator,crew,saw"`
	Created  string `json:"created"`
	Disabled string `json:"disabled,omitempty" doc:"since when they cannot sign in"`
}

func personOf(a *store.Account) Person { return Person{a.ID, a.Name, a.Role, a.Created, a.Disabled} }

// Trace is one line of the audit trail.
type Trace struct {
	N       int64  `json:"n"`
	At      string `json:"at"`
	Account string `json:"account"`
	Role    string `json:"role"`
	Remote  string `json:"remote" doc:"the address it came from"`
	Action  string `json:"action"`
	What    string `json:"what"`
	Detail  string `json:"detail,omitempty"`
}

func (s *Server) handlePeople() {
	op(s, "read-session", func(ctx context.Context, _ *struct{}) (*struct{ Body Session }, error) {
		return &struct{ Body Session }{s.session(asking(ctx))}, nil
	})
	op(s, "sign-in", s.signIn)
	op(s, "sign-out", func(ctx context.Context, _ *struct{}) (*signedIn, error) {
		p := asking(ctx)
		if p.Session != "" {
			if err := s.store.EndSession(ctx, p.actor(), p.Session); err != nil {
				return nil, err
			}
		}
		return &signedIn{s.cookie(""), s.session(&person{Role: account.Nobody})}, nil
	})
	op(s, "change-password", s.changeOwnPassword, status(http.StatusOK))
	op(s, "list-accounts", func(ctx context.Context, _ *struct{}) (*struct {
		Body struct {
			Accounts []Person `json:"accounts" nullable:"false"`
		}
	}, error) {
		list, err := s.store.Accounts(ctx)
		if err != nil {
			return nil, err
		}
		var out struct {
			Body struct {
				Accounts []Person `json:"accounts" nullable:"false"`
			}
		}
		out.Body.Accounts = make([]Person, len(list))
		for i := range list {
			out.Body.Accounts[i] = personOf(&list[i])
		}
		return &out, nil
	})
	op(s, "add-account", s.addAccount, status(http.StatusCreated))
	op(s, "change-account", s.changeAccount, status(http.StatusNoContent))
	op(s, "read-audit", s.readAudit)
}

func (s *Server) session(p *person) Session {
	return Session{Name: p.Name, Role: string(p.Role), Accounts: !p.Free, Version: s.conf.Version}
}

// signIn checks a name and password. Whether the name exists shows neither in the
// answer nor in the time it takes.
func (s *Server) signIn(ctx context.Context, in *struct {
	Body struct {
		Name     string `json:"name" maxLength:"100"`
		Password string `json:"password" maxLength:"800"`
	}
}) (*signedIn, error) {
	p := asking(ctx)
	if ok, wait := s.limits.allows(p.Remote, strings.ToLower(in.Body.Name)); !ok {
		return nil, tooMany(wait)
	}
	a, err := s.store.AccountNamed(ctx, in.Body.Name)
	known := err == nil && a.Disabled == ""
	if err != nil && !isMissing(err) {
		return nil, err
	}
	hash := account.Decoy
	if known {
		hash = a.Hash
	}
	right, err := s.matches(ctx, hash, in.Body.Password)
	if err != nil {
		return nil, err
	}
	if !known || !right {
		// The name as typed may be a password typed in the wrong field: only names that
		// exist are written down.
		who := store.Actor{Role: string(account.Nobody), Remote: p.Remote}
		if known {
			who.Account = a.Name
		}
		if err := s.store.Note(ctx, who, "sign-in refused", who.Account); err != nil {
			return nil, err
		}
		return nil, huma.Error401Unauthorized("the name or the password is not right")
	}
	token := account.NewToken()
	now := &person{Account: a.ID, Name: a.Name, Role: account.Role(a.Role), Remote: p.Remote}
	if err := s.store.AddSession(ctx, now.actor(), account.TokenSum(token), a.ID, sessionLasts); err != nil {
		return nil, err
	}
	return &signedIn{s.cookie(token), s.session(now)}, nil
}

// matches checks a password, as few at once as memory allows.
func (s *Server) matches(ctx context.Context, hash, password string) (bool, error) {
	select {
	case s.limits.check <- struct{}{}:
		defer func() { <-s.limits.check }()
	case <-ctx.Done():
		return false, ctx.Err()
	}
	return account.Matches(hash, password)
}

func tooMany(wait time.Duration) error {
	seconds := int(math.Ceil(wait.Seconds()))
	return huma.ErrorWithHeaders(huma.Error429TooManyRequests("too many tries; wait "+itoa(seconds)+" seconds"), http.Header{"Retry-After": {itoa(seconds)}})
}

func (s *Server) changeOwnPassword(ctx context.Context, in *struct {
	Body struct {
		Old string `json:"old" maxLength:"800"`
		New string `json:"new" maxLength:"800"`
	}
}) (*signedIn, error) {
	p := asking(ctx)
	if p.Account == "" {
		return nil, huma.Error409Conflict("this machine is used without accounts: there is no password")
	}
	if ok, wait := s.limits.allows(p.Remote, strings.ToLower(p.Name)); !ok {
		return nil, tooMany(wait)
	}
	a, err := s.store.AccountNamed(ctx, p.Name)
	if err != nil {
		return nil, err
	}
	right, err := s.matches(ctx, a.Hash, in.Body.Old)
	if err != nil {
		return nil, err
	}
	if !right {
		return nil, huma.Error403Forbidden("the old password is not right")
	}
	hash, err := s.hash(ctx, a.Name, in.Body.New)
	if err != nil {
		return nil, err
	}
	if err := s.store.ChangeAccount(ctx, p.actor(), a.ID, store.AccountChange{Hash: &hash}); err != nil {
		return nil, err
	}
	// All sessions ended with the old password; this one goes on with a new one.
	token := account.NewToken()
	if err := s.store.AddSession(ctx, p.actor(), account.TokenSum(token), a.ID, sessionLasts); err != nil {
		return nil, err
	}
	return &signedIn{s.cookie(token), s.session(p)}, nil
}

// hash checks a new password and hashes it.
func (s *Server) hash(ctx context.Context, name, password string) (string, error) {
	if err := account.CheckPassword(name, password); err != nil {
		return "", bad("%v", err)
	}
	select {
	case s.limits.check <- struct{}{}:
		defer func() { <-s.limits.check }()
	case <-ctx.Done():
		return "", ctx.Err()
	}
	return account.Hash(password, account.Usual), nil
}

func (s *Server) addAccount(ctx context.Context, in *struct {
	Body struct {
		Name     string `json:"name" maxLength:"100"`
		Role     string `json:"role" enum:"owner,estimator,crew,saw"`
		Password string `json:"password" maxLength:"800"`
	}
}) (*struct{ Body Person }, error) {
	if err := account.CheckName(in.Body.Name); err != nil {
		return nil, bad("%v", err)
	}
	hash, err := s.hash(ctx, in.Body.Name, in.Body.Password)
	if err != nil {
		return nil, err
	}
	a := store.Account{ID: notebook.NewID(), Name: in.Body.Name, Role: in.Body.Role, Hash: hash}
	if err := s.store.AddAccount(ctx, asking(ctx).actor(), a); err != nil {
		if errors.Is(err, store.ErrLast) {
			return nil, huma.Error409Conflict("the first account must be an owner's")
		}
		return nil, err
	}
	s.counted.Store(0) // from now on one has to sign in
	a, err = s.store.AccountNamed(ctx, a.Name)
	return &struct{ Body Person }{personOf(&a)}, err
}

func (s *Server) changeAccount(ctx context.Context, in *struct {
	Account string `path:"account" maxLength:"40"`
	Body    struct {
		Role     *string `json:"role,omitempty" enum:"owner,estimator,crew,saw"`
		Password *string `json:"password,omitempty" maxLength:"800"`
		Disabled *bool   `json:"disabled,omitempty"`
	}
}) (*struct{}, error) {
	c := store.AccountChange{Role: in.Body.Role, Disabled: in.Body.Disabled}
	if in.Body.Password != nil {
		hash, err := s.hash(ctx, "", *in.Body.Password)
		if err != nil {
			return nil, err
		}
		c.Hash = &hash
	}
	return nil, s.store.ChangeAccount(ctx, asking(ctx).actor(), in.Account, c)
}

func (s *Server) readAudit(ctx context.Context, in *struct {
	About  string `query:"about" maxLength:"100" doc:"a job, a file, an account; all where left out"`
	Before int64  `query:"before" minimum:"0" maximum:"9007199254740991" doc:"lines before this one; from the latest where left out"`
	Limit  int    `query:"limit" minimum:"1" maximum:"500" default:"100"`
}) (*struct {
	Body struct {
		Lines []Trace `json:"lines" nullable:"false"`
	}
}, error) {
	list, err := s.store.Trail(ctx, in.About, in.Before, in.Limit)
	if err != nil {
		return nil, err
	}
	var out struct {
		Body struct {
			Lines []Trace `json:"lines" nullable:"false"`
		}
	}
	out.Body.Lines = make([]Trace, len(list))
	for i, l := range list {
		out.Body.Lines[i] = Trace(l)
	}
	return &out, nil
}
