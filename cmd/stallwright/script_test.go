package main

import (
	"fmt"
	"os"
	"strconv"
	"strings"
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
		Dir:  "testdata/script",
		Cmds: map[string]func(*testscript.TestScript, bool, []string){"rows": writeRows},
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

// writeRows writes a pieces file of many rows: rows COUNT FILE.
func writeRows(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 2 {
		ts.Fatalf("usage: rows COUNT FILE")
	}
	n, err := strconv.Atoi(args[0])
	ts.Check(err)
	var b strings.Builder
	b.WriteString("length,count,label,material\n")
	for k := range n {
		fmt.Fprintf(&b, "2',1,%d,pine\n", k)
	}
	ts.Check(os.WriteFile(ts.MkAbs(args[1]), []byte(b.String()), 0o644))
}
