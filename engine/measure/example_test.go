package measure_test

import (
	"fmt"

	"stallwright/engine/measure"
)

func ExampleParseLength() {
	clear, _ := measure.ParseLength(`11' 7 5/8"`, measure.NoUnit)
	play, _ := measure.ParseLength("1/4 in", measure.NoUnit)
	board := clear - play
	fmt.Println(board)
	fmt.Println(measure.TapeMillimetre.Show(measure.TapeMillimetre.Round(board, measure.Down)))
	_, err := measure.ParseLength(`7 5/8'`, measure.NoUnit)
	fmt.Println(err)
	// Output:
	// 11' 7 3/8"
	// 3540 mm
	// “7 5/8'”: a fraction stands before feet. For inches write 7 5/8", for feet 7 5/8 ft.
}

func ExampleBoth() {
	fmt.Println(measure.Both(11*measure.Foot + 7*measure.Inch + 10*measure.SixteenthInch))
	fmt.Println(measure.Both(3540 * measure.Millimetre))
	// Output:
	// 11' 7 5/8" (3546.5 mm)
	// 3540 mm (11' 7 3/8")
}

func ExampleMassPerLength_Of() {
	tube, _ := measure.ParseMassPerLength("3.05 lb/ft")
	fmt.Println(tube.Of(20 * measure.Foot).In(measure.Metric))
	// Output: ≈27.67 kg
}
