package build

import (
	"container/heap"
	"fmt"
	"slices"
	"strings"
)

// order puts the operations one after the other so that every rule is kept. Where
// the rules leave a choice, all structures are first set out and founded, so that
// concrete cures while other work goes on; then the work goes structure by
// structure, stage by stage, and in each stage along the walls, so that nobody
// walks twice. It is Kahn's algorithm (A. B. Kahn, Topological Sorting of Large
// Networks, CACM 5(11), 1962; from memory) with a heap for the choice.
func (b *builder) order(waits []wait) error {
	n := len(b.nodes)
	next := make([][]int, n)
	left := make([]int, n)
	for _, w := range waits {
		next[w.first] = append(next[w.first], w.then)
		left[w.then]++
	}
	ready := &queue{b: b}
	for i := range n {
		if left[i] == 0 {
			heap.Push(ready, i)
		}
	}
	place := make([]int, n) // of each node in the order
	var order []int
	for ready.Len() > 0 {
		i := heap.Pop(ready).(int)
		place[i] = len(order)
		order = append(order, i)
		for _, k := range next[i] {
			if left[k]--; left[k] == 0 {
				heap.Push(ready, k)
			}
		}
	}
	if len(order) < n {
		return b.cycle(left)
	}
	b.out.Operations = make([]Operation, n)
	for to, i := range order {
		b.out.Operations[to] = b.nodes[i].Operation
	}
	for _, w := range waits {
		o := &b.out.Operations[place[w.then]]
		v := Wait{place[w.first], w.rule}
		if !slices.Contains(o.After, v) {
			o.After = append(o.After, v)
		}
	}
	for i := range b.out.Operations {
		slices.SortFunc(b.out.Operations[i].After, func(a, c Wait) int {
			if a.Op != c.Op {
				return a.Op - c.Op
			}
			return strings.Compare(string(a.Rule), string(c.Rule))
		})
	}
	b.sorted = order
	return nil
}

// cycle tells operations that wait for each other.
func (b *builder) cycle(left []int) error {
	var stuck []string
	for i := range b.nodes {
		if left[i] > 0 && len(stuck) < 8 {
			stuck = append(stuck, b.nodes[i].ID)
		}
	}
	return fmt.Errorf("order of work: these wait for each other: %s", strings.Join(stuck, ", "))
}

// queue gives the operation that a crew would do next.
type queue struct {
	b    *builder
	list []int
}

func (q *queue) Len() int      { return len(q.list) }
func (q *queue) Swap(i, j int) { q.list[i], q.list[j] = q.list[j], q.list[i] }
func (q *queue) Push(x any)    { q.list = append(q.list, x.(int)) }
func (q *queue) Pop() any {
	n := len(q.list) - 1
	x := q.list[n]
	q.list = q.list[:n]
	return x
}

func (q *queue) Less(i, j int) bool {
	a, c := &q.b.nodes[q.list[i]], &q.b.nodes[q.list[j]]
	for _, d := range [...]int{
		min(a.stage, stageBases+1) - min(c.stage, stageBases+1),
		a.Place.Structure - c.Place.Structure,
		a.stage - c.stage,
		a.walk - c.walk,
	} {
		if d != 0 {
			return d < 0
		}
	}
	return q.list[i] < q.list[j]
}
