package main

import (
	"fmt"
	"path/filepath"

	"github.com/spf13/cobra"

	"stallwright/engine/kit"
)

func kitCommand() *cobra.Command {
	c := &cobra.Command{
		Use:   "kit",
		Short: "list, print and check component lines",
		Long:  "A kit describes what a shop makes: its posts, tubes, grilles, doors, hardware and rules. docs/kit.md tells how to write one.\n\n" + exitHelp,
	}
	c.AddCommand(
		&cobra.Command{
			Use: "list", Short: "list the kits that ship with the program", Args: cobra.NoArgs,
			RunE: func(c *cobra.Command, _ []string) error {
				for _, name := range kit.ShippedNames() {
					file, src, _ := kit.Shipped(name)
					k, err := kit.Read(file, src)
					if err != nil {
						return err
					}
					fmt.Fprintf(c.OutOrStdout(), "%-12s %s, version %d, %s\n", k.Kit, k.Title, k.Version, k.Units)
				}
				return nil
			},
		},
		&cobra.Command{
			Use: "show NAME", Short: "print a shipped kit, to copy and change", Args: cobra.ExactArgs(1), ValidArgs: kit.ShippedNames(),
			RunE: func(c *cobra.Command, args []string) error {
				_, src, ok := kit.Shipped(args[0])
				if !ok {
					return usageError{fmt.Errorf("no kit %q ships with the program; shipped: %v", args[0], kit.ShippedNames())}
				}
				_, err := c.OutOrStdout().Write(src)
				return err
			},
		},
		&cobra.Command{
			Use: "check KIT.yaml", Short: "read a kit and tell everything that is wrong with it", Args: cobra.ExactArgs(1),
			RunE: func(c *cobra.Command, args []string) error {
				src, err := readText(args[0])
				if err != nil {
					return err
				}
				k, err := kit.Read(filepath.ToSlash(args[0]), src)
				if err != nil {
					return err
				}
				fmt.Fprintf(c.OutOrStdout(), "%s: %s, version %d: no mistakes found\n", k.Kit, k.Title, k.Version)
				return nil
			},
		},
	)
	return c
}
