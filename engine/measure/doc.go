// Package measure holds the exact typed units every other package works in:
// lengths, angles, slopes, areas, volumes, masses, densities and forces, with
// the reading and writing of what people put on paper.
//
// In comes text a person typed ("11' 7 5/8\"", "3540 mm", "12.5 lb"); out go
// 64-bit integers of one small metric unit per type, and text again.
//
// What always holds:
//
//   - A [Length] is a whole number of nanometres, so that 1/64 in (396 875 nm)
//     and 0.1 mm (100 000 nm) are both whole. Reading one never rounds: text
//     that is not a whole number of nanometres is refused.
//   - The other quantities are rounded once, on reading or in the named
//     arithmetic, half away from zero, and each type says so.
//   - String writes text that reads back as the same value, for every value a
//     reader accepts.
//   - No input panics. Readers return a [*ParseError] with the place, what is
//     wrong and what would be right.
//   - Floats appear only in numerics.go and between the angle and the rise of a
//     Slope.
//
// Sources for the factors: NIST Special Publication 811 (2008), Appendix B.8,
// and NIST Handbook 44, Appendix C. The inch is 25.4 mm, the pound
// 0.453 592 37 kg and the pound-force 4.448 221 615 260 5 N, all exact.
package measure
