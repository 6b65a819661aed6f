package survey

import (
	"stallwright/engine/measure"
	"stallwright/engine/phrase"
)

// Result is an adjusted plane network.
type Result struct {
	Points   []AdjustedPoint   // in the order given
	Readings []AdjustedReading // in the order given
	Test     GlobalTest
	Suspects []Suspect // readings found wrong, most certain first
	Problems []Problem // what else a crew lead should know
	Wanted   []Advice  // readings that are missing, most useful first
	Spans    []Span    // the distances asked for, in the order asked
}

// AdjustedPoint is where a point came out.
type AdjustedPoint struct {
	Name       string
	X, Y       measure.Length
	SigmaX     measure.Length // standard deviations, in the datum asked for
	SigmaY     measure.Length
	Ellipse    Ellipse
	Fixed      bool // was given as known
	Determined bool // the readings tie it to the datum; if not, X and Y stay near where it was drawn
}

// Ellipse is the standard error ellipse of a point: its half axes are one
// standard deviation each. The point lies inside with a chance of 39 %; see
// Confidence for another.
type Ellipse struct {
	Major, Minor measure.Length
	Direction    measure.Angle // of the major axis, counter-clockwise from X, from 0 to under 180°
}

// Status says what became of a reading.
type Status uint8

// What can become of a reading.
const (
	Used     Status = iota // it went into the adjustment
	SetAside               // it was set aside because it disagrees with the others
	Unusable               // it could not be used; a Problem says why
)

// String is the status in words.
func (s Status) String() string {
	switch s {
	case Used:
		return "used"
	case SetAside:
		return "set aside"
	}
	return "cannot be used"
}

// AdjustedReading is a reading beside what the adjustment makes of it.
type AdjustedReading struct {
	Name     string
	Say      phrase.Phrase // Name in any language
	Status   Status
	Value    measure.Length // as read
	Adjusted measure.Length // as the adjusted points give it
	Residual measure.Length // Adjusted − Value
	Sigma    measure.Length // standard deviation it was given
	// SigmaAdjusted is the standard deviation of Adjusted.
	SigmaAdjusted measure.Length
	// Redundancy is the part of an error in this reading that shows in its own
	// residual: 0 for a reading nothing checks, near 1 for one well checked.
	// The redundancy numbers of the used readings add up to Test.Redundancy.
	Redundancy float64
	// W is the residual over its own standard deviation: Baarda's w-test. For
	// a reading set aside it is its difference from the rest over the standard
	// deviation of that difference. 0 where nothing checks the reading.
	W float64
	// Smallest is the smallest blunder that the test would find with the asked
	// power; 0 when none would be found however large (Redundancy 0).
	Smallest measure.Length
	// Influence bounds what such a blunder does if left in: nothing worked out
	// from the posts moves by more than this many of its own standard
	// deviations (Baarda's external reliability). 0 with Smallest.
	Influence float64
}

// GlobalTest asks whether all readings together fit the stated precision.
type GlobalTest struct {
	Redundancy     int     // spare readings: degrees of freedom
	SumSquares     float64 // Σ (residual/σ)²
	Critical       float64 // SumSquares above this fails at Options.GlobalAlpha
	VarianceFactor float64 // SumSquares / Redundancy; 1 when the precision was stated right
	Passed         bool    // also true when there is nothing to test
	BeforeSetAside float64 // SumSquares with every reading in
	FailedAtFirst  bool    // BeforeSetAside was over its own critical value
}

// Suspect is a reading that disagrees with the others.
type Suspect struct {
	Reading     int            // index into Readings
	Disagrees   measure.Length // Value − what the others make it
	Sigma       measure.Length // standard deviation of Disagrees
	W           float64        // Disagrees over Sigma
	ChanceAlone float64        // chance that a set of this many good readings shows one so far off
	Guesses     []Guess        // slips that would explain it, likeliest first
	// Others are readings that could be the wrong one instead: the readings
	// taken cannot tell them apart. Empty when this one is named for certain.
	Others []Alternative
	// Separate is the one reading not yet taken that would best tell the
	// suspects apart. Nil when there are no Others.
	Separate *Advice
	Sentence string        // all this for a crew lead
	Say      phrase.Phrase // Sentence for a crew in any language
}

// Alternative is a reading that could be wrong instead of the suspect.
type Alternative struct {
	Reading     int     // index into Readings
	W           float64 // its w-test while the suspect was still in
	Correlation float64 // of its residual with the suspect's; ±1 cannot be told apart at all
	Guesses     []Guess // slips that would explain it
}

// Guess is a slip that turns what was probably there into what was written.
type Guess struct {
	Slip  string         // "one whole foot short"
	Say   phrase.Phrase  // Slip for a crew in any language
	Value measure.Length // what the reading would then have been
	// OtherPosts: not the number is wrong but what it was written down for.
	OtherPosts bool
}

// Advice is a reading worth taking.
type Advice struct {
	Kind  Kind
	Posts []string
	Why   phrase.Phrase // what the reading is good for
}

// String names the reading to take.
func (a Advice) String() string { return placeLabel(a.Kind, a.Posts) }

// Code is the permanent name of a kind of problem.
type Code string

// The problems an adjustment can find besides suspect readings.
const (
	UnknownPost      Code = "unknown-post"      // a reading names a post that is not there
	RepeatedPost     Code = "repeated-post"     // two posts have one name
	SamePostTwice    Code = "same-post-twice"   // a reading from a post to itself
	WrongPostCount   Code = "wrong-post-count"  // a reading names too few or too many posts
	BadValue         Code = "bad-value"         // a distance of nothing or less
	SamePlace        Code = "same-place"        // two posts drawn at one place
	UnitMix          Code = "unit-mix"          // a reading in another unit than the others
	ImpossibleShape  Code = "impossible-shape"  // three distances that make no triangle
	DuplicateDiffers Code = "duplicate-differs" // two readings of one thing disagree
	NotConnected     Code = "not-connected"     // readings that touch nothing else
	NotDetermined    Code = "not-determined"    // too few readings for a post
	NothingChecks    Code = "nothing-checks"    // a reading without any check
	NotSettled       Code = "not-settled"       // the computation did not converge
	TooManyWrong     Code = "too-many-wrong"    // so many disagree that the drawing or the unit is doubtful
	BadDatum         Code = "bad-datum"         // the datum names posts that cannot serve
)

// Problem is something a crew lead should know, in a plain sentence.
type Problem struct {
	Code     Code
	Sentence string
	Say      phrase.Phrase // Sentence for a crew in any language
	Readings []int         // indexes of the readings it speaks of
	Posts    []string      // names of the posts it speaks of
}
