package store

import (
	"context"
	"crypto/sha256"
	"database/sql"
	"embed"
	"encoding/hex"
	"errors"
	"fmt"
	"io/fs"
	"log/slog"
	"time"

	"github.com/pressly/goose/v3"
)

//go:embed migrations
var migrations embed.FS

// Options say which database to open.
type Options struct {
	Dir   string           // SQLite: the folder that holds stallwright.db; made where it is not there
	URL   string           // PostgreSQL: postgres://…; counts before Dir
	Clock func() time.Time // time.Now where nil
	Log   *slog.Logger     // none where nil
	Poll  time.Duration    // how often SQLite is asked what other processes wrote; 500 ms where zero
}

// Store is an open database. It is for use by many at once.
type Store struct {
	write   *sql.DB
	read    *sql.DB // the same as write for PostgreSQL
	dialect dialect
	opt     Options
	hub     *hub
	stop    context.CancelFunc
	done    chan struct{} // closed once the watcher has ended
}

// Open opens a database, makes its tables or brings them up to date, and begins to
// watch for what other processes write.
func Open(ctx context.Context, opt Options) (*Store, error) {
	if opt.Clock == nil {
		opt.Clock = time.Now
	}
	if opt.Log == nil {
		opt.Log = slog.New(slog.DiscardHandler)
	}
	if opt.Poll == 0 {
		opt.Poll = 500 * time.Millisecond
	}
	s := &Store{opt: opt, hub: newHub()}
	var err error
	if opt.URL != "" {
		err = s.openPostgres(ctx)
	} else {
		err = s.openSQLite(ctx)
	}
	if err == nil {
		err = s.migrate(ctx)
	}
	if err == nil {
		err = s.read.PingContext(ctx)
	}
	if err != nil {
		return nil, errors.Join(err, s.closePools())
	}
	watching, stop := context.WithCancel(context.Background())
	s.stop, s.done = stop, make(chan struct{})
	go func() {
		defer close(s.done)
		s.watch(watching)
	}()
	return s, nil
}

// migrate brings the tables up to date. Two processes that start at once take
// turns.
func (s *Store) migrate(ctx context.Context) error {
	files, err := fs.Sub(migrations, "migrations/"+s.dialect.name)
	if err != nil {
		return err
	}
	unlock, err := s.dialect.lock(ctx, s.write)
	if err != nil {
		return fmt.Errorf("another process is changing the database's tables: %w", err)
	}
	defer unlock()
	for try := 0; ; try++ {
		p, err := goose.NewProvider(s.dialect.goose, s.write, files, goose.WithDisableGlobalRegistry(true))
		if err == nil {
			_, err = p.Up(ctx)
		}
		if err == nil {
			return nil
		}
		if try == 5 || ctx.Err() != nil {
			return fmt.Errorf("the database's tables could not be brought up to date: %w", err)
		}
		time.Sleep(100 * time.Millisecond) // another process that did it meanwhile is why it failed
	}
}

// Close ends the watch and closes the database.
func (s *Store) Close() error {
	s.stop()
	<-s.done
	s.hub.close()
	return s.closePools()
}

func (s *Store) closePools() error {
	var err error
	if s.read != nil && s.read != s.write {
		err = s.read.Close()
	}
	if s.write != nil {
		err = errors.Join(s.write.Close(), err)
	}
	return err
}

// Ping says whether the database answers, reading and writing.
func (s *Store) Ping(ctx context.Context) error {
	var one int
	if err := s.read.QueryRowContext(ctx, "SELECT 1").Scan(&one); err != nil {
		return err
	}
	return s.write.PingContext(ctx)
}

// Engine is sqlite or postgres.
func (s *Store) Engine() string { return s.dialect.name }

// timeLayout is RFC 3339 in UTC to the microsecond; as text it sorts by time.
const timeLayout = "2006-01-02T15:04:05.000000Z"

func (s *Store) now() string { return s.opt.Clock().UTC().Format(timeLayout) }

func sumOf(data []byte) string {
	sum := sha256.Sum256(data)
	return hex.EncodeToString(sum[:])
}

// tx is a transaction that writes.
type tx struct {
	*sql.Tx
	s       *Store
	ctx     context.Context
	at      string          // the time of all that it writes
	touched map[string]bool // jobs that got events
}

func (t *tx) exec(query string, args ...any) (sql.Result, error) {
	return t.ExecContext(t.ctx, t.s.dialect.bind(query), args...)
}

func (t *tx) row(query string, args ...any) *sql.Row {
	return t.QueryRowContext(t.ctx, t.s.dialect.bind(query), args...)
}

// change runs do in one transaction and tells who watches the jobs it touched. Where
// the database asks for it, do is run again from the start.
func (s *Store) change(ctx context.Context, do func(t *tx) error) error {
	for try := 0; ; try++ {
		touched, err := s.changeOnce(ctx, do)
		if err == nil {
			for job := range touched {
				s.hub.tell(job)
			}
			return nil
		}
		if try == 5 || !s.dialect.again(err) {
			return err
		}
	}
}

func (s *Store) changeOnce(ctx context.Context, do func(t *tx) error) (map[string]bool, error) {
	raw, err := s.write.BeginTx(ctx, nil)
	if err != nil {
		return nil, err
	}
	defer func() { _ = raw.Rollback() }() // after a commit it does nothing
	t := &tx{raw, s, ctx, s.now(), map[string]bool{}}
	if err := do(t); err != nil {
		return nil, err
	}
	for job := range t.touched {
		if err := s.dialect.notify(ctx, raw, job); err != nil {
			return nil, err
		}
	}
	return t.touched, raw.Commit()
}

// all reads every row of a query.
func all[T any](ctx context.Context, s *Store, scan func(scan func(...any) error) (T, error), query string, args ...any) ([]T, error) {
	rows, err := s.read.QueryContext(ctx, s.dialect.bind(query), args...)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	out := []T{}
	for rows.Next() {
		v, err := scan(rows.Scan)
		if err != nil {
			return nil, err
		}
		out = append(out, v)
	}
	return out, rows.Err()
}
