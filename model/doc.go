// Package model says what things are in a pattern cupboard: patterns (the
// titles) and copies (the physical things), publishers, categories, batches,
// and the shelf with its sections, boxes, binders and hooks.
//
// The usual way in is a [Collection], the whole cupboard in memory at one
// revision. A collection is never altered; [Collection.Apply] takes one
// [Change], the closed set of things that can happen to a cupboard, and gives
// the next revision together with a [Delta] that says which records changed.
//
// Promised: applying a change either gives a valid collection or an error and
// leaves everything as it was; the same change on the same collection at the
// same time gives the same result; an accession number is never given twice.
//
// Lengths are [Length] values, exact to a hundredth of a millimetre.
package model
