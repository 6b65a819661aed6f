package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"time"
)

// Backup writes a copy of a data folder's SQLite database into one file, also while
// a server works on it. The copy is whole and checked before the file has its name;
// a file already there is not overwritten.
func Backup(ctx context.Context, dir, file string) (err error) {
	from := filepath.Join(dir, FileName)
	if _, err := os.Stat(from); err != nil {
		if errors.Is(err, fs.ErrNotExist) {
			return fmt.Errorf("the folder %s holds no %s", dir, FileName)
		}
		return err
	}
	if _, err := os.Lstat(file); err == nil {
		return fmt.Errorf("%s is there already; name a new file", file)
	}
	part := file + ".part"
	if err := os.Remove(part); err != nil && !errors.Is(err, fs.ErrNotExist) {
		return err
	}
	defer func() {
		if err != nil {
			_ = os.Remove(part) // only a rest of ours
		}
	}()
	db, err := sql.Open("sqlite", dsn(from))
	if err != nil {
		return err
	}
	_, err = db.ExecContext(ctx, "VACUUM INTO ?", part)
	if err = errors.Join(err, db.Close()); err != nil {
		return fmt.Errorf("the backup could not be written: %w", err)
	}
	if err := Integrity(ctx, part); err != nil {
		return err
	}
	if err := syncFile(part); err != nil {
		return err
	}
	// A link fails where the name was taken meanwhile; a rename would overwrite.
	if err := os.Link(part, file); err != nil {
		if _, there := os.Lstat(file); there == nil {
			return fmt.Errorf("%s is there already; name a new file", file)
		}
		return os.Rename(part, file) // a disk that knows no links
	}
	return os.Remove(part)
}

func syncFile(path string) error {
	f, err := os.OpenFile(path, os.O_RDWR, 0)
	if err != nil {
		return err
	}
	return errors.Join(f.Sync(), f.Close())
}

// ErrInUse says that a server still works on the folder.
var ErrInUse = errors.New("a server is working on this folder; stop it first")

// Restore makes a backup the database of a data folder. The backup is checked
// first. A database already there is moved aside, never overwritten; aside is its
// new name, empty where there was none.
func Restore(ctx context.Context, dir, file string, now time.Time) (aside string, err error) {
	if err := ours(ctx, file); err != nil {
		return "", err
	}
	if err := os.MkdirAll(dir, 0o700); err != nil {
		return "", err
	}
	to := filepath.Join(dir, FileName)
	if err := alone(ctx, to); err != nil {
		return "", err
	}
	part := to + ".part"
	if err := copyFile(part, file); err != nil {
		return "", errors.Join(err, os.Remove(part))
	}
	if err := Integrity(ctx, part); err != nil {
		return "", errors.Join(err, os.Remove(part))
	}
	if _, err := os.Lstat(to); err == nil {
		aside = to + ".before-" + now.UTC().Format("20060102-150405")
		for _, tail := range []string{"", "-wal", "-shm"} {
			if err := os.Rename(to+tail, aside+tail); err != nil && !errors.Is(err, fs.ErrNotExist) {
				return "", err
			}
		}
	}
	return aside, os.Rename(part, to)
}

// ours says that a file is a sound database of stallwright.
func ours(ctx context.Context, file string) error {
	if err := Integrity(ctx, file); err != nil {
		return err
	}
	db, err := sql.Open("sqlite", "file:"+filepath.ToSlash(file)+"?_pragma=query_only(1)")
	if err != nil {
		return err
	}
	defer db.Close()
	var n int
	if err := db.QueryRowContext(ctx, "SELECT COUNT(*) FROM sqlite_master WHERE name IN ('job', 'revision', 'record', 'audit')").Scan(&n); err != nil {
		return err
	}
	if n != 4 {
		return fmt.Errorf("%s is no database of stallwright", file)
	}
	return nil
}

// alone says that nobody else has a database open: only then can its journal be
// changed.
func alone(ctx context.Context, path string) error {
	if _, err := os.Stat(path); err != nil {
		if errors.Is(err, fs.ErrNotExist) {
			return nil
		}
		return err
	}
	db, err := sql.Open("sqlite", "file:"+filepath.ToSlash(path)+"?_pragma=busy_timeout(200)")
	if err != nil {
		return err
	}
	defer db.Close()
	db.SetMaxOpenConns(1)
	var mode string
	err = db.QueryRowContext(ctx, "PRAGMA journal_mode = DELETE").Scan(&mode)
	switch {
	case err != nil && (strings.Contains(err.Error(), "locked") || strings.Contains(err.Error(), "BUSY")):
		return ErrInUse
	case err != nil:
		return nil // damaged: all the more reason to restore
	case mode != "delete":
		return ErrInUse
	}
	return nil
}

func copyFile(to, from string) (err error) {
	in, err := os.Open(from)
	if err != nil {
		return err
	}
	defer in.Close()
	out, err := os.OpenFile(to, os.O_WRONLY|os.O_CREATE|os.O_TRUNC, 0o600)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, out.Close()) }()
	if _, err := io.Copy(out, in); err != nil {
		return err
	}
	return out.Sync()
}
