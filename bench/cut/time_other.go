//go:build !unix

package main

import "time"

var started = time.Now()

// processorTime is the time since the start, where the system does not say how
// long this process computed.
func processorTime() time.Duration { return time.Since(started) }
