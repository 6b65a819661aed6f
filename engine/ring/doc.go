// Package ring sets out a ring of rigid sections joined by pins: where each
// pier goes, by which chords it is checked, and, once piers are measured, how
// the sections will close on them and which pier to move.
//
// In come section lengths pin to pin (any, also unequal) and, later, measured
// pier places; out come lengths, angles and sentences. The pins of an unloaded
// ring lie on one circle (a cyclic polygon); its centre is the origin, X runs
// along the baseline, angles turn counter-clockwise from it.
//
// What always holds: lengths are exact in and out and rounded once, to the
// nanometre; the same input gives the same result on every platform; nothing
// panics, and an impossible ring is refused with a sentence.
package ring
