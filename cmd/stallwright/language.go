package main

import (
	"fmt"
	"os"

	"github.com/spf13/cobra"

	"stallwright/engine/job"
	"stallwright/paper/words"
)

// languageFlags adds the choice of a crew's language to a command.
func languageFlags(c *cobra.Command, lang, catalogue *string) {
	c.Flags().StringVar(lang, "language", "", "language of what the crew reads: en, es (default: the job's, else en)")
	c.Flags().StringVar(catalogue, "catalogue", "", "folder of further message catalogues, one folder a language (docs/languages.md)")
	_ = c.MarkFlagDirname("catalogue")
	_ = c.RegisterFlagCompletionFunc("language", func(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
		var tags []string
		if shipped, err := words.Shipped(); err == nil {
			for _, l := range shipped.Languages() {
				tags = append(tags, l.Tag+"\t"+l.Name)
			}
		}
		return tags, cobra.ShellCompDirectiveNoFileComp
	})
}

// wordsFor are the words of the language that was asked for, else the job's own.
func wordsFor(j *job.Job, lang, catalogue string) (*words.Words, error) {
	c, err := openCatalogue(catalogue)
	if err != nil {
		return nil, err
	}
	if lang != "" {
		w, err := c.For(lang, j.Units)
		if err != nil {
			return nil, usageError{fmt.Errorf("--language: %w", err)}
		}
		return w, nil
	}
	w, err := c.For(j.Language, j.Units)
	if err != nil {
		r := j.Reporter()
		r.Add(j.Of("language"), "language", j.Language, err.Error(), "one of these, or --catalogue with a folder that has it")
		return nil, r.Err()
	}
	return w, nil
}

// openCatalogue is the shipped catalogue with a folder of further ones.
func openCatalogue(dir string) (*words.Catalogue, error) {
	if dir == "" {
		return words.Shipped()
	}
	switch info, err := os.Stat(dir); {
	case err != nil && os.IsNotExist(err):
		return nil, usageError{fmt.Errorf("--catalogue: there is no folder %s", dir)}
	case err != nil:
		return nil, err
	case !info.IsDir():
		return nil, usageError{fmt.Errorf("--catalogue: %s is a file; name the folder that holds a folder for each language", dir)}
	}
	c, err := words.Open(os.DirFS(dir))
	if err != nil {
		return nil, usageError{fmt.Errorf("--catalogue %s: %w", dir, err)}
	}
	return c, nil
}
