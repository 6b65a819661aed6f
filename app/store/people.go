package store

import (
	"context"
	"fmt"
	"strings"
	"time"
)

// Account is a person who signs in.
type Account struct {
	ID       string
	Name     string
	Role     string
	Hash     string // of the password
	Created  string
	Disabled string // since when; empty for not
}

const accountColumns = "id, name, role, hash, created, disabled"

func (a *Account) columns() []any {
	return []any{&a.ID, &a.Name, &a.Role, &a.Hash, &a.Created, &a.Disabled}
}

// Accounts lists the accounts by name, disabled ones too.
func (s *Store) Accounts(ctx context.Context) ([]Account, error) {
	return all(ctx, s, func(scan func(...any) error) (a Account, err error) {
		err = scan(a.columns()...)
		return a, err
	}, "SELECT "+accountColumns+" FROM account ORDER BY folded")
}

// CountAccounts counts the accounts that can sign in.
func (s *Store) CountAccounts(ctx context.Context) (n int, err error) {
	err = s.read.QueryRowContext(ctx, "SELECT COUNT(*) FROM account WHERE disabled = ''").Scan(&n)
	return n, err
}

// AccountNamed is the account of a name, however it is capitalised.
func (s *Store) AccountNamed(ctx context.Context, name string) (Account, error) {
	var a Account
	err := s.read.QueryRowContext(ctx, s.dialect.bind("SELECT "+accountColumns+" FROM account WHERE folded = ?"), strings.ToLower(name)).Scan(a.columns()...)
	return a, found(err)
}

// AddAccount makes an account; a name that is taken is ErrExists. The first one
// must be an owner's.
func (s *Store) AddAccount(ctx context.Context, who Actor, a Account) error {
	return s.change(ctx, func(t *tx) error {
		var owners int
		if err := t.row("SELECT COUNT(*) FROM account WHERE role = 'owner' AND disabled = ''").Scan(&owners); err != nil {
			return err
		}
		if owners == 0 && a.Role != "owner" {
			return ErrLast
		}
		res, err := t.exec("INSERT INTO account (id, name, folded, role, hash, created) VALUES (?, ?, ?, ?, ?, ?) ON CONFLICT (folded) DO NOTHING", a.ID, a.Name, strings.ToLower(a.Name), a.Role, a.Hash, t.at)
		if err != nil {
			return err
		}
		if n, err := res.RowsAffected(); err != nil || n == 0 {
			return ErrExists
		}
		return t.audit(who, "account added", a.Name, a.Role)
	})
}

// AccountChange is what changes of an account; nil leaves a thing as it is.
type AccountChange struct {
	Role     *string
	Hash     *string
	Disabled *bool
}

// ChangeAccount changes an account and ends its sessions. The last owner can
// neither be disabled nor given another role.
func (s *Store) ChangeAccount(ctx context.Context, who Actor, id string, c AccountChange) error {
	return s.change(ctx, func(t *tx) error {
		// All owners are held, so that two cannot dismiss each other at once.
		if t.s.dialect.hold != "" {
			rows, err := t.QueryContext(t.ctx, "SELECT id FROM account WHERE role = 'owner' ORDER BY id FOR UPDATE")
			if err != nil {
				return err
			}
			if err := rows.Close(); err != nil {
				return err
			}
		}
		var a Account
		if err := t.row("SELECT "+accountColumns+" FROM account WHERE id = ?"+t.s.dialect.hold, id).Scan(a.columns()...); err != nil {
			return found(err)
		}
		var did []string
		if c.Role != nil && *c.Role != a.Role {
			a.Role = *c.Role
			did = append(did, "role "+a.Role)
		}
		if c.Hash != nil {
			a.Hash = *c.Hash
			did = append(did, "password")
		}
		if c.Disabled != nil && *c.Disabled != (a.Disabled != "") {
			a.Disabled = ""
			did = append(did, "enabled")
			if *c.Disabled {
				a.Disabled = t.at
				did[len(did)-1] = "disabled"
			}
		}
		if len(did) == 0 {
			return nil
		}
		if _, err := t.exec("UPDATE account SET role = ?, hash = ?, disabled = ? WHERE id = ?", a.Role, a.Hash, a.Disabled, id); err != nil {
			return err
		}
		var owners int
		if err := t.row("SELECT COUNT(*) FROM account WHERE role = 'owner' AND disabled = ''").Scan(&owners); err != nil {
			return err
		}
		if owners == 0 {
			return ErrLast
		}
		if _, err := t.exec("DELETE FROM session WHERE account = ?", id); err != nil {
			return err
		}
		return t.audit(who, "account changed", a.Name, strings.Join(did, ", "))
	})
}

// AddSession begins a session, known by the sum of its token, and clears away those
// that ran out.
func (s *Store) AddSession(ctx context.Context, who Actor, sum, account string, last time.Duration) error {
	return s.change(ctx, func(t *tx) error {
		if _, err := t.exec("DELETE FROM session WHERE expires < ?", t.at); err != nil {
			return err
		}
		if _, err := t.exec("INSERT INTO session (sum, account, created, expires) VALUES (?, ?, ?, ?)", sum, account, t.at, s.later(last)); err != nil {
			return err
		}
		return t.audit(who, "signed in", who.Account, "")
	})
}

func (s *Store) later(d time.Duration) string {
	return s.opt.Clock().Add(d).UTC().Format(timeLayout)
}

