package survey

import (
	"math/rand"
	"testing"

	"stallwright/engine/survey/normal"
)

// 40 posts must take under 5 ms, 2,000 posts with 8,000 readings under 1 s, on
// an ordinary laptop; see bench/survey/README.md for what was measured.

func benchmarkAdjust(b *testing.B, net Network) {
	for b.Loop() {
		if r := Adjust(net, Options{}); len(r.Points) != len(net.Points) {
			b.Fatal("points missing")
		}
	}
	b.ReportMetric(float64(len(net.Points)), "posts")
	b.ReportMetric(float64(len(net.Readings)), "readings")
}

func BenchmarkAdjust40Posts(b *testing.B) {
	benchmarkAdjust(b, barn(rand.New(rand.NewSource(1)), 20))
}

func BenchmarkAdjust40PostsOneBlunder(b *testing.B) {
	net := barn(rand.New(rand.NewSource(1)), 20)
	net.Readings[50].Value += 30e6
	benchmarkAdjust(b, net)
}

func BenchmarkAdjust2000PostsLong(b *testing.B) {
	benchmarkAdjust(b, grid(rand.New(rand.NewSource(2)), 10, 205))
}

func BenchmarkAdjust2000PostsSquare(b *testing.B) {
	benchmarkAdjust(b, grid(rand.New(rand.NewSource(2)), 40, 51))
}

func BenchmarkFactor2000PostsSquare(b *testing.B) {
	p := newPlane(grid(rand.New(rand.NewSource(2)), 40, 50), Options{}.filled())
	p.determine(p.usable)
	column, unknowns := columns(p.fixedCoordinate())
	s := p.linearise(column, unknowns, p.drawn)
	s.setWeights(p.usable, make([]bool, unknowns), priorSigma)
	structure := normal.Analyse(s.design)
	for b.Loop() {
		structure.Factorise(s.design, s.weight, pivotTolerance)
	}
	b.ReportMetric(float64(structure.Stored()), "entries")
}
