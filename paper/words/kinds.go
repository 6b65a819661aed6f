package words

import (
	"strings"

	"stallwright/engine/finding"
	"stallwright/engine/fit"
	"stallwright/engine/frame"
	"stallwright/engine/job"
	"stallwright/engine/phrase"
)

// Of a kind that the engine names by a short English word, these are the phrases.
// What is not listed is a name of its own and is said as it stands.

var states = map[fit.State]string{
	fit.Drawn: "kind.state-drawn", fit.Measured: "kind.state-measured", fit.Released: "kind.state-released",
	fit.Cut: "kind.state-cut", fit.Loaded: "kind.state-loaded",
}

var rooms = map[job.RoomKind]string{
	job.Stall: "kind.room-stall", job.Foaling: "kind.room-foaling", job.Tack: "kind.room-tack", job.Feed: "kind.room-feed",
	job.Wash: "kind.room-wash", job.Passage: "kind.room-passage", job.OpenRoom: "kind.room-open",
}

var structures = map[frame.Kind]string{
	frame.Pen: "kind.structure-pen", frame.BarnRow: "kind.structure-barn-row", frame.FreeRow: "kind.structure-free-row",
	frame.FreeBarn: "kind.structure-free-barn", frame.FreeForm: "kind.structure-free-form",
}

var fills = map[job.FillKind]string{
	job.FillBoards: "kind.fill-boards", job.FillGrille: "kind.fill-grille", job.FillWindow: "kind.fill-window",
	job.FillFeeder: "kind.fill-feeder", job.FillOpen: "kind.fill-open",
}

var hands = map[job.Hand]string{job.Left: "kind.left", job.Right: "kind.right"}

var courses = map[string]string{
	"full": "kind.course-full", "short": "kind.course-short", "cut": "kind.course-cut", "split": "kind.course-split",
	"closing": "kind.course-closing", "ripped": "kind.course-ripped",
}

var obstructions = map[job.ObstructionKind]string{
	"brace": "kind.obstruction-brace", "girt": "kind.obstruction-girt", "curb": "kind.obstruction-curb",
	"pipe": "kind.obstruction-pipe", "track": "kind.obstruction-track", "other": "kind.obstruction-other",
}

var severities = map[finding.Severity]string{
	finding.Note: "kind.note", finding.Warning: "kind.warning", finding.Error: "kind.error",
}

// State is how far a fill has come.
func State(s fit.State) phrase.Phrase { return kind(states, s) }

// Room is what a room is for.
func Room(k job.RoomKind) phrase.Phrase { return kind(rooms, k) }

// Structure is what is built.
func Structure(k frame.Kind) phrase.Phrase { return kind(structures, k) }

// Fill is what fills a bay.
func Fill(k job.FillKind) phrase.Phrase { return kind(fills, k) }

// Hand is left or right.
func Hand(h job.Hand) phrase.Phrase { return kind(hands, h) }

// Obstruction is something of the building.
func Obstruction(k job.ObstructionKind) phrase.Phrase { return kind(obstructions, k) }

// Severity is how far a finding stands in the way.
func Severity(s finding.Severity) phrase.Phrase { return phrase.Of(severities[s]) }

// Courses is a number of courses of one kind: full, short, cut, split, closing or
// ripped.
func Courses(n int, k string) phrase.Phrase {
	count := phrase.With("n", phrase.Count(n))
	if key, ok := courses[k]; ok {
		return phrase.Of(key, count)
	}
	return phrase.Of("kind.course-other", count, phrase.With("kind", phrase.Name(k)))
}

// Headline is what a finding's code says of any place.
func Headline(c finding.Code) phrase.Phrase { return phrase.Of("finding." + string(c)) }

// Finding is what a crew is told of a finding: with its numbers where it has a
// phrase of its own, else the headline of its code.
func Finding(f *finding.Finding) phrase.Phrase {
	if f.Say.Empty() {
		return Headline(f.Code)
	}
	return f.Say
}

// kind is the phrase of one kind.
func kind[K ~string](keys map[K]string, k K) phrase.Phrase {
	if key, ok := keys[k]; ok {
		return phrase.Of(key)
	}
	return Plain(string(k))
}

// Plain is a text that is said as it stands in every language.
func Plain(s string) phrase.Phrase {
	return phrase.Of("kind.name", phrase.With("name", phrase.Name(s)))
}

// winds are the eight winds, clockwise from north.
var winds = [...]string{
	"kind.north", "kind.north-east", "kind.east", "kind.south-east",
	"kind.south", "kind.south-west", "kind.west", "kind.north-west",
}

// Wind is one of the eight winds by its eighth of the circle, clockwise from north.
func Wind(eighth int) phrase.Phrase { return phrase.Of(winds[((eighth%8)+8)%8]) }

// itemArea begins the area of a kit's items.
const itemArea = "kit-"

// Item is what a kit calls one of its things: in the language where a catalogue
// has the item, area "kit-" and the kit's name, else by the kit's own words.
func Item(kit, id, called string) phrase.Phrase {
	if size, ok := strings.CutSuffix(called, " tongue and groove"); ok && id == fit.Lumber {
		return phrase.Of("kind.lumber", phrase.With("size", phrase.Name(size)))
	}
	return phrase.Of(itemArea+kit+"."+id, phrase.With("name", phrase.Name(called)))
}
