package document_test

import (
	"fmt"

	"stallwright/engine/document"
	"stallwright/engine/measure"
)

func Example() {
	type gate struct {
		document.Where `yaml:"-"`

		Name  string         `yaml:"name,required"`
		Width measure.Length `yaml:"width,required" doc:"clear width"`
		Leafs int            `yaml:"leafs" min:"1" max:"2"`
	}
	src := "name: Yard\nwidht: 11' 7 5/8\"\nleafs: 3\n"
	var g gate
	fmt.Println(document.Read("gate.yaml", []byte(src), &g))
	// Output:
	// gate.yaml:1:1: the required key “width” is missing here
	//     1 | name: Yard
	//       | ^
	//   hint: add “width: ...” (clear width)
	// gate.yaml:2:1: unknown key “widht”
	//     2 | widht: 11' 7 5/8"
	//       | ^^^^^
	//   hint: did you mean “width”?
	// gate.yaml:3:8: 3 is out of range
	//     3 | leafs: 3
	//       |        ^
	//   hint: write a whole number from 1 to 2
}
