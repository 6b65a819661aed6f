// Package instances reads published cutting and packing instances and makes
// others by published recipes, for tests and benchmarks. It opens no files.
package instances

import (
	"archive/zip"
	"bufio"
	"bytes"
	"fmt"
	"io"
	"sort"
	"strconv"
	"strings"

	"stallwright/engine/cut/search"
)

// Named is an instance with its published or constructed name.
type Named struct {
	Name string
	search.Instance
}

// pack makes a one-stock instance, cost 1 a board, from lengths and counts.
func pack(name string, capacity int64, lengths, counts []int64) Named {
	sum := map[int64]int64{}
	for i, l := range lengths {
		sum[l] += counts[i]
	}
	n := Named{Name: name}
	for l := range sum {
		n.Len = append(n.Len, l)
	}
	sort.Slice(n.Len, func(a, b int) bool { return n.Len[a] > n.Len[b] })
	for _, l := range n.Len {
		n.Dem = append(n.Dem, sum[l])
	}
	n.Stock = []search.Stock{{Cap: capacity, Cost: 1, Avail: search.Unlimited}}
	return n
}

// words splits a whole file into fields.
type words struct {
	s   *bufio.Scanner
	err error
}

func newWords(r io.Reader) *words {
	s := bufio.NewScanner(r)
	s.Buffer(make([]byte, 1<<16), 1<<20)
	s.Split(bufio.ScanWords)
	return &words{s: s}
}

func (w *words) text() (string, bool) {
	if !w.s.Scan() {
		return "", false
	}
	return w.s.Text(), true
}

func (w *words) int() int64 {
	t, ok := w.text()
	if !ok && w.err == nil {
		w.err = io.ErrUnexpectedEOF
	}
	v, err := strconv.ParseFloat(t, 64)
	if err != nil && w.err == nil {
		w.err = fmt.Errorf("want a number, found %q", t)
	}
	return int64(v + 0.5)
}

// Falkenauer reads a binpack file of Falkenauer (1996): the number of
// instances, then for each a name, the capacity, the number of items, the best
// known number of bins, and the sizes. Sizes with one decimal are scaled by 10.
func Falkenauer(r io.Reader) ([]Named, error) {
	w := newWords(r)
	var out []Named
	num := func() int64 {
		t, _ := w.text()
		v, err := strconv.ParseFloat(t, 64)
		if err != nil && w.err == nil {
			w.err = fmt.Errorf("want a number, found %q", t)
		}
		return int64(v*10 + 0.5)
	}
	for k := w.int(); k > 0 && w.err == nil; k-- {
		name, _ := w.text()
		capacity := num()
		n := w.int()
		w.int()
		lengths, ones := make([]int64, n), make([]int64, n)
		for i := range lengths {
			lengths[i], ones[i] = num(), 1
		}
		out = append(out, pack(name, capacity, lengths, ones))
	}
	return out, w.err
}

// Listed reads the format of the Hard28, Schwerin and Wäscher files: a quoted
// name, the number of distinct sizes, the capacity, then size and count pairs.
func Listed(r io.Reader) ([]Named, error) {
	s := bufio.NewScanner(r)
	var out []Named
	var name string
	var nums []int64
	flush := func() error {
		if name == "" {
			return nil
		}
		if len(nums) < 2 || int64(len(nums)) < 2+2*nums[0] {
			return fmt.Errorf("instance %s is cut short", name)
		}
		var l, c []int64
		for k := int64(0); k < nums[0]; k++ {
			l, c = append(l, nums[2+2*k]), append(c, nums[3+2*k])
		}
		out = append(out, pack(name, nums[1], l, c))
		return nil
	}
	for s.Scan() {
		t := strings.TrimSpace(s.Text())
		if strings.HasPrefix(t, "'") {
			if err := flush(); err != nil {
				return nil, err
			}
			name, nums = strings.Join(strings.Fields(strings.Trim(t, "'")), " "), nil
			continue
		}
		for _, f := range strings.Fields(t) {
			v, err := strconv.ParseInt(f, 10, 64)
			if err != nil {
				return nil, fmt.Errorf("instance %s: want a number, found %q", name, f)
			}
			nums = append(nums, v)
		}
	}
	if err := flush(); err != nil {
		return nil, err
	}
	return out, s.Err()
}

// Scholl reads a zip of single-instance files: number of items, capacity, sizes.
func Scholl(data []byte) ([]Named, error) {
	z, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		return nil, err
	}
	var out []Named
	for _, f := range z.File {
		if !strings.HasSuffix(f.Name, ".BPP") {
			continue
		}
		r, err := f.Open()
		if err != nil {
			return nil, err
		}
		w := newWords(r)
		n, capacity := w.int(), w.int()
		if n < 0 || n > 1_000_000 {
			return nil, fmt.Errorf("%s: %d items", f.Name, n)
		}
		lengths, ones := make([]int64, n), make([]int64, n)
		for i := range lengths {
			lengths[i], ones[i] = w.int(), 1
		}
		r.Close()
		if w.err != nil {
			return nil, fmt.Errorf("%s: %w", f.Name, w.err)
		}
		out = append(out, pack(strings.TrimSuffix(f.Name, ".BPP"), capacity, lengths, ones))
	}
	return out, nil
}

// Bounds reads lines of name, proven lower bound and best known value.
func Bounds(r io.Reader) (map[string][2]int64, error) {
	s := bufio.NewScanner(r)
	out := map[string][2]int64{}
	for s.Scan() {
		f := strings.Fields(s.Text())
		if len(f) != 3 {
			continue
		}
		lo, err1 := strconv.ParseInt(f[1], 10, 64)
		up, err2 := strconv.ParseInt(f[2], 10, 64)
		if err1 != nil || err2 != nil {
			return nil, fmt.Errorf("bounds of %s: want two whole numbers", f[0])
		}
		out[f[0]] = [2]int64{lo, up}
	}
	return out, s.Err()
}
