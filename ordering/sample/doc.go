// Package sample makes up cupboards: one with a story to it for the demo, and
// any number of copies for benchmarks and tests.
//
// The usual way in is [Demo], whose events are committed to a store one by one,
// [Story.Collection] for the same in memory, and [Cupboard] for a filed cupboard
// of any size.
//
// Promised: every publisher, design and person is invented; there is no clock,
// and all chance comes from seeds that are constants or are given, so that the
// same call gives the same cupboard.
package sample
