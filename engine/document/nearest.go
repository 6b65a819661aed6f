package document

import "strings"

// Nearest gives the one of among that word was most likely meant to be, by the
// number of letters to change, drop, add or swap (the optimal string alignment
// distance). Capitals, spaces, hyphens and underscores do not count. Nothing is
// suggested if more than a third of the letters differ. Of equally near ones the
// first is taken.
func Nearest(word string, among []string) (string, bool) {
	const longest = 64
	w := folded(word)
	if len(w) == 0 || len(w) > longest {
		return "", false
	}
	best, least := "", -1
	for _, a := range among {
		f := folded(a)
		if len(f) == 0 || len(f) > longest {
			continue
		}
		d := alignment(w, f)
		// One slip is forgiven in a word of three letters, none in shorter ones.
		length := max(len(w), len(f))
		if d > max(1, length/3) || d > 0 && length < 3 {
			continue
		}
		if least < 0 || d < least {
			best, least = a, d
		}
	}
	return best, least >= 0
}

func folded(s string) []rune {
	return []rune(strings.NewReplacer(" ", "", "-", "", "_", "").Replace(strings.ToLower(s)))
}

// alignment is the optimal string alignment distance: insertions, deletions,
// substitutions and swaps of neighbours, no part edited twice.
func alignment(a, b []rune) int {
	before, last, now := make([]int, len(b)+1), make([]int, len(b)+1), make([]int, len(b)+1)
	for j := range last {
		last[j] = j
	}
	for i := 1; i <= len(a); i++ {
		now[0] = i
		for j := 1; j <= len(b); j++ {
			cost := 1
			if a[i-1] == b[j-1] {
				cost = 0
			}
			now[j] = min(last[j]+1, now[j-1]+1, last[j-1]+cost)
			if i > 1 && j > 1 && a[i-1] == b[j-2] && a[i-2] == b[j-1] {
				now[j] = min(now[j], before[j-2]+1)
			}
		}
		before, last, now = last, now, before
	}
	return last[len(b)]
}
