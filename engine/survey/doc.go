// Package survey turns tape and level readings into the places and heights of
// posts, with how well each is known, and names the reading that cannot be
// right.
//
// In come named points with the coordinates they were drawn at, and readings
// between them: distances, diagonals, offsets from a line, right angles,
// straight lines (Network), or rod readings from several set-ups of a level
// (LevelNetwork). Out comes a weighted least-squares adjustment: adjusted
// points with standard deviations and error ellipses, a residual, redundancy
// number and smallest blunder that would be found for every reading, the
// readings that disagree with the rest with a guess at the slip behind each,
// and, where the readings do not suffice, the ones that would help most.
//
// What always holds:
//
//   - Readings are never changed or dropped from the result: one that is not
//     used says why.
//   - Lengths are exact on the way in and come back through one rounding,
//     toLength. Between, float64 metres carry the numerics.
//   - The same input gives the same result on every platform and in any run:
//     no map order, no fused multiply-add (see package portable).
//   - No input panics. What a crew lead should know is a Problem in a plain
//     sentence.
//
// Sources: W. Baarda, A Testing Procedure for Use in Geodetic Networks (1968),
// for the tests and reliability; E. M. Mikhail and F. Ackermann, Observations
// and Least Squares (1976), for the adjustment; W. Baarda, S-transformations
// and Criterion Matrices (1973), for the change of datum. All second-hand, the
// formulas reworked here.
package survey
