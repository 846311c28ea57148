// Package paper makes what gets stuck on, stood in or carried along: envelope
// labels, divider cards, box labels, binder spines and pages, out cards, and
// lists to take along.
//
// The usual way in is one of [Envelopes], [Dividers], [BoxLabels], [Binders],
// [OutCards], [Carry], [ShelfList], [Packing], [Insurance] and [Walk], each of
// which gives a [Work]; that is written with [Work.PDF], [Work.Text] or, where
// it has labels, [Work.Tape].
//
// Promised: no label or card says where something stands, nor anything that one
// more pattern makes untrue; lists say it, and the day. A text that does not go
// in whole ends in an ellipsis and stands whole in an index behind the last
// sheet. Every sheet bears a rule of 50 mm. The same cupboard, day and options
// give the same bytes. Black on white is enough, and no colour is used.
//
// Lengths are millimetres, sizes of letters points.
package paper
