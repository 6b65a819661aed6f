package setout_test

import (
	"fmt"
	"strings"
	"testing"

	"stallwright/engine/frame"
	"stallwright/engine/job"
	"stallwright/engine/setout"
)

// BenchmarkMake sets out 100 and 1,000 free-standing rooms on levelled ground, in
// rows of ten across an aisle.
func BenchmarkMake(b *testing.B) {
	for _, n := range []int{100, 1000} {
		b.Run(fmt.Sprintf("rooms=%d", n), func(b *testing.B) {
			src := head(false)
			for i := range n / 20 {
				src += fmt.Sprintf("  - free-row: {name: R%d_, rows: facing, width: 12', depth: 12', aisle: 12', base: pier-12, rooms: [%s], fronts: open}\n", i, strings.TrimSuffix(strings.Repeat("stall, ", 10), ", "))
			}
			j, err := job.Read("many.yaml", []byte(src))
			if err != nil {
				b.Fatal(err)
			}
			k, err := readKit(j.Kit)
			if err != nil {
				b.Fatal(err)
			}
			l, err := frame.Build(j, k)
			if err != nil {
				b.Fatal(err)
			}
			f := setout.Field{Ground: slope(l, 0.01, 0.02)}
			b.ReportAllocs()
			for b.Loop() {
				setout.Make(j, k, l, f)
			}
		})
	}
}
