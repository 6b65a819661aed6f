// Package merge joins two edits of one text, line by line. In go the text both were
// made from and the two; out comes the text with both edits, or the places where
// they do not go together.
//
// What always holds: a line that only one side changed comes out as that side has
// it; where both changed the same or neighbouring lines differently nothing is
// guessed; joined either way round, the outcome is the same.
package merge

import (
	"slices"
	"strings"
)

// Clash is a place where both sides changed the same lines differently.
type Clash struct {
	Line   int    // of the base, from 1, where it begins
	Base   string // what stood there
	Ours   string
	Theirs string
}

// mostEdits bounds the search for what changed: two texts that differ in more lines
// than this are told as one clash.
const mostEdits = 2000

// Texts joins two edits of base. With clashes the text is empty.
func Texts(base, ours, theirs string) (text string, clashes []Clash) {
	b, o, t := lines(base), lines(ours), lines(theirs)
	var out strings.Builder
	at, shiftO, shiftT := 0, 0, 0 // in b; how much further the same line is in o and t
	left, right := changes(b, o), changes(b, t)
	for len(left) > 0 || len(right) > 0 {
		from, to, l, r := gather(left, right)
		out.WriteString(strings.Join(b[at:from], ""))
		oFrom, tFrom := from+shiftO, from+shiftT
		for _, c := range left[:l] {
			shiftO += len(c.with) - (c.to - c.from)
		}
		for _, c := range right[:r] {
			shiftT += len(c.with) - (c.to - c.from)
		}
		left, right = left[l:], right[r:]
		was, mine, yours := strings.Join(b[from:to], ""), strings.Join(o[oFrom:to+shiftO], ""), strings.Join(t[tFrom:to+shiftT], "")
		switch {
		case mine == yours, yours == was:
			out.WriteString(mine)
		case mine == was:
			out.WriteString(yours)
		default:
			clashes = append(clashes, Clash{from + 1, was, mine, yours})
		}
		at = to
	}
	if len(clashes) > 0 {
		return "", clashes
	}
	out.WriteString(strings.Join(b[at:], ""))
	return out.String(), nil
}

// gather takes the next changes of both sides that touch one another: base lines
// from to to, l changes of the left and r of the right.
func gather(left, right []change) (from, to, l, r int) {
	first := func(c []change) int {
		if len(c) == 0 {
			return int(^uint(0) >> 1)
		}
		return c[0].from
	}
	from = min(first(left), first(right))
	to = from
	for {
		switch {
		case l < len(left) && left[l].from <= to:
			to = max(to, left[l].to)
			l++
		case r < len(right) && right[r].from <= to:
			to = max(to, right[r].to)
			r++
		default:
			return from, to, l, r
		}
	}
}

// lines splits a text; each line keeps its end.
func lines(s string) []string {
	if s == "" {
		return nil
	}
	l := strings.SplitAfter(s, "\n")
	if l[len(l)-1] == "" {
		l = l[:len(l)-1]
	}
	return l
}

// change puts lines in place of lines from to to of a text.
type change struct {
	from, to int
	with     []string
}

// changes are what makes a into b, in order, as few lines as possible.
func changes(a, b []string) []change {
	head := 0
	for head < len(a) && head < len(b) && a[head] == b[head] {
		head++
	}
	tail := 0
	for tail < len(a)-head && tail < len(b)-head && a[len(a)-1-tail] == b[len(b)-1-tail] {
		tail++
	}
	var out []change
	x, y := 0, 0
	mid, other := a[head:len(a)-tail], b[head:len(b)-tail]
	for _, m := range append(common(mid, other), [2]int{len(mid), len(other)}) {
		if m[0] > x || m[1] > y {
			out = append(out, change{head + x, head + m[0], other[y:m[1]]})
		}
		x, y = m[0]+1, m[1]+1
	}
	return out
}

// common pairs the lines that a and b share, by the greedy algorithm of E. W.
// Myers, An O(ND) Difference Algorithm and Its Variations, Algorithmica 1, 1986.
// None are paired where the texts differ too much.
func common(a, b []string) [][2]int {
	n, m := len(a), len(b)
	most := min(n+m, mostEdits)
	reach := make([]int, 2*most+2) // furthest x on each diagonal, moved by most
	var trail [][]int
	for d := 0; d <= most; d++ {
		trail = append(trail, slices.Clone(reach[most-d:most+d+2]))
		for k := -d; k <= d; k += 2 {
			x := 0
			if k == -d || k != d && reach[most+k-1] < reach[most+k+1] {
				x = reach[most+k+1]
			} else {
				x = reach[most+k-1] + 1
			}
			for x < n && x-k < m && a[x] == b[x-k] {
				x++
			}
			reach[most+k] = x
			if x >= n && x-k >= m {
				return backwards(a, b, trail, d)
			}
		}
	}
	return nil
}

// backwards follows the trail from the end. trail[d] holds what was reached before
// step d, on the diagonals -d to d+1.
func backwards(a, b []string, trail [][]int, d int) [][2]int {
	var out [][2]int
	x, y := len(a), len(b)
	for ; d >= 0; d-- {
		was := func(k int) int { return trail[d][k+d] }
		k := x - y
		up := k == -d || k != d && was(k-1) < was(k+1)
		fromK := k - 1
		if up {
			fromK = k + 1
		}
		fromX := 0
		if d > 0 {
			fromX = was(fromK)
		}
		startX := fromX
		if d > 0 && !up {
			startX++
		}
		if d == 0 {
			startX = 0
		}
		for x > startX {
			x--
			y--
			out = append(out, [2]int{x, y})
		}
		if d > 0 {
			x, y = fromX, fromX-fromK
		}
	}
	slices.Reverse(out)
	return out
}
