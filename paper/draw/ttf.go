package draw

import (
	"github.com/go-fonts/dejavu/dejavusans"
	"github.com/go-fonts/dejavu/dejavusansbold"
	"github.com/go-fonts/dejavu/dejavusanscondensed"
)

// TTF returns the file of a face, for back-ends that embed it. It is no method of
// Face: a linker keeps the methods of whatever reflection might reach, and a
// program that only draws should not carry two megabytes of fonts.
func TTF(f Face) []byte {
	switch f {
	case Bold:
		return dejavusansbold.TTF
	case Condensed:
		return dejavusanscondensed.TTF
	}
	return dejavusans.TTF
}
