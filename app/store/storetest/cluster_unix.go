//go:build unix

package storetest

import (
	"fmt"
	"net"
	"os"
	"os/exec"
	"os/user"
	"path/filepath"
	"strconv"
	"syscall"
)

// start makes a cluster in a folder of its own and starts it on a free port of
// loopback. PostgreSQL refuses to run as root, so there it runs as the user that
// Debian's package makes, or as nobody.
func start() (url string, stop func(), skip string) {
	bin := programs()
	if bin == "" {
		return "", nil, "its server is not installed"
	}
	dir, err := tempDir()
	if err != nil {
		return "", nil, err.Error()
	}
	remove := func() { _ = os.RemoveAll(dir) }
	as, err := unprivileged(dir)
	if err != nil {
		remove()
		return "", nil, err.Error()
	}
	run := func(name string, args ...string) error {
		c := exec.Command(filepath.Join(bin, name), args...)
		c.Dir = dir
		c.Env = append(os.Environ(), "LC_ALL=C", "HOME="+dir)
		c.SysProcAttr = &syscall.SysProcAttr{Credential: as}
		if out, err := c.CombinedOutput(); err != nil {
			return fmt.Errorf("%s: %w: %s", name, err, out)
		}
		return nil
	}
	data := filepath.Join(dir, "data")
	port, err := freePort()
	if err == nil {
		err = run("initdb", "-D", data, "-U", "stallwright", "--auth=trust", "--no-sync", "-E", "UTF8", "--locale=C")
	}
	if err == nil {
		err = run("pg_ctl", "-D", data, "-w", "-l", filepath.Join(dir, "log"), "-o",
			fmt.Sprintf("-p %d -c listen_addresses=127.0.0.1 -c unix_socket_directories=%s -c max_connections=200", port, dir), "start")
	}
	if err != nil {
		remove()
		return "", nil, err.Error()
	}
	return fmt.Sprintf("postgres://stallwright@127.0.0.1:%d", port), func() {
		_ = run("pg_ctl", "-D", data, "-m", "immediate", "-w", "stop")
		remove()
	}, ""
}

// unprivileged is whom to run as, and gives them the folder; nil for oneself.
func unprivileged(dir string) (*syscall.Credential, error) {
	if os.Getuid() != 0 {
		return nil, nil
	}
	for _, name := range []string{"postgres", "nobody"} {
		u, err := user.Lookup(name)
		if err != nil {
			continue
		}
		uid, err := strconv.ParseUint(u.Uid, 10, 32)
		if err != nil {
			return nil, err
		}
		gid, err := strconv.ParseUint(u.Gid, 10, 32)
		if err != nil {
			return nil, err
		}
		return &syscall.Credential{Uid: uint32(uid), Gid: uint32(gid)}, os.Chown(dir, int(uid), int(gid))
	}
	return nil, fmt.Errorf("it does not run as root, and there is no other user")
}

func freePort() (int, error) {
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		return 0, err
	}
	defer l.Close()
	return l.Addr().(*net.TCPAddr).Port, nil
}
