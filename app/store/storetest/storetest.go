// Package storetest opens empty stores for tests: SQLite in a folder of the test,
// and PostgreSQL in a private cluster that is started for the test program and
// stopped and removed behind it. Where PostgreSQL's server is not installed, tests
// on it are skipped with a message, or fail where STALLWRIGHT_POSTGRES is set;
// scripts/test-database.sh installs it.
package storetest

import (
	"context"
	"crypto/rand"
	"encoding/hex"
	"os"
	"path/filepath"
	"slices"
	"sync"
	"testing"

	"github.com/jackc/pgx/v5"

	"stallwright/app/store"
)

// Engines are the names of the databases that every test of a store runs on.
var Engines = []string{"sqlite", "postgres"}

// Run runs a test once on each database, as subtests. options are those of a new
// empty database.
func Run(t *testing.T, test func(t *testing.T, options store.Options)) {
	t.Helper()
	for _, e := range Engines {
		t.Run(e, func(t *testing.T) { test(t, Options(t, e)) })
	}
}

// Options are those of a new empty database.
func Options(t testing.TB, engine string) store.Options {
	t.Helper()
	if engine == "sqlite" {
		return store.Options{Dir: t.TempDir()}
	}
	return store.Options{URL: newDatabase(t)}
}

// Open opens a store and closes it behind the test.
func Open(t testing.TB, o store.Options) *store.Store {
	t.Helper()
	s, err := store.Open(context.Background(), o)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		if err := s.Close(); err != nil {
			t.Error(err)
		}
	})
	return s
}

// cluster is the private PostgreSQL of this test program.
var cluster struct {
	sync.Mutex
	url  string // without a database; empty while there is none
	skip string // why there can be none
	stop func()
}

// Main runs a test program's tests, then stops the cluster if one was started.
func Main(m *testing.M) int {
	code := m.Run()
	cluster.Lock()
	defer cluster.Unlock()
	if cluster.stop != nil {
		cluster.stop()
	}
	return code
}

func newDatabase(t testing.TB) string {
	t.Helper()
	cluster.Lock()
	defer cluster.Unlock()
	if cluster.url == "" && cluster.skip == "" {
		cluster.url, cluster.stop, cluster.skip = start()
	}
	if cluster.skip != "" {
		if os.Getenv("STALLWRIGHT_POSTGRES") != "" {
			t.Fatal("no PostgreSQL to test on: " + cluster.skip)
		}
		t.Skip("no PostgreSQL to test on: " + cluster.skip + "; scripts/test-database.sh installs it")
	}
	var b [6]byte
	_, _ = rand.Read(b[:])
	name := "t" + hex.EncodeToString(b[:])
	c, err := pgx.Connect(context.Background(), cluster.url+"/postgres")
	if err != nil {
		t.Fatal(err)
	}
	defer c.Close(context.Background())
	if _, err := c.Exec(context.Background(), "CREATE DATABASE "+name); err != nil {
		t.Fatal(err)
	}
	return cluster.url + "/" + name
}

// programs is the folder of PostgreSQL's server programs, Debian's newest first.
func programs() string {
	found, _ := filepath.Glob("/usr/lib/postgresql/*/bin/initdb")
	slices.Sort(found)
	if len(found) == 0 {
		return ""
	}
	return filepath.Dir(found[len(found)-1])
}

func tempDir() (string, error) { return os.MkdirTemp("", "stallwright-pg-") }
