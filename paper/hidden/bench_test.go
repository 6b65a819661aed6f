package hidden_test

import (
	"fmt"
	"math/rand"
	"testing"

	"stallwright/paper/hidden"
	"stallwright/paper/solid"
)

// BenchmarkLines draws rows of random bodies ten and a hundred times as long:
// ns/body shows the growth.
func BenchmarkLines(b *testing.B) {
	for _, n := range []int{100, 1000, 10000} {
		b.Run(fmt.Sprintf("bodies=%d", n), func(b *testing.B) {
			r := rand.New(rand.NewSource(1))
			var bodies []hidden.Body
			for i := range n / 10 {
				for _, v := range scene(r, 10) {
					v.Move = solid.Vec{X: float64(i) * 4}
					bodies = append(bodies, v)
				}
			}
			cam := hidden.Look(solid.Vec{X: 0.4, Y: 1}, 0.5)
			b.ReportAllocs()
			for b.Loop() {
				hidden.Lines(bodies, cam, hidden.Options{})
			}
			b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/float64(n), "ns/body")
		})
	}
}
