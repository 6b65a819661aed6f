// Package plantest works jobs through for the tests of what reads a plan.
package plantest

import (
	"os"
	"testing"

	"stallwright/engine/job"
	"stallwright/engine/kit"
	"stallwright/engine/plan"
)

// Read reads a job's text and the shipped kit that it names. It fails the test where
// either is at fault.
func Read[T string | []byte](t testing.TB, file string, text T) (*job.Job, *kit.Kit) {
	t.Helper()
	j, err := job.Read(file, []byte(text))
	if err != nil {
		t.Fatal(err)
	}
	name, src, ok := kit.Shipped(j.Kit)
	if !ok {
		t.Fatalf("%s: no kit %s", file, j.Kit)
	}
	k, err := kit.Read(name, src)
	if err != nil {
		t.Fatal(err)
	}
	return j, k
}

// Make plans a job's text with the shipped kit that it names.
func Make[T string | []byte](t testing.TB, file string, text T) *plan.Plan {
	t.Helper()
	p, err := plan.Make(Read(t, file, text))
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// File plans a job's file with the shipped kit that it names.
func File(t testing.TB, file string) *plan.Plan {
	t.Helper()
	text, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	return Make(t, file, text)
}
