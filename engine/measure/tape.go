package measure

// Tape is a measuring tape, or any rule to mark and cut by. The zero value has
// no marks: it rounds nothing and shows what Length.In shows.
type Tape struct {
	System System // what its numbers say
	Mark   Length // distance between its finest marks; zero for none
}

// The usual tapes. They are values to copy and must not be assigned to.
var (
	TapeSixteenth    = Tape{FeetInches, SixteenthInch}
	TapeThirtySecond = Tape{FeetInches, ThirtySecondInch}
	TapeMillimetre   = Tape{Metric, Millimetre}
)

// Round returns the mark next to l in direction d; see Length.Round.
func (t Tape) Round(l Length, d Direction) Length { return l.Round(t.Mark, d) }

// Show writes the length as the tape reads it. A length between two marks is
// written as the nearest mark with a leading ≈: round it first, to the safe
// side, when somebody cuts by it.
func (t Tape) Show(l Length) string {
	if t.Mark <= 0 {
		return l.In(t.System)
	}
	return approx(l, t.Mark) + l.Round(t.Mark, Nearest).on(t.System)
}

// String names the tape by its system and mark, such as "feet, 1/16\" marks".
func (t Tape) String() string {
	if t.Mark <= 0 {
		return t.System.String() + ", no marks"
	}
	return t.System.String() + ", " + t.Mark.on(t.System) + " marks"
}