// SessionAccount is whose session it is; ErrNotFound where it ran out, or the
// account is disabled.
func (s *Store) SessionAccount(ctx context.Context, sum string) (Account, error) {
	var a Account
	err := s.read.QueryRowContext(ctx, s.dialect.bind("SELECT a.id, a.name, a.role, a.hash, a.created, a.disabled FROM session s JOIN account a ON a.id = s.account WHERE s.sum = ? AND s.expires > ? AND a.disabled = ''"), sum, s.now()).Scan(a.columns()...)
	return a, found(err)
}

// EndSession ends a session.
func (s *Store) EndSession(ctx context.Context, who Actor, sum string) error {
	return s.change(ctx, func(t *tx) error {
		res, err := t.exec("DELETE FROM session WHERE sum = ?", sum)
		if err != nil {
			return err
		}
		if n, err := res.RowsAffected(); err != nil || n == 0 {
			return err
		}
		return t.audit(who, "signed out", who.Account, "")
	})
}

// Link opens one job's drawings to whoever holds its address.
type Link struct {
	ID      string
	Job     string
	Label   string // for whom
	Account string // who made it
	Created string
	Expires string
	Revoked string // since when; empty for not
}

const linkColumns = "id, job, label, account, created, expires, revoked"

func (l *Link) columns() []any {
	return []any{&l.ID, &l.Job, &l.Label, &l.Account, &l.Created, &l.Expires, &l.Revoked}
}

// AddLink makes a link, known by the sum of its token.
func (s *Store) AddLink(ctx context.Context, who Actor, id, sum, job, label string, last time.Duration) (Link, error) {
	err := s.change(ctx, func(t *tx) error {
		if _, err := t.latest(job); err != nil {
			return err
		}
		if _, err := t.exec("INSERT INTO link (id, sum, job, label, account, created, expires) VALUES (?, ?, ?, ?, ?, ?, ?)", id, sum, job, label, who.Account, t.at, s.later(last)); err != nil {
			return err
		}
		return t.audit(who, "link made", job, label)
	})
	if err != nil {
		return Link{}, err
	}
	var l Link
	err = s.read.QueryRowContext(ctx, s.dialect.bind("SELECT "+linkColumns+" FROM link WHERE id = ?"), id).Scan(l.columns()...)
	return l, found(err)
}

// Links lists the links to a job, the latest first.
func (s *Store) Links(ctx context.Context, job string) ([]Link, error) {
	return all(ctx, s, func(scan func(...any) error) (l Link, err error) {
		err = scan(l.columns()...)
		return l, err
	}, "SELECT "+linkColumns+" FROM link WHERE job = ? ORDER BY created DESC, id", job)
}

// RevokeLink ends a link for good.
func (s *Store) RevokeLink(ctx context.Context, who Actor, job, id string) error {
	return s.change(ctx, func(t *tx) error {
		var revoked string
		if err := t.row("SELECT revoked FROM link WHERE job = ? AND id = ?"+t.s.dialect.hold, job, id).Scan(&revoked); err != nil {
			return found(err)
		}
		if revoked != "" {
			return nil
		}
		if _, err := t.exec("UPDATE link SET revoked = ? WHERE id = ?", t.at, id); err != nil {
			return err
		}
		return t.audit(who, "link revoked", job, id)
	})
}

// OpenLink is the link of a token's sum; ErrNotFound where it ran out, was revoked,
// or its job is deleted.
func (s *Store) OpenLink(ctx context.Context, sum string) (Link, error) {
	var l Link
	err := s.read.QueryRowContext(ctx, s.dialect.bind("SELECT l.id, l.job, l.label, l.account, l.created, l.expires, l.revoked FROM link l JOIN job j ON j.id = l.job WHERE l.sum = ? AND l.expires > ? AND l.revoked = '' AND j.deleted = ''"), sum, s.now()).Scan(l.columns()...)
	return l, found(err)
}

// Trace is one line of the audit trail.
type Trace struct {
	N       int64
	At      string
	Account string
	Role    string
	Remote  string
	Action  string
	What    string
	Detail  string
}

func (t *tx) audit(who Actor, action, what, detail string) error {
	_, err := t.exec("INSERT INTO audit (at, account, role, remote, action, what, detail) VALUES (?, ?, ?, ?, ?, ?, ?)", t.at, who.Account, who.Role, who.Remote, action, what, detail)
	return err
}

// Note writes a line of the audit trail for what changed nothing else: somebody
// turned away.
func (s *Store) Note(ctx context.Context, who Actor, action, what string) error {
	return s.change(ctx, func(t *tx) error { return t.audit(who, action, what, "") })
}

// Trail lists at most limit lines of the audit trail before line n, the latest
// first; what keeps those about one thing, empty all; n of 0 begins at the end.
func (s *Store) Trail(ctx context.Context, what string, n int64, limit int) ([]Trace, error) {
	where, args := "WHERE n > 0", []any{}
	if n > 0 {
		where, args = "WHERE n < ?", []any{n}
	}
	if what != "" {
		where += " AND what = ?"
		args = append(args, what)
	}
	return all(ctx, s, func(scan func(...any) error) (l Trace, err error) {
		err = scan(&l.N, &l.At, &l.Account, &l.Role, &l.Remote, &l.Action, &l.What, &l.Detail)
		return l, err
	}, fmt.Sprintf("SELECT n, at, account, role, remote, action, what, detail FROM audit %s ORDER BY n DESC LIMIT ?", where), append(args, limit)...)
}
