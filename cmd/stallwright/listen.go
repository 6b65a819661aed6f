package main

import (
	"crypto/tls"
	"fmt"
	"net"
)

// listen opens the address to answer on, with https where there is a certificate.
func listen(a serveArgs) (net.Listener, error) {
	var conf *tls.Config
	if a.cert != "" {
		pair, err := tls.LoadX509KeyPair(a.cert, a.key)
		if err != nil {
			return nil, usageError{fmt.Errorf("the certificate cannot be used: %w", err)}
		}
		conf = &tls.Config{Certificates: []tls.Certificate{pair}, MinVersion: tls.VersionTLS12, NextProtos: []string{"http/1.1"}}
	}
	l, err := net.Listen("tcp", a.listen)
	if err != nil || conf == nil {
		return l, err
	}
	return tls.NewListener(l, conf), nil
}
