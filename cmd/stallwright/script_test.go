package main

import (
	"os"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"
)

func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){
		"stallwright": func() { os.Exit(run(os.Args[1:], os.Stdout, os.Stderr)) },
	})
}

// TestScripts runs the scripts in testdata/script: whole calls, what they print,
// what they write, and what they must not write.
func TestScripts(t *testing.T) {
	testscript.Run(t, testscript.Params{
		Dir: "testdata/script",
		Setup: func(e *testscript.Env) error {
			dir, err := os.Getwd()
			if err != nil {
				return err
			}
			e.Setenv("REPO", dir+"/../..")
			return nil
		},
	})
}
