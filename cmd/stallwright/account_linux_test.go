package main

import (
	"bytes"
	"fmt"
	"os"
	"strings"
	"sync"
	"testing"
	"time"

	"golang.org/x/sys/unix"

	"stallwright/app/account"
)

// pseudo opens a pseudoterminal: what a person types goes in at one end, and the
// program sits at the other (pty(7)).
func pseudo(t *testing.T) (person, program *os.File) {
	t.Helper()
	person, err := os.OpenFile("/dev/ptmx", os.O_RDWR|unix.O_NOCTTY, 0)
	if err != nil {
		t.Skipf("there is no pseudoterminal here: %v", err)
	}
	t.Cleanup(func() { _ = person.Close() })
	if err := unix.IoctlSetPointerInt(int(person.Fd()), unix.TIOCSPTLCK, 0); err != nil {
		t.Fatal(err)
	}
	n, err := unix.IoctlGetInt(int(person.Fd()), unix.TIOCGPTN)
	if err != nil {
		t.Fatal(err)
	}
	program, err = os.OpenFile(fmt.Sprintf("/dev/pts/%d", n), os.O_RDWR|unix.O_NOCTTY, 0)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = program.Close() })
	return person, program
}

// shown is what stands on a terminal.
type shown struct {
	mu   sync.Mutex
	text bytes.Buffer
}

func (s *shown) Write(p []byte) (int, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.text.Write(p)
}

func (s *shown) String() string {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.text.String()
}

// wait waits for words on the terminal.
func (s *shown) wait(t *testing.T, words string) {
	t.Helper()
	for end := time.Now().Add(20 * time.Second); !strings.Contains(s.String(), words); time.Sleep(5 * time.Millisecond) {
		if time.Now().After(end) {
			t.Fatalf("%q is not shown; there is %q", words, s.String())
		}
	}
}

// What is typed at a terminal is not shown there, and both times must be alike.
func TestPasswordIsNotShown(t *testing.T) {
	const good = "seven blue barrels roll"
	for _, v := range []struct{ name, first, second, wrong string }{
		{"alike", good, good, ""},
		{"not alike", good, good + "!", "not alike"},
	} {
		t.Run(v.name, func(t *testing.T) {
			person, program := pseudo(t)
			screen := &shown{}
			go func() {
				buf := make([]byte, 1024)
				for {
					n, err := person.Read(buf)
					_, _ = screen.Write(buf[:n])
					if err != nil {
						return
					}
				}
			}()
			type answer struct {
				hash string
				err  error
			}
			ended := make(chan answer, 1)
			go func() {
				hash, err := readPassword(program, program, "Ann")
				ended <- answer{hash, err}
			}()
			for _, step := range []struct{ prompt, typed string }{{"Password for Ann", v.first}, {"Once more", v.second}} {
				screen.wait(t, step.prompt)
				quiet(t, program)
				if _, err := person.WriteString(step.typed + "\n"); err != nil {
					t.Fatal(err)
				}
			}
			a := <-ended
			if strings.Contains(screen.String(), "barrels") {
				t.Errorf("the password is shown: %q", screen.String())
			}
			if v.wrong != "" {
				if a.err == nil || !strings.Contains(a.err.Error(), v.wrong) {
					t.Errorf("the error is %v", a.err)
				}
				return
			}
			if ok, err := account.Matches(a.hash, good); a.err != nil || err != nil || !ok {
				t.Errorf("%v, %v, %v", a.err, ok, err)
			}
		})
	}
}

// quiet waits until the terminal shows nothing of what is typed.
func quiet(t *testing.T, program *os.File) {
	t.Helper()
	for end := time.Now().Add(20 * time.Second); ; time.Sleep(5 * time.Millisecond) {
		s, err := unix.IoctlGetTermios(int(program.Fd()), unix.TCGETS)
		if err != nil {
			t.Fatal(err)
		}
		if s.Lflag&unix.ECHO == 0 {
			return
		}
		if time.Now().After(end) {
			t.Fatal("the terminal still shows what is typed")
		}
	}
}

// Where standard input is no terminal, its first line is the password.
func TestPasswordFromAPipe(t *testing.T) {
	hash, err := readPassword(strings.NewReader("four words are good\r\nmore"), os.Stderr, "Ann")
	if err != nil {
		t.Fatal(err)
	}
	if ok, err := account.Matches(hash, "four words are good"); err != nil || !ok {
		t.Errorf("%v, %v", ok, err)
	}
}
