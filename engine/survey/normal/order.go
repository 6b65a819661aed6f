package normal

import "sort"

// hubFactor and hubLeast decide which unknowns are hubs: those joined to more
// than hubFactor times the median number of others, and at least hubLeast.
// (The centre stake of a ring, the ends of one long string line.) Set last,
// a hub costs one full row; set among the others it would fill every row.
const (
	hubFactor = 8
	hubLeast  = 40
)

// neighbours lists, for each unknown, the others it shares a row with, in
// increasing order.
func neighbours(d *Design) [][]int {
	size := make([]int, d.Unknowns)
	for i := 0; i < d.Rows(); i++ {
		cols, _ := d.Row(i)
		for _, c := range cols {
			size[c] += len(cols) - 1
		}
	}
	adj := make([][]int, d.Unknowns)
	for c := range adj {
		adj[c] = make([]int, 0, size[c])
	}
	for i := 0; i < d.Rows(); i++ {
		cols, _ := d.Row(i)
		for _, a := range cols {
			for _, b := range cols {
				if a != b {
					adj[a] = append(adj[a], b)
				}
			}
		}
	}
	for c, l := range adj {
		sort.Ints(l)
		n := 0
		for k, v := range l {
			if k == 0 || v != l[n-1] {
				l[n] = v
				n++
			}
		}
		adj[c] = l[:n]
	}
	return adj
}

// order is the elimination order: order[k] is the unknown eliminated k-th.
func order(adj [][]int) []int {
	n := len(adj)
	degree := make([]int, n)
	for i := range adj {
		degree[i] = len(adj[i])
	}
	sorted := append([]int(nil), degree...)
	sort.Ints(sorted)
	limit := hubLeast
	if n > 0 {
		limit = max(limit, hubFactor*sorted[n/2])
	}
	done := make([]bool, n)
	var hubs []int
	for i, g := range degree {
		if g > limit {
			hubs = append(hubs, i)
			done[i] = true
		}
	}
	sort.SliceStable(hubs, func(a, b int) bool { return degree[hubs[a]] < degree[hubs[b]] })

	// Cuthill–McKee from an end of each connected part, then reversed.
	out := make([]int, 0, n)
	for i := 0; i < n; i++ {
		if done[i] {
			continue
		}
		out = append(out, breadthFirst(adj, degree, done, farEnd(adj, degree, done, i))...)
	}
	for a, b := 0, len(out)-1; a < b; a, b = a+1, b-1 {
		out[a], out[b] = out[b], out[a]
	}
	return append(out, hubs...)
}

// breadthFirst visits the part of start, nearest first and among equals those
// with fewest neighbours first, marking it done.
func breadthFirst(adj [][]int, degree []int, done []bool, start int) []int {
	queue := []int{start}
	done[start] = true
	for head := 0; head < len(queue); head++ {
		from := len(queue)
		for _, v := range adj[queue[head]] {
			if !done[v] {
				done[v] = true
				queue = append(queue, v)
			}
		}
		fresh := queue[from:]
		sort.SliceStable(fresh, func(a, b int) bool { return degree[fresh[a]] < degree[fresh[b]] })
	}
	return queue
}

// farEnd finds an unknown at an end of start's part: a pseudo-peripheral node
// by the method of Gibbs, Poole and Stockmeyer (1976), at most eight sweeps.
func farEnd(adj [][]int, degree []int, done []bool, start int) int {
	level := make([]int, len(adj))
	deepest := -1
	for sweep := 0; sweep < 8; sweep++ {
		for i := range level {
			level[i] = -1
		}
		queue := []int{start}
		level[start] = 0
		for head := 0; head < len(queue); head++ {
			u := queue[head]
			for _, v := range adj[u] {
				if !done[v] && level[v] < 0 {
					level[v] = level[u] + 1
					queue = append(queue, v)
				}
			}
		}
		last := queue[len(queue)-1]
		if level[last] <= deepest {
			break
		}
		deepest = level[last]
		for _, v := range queue {
			if level[v] == deepest && degree[v] < degree[last] {
				last = v
			}
		}
		start = last
	}
	return start
}
