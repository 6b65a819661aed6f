package reason

import (
	"slices"
	"testing"

	"stallwright/engine/phrase"
)

// A step that several numbers share is unfolded once; nothing has no chain.
func TestChain(t *testing.T) {
	tape := Given(phrase.Of("why.clear"), phrase.Name("tape"), phrase.Phrase{})
	play := Given(phrase.Of("why.end-play"), phrase.Name("play"), phrase.Phrase{})
	board := Of(phrase.Of("why.board-length"), phrase.Name("board"), phrase.Phrase{}, phrase.Phrase{}, tape, play)
	wall := Of(phrase.Of("why.wall-height"), phrase.Name("wall"), phrase.Phrase{}, phrase.Phrase{}, board, nil, board, play)
	want := []Line{{wall, 0, false}, {board, 1, false}, {tape, 2, false}, {play, 2, false}, {board, 1, true}, {play, 1, false}}
	if got := wall.Chain(); !slices.Equal(got, want) {
		t.Errorf("got\n%v\nwant\n%v", got, want)
	}
	var none *Reason
	if got := none.Chain(); len(got) != 0 {
		t.Errorf("nothing has the chain %v", got)
	}
}
