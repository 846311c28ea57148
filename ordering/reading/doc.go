// Package reading compares what a walk through a box found with what is
// recorded there.
//
// The usual way in is [New] for a box, [Reader.Read] for each envelope or gap
// from front to back, which says at once what it thinks, and [Reader.Report] at
// the end, whose [Report.Record] is the change that records the box as found.
//
// # What is compared
//
// An envelope is misplaced when it stands otherwise than recorded: in another
// box, or at another place among those of this box. Of those recorded here, as
// many as can be are taken to be in place: a longest run, in the recorded
// order, of what was found. So the fewest are called misplaced. Where the
// record itself is not in filing order, a misplaced envelope can stand right by
// filing order where it was found; then it [Finding.Fits], and is better left
// there.
//
// What was read so far is judged anew with each envelope: one that stands far
// ahead of its place seems to be in place, all before it skipped, until the
// next ones are read.
//
// # What an envelope is read by
//
// "#412" is an accession number. Anything else is a number as printed, with
// the beginning of its publisher before it or none, with a size range or name
// behind it or none, and with its letter prefix or without; failing that, an
// accession number; failing that, a name. Of several copies it could be, those
// recorded in this box come first, in the order in which they stand there;
// then the one that filing order lets stand where it was read. If several are
// left, the reading is ambiguous and nothing is recorded until somebody looks.
//
// Promised: a reading is judged for a few steps per copy in the box. One
// that is not recorded there costs one quick pass through the cupboard besides.
package reading
