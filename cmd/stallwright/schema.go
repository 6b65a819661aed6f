package main

import (
	"github.com/spf13/cobra"

	"stallwright/engine/document"
	"stallwright/engine/job"
	"stallwright/engine/kit"
	"stallwright/engine/price"
	"stallwright/engine/yard"
)

func schemaCommand() *cobra.Command {
	return &cobra.Command{
		Use:   "schema job|kit|prices|yard",
		Short: "print the JSON Schema of a kind of file, for editors",
		Long: `Schema prints the JSON Schema (draft 2020-12) of jobs, kits, price books or
yards' lists. An editor that
knows YAML schemas then completes keys and marks mistakes as you type.
schemas/ in the repository holds the same files.`,
		Args:      cobra.MatchAll(cobra.ExactArgs(1), cobra.OnlyValidArgs),
		ValidArgs: []string{"job", "kit", "prices", "yard"},
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
	switch name {
	case "kit":
		return document.Schema(kit.Kit{}, "Stallwright kit", "stallwright-kit.schema.json")
	case "prices":
		return document.Schema(price.Book{}, "Stallwright price book", "stallwright-prices.schema.json")
	case "yard":
		return document.Schema(yard.Yard{}, "Stallwright lumber yard", "stallwright-yard.schema.json")
	}
	return document.Schema(job.Job{}, "Stallwright job", "stallwright-job.schema.json")
}
