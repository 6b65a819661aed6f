package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"net/url"
	"os"
	"path/filepath"
	"runtime"
	"strings"

	"github.com/pressly/goose/v3"
	_ "modernc.org/sqlite" // the driver
)

// FileName is the database's file in the data folder.
const FileName = "stallwright.db"

// readers is how many connections read at once.
const readers = 4

// dsn names a database with its pragmas, so that every connection of a pool gets
// them; one run later reaches one connection only. busy_timeout comes first: the
// switch to WAL may have to wait for another process.
func dsn(path string, more ...string) string {
	journal := "WAL"
	if runtime.GOOS == "windows" {
		journal = "DELETE" // shared memory for the WAL has been reported to fail there
	}
	q := url.Values{}
	for _, p := range append([]string{
		"busy_timeout(10000)",
		"journal_mode(" + journal + ")",
		"synchronous(FULL)", // a commit is on the disk, not only in the system's memory
		"foreign_keys(1)",
		"cache_size(-2000)", // 2 MB a connection
		"temp_store(MEMORY)",
	}, more...) {
		q.Add("_pragma", p)
	}
	q.Set("_txlock", "immediate")
	return "file:" + (&url.URL{Path: filepath.ToSlash(path)}).EscapedPath() + "?" + q.Encode()
}

func (s *Store) openSQLite(ctx context.Context) error {
	s.dialect = dialect{
		name: "sqlite", goose: goose.DialectSQLite3,
		again:  func(error) bool { return false },
		notify: func(context.Context, *sql.Tx, string) error { return nil },
		lock:   func(context.Context, *sql.DB) (func(), error) { return func() {}, nil },
	}
	if s.opt.Dir == "" {
		return errors.New("no data folder was named")
	}
	if err := os.MkdirAll(s.opt.Dir, 0o700); err != nil {
		return err
	}
	path := filepath.Join(s.opt.Dir, FileName)
	var err error
	if s.write, err = sql.Open("sqlite", dsn(path)); err != nil {
		return err
	}
	s.write.SetMaxOpenConns(1) // SQLite has one writer; waiting in line here is fair
	if err := s.write.PingContext(ctx); err != nil {
		return fmt.Errorf("the database %s cannot be opened: %w", path, err)
	}
	if s.read, err = sql.Open("sqlite", dsn(path, "query_only(1)")); err != nil {
		return err
	}
	s.read.SetMaxOpenConns(readers)
	s.read.SetMaxIdleConns(readers)
	return nil
}

// Integrity has SQLite check every page and index of a database file.
func Integrity(ctx context.Context, path string) error {
	if _, err := os.Stat(path); err != nil {
		return err
	}
	db, err := sql.Open("sqlite", "file:"+(&url.URL{Path: filepath.ToSlash(path)}).EscapedPath()+"?_pragma=busy_timeout(10000)&_pragma=query_only(1)")
	if err != nil {
		return err
	}
	defer db.Close()
	for _, check := range []string{"PRAGMA integrity_check", "PRAGMA foreign_key_check"} {
		if err := passes(ctx, db, path, check); err != nil {
			return err
		}
	}
	return nil
}

func passes(ctx context.Context, db *sql.DB, path, check string) error {
	rows, err := db.QueryContext(ctx, check)
	if err != nil {
		return fmt.Errorf("%s is no database of stallwright, or it is damaged: %w", path, err)
	}
	defer rows.Close()
	names, err := rows.Columns()
	if err != nil {
		return err
	}
	var faults []string
	for rows.Next() {
		values := make([]sql.NullString, len(names))
		at := make([]any, len(names))
		for i := range values {
			at[i] = &values[i]
		}
		if err := rows.Scan(at...); err != nil {
			return err
		}
		if values[0].String != "ok" {
			faults = append(faults, values[0].String)
		}
	}
	if err := rows.Err(); err != nil {
		return fmt.Errorf("%s is no database of stallwright, or it is damaged: %w", path, err)
	}
	if len(faults) > 0 {
		return fmt.Errorf("%s does not pass its %s: %s", path, strings.TrimPrefix(check, "PRAGMA "), strings.Join(faults, "; "))
	}
	return nil
}
