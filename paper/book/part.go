package book

import (
	"fmt"
	"slices"
	"strings"

	"stallwright/engine/document"
)

// Part is a part of the packet that can be printed alone.
type Part string

// The parts, in the order of the packet.
const (
	Cover    Part = "cover"    // what it is, key plan, contents, cautions
	Measure  Part = "measure"  // what to measure, with room to write
	Setout   Part = "setout"   // what to stake and dig by
	Order    Part = "order"    // what to order
	Picks    Part = "picks"    // what goes with each frame
	Saw      Part = "saw"      // saw tickets
	Labels   Part = "labels"   // a label for each piece
	Steps    Part = "steps"    // how it goes together, step by step
	Days     Part = "days"     // the work on crew days, day by day
	Drawings Part = "drawings" // plans and elevations
	Checks   Part = "checks"   // to tick off and sign
	Owner    Part = "owner"    // what to retighten and inspect, and when
	Offer    Part = "offer"    // what the customer pays; only where Options hold an offer
)

// maker is a part with what fills its pages.
type maker struct {
	name  Part
	title string // key of the catalogues
	fill  func(*binder) error
}

// parts are all parts in their order. The cover is made last: it tells where the
// others stand.
func parts() []maker {
	return []maker{
		{Cover, "book.part-cover", nil},
		{Measure, "book.part-measure", (*binder).measuring},
		{Setout, "book.part-setout", (*binder).settingOut},
		{Order, "book.part-order", (*binder).order},
		{Picks, "book.part-picks", (*binder).picks},
		{Saw, "book.part-saw", (*binder).saw},
		{Labels, "book.part-labels", (*binder).labels},
		{Steps, "book.part-steps", (*binder).steps},
		{Days, "book.part-days", (*binder).days},
		{Drawings, "book.part-drawings", (*binder).drawings},
		{Checks, "book.part-checks", (*binder).checks},
		{Owner, "book.part-owner", (*binder).owner},
		{Offer, "offer.title", (*binder).offer},
	}
}

// PartNames lists the parts by name.
func PartNames() []string {
	var out []string
	for _, p := range parts() {
		out = append(out, string(p.name))
	}
	return out
}

// UnknownPartError says that a packet has no such part.
type UnknownPartError struct{ Name, Hint string }

func (e *UnknownPartError) Error() string {
	return fmt.Sprintf("the packet has no part %q; %s", e.Name, e.Hint)
}

// ParseParts reads names of parts with commas between: saw,labels. Blank means
// all. The error is an UnknownPartError.
func ParseParts(list string) ([]Part, error) {
	if strings.TrimSpace(list) == "" {
		return nil, nil
	}
	var out []Part
	for s := range strings.SplitSeq(list, ",") {
		s = strings.ToLower(strings.TrimSpace(s))
		if !slices.Contains(PartNames(), s) {
			hint := "its parts: " + strings.Join(PartNames(), ", ")
			if near, ok := document.Nearest(s, PartNames()); ok {
				hint = "did you mean " + near + "? " + hint
			}
			return nil, &UnknownPartError{s, hint}
		}
		if p := Part(s); !slices.Contains(out, p) {
			out = append(out, p)
		}
	}
	return out, nil
}

// wanted says whether a part is to be printed.
func (b *binder) wanted(p Part) bool { return len(b.o.Only) == 0 || slices.Contains(b.o.Only, p) }

// titleOf is a part's title in the reader's language.
func (b *binder) titleOf(p Part) string {
	all := parts()
	return b.say(all[slices.IndexFunc(all, func(m maker) bool { return m.name == p })].title)
}
