// Command answer answers one question as the page's engine does, from standard
// input to standard output. It is what is run on other machines to see that they
// answer alike.
package main

import (
	"bufio"
	"fmt"
	"io"
	"os"

	"stallwright/app/page"
)

func main() {
	if err := run(os.Args[1:], os.Stdin, os.Stdout); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
}

func run(args []string, in io.Reader, out io.Writer) error {
	if len(args) != 1 {
		return fmt.Errorf("name one of %v", page.Names())
	}
	asked, err := io.ReadAll(in)
	if err != nil {
		return err
	}
	w := bufio.NewWriter(out)
	if _, err := w.Write(page.Answer(args[0], asked)); err != nil {
		return err
	}
	return w.Flush()
}
