package main

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"path/filepath"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"stallwright/app/notebook"
	"stallwright/app/walk"
	"stallwright/engine/phrase"
	"stallwright/paper/words"
)

func measureCommand() *cobra.Command {
	var by, join, lang, catalogue string
	var list bool
	c := &cobra.Command{
		Use:   "measure JOB.yaml",
		Short: "walk through what to measure, each answer checked at once",
		Long: `Measure asks for everything a job needs measured, one question at a time, in
walking order: rod and plumb bob at the posts, high spots of the floor, distances
and diagonals between the posts, what of the building crosses walls, whole fronts
before their frames are made, a pen's piers, and, once a frame is tight, each
bay's clear width at three heights. Every
answer is checked at once against the drawing and everything read before; one that
can hardly be true is not taken until it is typed twice. The board length that
follows is shown. A bay that is measured can be released: its pieces are then
frozen and may be cut.

What is typed goes into a notebook beside the job (JOB.notes.jsonl), with who and
when. It is only ever added to; plan, why and diff read it. Stop with quit at any
time: the next call goes on where this one stopped. docs/measure.md tells how a
crew uses it.

Answers are read from the standard input, so a file of them can be piped in.

` + measureExitHelp,
		Example: `  stallwright measure farm.yaml --by Sam
  stallwright measure farm.yaml --language es       asked and answered in Spanish
  stallwright measure farm.yaml --list              the sheet as a table
  stallwright measure farm.yaml --join other.notes.jsonl   take in another phone's notebook`,
		Args: cobra.ExactArgs(1),
		ValidArgsFunction: func(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
			return []string{"yaml", "yml"}, cobra.ShellCompDirectiveFilterFileExt
		},
		RunE: func(c *cobra.Command, args []string) error {
			s := &session{in: bufio.NewReader(c.InOrStdin()), out: c.OutOrStdout(), by: strings.TrimSpace(by), path: args[0], lang: lang, catalogue: catalogue}
			switch {
			case list && join != "":
				return usageError{errors.New("--list and --join do not go together: join first, then list")}
			case join != "":
				return s.join(join)
			case list:
				return s.list()
			}
			return s.run()
		},
	}
	c.Flags().StringVar(&by, "by", "", "who measures (asked for where left out)")
	languageFlags(c, &lang, &catalogue)
	c.Flags().BoolVar(&list, "list", false, "print the sheet as a table and stop")
	c.Flags().StringVar(&join, "join", "", "a notebook to take in: entries that are not there yet are added")
	return c
}

const measureExitHelp = `Exit codes:
  0  done, or stopped with quit; everything typed is kept
  1  the computer failed: a disk, a permission
  2  the call, the job or the kit is at fault; nothing was written`

// session is one person at one terminal.
type session struct {
	in   *bufio.Reader
	out  io.Writer
	by   string
	path string // of the job

	lang, catalogue string // what --language and --catalogue say

	walk  *walk.Walk
	words *words.Words
	pen   *notebook.Pen
	late  time.Duration // that this clock is behind the notebook
}

// text is a message in the job's language.
func (s *session) text(key string, args ...phrase.Arg) string { return s.words.Text(key, args...) }

// count is a number as a value of a message.
func count(as string, n int) phrase.Arg { return phrase.With(as, phrase.Count(n)) }

// clock is the time on site.
func clock() time.Time { return time.Now() }

// open reads job, kit and notebook.
func (s *session) open() error {
	j, k, err := readJob(s.path)
	if err != nil {
		return err
	}
	s.pen, err = notebook.NewPen(notebook.Path(s.path), s.by, clock)
	if err != nil {
		return err
	}
	book := s.pen.Book()
	sayBook(s.out, s.pen.Path, book)
	if _, behind := book.Stamp(clock()); behind > time.Minute {
		s.late = behind.Round(time.Minute)
	}
	if s.words, err = wordsFor(j, s.lang, s.catalogue); err != nil {
		return err
	}
	if s.walk, err = walk.NewIn(s.words, j, k, book.Entries); err != nil {
		return err
	}
	if s.late > 0 {
		fmt.Fprintln(s.out, s.text("walk.clock-behind", phrase.With("by", phrase.Name(s.late.String()))))
	}
	return nil
}

