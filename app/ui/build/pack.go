package main

import (
	"bytes"
	"compress/gzip"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"time"

	"github.com/andybalholm/brotli"
)

// packed keeps what was compressed: the engine takes minutes, and most builds do
// not change it.
const packed = home + "/.packed"

// keepFor is how long a compressed file that no build asks for is kept.
const keepFor = 7 * 24 * time.Hour

// window is the largest that browsers take, as a power of two; the engine is larger.
const window = 24

// mostLoaded is the most that one file, the engine, may take to load, in bytes.
const mostLoaded = 4_000_000

// compress writes .gz and .br beside every file that gets smaller, and tells
// sizes of what a phone loads.
func compress(quick bool) error {
	if err := os.MkdirAll(packed, 0o755); err != nil {
		return err
	}
	err := filepath.WalkDir(dist, func(path string, d os.DirEntry, err error) error {
		if err != nil || d.IsDir() || d.Name() == ".keep" || strings.HasSuffix(path, ".br") || strings.HasSuffix(path, ".gz") {
			return err
		}
		data, err := os.ReadFile(path)
		if err != nil || len(data) < 1024 {
			return err
		}
		zipped, err := once(data, ".gz", quick, zip)
		if err != nil {
			return err
		}
		small, err := once(data, ".br", quick, brot)
		if err != nil || len(small) >= len(data) {
			return err
		}
		fmt.Printf("%9d %9d  %s\n", len(data), len(small), strings.TrimPrefix(filepath.ToSlash(path), dist))
		if !quick && len(small) > mostLoaded {
			return fmt.Errorf("%s takes %d bytes to load, and at most %d are allowed: a phone fetches it where the signal is weak", filepath.Base(path), len(small), mostLoaded)
		}
		return errors.Join(os.WriteFile(path+".gz", zipped, 0o644), os.WriteFile(path+".br", small, 0o644))
	})
	return errors.Join(err, forget())
}

// once compresses data, unless an earlier build did.
func once(data []byte, ext string, quick bool, pack func([]byte, bool) ([]byte, error)) ([]byte, error) {
	name := filepath.Join(packed, hash(data)+ext)
	if had, err := os.ReadFile(name); err == nil {
		now := time.Now()
		return had, os.Chtimes(name, now, now)
	}
	out, err := pack(data, quick)
	if err != nil || quick {
		return out, err
	}
	// Written whole or not at all: another build may read it.
	part := fmt.Sprintf("%s.%d", name, os.Getpid())
	if err := os.WriteFile(part, out, 0o644); err != nil {
		return nil, err
	}
	return out, os.Rename(part, name)
}

func zip(data []byte, quick bool) ([]byte, error) {
	level := gzip.BestCompression
	if quick {
		level = gzip.BestSpeed
	}
	var buf bytes.Buffer
	w, err := gzip.NewWriterLevel(&buf, level)
	if err != nil {
		return nil, err
	}
	_, err = w.Write(data)
	err = errors.Join(err, w.Close())
	return buf.Bytes(), err
}

func brot(data []byte, quick bool) ([]byte, error) {
	level := brotli.BestCompression
	if quick {
		level = brotli.BestSpeed
	}
	var buf bytes.Buffer
	w := brotli.NewWriterOptions(&buf, brotli.WriterOptions{Quality: level, LGWin: window})
	_, err := w.Write(data)
	err = errors.Join(err, w.Close())
	return buf.Bytes(), err
}

// forget removes what no build asked for lately.
func forget() error {
	entries, err := os.ReadDir(packed)
	if err != nil {
		return err
	}
	for _, e := range entries {
		i, err := e.Info()
		if err == nil && time.Since(i.ModTime()) > keepFor {
			err = os.Remove(filepath.Join(packed, e.Name()))
		}
		if err != nil && !errors.Is(err, os.ErrNotExist) {
			return err
		}
	}
	return nil
}
