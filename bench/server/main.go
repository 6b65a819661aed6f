// Command server loads a running app with people at work, on loopback, bounded in
// requests and in time, and prints how long they waited, what memory the server
// took and what a job costs on the disk. See README.md.
package main

import (
	"bufio"
	"context"
	"flag"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strings"
	"time"
)

func main() {
	people := flag.Int("people", 50, "people at work at once, each with a live connection")
	requests := flag.Int("requests", 6000, "requests at most")
	limit := flag.Duration("time", 40*time.Second, "time at most")
	think := flag.Duration("think", time.Second, "pause between two requests of one person, on average")
	binary := flag.String("binary", "", "the program; built from this tree where left out")
	database := flag.String("database", "", "PostgreSQL in place of a folder")
	flag.Parse()
	if err := run(*people, *requests, *limit, *think, *binary, *database); err != nil {
		fmt.Fprintln(os.Stderr, "bench/server:", err)
		os.Exit(1)
	}
}

func run(people, requests int, limit, think time.Duration, binary, database string) error {
	dir, err := os.MkdirTemp("", "stallwright-bench-")
	if err != nil {
		return err
	}
	defer os.RemoveAll(dir)
	if binary == "" {
		binary = filepath.Join(dir, "stallwright")
		build := exec.Command("go", "build", "-o", binary, "./cmd/stallwright")
		build.Stderr = os.Stderr
		if err := build.Run(); err != nil {
			return fmt.Errorf("build it from the top of the tree: %w", err)
		}
	}
	s, err := startServer(binary, filepath.Join(dir, "data"), database)
	if err != nil {
		return err
	}
	defer s.stop()
	ctx, cancel := context.WithTimeout(context.Background(), limit)
	defer cancel()
	c := newCrew(s.address, people, requests, think)
	if err := c.prepare(ctx); err != nil {
		return err
	}
	began := time.Now()
	c.work(ctx)
	took := time.Since(began)
	fmt.Printf("%s, %d processors; %d people, a pause of %s on average; %.1f s\n\n", runtime.GOOS+"/"+runtime.GOARCH, runtime.NumCPU(), people, think, took.Seconds())
	c.report(os.Stdout)
	fmt.Printf("\nmemory of the server at its highest: %s\n", s.peak())
	s.stop()
	used := s.cmd.ProcessState.UserTime() + s.cmd.ProcessState.SystemTime()
	fmt.Printf("processor time of the server: %.1f s, %.1f ms a request, %.0f %% of one processor\n", used.Seconds(), 1000*used.Seconds()/float64(c.count()), 100*used.Seconds()/took.Seconds())
	return c.cost(os.Stdout, filepath.Join(dir, "data"), database)
}

// server is the program as a process of its own.
type server struct {
	cmd     *exec.Cmd
	address string
}

func startServer(binary, data, database string) (*server, error) {
	args := []string{"serve", "--listen", "127.0.0.1:0", "--data", data, "--quiet"}
	if database != "" {
		args = append(args, "--database", database)
	}
	s := &server{cmd: exec.Command(binary, args...)}
	s.cmd.Stderr = os.Stderr
	out, err := s.cmd.StdoutPipe()
	if err != nil {
		return nil, err
	}
	if err := s.cmd.Start(); err != nil {
		return nil, err
	}
	line, err := bufio.NewReader(out).ReadString('\n')
	if err != nil {
		return nil, fmt.Errorf("the server did not start: %w", err)
	}
	_, s.address, _ = strings.Cut(strings.TrimSpace(line), "ready: ")
	return s, nil
}

func (s *server) stop() {
	if s.cmd.ProcessState == nil {
		_ = s.cmd.Process.Signal(os.Interrupt)
		_ = s.cmd.Wait()
	}
}

// peak is the most memory the process ever had (VmHWM, proc(5)); Linux only.
func (s *server) peak() string {
	text, err := os.ReadFile(fmt.Sprintf("/proc/%d/status", s.cmd.Process.Pid))
	if err != nil {
		return "unknown on this system"
	}
	for line := range strings.Lines(string(text)) {
		if v, ok := strings.CutPrefix(line, "VmHWM:"); ok {
			return strings.TrimSpace(v)
		}
	}
	return "unknown"
}
