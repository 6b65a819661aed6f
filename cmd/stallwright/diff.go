package main

import (
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"stallwright/paper/differ"
	"stallwright/paper/packet"
)

func diffCommand() *cobra.Command {
	var asJSON bool
	c := &cobra.Command{
		Use:   "diff OLD NEW",
		Short: "tell what changed from one plan to another, and why",
		Long: `Diff compares two job files, two plan.json files, a folder that plan wrote, or any
mix of them. It tells what is behind the difference (a tape reading, a line of
the job or the kit), then which bays, doors, boards, order lines, datum marks and
findings came, went or changed; which boards already cut still serve, which can
be cut again and which must be made anew. docs/diff.md explains how to read it.

` + diffExitHelp,
		Example: `  stallwright diff farm-may.yaml farm-june.yaml
  stallwright diff farm-plan farm.yaml            what my edits change since I planned
  stallwright diff old/plan.json new/plan.json --json`,
		Args: cobra.ExactArgs(2),
		ValidArgsFunction: func(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
			return []string{"yaml", "yml", "json"}, cobra.ShellCompDirectiveFilterFileExt
		},
		RunE: func(c *cobra.Command, args []string) error {
			var docs [2]*packet.Document
			for i, path := range args {
				var err error
				if docs[i], err = readPlan(path, c.ErrOrStderr()); err != nil {
					return err
				}
			}
			d := differ.Compare(docs[0], docs[1])
			out := d.Text()
			if asJSON {
				var err error
				if out, err = d.JSON(); err != nil {
					return err
				}
			}
			_, err := c.OutOrStdout().Write(out)
			return err
		},
	}
	c.Flags().BoolVar(&asJSON, "json", false, "write the whole difference as JSON, ungrouped")
	return c
}

const diffExitHelp = `Exit codes:
  0  done, whether anything changed or not
  1  the computer failed: a disk, a permission
  2  the call, a job, its kit or a plan.json is at fault`

// readPlan makes a plan's document from a job file, a plan.json, or a folder
// that holds one.
func readPlan(path string, tell io.Writer) (*packet.Document, error) {
	if info, err := os.Stat(path); err == nil && info.IsDir() {
		inside := filepath.Join(path, "plan.json")
		if _, err := os.Stat(inside); err != nil {
			return nil, usageError{fmt.Errorf("the folder %s holds no plan.json", path)}
		}
		path = inside
	}
	if !strings.EqualFold(filepath.Ext(path), ".json") {
		p, err := makePlan(path, tell)
		if err != nil {
			return nil, err
		}
		return packet.NewDocument(p), nil
	}
	src, err := readPlanText(path)
	if err != nil {
		return nil, err
	}
	return packet.Read(filepath.ToSlash(path), src)
}

// readPlanText reads no more of a plan.json than the reader accepts.
func readPlanText(path string) ([]byte, error) {
	f, err := os.Open(path)
	if os.IsNotExist(err) {
		return nil, usageError{fmt.Errorf("there is no file %s", path)}
	}
	if err != nil {
		return nil, err
	}
	defer f.Close()
	return io.ReadAll(io.LimitReader(f, packet.MaxBytes+1))
}