// join takes another notebook's entries in.
func (s *session) join(other string) error {
	if _, _, err := readJob(s.path); err != nil {
		return err
	}
	if _, err := readText(other); err != nil {
		return err
	}
	from, err := notebook.Open(other)
	if err != nil {
		return err
	}
	n, err := notebook.Join(notebook.Path(s.path), from)
	if err != nil {
		return err
	}
	sayBook(s.out, other, from)
	fmt.Fprintf(s.out, "%d of them were new and are in %s now.\n", n, filepath.ToSlash(notebook.Path(s.path)))
	return nil
}

// line reads one line; false at the end of the input.
func (s *session) line() (string, bool, error) {
	text, err := s.in.ReadString('\n')
	if errors.Is(err, io.EOF) {
		return text, text != "", nil
	}
	return strings.TrimRight(text, "\r\n"), err == nil, err
}

// run asks until nothing is left or the person quits.
func (s *session) run() error {
	if err := s.open(); err != nil {
		return err
	}
	if err := s.who(); err != nil {
		return err
	}
	for {
		q := s.walk.Question()
		if q == nil {
			return s.end()
		}
		s.show(q)
		again := true
		for again {
			text, ok, err := s.line()
			if err != nil {
				return err
			}
			if !ok {
				fmt.Fprintln(s.out)
				return s.end()
			}
			var quit bool
			if again, quit, err = s.take(text); err != nil {
				return err
			}
			if quit {
				return s.end()
			}
			if again {
				fmt.Fprint(s.out, "> ")
			}
		}
	}
}

// who asks for a name where none was given.
func (s *session) who() error {
	if s.by == "" {
		fmt.Fprint(s.out, s.text("walk.who")+" > ")
		text, ok, err := s.line()
		if err != nil {
			return err
		}
		if s.by = strings.TrimSpace(text); !ok || s.by == "" {
			return usageError{errors.New(s.text("walk.no-name"))}
		}
	}
	if len([]rune(s.by)) > 40 {
		return usageError{errors.New(s.text("walk.long-name"))}
	}
	s.pen.By = s.by
	open, waiting := s.walk.Left()
	fmt.Fprintln(s.out, s.text("walk.opening-line", phrase.With("job", phrase.Name(s.walk.Plan().Job.Job)), phrase.With("by", phrase.Name(s.by)), count("open", open), count("waiting", waiting)))
	return nil
}

// take gives what was typed to the walk and writes what comes of it. again: the
// same question still stands.
func (s *session) take(text string) (again, quit bool, err error) {
	before := ""
	if q := s.walk.Question(); q != nil {
		before = q.ID
	}
	r := s.walk.Say(text)
	s.say(r.Say)
	if r.Entry != nil {
		e, err := s.pen.Append(*r.Entry)
		if err != nil {
			return false, false, fmt.Errorf("this answer could not be written down, the ones before it are: %w", err)
		}
		told, err := s.walk.Keep(e)
		if err != nil {
			return false, false, err
		}
		s.say(told)
	}
	q := s.walk.Question()
	return q != nil && q.ID == before && !r.Moved, r.Quit, nil
}

// end says where things stand.
func (s *session) end() error {
	open, waiting := s.walk.Left()
	switch {
	case open+waiting == 0:
		fmt.Fprintln(s.out, s.text("walk.all-done", count("kept", s.walk.Kept())))
	default:
		fmt.Fprintln(s.out, s.text("walk.stopped", count("kept", s.walk.Kept()), count("open", open), count("waiting", waiting)))
	}
	return nil
}
