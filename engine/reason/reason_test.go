package reason

import (
	"slices"
	"testing"
)

func TestChain(t *testing.T) {
	tape := Given("clear width", `11' 7 5/8"`, "measured (job.yaml:40)")
	play := Given("end play", `1/4"`, "")
	board := Of("board", `11' 7 3/8"`, "clear width − end play", "kit", tape, play)
	wall := Of("wall", "18 boards", "", "", board, nil, board)
	want := []string{
		"wall = 18 boards",
		`   board = 11' 7 3/8"  ← clear width − end play  [kit]`,
		`      clear width = 11' 7 5/8"  [measured (job.yaml:40)]`,
		`      end play = 1/4"`,
		`   board = 11' 7 3/8"  (as above)`,
	}
	if got := wall.Chain(); !slices.Equal(got, want) {
		t.Errorf("got\n%q\nwant\n%q", got, want)
	}
	var none *Reason
	if got := none.Chain(); len(got) != 0 {
		t.Errorf("nothing has the chain %q", got)
	}
}
