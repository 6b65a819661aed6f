package main

import (
	"errors"
	"fmt"
	"io/fs"
	"os"

	"github.com/spf13/cobra"

	"stallwright/engine/job"
)

func newCommand() *cobra.Command {
	var out string
	c := &cobra.Command{
		Use:   "new pen|barn-row|free-row|free-barn",
		Short: "write a commented starter job",
		Long: `New prints a starter job with a comment on every line you will change. It plans
as it stands; put your own barn in and run it again.

` + exitHelp,
		Example:   "  stallwright new barn-row > my-barn.yaml\n  stallwright new pen --out my-pen.yaml",
		Args:      cobra.ExactArgs(1),
		ValidArgs: job.StarterNames(),
		RunE: func(c *cobra.Command, args []string) error {
			src, ok := job.Starter(args[0])
			if !ok {
				return usageError{fmt.Errorf("there is no starter %q; choose one of: %v", args[0], job.StarterNames())}
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
