package main

import (
	"github.com/spf13/cobra"

	"stallwright/engine/document"
	"stallwright/engine/job"
	"stallwright/engine/kit"
)

func schemaCommand() *cobra.Command {
	return &cobra.Command{
		Use:   "schema job|kit",
		Short: "print the JSON Schema of a job or a kit, for editors",
		Long: `Schema prints the JSON Schema (draft 2020-12) of job or kit files. An editor that
knows YAML schemas then completes keys and marks mistakes as you type.
schemas/ in the repository holds the same files.`,
		Args:      cobra.MatchAll(cobra.ExactArgs(1), cobra.OnlyValidArgs),
		ValidArgs: []string{"job", "kit"},
		RunE: func(c *cobra.Command, args []string) error {
			src, err := schema(args[0])
			if err != nil {
				return err
			}
			_, err = c.OutOrStdout().Write(src)
			return err
		},
	}
}

// schema generates a document's schema.
func schema(name string) ([]byte, error) {
	if name == "kit" {
		return document.Schema(kit.Kit{}, "Stallwright kit", "stallwright-kit.schema.json")
	}
	return document.Schema(job.Job{}, "Stallwright job", "stallwright-job.schema.json")
}
