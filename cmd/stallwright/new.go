package main

import (
	"errors"
	"fmt"
	"io/fs"
	"os"

	"github.com/spf13/cobra"

	"stallwright/engine/job"
	"stallwright/engine/price"
	"stallwright/engine/yard"
)

// starter gives a commented file to begin from.
func starter(name string) ([]byte, bool) {
	switch name {
	case "prices":
		return price.Starter(), true
	case "yard":
		return yard.Starter(), true
	}
	return job.Starter(name)
}

// starterNames lists the starters.
func starterNames() []string { return append(job.StarterNames(), "prices", "yard") }

func newCommand() *cobra.Command {
	var out string
	c := &cobra.Command{
		Use:   "new pen|barn-row|free-row|free-barn|prices|yard",
		Short: "write a commented starter: a job, a price book, a yard's list",
		Long: `New prints a starter job with a comment on every line you will change. It plans
as it stands; put your own barn in and run it again. So do prices, a price book for
stallwright offer, and yard, a lumber yard's list.

` + exitHelp,
		Example:   "  stallwright new barn-row > my-barn.yaml\n  stallwright new pen --out my-pen.yaml",
		Args:      cobra.ExactArgs(1),
		ValidArgs: starterNames(),
		RunE: func(c *cobra.Command, args []string) error {
			src, ok := starter(args[0])
			if !ok {
				return usageError{fmt.Errorf("there is no starter %q; choose one of: %v", args[0], starterNames())}
			}
			if out == "" {
				_, err := c.OutOrStdout().Write(src)
				return err
			}
			f, err := os.OpenFile(out, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o644)
			if errors.Is(err, fs.ErrExist) {
				return usageError{fmt.Errorf("%s is already there; choose another name", out)}
			}
			if err != nil {
				return err
			}
			if _, err := f.Write(src); err != nil {
				return errors.Join(err, f.Close())
			}
			return f.Close()
		},
	}
	c.Flags().StringVarP(&out, "out", "o", "", "file to write (default: print it)")
	return c
}
