// Package measure learns from what the owner measured: how thick envelopes
// are, and how long refiling takes.
//
// The usual way in is [Take], which counts what is in a box that was pressed
// together, [ThicknessOf], which fits the thickness of each state to all
// measurements there are, and [PaceOf], which does the same for the seconds
// that pulling and putting in take.
//
// # Fitting
//
// All fits are least squares with no value below zero. There are at most three
// unknowns, so the answer is exact: of the unknowns, each set is tried as the
// one that is not zero, and of the answers that are allowed the best is taken.
//
// A state is fitted only where the measurements can tell it apart from the
// others: where, whatever the others are, the counts of that state still differ
// by at least [Handful] envelopes. The state of which most was measured comes
// first. One that was never measured, that cannot be told apart, that there are
// too few measurements for, or that comes out as nothing, keeps the thickness
// it has, and the others are fitted with it at that.
//
// Everything here is pure: no clock, no chance, no files.
package measure
