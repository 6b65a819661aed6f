//go:build unix

package main

import (
	"syscall"
	"time"
)

// processorTime is the time this process has spent computing on all cores,
// collection of garbage included, so that what else runs on the machine does
// not count.
func processorTime() time.Duration {
	var u syscall.Rusage
	if err := syscall.Getrusage(syscall.RUSAGE_SELF, &u); err != nil {
		return 0
	}
	return time.Duration(u.Utime.Nano() + u.Stime.Nano())
}
