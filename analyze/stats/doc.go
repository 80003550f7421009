// Package stats holds the numerical measures the analysis and its bench are
// built on: trend, regularity of an oscillation, robust location and scale,
// rank tests, forecast scores, values of a decision and small exact
// probabilities.
//
// # Conventions
//
// Plain slices go in, numbers come out. Arguments named dst follow one rule:
// nil allocates, anything else must have the length of the result, and the
// result is also returned.
//
// Two kinds of trouble are kept apart:
//
//   - A mistake of the caller (slices of different length, a fraction outside
//     its range, a negative window) panics with "stats: reason".
//   - A problem of the data (too short, constant, NaN inside) never panics. It
//     gives NaN, or ok = false where a result has several parts.
//
// Unless a function says otherwise, a NaN or an infinity among the data makes
// the result NaN (or ok = false): a gap must be closed or cut out on purpose,
// by someone who knows what it means.
//
// Functions neither keep nor change the slices they are given, except dst.
package stats
