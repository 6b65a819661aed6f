package main

import (
	"errors"
	"fmt"

	"github.com/spf13/cobra"

	"stallwright/app/store"
)

func backupCommand() *cobra.Command {
	var data string
	c := &cobra.Command{
		Use:   "backup FILE",
		Short: "copy all jobs into one file, also while the server runs",
		Long: `Backup copies a data folder's database into one file: jobs, revisions, records,
photos, accounts. The copy is checked before it has its name. A server may go on
working meanwhile. With PostgreSQL use pg_dump: docs/server.md.`,
		Example: "  stallwright backup --data /srv/stalls stalls-2026-05-04.db",
		Args:    cobra.ExactArgs(1),
		RunE: func(c *cobra.Command, args []string) error {
			if err := store.Backup(c.Context(), data, args[0]); err != nil {
				return err
			}
			fmt.Fprintf(c.OutOrStdout(), "Wrote %s, checked.\n", args[0])
			return nil
		},
	}
	c.Flags().StringVar(&data, "data", dataFolder, "folder that holds the jobs")
	_ = c.MarkFlagDirname("data")
	return c
}

func restoreCommand() *cobra.Command {
	var data string
	c := &cobra.Command{
		Use:   "restore FILE",
		Short: "bring a backup back",
		Long: `Restore makes a backup the database of a data folder, after checking it. The
server must be stopped. A database already there is moved aside under a name that
says when, never overwritten.`,
		Example: "  stallwright restore --data /srv/stalls stalls-2026-05-04.db",
		Args:    cobra.ExactArgs(1),
		RunE: func(c *cobra.Command, args []string) error {
			aside, err := store.Restore(c.Context(), data, args[0], clock())
			if errors.Is(err, store.ErrInUse) {
				return usageError{err}
			}
			if err != nil {
				return err
			}
			if aside != "" {
				fmt.Fprintf(c.OutOrStdout(), "What was there is now %s.\n", aside)
			}
			fmt.Fprintf(c.OutOrStdout(), "Restored %s into %s.\n", args[0], data)
			return nil
		},
	}
	c.Flags().StringVar(&data, "data", dataFolder, "folder that holds the jobs")
	_ = c.MarkFlagDirname("data")
	return c
}
