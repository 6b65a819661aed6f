// Package normal solves sparse linear least squares by normal equations: a
// design matrix of few entries a row goes in with a weight per row; out come
// the solution, the variance of any row's value and single columns or the
// diagonal-near part of the inverse.
//
// The unknowns are put into an order that keeps fill small (reverse
// Cuthill–McKee, with the few unknowns that nearly everything touches set
// last), the normal matrix is kept row by row from its first non-zero entry to
// the diagonal (envelope storage), and a Cholesky factor fills the same
// envelope. A barn of posts is long and narrow, so the envelope is too.
//
// What always holds: the same input gives the same bits on every platform.
// Every product is rounded on its own (no fused multiply-add), sums run in a
// fixed order, and only Sqrt is taken from math. That, and the partial
// inverse, is why the factorisation is written here rather than taken from a
// dense or banded library routine, whose kernels differ between processors.
//
// Sources: A. George and J. W. Liu, Computer Solution of Large Sparse Positive
// Definite Systems (1981), chapter 4; K. Takahashi, J. Fagan and M. Chin,
// Formation of a sparse bus impedance matrix (1973), for the partial inverse.
package normal
