package main

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"os"
	"strings"

	"github.com/spf13/cobra"
	"golang.org/x/term"

	"stallwright/app/account"
	"stallwright/app/notebook"
	"stallwright/app/store"
)

// cli is who does what the command line does, in the audit trail.
var cli = store.Actor{Account: "the command line", Role: string(account.Owner)}

func accountCommand() *cobra.Command {
	var data, database string
	c := &cobra.Command{
		Use:   "account",
		Short: "who can sign in to the app",
		Long: `Account makes the first account, and helps where nobody can sign in any more. All
else is done in the app. A password is asked for without showing it; where standard
input is no terminal, it is its first line.

  owner      everything, accounts included
  estimator  jobs, the shop's files, links for customers
  crew       reads jobs; measures, cuts, ticks off steps
  saw        reads jobs; cuts`,
	}
	var role string
	add := &cobra.Command{
		Use: "add NAME", Short: "let somebody sign in", Args: cobra.ExactArgs(1),
		Example: "  stallwright account add Ann --role owner --data /srv/stalls",
		RunE: func(c *cobra.Command, args []string) error {
			name := args[0]
			if err := account.CheckName(name); err != nil {
				return usageError{err}
			}
			r, err := account.ReadRole(role)
			if err != nil {
				return usageError{err}
			}
			hash, err := readPassword(c.InOrStdin(), c.ErrOrStderr(), name)
			if err != nil {
				return err
			}
			return withStore(c, data, database, func(st *store.Store) error {
				err := st.AddAccount(c.Context(), cli, store.Account{ID: notebook.NewID(), Name: name, Role: string(r), Hash: hash})
				if errors.Is(err, store.ErrExists) {
					return usageError{fmt.Errorf("there is an account called %s already; stallwright account password %s sets a new password", name, name)}
				}
				if errors.Is(err, store.ErrLast) {
					return usageError{errors.New("the first account must be an owner's: --role owner")}
				}
				if err == nil {
					fmt.Fprintf(c.OutOrStdout(), "%s can sign in as %s.\n", name, r)
				}
				return err
			})
		},
	}
	add.Flags().StringVar(&role, "role", "", "owner, estimator, crew or saw")
	_ = add.MarkFlagRequired("role")
	_ = add.RegisterFlagCompletionFunc("role", cobra.FixedCompletions(account.Role("").Allowed(), cobra.ShellCompDirectiveNoFileComp))
	word := &cobra.Command{
		Use: "password NAME", Short: "set somebody's password anew; their sessions end", Args: cobra.ExactArgs(1),
		RunE: func(c *cobra.Command, args []string) error {
			hash, err := readPassword(c.InOrStdin(), c.ErrOrStderr(), args[0])
			if err != nil {
				return err
			}
			return withStore(c, data, database, func(st *store.Store) error {
				a, err := st.AccountNamed(c.Context(), args[0])
				if errors.Is(err, store.ErrNotFound) {
					return usageError{fmt.Errorf("there is no account called %s", args[0])}
				}
				if err != nil {
					return err
				}
				no := false
				return st.ChangeAccount(c.Context(), cli, a.ID, store.AccountChange{Hash: &hash, Disabled: &no})
			})
		},
	}
	list := &cobra.Command{
		Use: "list", Short: "list the accounts", Args: cobra.NoArgs,
		RunE: func(c *cobra.Command, _ []string) error {
			return withStore(c, data, database, func(st *store.Store) error {
				people, err := st.Accounts(c.Context())
				for _, a := range people {
					fmt.Fprintf(c.OutOrStdout(), "%-10s %s%s\n", a.Role, a.Name, map[bool]string{true: ", shut out since " + a.Disabled}[a.Disabled != ""])
				}
				return err
			})
		},
	}
	for _, sub := range []*cobra.Command{add, word, list} {
		databaseFlags(sub, &data, &database)
		c.AddCommand(sub)
	}
	return c
}

// withStore opens the database, does something with it, and closes it.
func withStore(c *cobra.Command, data, database string, do func(*store.Store) error) error {
	st, err := openStore(c.Context(), data, database, nil)
	if err != nil {
		return err
	}
	return errors.Join(do(st), st.Close())
}

// readPassword reads one line and hashes it. At a terminal what is typed is not
// shown, and is asked for twice.
func readPassword(in io.Reader, tell io.Writer, name string) (string, error) {
	word, err := typedPassword(in, tell, name)
	if err != nil {
		return "", err
	}
	if err := account.CheckPassword(name, word); err != nil {
		return "", usageError{err}
	}
	return account.Hash(word, account.Usual), nil
}

func typedPassword(in io.Reader, tell io.Writer, name string) (string, error) {
	if f, ok := in.(*os.File); ok && term.IsTerminal(int(f.Fd())) {
		return hidden(int(f.Fd()), tell, name)
	}
	line, err := bufio.NewReader(io.LimitReader(in, 4096)).ReadString('\n')
	if err != nil && !errors.Is(err, io.EOF) {
		return "", err
	}
	return strings.TrimRight(line, "\r\n"), nil
}

// hidden asks at a terminal, twice, and shows nothing of it.
func hidden(terminal int, tell io.Writer, name string) (string, error) {
	ask := func(words string) (string, error) {
		fmt.Fprint(tell, words)
		typed, err := term.ReadPassword(terminal)
		fmt.Fprintln(tell)
		return string(typed), err
	}
	word, err := ask("Password for " + name + ", not shown (four words are good): ")
	if err != nil {
		return "", err
	}
	again, err := ask("Once more: ")
	if err != nil {
		return "", err
	}
	if word != again {
		return "", usageError{errors.New("the two are not alike; nothing was changed")}
	}
	return word, nil
}
