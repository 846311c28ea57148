// Package cloth says whether there is cloth enough for a pattern: what the
// sleeve asks for at the widths that it names, and an estimate for any other
// width.
//
// The usual way in is [For] with what a sleeve asks for and a cloth, which gives
// an [Answer] for each view and size; [Convert] for one length alone.
//
// Promised: what the sleeve says itself is taken as it is. Everything else is an
// estimate and says so, with what it rests on. Wider cloth never needs more, and
// a longer need never less. Lengths are [model.Length].
package cloth
