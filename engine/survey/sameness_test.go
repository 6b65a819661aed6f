package survey

import (
	"fmt"
	"strings"
	"testing"

	"stallwright/engine/measure"
)

// integerBarn is a barn whose readings come from whole numbers alone, so that
// the test's input cannot differ between platforms.
func integerBarn() Network {
	var net Network
	const bay = 3657600000
	seed := uint32(12345)
	noise := func() measure.Length { // about ±3 mm
		seed = seed*1664525 + 1013904223
		return measure.Length(int64(seed>>8)%6000000 - 3000000)
	}
	name := func(r, c int) string { return fmt.Sprintf("%c%d", 'A'+r, c+1) }
	for r := 0; r < 3; r++ {
		for c := 0; c < 4; c++ {
			net.Points = append(net.Points, Point{Name: name(r, c), X: measure.Length(c) * bay, Y: measure.Length(r) * bay})
		}
	}
	diagonal := map[int]measure.Length{1: 5172627449, 4: 8178642268}
	read := func(k Kind, v measure.Length, posts ...string) {
		net.Readings = append(net.Readings, Reading{Kind: k, Posts: posts, Value: v + noise()})
	}
	for r := 0; r < 3; r++ {
		for c := 0; c < 4; c++ {
			if c < 3 {
				read(Distance, bay, name(r, c), name(r, c+1))
			}
			if r < 2 {
				read(Distance, bay, name(r, c), name(r+1, c))
			}
			if r < 2 && c < 3 {
				read(Diagonal, diagonal[1], name(r, c), name(r+1, c+1))
				read(Diagonal, diagonal[1], name(r+1, c), name(r, c+1))
			}
			if r < 2 && c < 2 {
				read(Diagonal, diagonal[4], name(r, c), name(r+1, c+2))
			}
		}
	}
	read(Offset, 0, "B2", "B1", "B4")
	read(RightAngle, 0, "A1", "A4", "C1")
	net.Readings[7].Value += 40 * measure.Millimetre
	return net
}

// The same input must give the same numbers, to the last bit, on every
// platform: these were recorded on amd64 and hold on 386, arm64 and wasm.
func TestSameNumbersOnEveryPlatform(t *testing.T) {
	r := Adjust(integerBarn(), Options{})
	var b strings.Builder
	for _, i := range []int{0, 5, 11} {
		p := r.Points[i]
		fmt.Fprintf(&b, "%s %d %d %d %d %d\n", p.Name, p.X, p.Y, p.Ellipse.Major, p.Ellipse.Minor, p.Ellipse.Direction)
	}
	for _, i := range []int{0, 7, 20, 33} {
		a := r.Readings[i]
		fmt.Fprintf(&b, "%s %x %x %d\n", a.Name, a.W, a.Redundancy, a.Residual)
	}
	fmt.Fprintf(&b, "test %x %x %d suspects %x\n", r.Test.SumSquares, r.Test.Critical, len(r.Suspects), r.Suspects[0].ChanceAlone)
	const want = `A1 1252138 1007380 2087768 1526133 133217001457
B2 3657096210 3658029359 1312722 1205601 129130698715
C4 10971868898 7316094299 2083309 1591861 134478086507
distance A1–A2 -0x1.958fd751c2138p+00 0x1.00355a680f524p-02 1837252
diagonal A2–B3 0x1.67a1c17901269p+03 0x0p+00 -40971724
distance B2–B3 0x1.401961d4369e5p-04 0x1.d759ffad1d18cp-02 -122974
offset of B2 from the line B1–B4 0x1.d11dc82d067abp-02 0x1.a5a3db11ad78ap-01 -1760992
test 0x1.5f30b98fa0ccbp+02 0x1.65cae295d5efbp+04 1 suspects 0x0p+00
`
	if b.String() != want {
		t.Errorf("got\n%swant\n%s", b.String(), want)
	}
}
