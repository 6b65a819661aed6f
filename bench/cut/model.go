package main

import (
	"bufio"
	"errors"
	"fmt"
	"io"

	"stallwright/engine/cut/search"
)

// errTooMany is returned when an instance has more patterns than a model may.
var errTooMany = errors.New("too many patterns to write out")

// writeModel writes an instance as an integer program over all its maximal
// patterns (Gilmore and Gomory 1961) in the LP format that general-purpose
// solvers read: minimise the cost of the boards, every demand covered, no stock
// used more often than there are boards.
func writeModel(w io.Writer, in *search.Instance, most int) error {
	e := enumerator{in: in, most: most, count: make([]int64, len(in.Len)), rows: make([][]term, len(in.Len))}
	for st := range in.Stock {
		if in.Stock[st].Avail == 0 {
			continue
		}
		e.st, e.from = st, e.n
		if !e.fill(0, in.Stock[st].Cap) {
			return errTooMany
		}
		e.span = append(e.span, [3]int{st, e.from, e.n})
	}
	b := bufio.NewWriter(w)
	fmt.Fprintln(b, "Minimize\n cost:")
	for _, s := range e.span {
		for j := s[1]; j < s[2]; j++ {
			fmt.Fprintf(b, " + %d x%d\n", in.Stock[s[0]].Cost, j)
		}
	}
	fmt.Fprintln(b, "Subject To")
	for i, row := range e.rows {
		fmt.Fprintf(b, " d%d:", i)
		for _, t := range row {
			fmt.Fprintf(b, " + %d x%d\n", t.count, t.col)
		}
		fmt.Fprintf(b, " >= %d\n", in.Dem[i])
	}
	for _, s := range e.span {
		if in.Stock[s[0]].Avail == search.Unlimited || s[1] == s[2] {
			continue
		}
		fmt.Fprintf(b, " s%d:", s[0])
		for j := s[1]; j < s[2]; j++ {
			fmt.Fprintf(b, " + x%d\n", j)
		}
		fmt.Fprintf(b, " <= %d\n", in.Stock[s[0]].Avail)
	}
	fmt.Fprintln(b, "General")
	for j := 0; j < e.n; j++ {
		fmt.Fprintf(b, " x%d\n", j)
	}
	fmt.Fprintln(b, "End")
	return b.Flush()
}

type term struct {
	col   int
	count int64
}

// enumerator lists the maximal patterns of each stock.
type enumerator struct {
	in    *search.Instance
	most  int
	st    int
	n     int // patterns so far
	from  int
	steps int
	count []int64
	rows  [][]term
	span  [][3]int // stock, first pattern, one past the last
}

// fill decides items i.. and reports false when there are too many patterns.
func (e *enumerator) fill(i int, rest int64) bool {
	if e.steps++; e.steps > 100*e.most {
		return false
	}
	if i == len(e.count) {
		for k, l := range e.in.Len {
			if l <= rest && e.count[k] < e.in.Dem[k] {
				return true // another piece would fit: not maximal
			}
		}
		if e.n++; e.n > e.most {
			return false
		}
		for k, c := range e.count {
			if c > 0 {
				e.rows[k] = append(e.rows[k], term{e.n - 1, c})
			}
		}
		return true
	}
	for c := min(e.in.Dem[i], rest/e.in.Len[i]); c >= 0; c-- {
		e.count[i] = c
		if !e.fill(i+1, rest-c*e.in.Len[i]) {
			return false
		}
	}
	e.count[i] = 0
	return true
}
